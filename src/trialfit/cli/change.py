"""`trialfit set`: one entry of a build file written."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from cyclopts import Parameter
from rich.table import Table
from rich.text import Text

from trialfit.book.changing import Change, change_entry
from trialfit.book.problems import BadInput, Located
from trialfit.book.toml_text import text_of
from trialfit.cli.options import BuildFile, Json  # noqa: TC001 - read when the command is run
from trialfit.cli.screen import clean, line, show

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rich.console import RenderableType

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
    if (value is None) == (source is None):
        raise BadInput("trialfit set", [Located("", "either a value or --from FILE is wanted, one of the two")])
    text = value if value is not None else text_of(Path(source or ""))
    done = change_entry(Path(file), path, text, _check_limits if path.startswith("limit.") else None)
    if json:
        from trialfit.cli.shapes import as_json

        sys.stdout.write(as_json(done))
    else:
        show(*page(done))
    return 0


def _check_limits(build: Build) -> None:
    from trialfit.subjects.catalogue import check_own_limits, requirements

    check_own_limits(build, requirements(build))


def page(done: Change) -> Iterator[RenderableType]:
    """The change as a page."""
    table = Table.grid(padding=(0, 2, 0, 0))
    table.add_column(no_wrap=True)
    table.add_column()
    table.add_row("  was", _lines(done.before) if done.before is not None else "not written")
    table.add_row("  is", _lines(done.after))
    if done.reads_as:
        table.add_row("  read as", line(done.reads_as))
    yield line(f"{done.file}: {done.path}", "bold")
    yield table


def _lines(text: str) -> Text:
    return Text("\n".join(clean(row) for row in text.strip("\n").split("\n")))
