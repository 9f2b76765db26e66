"""`trialfit set`: one entry of a build file written."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from cyclopts import Parameter

from trialfit.cli.options import BuildFile, Json  # noqa: TC001 - read when the command is run

if TYPE_CHECKING:
    from trialfit.book.build import Build

FactPath = Annotated[
    str,
    Parameter(help="part.fact, part.list.2, choice.name.picked or limit.finding"),
]
Value = Annotated[
    str | None,
    Parameter(
        help='such as "76.2 ± 0.1 mm, calipered"; | parts a list',
        allow_leading_hyphen=True,
    ),
]
FromFile = Annotated[str | None, Parameter(name="--from", help="a file with the entry, for a curve of many lines")]


def change(
    file: BuildFile, path: FactPath, value: Value = None, /, *, source: FromFile = None, json: Json = False
) -> int:
    """Writes one entry into the file of a build; comments and order stay as they are.

    The build is read with the change before anything is written: where it would not be sound, the file stays untouched.
    Facts, words, names of parts, lists, single values of lists, the pick of a choice and limits can be written.
    """
    from trialfit.book.changing import change_entry
    from trialfit.book.problems import BadInput, Located
    from trialfit.book.toml_text import text_of
    from trialfit.cli.pages.change import page
    from trialfit.cli.screen import answer

    if (value is None) == (source is None):
        raise BadInput("trialfit set", [Located("", "either a value or --from FILE is wanted, one of the two")])
    text = value if value is not None else text_of(Path(source or ""))
    done = change_entry(Path(file), path, text, _check_limits if path.startswith("limit.") else None)
    answer(done, page(done), as_json=json)
    return 0


def _check_limits(build: Build) -> None:
    from trialfit.subjects.catalogue import check_own_limits, requirements

    check_own_limits(build, requirements(build))
