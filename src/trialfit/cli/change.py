"""`trialfit set`: one entry of a book or a TOML file written."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from cyclopts import Parameter

from trialfit.cli.options import BuildFile, Device, Json, Note, device_name

if TYPE_CHECKING:
    from collections.abc import Callable

    from trialfit.book.build import Build
    from trialfit.book.changing import Change

FactPath = Annotated[
    str,
    Parameter(help="part.fact, part.list.2, choice.name.picked or limit.finding"),
]
Value = Annotated[
    str | None,
    Parameter(
        help='such as "76.2 ± 0.1 mm, calipered"; | separates the values of a list',
        allow_leading_hyphen=True,
    ),
]
FromFile = Annotated[
    str | None, Parameter(name="--from", help="a file that holds the value, for a curve of many lines")
]


def change(
    file: BuildFile,
    path: FactPath,
    value: Value = None,
    /,
    *,
    source: FromFile = None,
    note: Note = "",
    device: Device = "",
    json: Json = False,
) -> int:
    """Writes one entry into a build: one durable change in a book; in a TOML file, comments and order stay as they are.

    The build is first read with the change: if it would have a new fault, nothing is written. In a TOML file that has
    faults, a value that mends one of them is written.
    Facts, words, names of parts, lists, single values of lists, the pick of a choice, limits and notes can be written;
    PART.kind adds a part. --note and --as go into the journal of a book.
    """
    from trialfit.book.changing import change_entry
    from trialfit.book.opening import is_book
    from trialfit.book.problems import BadInput, Located
    from trialfit.book.toml_text import text_of
    from trialfit.cli.pages.change import page
    from trialfit.cli.screen import answer

    if (value is None) == (source is None):
        raise BadInput("trialfit set", [Located("", "expected either a value or --from FILE, one of the two")])
    text = value if value is not None else text_of(Path(source or ""))
    check = _check_of(path)
    remarks: tuple[str, ...] = ()
    if is_book(file):
        done, remarks = _in_book(file, path, text, note, device_name(device), check)
    elif note or device:
        says = "is a TOML file, which has no journal: --note and --as need a book"
        raise BadInput(file, [Located("", f"{says} (trialfit new NAME.book --from {file})")])
    else:
        done = change_entry(Path(file), path, text, check)
    answer(done, page(done, remarks), as_json=json)
    return 0


def write_part(file: str, name: str, entries: dict[str, str], before: Callable[[], None]) -> None:
    """Writes entries of one part, by their paths, into a book as one change or a TOML file at once. Raises BadInput.

    `before` is called when the build has been found sound with them, just before it is written.
    """
    from trialfit.book.changing import change_entries
    from trialfit.book.editing import set_part
    from trialfit.book.opening import is_book
    from trialfit.cli.books import open_book

    if not is_book(file):
        change_entries(Path(file), entries, lambda _: before())
        return
    with open_book(file) as book:
        set_part(book, name, entries, device=device_name(""), check=lambda _: before())


def writer_of(file: str, note: str = "") -> Callable[[str, str], Change]:
    """A function that writes an entry into a book, with the note in the journal, or into a TOML file."""
    from trialfit.book.changing import change_entry
    from trialfit.book.opening import is_book

    def write(path: str, text: str) -> Change:
        if is_book(file):
            return _in_book(file, path, text, note, device_name(""), _check_of(path))[0]
        return change_entry(Path(file), path, text, _check_of(path))

    return write


def _in_book(
    file: str, path: str, text: str, note: str, device: str, check: Callable[[Build], None] | None
) -> tuple[Change, tuple[str, ...]]:
    from trialfit.book.editing import set_entry
    from trialfit.cli.books import open_book, remarks_on

    with open_book(file) as book:
        done, made = set_entry(book, path, text, note=note, device=device, check=check)
        return done, remarks_on(book, made)


def _check_of(path: str) -> Callable[[Build], None] | None:
    """The check of a change of this path that belongs to a higher floor."""
    if path.startswith("limit."):
        return partial(_check_limit, identifier=path.removeprefix("limit."))
    return _check_work if path.startswith(("job.", "order.", "workshop.")) else None


def _check_work(build: Build) -> None:
    from trialfit.planning.site import site_of

    site_of(build)


def _check_limit(build: Build, identifier: str) -> None:
    """Checks that the new limit names a finding and can be read; other entries of the build do not stop it."""
    from trialfit.subjects.catalogue import requirements
    from trialfit.subjects.own_limits import refuse_unknown, refuse_unreadable

    stated = requirements(build)
    refuse_unknown(build, identifier, [one.id for one in stated])
    refuse_unreadable(build, (one for one in stated if one.id == identifier))
