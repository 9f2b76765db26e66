"""What the commands of a book share.

Answers   open_book      the book in a file; for a TOML file, a sentence
          remarks_on     remarks about a change that was made
          answer_made    prints a change that was made
Not here  pages (pages/book.py)
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from trialfit.book.disk import is_file
from trialfit.book.journal import Book
from trialfit.book.opening import is_book, local
from trialfit.book.problems import BadInput, Located
from trialfit.book.reports import Made
from trialfit.cli.pages.book import made_page
from trialfit.cli.screen import answer

if TYPE_CHECKING:
    from trialfit.book.changes import Recorded

_TOLERATED = timedelta(seconds=2)


def open_book(file: str, *, read_only: bool = False) -> Book:
    """The book in a file. Raises BadInput; for a TOML file it says how to make a book of it."""
    path = Path(file)
    if not is_book(file) and is_file(path) and path.stat().st_size:
        says = f"is not a book: `trialfit new NAME.book --from {file}` makes one of a TOML file"
        raise BadInput(file, [Located("", says)])
    return Book.open(path, read_only=read_only)


def remarks_on(book: Book, made: Recorded) -> tuple[str, ...]:
    """Remarks about a change: an older book was updated, the clock is behind the journal."""
    remarks = []
    if book.migrated_from:
        kept = f"{book.migrated_from} holds the old book"
        remarks.append(f"The book was of an older version and was brought up to date; {kept}.")
    if made.time - datetime.now(UTC) > _TOLERATED:
        remarks.append(
            "The clock of this computer is behind the last change in the journal: this change was written with the time of "
            f"the last one, {local(made.time):%Y-%m-%d %H:%M}, to keep the order. Check the clock."
        )
    return tuple(remarks)


def answer_made(book: Book, made: Recorded, *, as_json: bool, remarks: tuple[str, ...] = ()) -> int:
    """Prints a change that was made."""
    report = Made(file=str(book.path), change=made, remarks=(*remarks_on(book, made), *remarks))
    answer(report, made_page(report), as_json=as_json)
    return 0
