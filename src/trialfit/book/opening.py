"""A build from a book or a TOML file. The content of the file decides which one it is, not its name.

Answers   open_build     the build in a file, now or at an earlier moment
          is_book        whether a file is a book
          local          a moment in local time
          read_moment    a date, a time or the number of a change, as typed
Not here  the two kinds of file (toml_text.py, journal.py)
"""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, time, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from trialfit.book.build import Build
from trialfit.book.disk import mode_of, open_ordinary
from trialfit.book.problems import BadInput, Located
from trialfit.book.toml_text import read

if TYPE_CHECKING:
    import os

    from trialfit.book.history import History

    Moment = datetime | int
    """A time, or the number of a change."""

_BEGINNING = 100
_MAGIC = b"SQLite format 3"
_LONGEST_NUMBER = 7  # more digits are a date without dashes


def is_book(path: str | os.PathLike[str]) -> bool:
    """Whether a file is a book, sound or damaged: it begins as one, or with bytes that no text has; or it is named as one and cut off."""
    try:
        with open_ordinary(path) as file:
            head = file.read(_BEGINNING)
    except (OSError, ValueError):
        return False
    is_cut_off = len(head) < len(_MAGIC) and _MAGIC.startswith(head) and Path(path).suffix.lower() == ".book"
    return head.startswith(_MAGIC) or b"\0" in head or is_cut_off


def open_build(path: str | os.PathLike[str], moment: Moment | None = None) -> Build:
    """The build in a book or a TOML file; at an earlier moment, for a book only. Raises BadInput."""
    if not is_book(path):
        if moment is not None and mode_of(path):
            says = f"is a TOML file, which has no history: expected a book (`trialfit new NAME.book --from {path}` makes one)"
            raise BadInput(str(path), [Located("", says)])
        return replace(read(path), folder=Path(path).absolute().parent)
    from trialfit.book.journal import Book  # imported here: a TOML file does not need it

    with Book.open(Path(path), read_only=True) as book:
        document = book.document if moment is None else book.document_after(number_at(book, moment))
        renamed = book.renamed
    build, problems = Build.from_document(document)
    if problems:
        raise BadInput(str(path), problems)
    return replace(build, folder=Path(path).absolute().parent, renamed=renamed)


def number_at(book: History, moment: Moment) -> int:
    """The number of the newest change at a moment. Raises BadInput if the moment is before the first change."""
    if isinstance(moment, int):
        if not 1 <= moment <= book.number:
            says = f"has no change {moment}: expected a number from 1 to {book.number}"
            raise BadInput(str(book.path), [Located("", says)])
        return moment
    number = book.number_at(moment)
    if not number:
        first = next(book.journal(), None)
        begun = f"its first change was made at {local(first.time):%Y-%m-%d %H:%M}" if first else "it has no changes yet"
        raise BadInput(str(book.path), [Located("", f"has no record of {local(moment):%Y-%m-%d %H:%M}: {begun}")])
    return number


def local(moment: datetime) -> datetime:
    """A moment in local time; unchanged at the ends of the calendar, where the conversion fails.

    >>> local(datetime.max.replace(tzinfo=UTC)).year
    9999
    """
    try:
        return moment.astimezone()
    except (OverflowError, ValueError, OSError):
        return moment


def read_moment(text: str, *, of_day: Literal["begin", "end"] = "end") -> Moment:
    """A moment as typed: "2026-03-14", "2026-03-14 16:30", or the number of a change. Raises BadInput.

    A date alone is the end of that day or its beginning, as set by `of_day`.

    A time without an offset is local time.

    >>> read_moment("17")
    17
    >>> read_moment("2026-03-14 16:30+01:00").isoformat()
    '2026-03-14T16:30:00+01:00'
    """
    typed = text.strip()
    if typed.isascii() and typed.isdigit() and len(typed) <= _LONGEST_NUMBER:
        return int(typed)
    try:
        found = datetime.fromisoformat(typed)
        if of_day == "end" and found.time() == time() and ":" not in typed and "T" not in typed:
            found += timedelta(days=1, microseconds=-1)
        found = found if found.tzinfo else found.astimezone()
        found.astimezone(UTC)  # fails at the ends of the calendar
    except (ValueError, OverflowError, OSError):
        says = f'"{text}" is not a date: write it as 2026-03-14, as "2026-03-14 16:30", or as the number of a change'
        raise BadInput("the date", [Located("", says)]) from None
    return found
