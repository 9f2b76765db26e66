"""The damage in a book.

Answers   Damage         one damage: where, and what is wrong
          damages        all damage in the file, the journal, the snapshots and the attachments
          check_before_reading   refuses a book whose journal could be cut short unnoticed
          check_before_writing   refuses a damaged book before anything is written to it
Not here  recovering what can be read (book/salvage.py)

Each time a book is opened, the tree of its journal is checked, and the seals of all changes since the newest snapshot.
A book of up to 4 MB is checked whole when it is opened for writing; for a larger one that would take too long.
`verify` always checks the whole book.
"""

from __future__ import annotations

import sqlite3
import time
from contextlib import contextmanager, suppress
from hashlib import sha256
from typing import TYPE_CHECKING, Any

from pydantic import Field

from trialfit.book.disk import open_ordinary, read_bytes
from trialfit.book.refusals import Unusable
from trialfit.book.store.connection import SALVAGE, said
from trialfit.book.store.pages import page_size
from trialfit.book.store.rows import COLUMNS, Unreadable, change_of, is_sealed, unpack
from trialfit.book.store.waiting import newest_waiting
from trialfit.facts.frozen import Frozen

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

CHECKED_WHOLE = 4_000_000
_MOST_SAID = 20
_TRIES, _BETWEEN_TRIES = 20, 0.05
_HEAD = 100
_WHOLE_JOURNAL = f"select {', '.join(COLUMNS)} from change order by number"  # noqa: S608 - names of our own
_PAGE_SIZE = slice(16, 18)
_PAGE_COUNT = slice(28, 32)


class Damage(Frozen):
    """One damage in the file."""

    where: str = Field(description="the file, a change by its number, a snapshot or an attachment")
    says: str


def check_before_reading(db: sqlite3.Connection, path: Path) -> None:
    """Raises Unusable if the journal's tree is torn: the journal could be cut short unnoticed."""
    with said(path):
        gone = next(_gone(db, path), None)
    if gone:
        raise _unusable(path, gone)
    with said(path), _one_moment(db):
        (answer,) = db.execute("pragma quick_check(change)").fetchone()
        (count,) = db.execute("select count(*) from change").fetchone()  # of an index
        newest = db.execute("select number from change order by number desc limit 1").fetchone()  # of the tree itself
    if answer != "ok":
        raise _unusable(path, Damage(where="journal", says=f"is torn: {_last_line(answer)}"))
    if count != (newest[0] if newest else 0):
        raise _unusable(path, Damage(where="journal", says=f"has lost some of its {count} changes"))


def check_before_writing(db: sqlite3.Connection, path: Path) -> None:
    """Raises Unusable if a book is damaged. `db` only reads."""
    with said(path), _one_moment(db):
        found = next(_cut_off(path), None)
    if found is None and path.stat().st_size <= CHECKED_WHOLE:
        found = next(damages(db, path), None)
    if found:
        raise _unusable(path, found)


def _unusable(path: Path, found: Damage) -> Unusable:
    return Unusable(path, f"is damaged ({found.where} {found.says}); nothing was changed. {SALVAGE}")


def _last_line(answer: object) -> str:
    return str(answer).splitlines()[-1].strip("* ")


def damages(db: sqlite3.Connection, path: Path) -> Iterator[Damage]:
    """All damage in the file."""
    yield from _gone(db, path)
    with _one_moment(db):
        yield from _cut_off(path)
        yield from _in_tables(db)


def _in_tables(db: sqlite3.Connection) -> Iterator[Damage]:
    for row in _rows(db, f"pragma integrity_check({_MOST_SAID})"):
        if isinstance(row, Damage):
            yield row
        elif row[0] != "ok":
            yield Damage(where="file", says=f"is damaged: {_last_line(row[0])}")
    yield from _in_journal(db)
    yield from _in_snapshots(db)
    yield from _in_files(db)


