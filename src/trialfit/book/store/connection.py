"""A connection to the file of a book, and SQLite's errors as sentences.

Answers   connect        opens to read and write, or only to read
          check_head     refuses at once a file that does not begin like a book
          said           turns an SQLite error into one sentence
Not here  the tables (schema.py)

Durable   WAL with synchronous FULL: what is committed is on disk. A reader is never blocked by a writer.
Reading   A read-only connection never changes the file. On a read-only disk, SQLite can read a book only if it treats
          it as unchanging, which is true there.
"""

from __future__ import annotations

import sqlite3
from contextlib import contextmanager, suppress
from typing import TYPE_CHECKING

from trialfit.book.disk import BUSY_SECONDS, open_ordinary
from trialfit.book.refusals import Unusable

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

SALVAGE = "`trialfit verify` lists the damage, `trialfit write-out --salvage` recovers what can be read"
_MAGIC = b"SQLite format 3\0"
_HEAD = 100
_WAL_FORMAT = b"\2\2"
_NO_SHARED_MEMORY = {"SQLITE_CANTOPEN", "SQLITE_READONLY_DIRECTORY", "SQLITE_READONLY_CANTINIT"}


def check_head(path: Path) -> None:
    """Raises Unusable if a path is not a file that begins like a book."""
    try:
        with open_ordinary(path) as file:
            head = file.read(_HEAD)
    except FileNotFoundError:
        raise Unusable(path, f"does not exist: `trialfit new {path}` makes a book") from None
    except OSError as wrong:
        raise Unusable(path, f"cannot be read ({wrong.strerror}): expected a book") from None
    except ValueError:
        raise Unusable(repr(str(path)), "is not a file name: expected a path to a book") from None
    if head[:16] != _MAGIC:
        raise Unusable(path, f"is not a book, or is damaged at its beginning; nothing was changed. {SALVAGE}")
    if len(head) < _HEAD or head[18:20] != _WAL_FORMAT:
        raise Unusable(path, f"is not a book, or is damaged in its first 100 bytes; nothing was changed. {SALVAGE}")


def connect(path: Path, *, read_only: bool) -> sqlite3.Connection:
    """A connection to an existing file. Raises Unusable."""
    check_head(path)
    with said(path):
        if read_only:
            return _connect_reader(path)
        db = _opened(path, "mode=rw")
        try:
            db.execute("pragma journal_mode = wal")
            db.execute("pragma synchronous = full")
        except BaseException:
            db.close()
            raise
    return db


def _connect_reader(path: Path) -> sqlite3.Connection:
    try:
        return _opened(path, "mode=ro")
    except sqlite3.Error as wrong:
        waiting = path.with_name(f"{path.name}-wal")
        if _name(wrong) not in _NO_SHARED_MEMORY or (waiting.exists() and waiting.stat().st_size):
            raise
    return _opened(path, "mode=ro&immutable=1")


def leave_nothing_beside(path: Path) -> None:
    """Removes the two empty files that SQLite leaves beside a book that was only read, unless they are in use.

    SQLite removes them when the last writing connection closes: so one more is opened and closed. The book itself is not
    written, because there is nothing to write.
    """
    waiting = path.with_name(f"{path.name}-wal")
    with suppress(OSError, sqlite3.Error):
        if waiting.stat().st_size == 0:
            db = sqlite3.connect(f"{path.absolute().as_uri()}?mode=rw", uri=True, timeout=0)
            try:
                db.execute("pragma user_version").fetchone()
            finally:
                db.close()


def _opened(path: Path, how: str) -> sqlite3.Connection:
    db = sqlite3.connect(f"{path.absolute().as_uri()}?{how}", uri=True, timeout=BUSY_SECONDS, isolation_level=None)
    try:
        db.execute("pragma trusted_schema = off")
        db.execute("pragma cell_size_check = on")
        db.execute("select count(*) from sqlite_schema").fetchone()
    except BaseException:
        db.close()
        raise
    return db


@contextmanager
def said(path: Path) -> Iterator[None]:
    """Turns an SQLite error into Unusable with one sentence."""
    try:
        yield
    except sqlite3.Error as wrong:
        raise Unusable(path, sentence(wrong)) from wrong


def sentence(wrong: sqlite3.Error) -> str:
    """An SQLite error as a sentence."""
    name = _name(wrong).removeprefix("SQLITE_")
    return _SENTENCES.get(name) or _SENTENCES.get(name.split("_")[0]) or f"cannot be read ({wrong}). {SALVAGE}"


def _name(wrong: sqlite3.Error) -> str:
    return getattr(wrong, "sqlite_errorname", "")


_SENTENCES = {
    "BUSY": "another program has been writing to it for more than 10 seconds; nothing was changed: try again",
    "READONLY": "the disk or the file cannot be written; nothing was changed",
    "READONLY_DBMOVED": "the file was moved or deleted while it was open; nothing was changed",
    "FULL": "the disk is full; nothing was changed: make room, then try again",
    "CORRUPT": f"is damaged; nothing was changed. {SALVAGE}",
    "NOTADB": f"is damaged at its beginning; nothing was changed. {SALVAGE}",
    "CANTOPEN": "cannot be opened: the folder is missing or cannot be written; nothing was changed",
    "PERM": "cannot be read (no permission): ask its owner",
    "IOERR": "the disk does not answer, or the file cannot grow; nothing was changed: check the disk, then try again",
}