@contextmanager
def _one_moment(db: sqlite3.Connection) -> Iterator[None]:
    """Inside, the book is read as it was at one moment; later writes by others do not show."""
    db.execute("begin")
    try:
        with suppress(sqlite3.Error):  # the next read reports the same
            db.execute("select count(*) from sqlite_schema").fetchone()
        yield
    finally:
        with suppress(sqlite3.Error):
            db.execute("rollback")


def _gone(db: sqlite3.Connection, path: Path) -> Iterator[Damage]:
    """Committed changes that SQLite no longer shows: the WAL is damaged.

    Checked several times, because a commit is in the file a moment before SQLite shows it.
    """
    promised = shown = 0
    for _ in range(_TRIES):
        try:
            with open_ordinary(path) as file:
                size = page_size(file.read(_HEAD))
            promised = newest_waiting(read_bytes(path.with_name(f"{path.name}-wal")), size)
        except OSError:
            return
        try:
            (shown,) = db.execute("select coalesce(max(number), 0) from change").fetchone()
        except sqlite3.Error:
            return  # the table is torn; another check reports it
        if promised <= shown:
            return
        time.sleep(_BETWEEN_TRIES)
    says = f"ends with change {shown}, but change {promised} was written into {path.name}-wal, which is damaged"
    yield Damage(where="journal", says=says)


def _cut_off(path: Path) -> Iterator[Damage]:
    """A file that is shorter than the size in its header.

    While the WAL holds changes, both lengths are possible. If the WAL is empty, the file does not change while it is read,
    so its length and the size in its header must agree.
    """
    waiting = path.with_name(f"{path.name}-wal")
    if waiting.exists() and waiting.stat().st_size:
        return
    with open_ordinary(path) as file:
        head = file.read(32)
    page = int.from_bytes(head[_PAGE_SIZE], "big")
    wanted = int.from_bytes(head[_PAGE_COUNT], "big") * (65536 if page == 1 else page)
    if path.stat().st_size != wanted:
        yield Damage(where="file", says=f"is {path.stat().st_size} bytes long, but its header says {wanted}")


def _in_journal(db: sqlite3.Connection) -> Iterator[Damage]:
    before, expected = b"", 1
    for row in _rows(db, _WHOLE_JOURNAL):
        if isinstance(row, Damage):
            yield row
            return
        number = row[0]
        if number != expected:
            yield Damage(where=f"change {expected}", says=f"is missing: the next one is {number}")
        try:
            change_of(row)
        except Unreadable as wrong:
            yield Damage(where=f"change {number}", says=str(wrong))
        else:
            if not is_sealed(before, row) and number == expected:
                yield Damage(where=f"change {number}", says=f"({row[3]}) or the one before it is damaged")
        before, expected = row[-1] if isinstance(row[-1], bytes) else b"", number + 1


def _in_snapshots(db: sqlite3.Connection) -> Iterator[Damage]:
    for row in _rows(db, "select number, state, seal from snapshot"):
        if isinstance(row, Damage):
            yield row
            return
        try:
            unpack(*row)
        except Unreadable as wrong:
            yield Damage(where=f"snapshot {row[0]}", says=f"{wrong}; the journal before it is used instead")


def _in_files(db: sqlite3.Connection) -> Iterator[Damage]:
    for row in _rows(db, "select sha256, size, whole from file"):
        if isinstance(row, Damage):
            yield row
            return
        digest, size, whole = row
        if whole is not None and (
            not isinstance(whole, bytes) or len(whole) != size or sha256(whole).hexdigest() != digest
        ):
            yield Damage(where=f"attachment {str(digest)[:12]}", says="is damaged")


def _rows(db: sqlite3.Connection, asked: str) -> Iterator[tuple[Any, ...] | Damage]:
    """The rows that can be read, and the damage at which reading ends."""
    try:
        yield from db.execute(asked)
    except sqlite3.Error as wrong:
        yield Damage(where="file", says=f"cannot be read to its end ({wrong})")
