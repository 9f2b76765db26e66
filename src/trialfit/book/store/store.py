"""A journal of changes in a file, with snapshots and attachments.

Answers   Store.create, Store.open    make a new file; open an existing one, or refuse it with one sentence
          turn, append                one writer at a time; an appended change is durable when the turn ends
          since, newest, at, with_key, touching    the journal
          keep_snapshot, newest_snapshot         a state at a number, so that opening does not grow with history
          files                       attachments (files.py)
          copy_to, damages            a consistent copy while in use; the damage in the file (damage.py)
Not here  what a change means (../changes.py); when it is allowed (../journal.py)

A Store belongs to the thread that opened it; each process or thread opens its own.
"""

from __future__ import annotations

import os
import sqlite3
from contextlib import contextmanager, suppress
from typing import TYPE_CHECKING, Any

from trialfit.book.disk import OTHER_NAMES, flush, has_other_names, unfinished
from trialfit.book.refusals import Unusable
from trialfit.book.store import damage, schema
from trialfit.book.store.connection import SALVAGE, connect, leave_nothing_beside, said
from trialfit.book.store.files import KeptFiles
from trialfit.book.store.rows import COLUMNS, Unreadable, change_of, is_sealed, pack, row_of, seal, unpack

if TYPE_CHECKING:
    from collections.abc import Iterator
    from datetime import datetime
    from pathlib import Path

    from trialfit.book.changes import Recorded

_SELECT = f"select {', '.join(COLUMNS)} from change"  # noqa: S608 - names of our own
_EVER = 2**62


class Store:
    """The open file of a book. Writes in a turn are durable when the turn has ended."""

    def __init__(self, db: sqlite3.Connection, path: Path, *, read_only: bool = False) -> None:
        self._db = db
        self._identity = _identity(path)
        self._tip = (0, b"")  # number and seal of the newest change seen
        self.path = path
        self.read_only = read_only
        self.migrated_from: Path | None = None  # the copy kept of the older version
        self.files = KeptFiles(db, path)

    @classmethod
    def create(cls, path: Path) -> Store:
        """Makes a new, empty file. Raises Unusable if the file exists already or the folder cannot be written."""
        try:
            path.open("xb").close()
        except FileExistsError:
            raise Unusable(path, "exists already: choose another name; nothing was changed") from None
        except OSError as wrong:
            raise Unusable(path, f"cannot be made ({wrong.strerror}): expected a folder that can be written") from None
        except ValueError:
            raise Unusable(repr(str(path)), "is not a file name") from None
        try:
            with said(path):
                db = sqlite3.connect(f"{path.absolute().as_uri()}?mode=rw", uri=True, isolation_level=None)
                try:
                    db.execute("pragma journal_mode = wal")
                    schema.create(db)
                finally:
                    db.close()
            return cls(connect(path, read_only=False), path)
        except BaseException:
            remove(path)
            raise

    @classmethod
    def open(cls, path: Path, *, read_only: bool = False) -> Store:
        """Opens an existing file. Raises Unusable if it is not a sound book of this or an older version.

        For writing, the book is checked first. An older version is copied (`migrated_from`), then migrated. For reading
        only, the book is never changed.
        """
        db = connect(path, read_only=True)
        try:
            version = schema.version_of(db, path)
            damage.check_before_reading(db, path)
            if read_only:
                return cls(db, path, read_only=True)
            _check_name(path)
            damage.check_before_writing(db, path)
        except BaseException:
            db.close()
            leave_nothing_beside(path)
            raise
        db.close()
        db = connect(path, read_only=False)
        store = cls(db, path)
        try:
            if version < schema.SCHEMA:
                store.migrated_from = schema.copy_name(path, version)
                store.copy_to(store.migrated_from)
                schema.migrate(db, path)
        except BaseException:
            db.close()
            raise
        return store

    def close(self) -> None:
        """Closes the file."""
        with said(self.path):
            self._db.close()
        if self.read_only:
            leave_nothing_beside(self.path)

    # --- the journal ---

    @contextmanager
    def turn(self) -> Iterator[None]:
        """One writer at a time: all reads and appends inside belong together, and are durable or undone as a whole."""
        with said(self.path):
            self._db.execute("begin immediate")
            try:
                yield
                self._check_place()
                self._db.execute("commit")
            except BaseException:
                self._tip = (0, b"")
                with suppress(sqlite3.Error):  # after a disk error SQLite has already rolled back
                    self._db.execute("rollback")
                raise

    def append(self, change: Recorded) -> None:
        """Adds a change; only inside a turn."""
        row = row_of(change)
        sealed = seal(self._seal_of(change.number - 1), row)
        self._db.execute("insert into change values (?, ?, ?, ?, ?, ?, ?, ?, ?)", (*row, sealed))
        self._tip = (change.number, sealed)

    def since(self, number: int, until: int | None = None) -> Iterator[Recorded]:
        """The changes after a number, in order, up to and including `until`. Raises Unusable if one is damaged."""
        with said(self.path):
            before = self._seal_of(number)
            asked = f"{_SELECT} where number > ? and number <= ? order by number"
            for row in self._db.execute(asked, (number, _EVER if until is None else until)):
                if not is_sealed(before, row):
                    says = f"is damaged in change {number + 1} or the one before it. {SALVAGE}"
                    raise Unusable(self.path, says)
                number, before = row[0], row[-1]
                if number > self._tip[0]:
                    self._tip = (number, before)
                yield self._change(row)

    def touching(self, path: str, after: int = 0) -> Recorded | None:
        """The newest change after a number at a path, below it or above it."""
        steps = path.split(".")
        holders = [".".join(steps[:count]) for count in range(1, len(steps) + 1)]
        marks = ", ".join("?" * len(holders))
        where = f" where number > ? and (path in ({marks}) or (path > ? and path < ?)) order by number desc limit 1"
        return next(self._asked(where, (after, *holders, f"{path}.", f"{path}/")), None)  # "/" follows "."

    def newest(self) -> Recorded | None:
        """The newest change; None for an empty journal."""
        return next(self._asked(" order by number desc limit 1", ()), None)

    def with_key(self, key: str) -> Recorded | None:
        """The change with a key, or None."""
        return next(self._asked(" where key = ?", (key,)), None)

    def at(self, time: datetime) -> int:
        """Number of the newest change that is not later than a time; 0 if there is none."""
        with said(self.path):
            asked = "select coalesce(max(number), 0) from change where time <= ?"
            (number,) = self._db.execute(asked, (time.isoformat(timespec="microseconds"),)).fetchone()
        return int(number)

    def _asked(self, where: str, values: tuple[Any, ...]) -> Iterator[Recorded]:
        with said(self.path):
            for row in self._db.execute(_SELECT + where, values):
                yield self._change(row)

    def _change(self, row: tuple[Any, ...]) -> Recorded:
        try:
            return change_of(row)
        except Unreadable as wrong:
            raise Unusable(self.path, f"is damaged: change {row[0]} {wrong}. {SALVAGE}") from None

    def _seal_of(self, number: int) -> bytes:
        if number == self._tip[0]:
            return self._tip[1]
        row = self._db.execute("select seal from change where number = ?", (number,)).fetchone()
        return bytes(row[0]) if row else b""

    def _check_place(self) -> None:
        """Raises Unusable if another file has taken the name of the open one: new changes would be lost."""
        if _identity(self.path) != self._identity:
            raise Unusable(
                self.path,
                "was moved, replaced or deleted while it was open, or its folder is missing; nothing was changed",
            )

    # --- snapshots ---

    def keep_snapshot(self, number: int, state: dict[str, Any]) -> int:
        """Keeps the state after a change, inside a turn; returns its size as text. Older snapshots stay, for `as of`."""
        size, packed, sealed = pack(number, state)
        self._db.execute("insert or replace into snapshot values (?, ?, ?, ?)", (number, size, packed, sealed))
        return size

    def newest_snapshot(self, until: int | None = None) -> tuple[int, int, dict[str, Any]] | None:
        """The newest sound snapshot not after `until`: number, size and state."""
        with said(self.path):
            asked = "select number, size, state, seal from snapshot where number <= ? order by number desc"
            for number, size, packed, sealed in self._db.execute(asked, (_EVER if until is None else until,)):
                # instead of a damaged one, use an older one or the journal from its beginning
                with suppress(Unreadable, TypeError, ValueError):
                    return number, int(size), unpack(number, packed, sealed)
        return None

    # --- the file as a whole ---

    def copy_to(self, target: Path) -> None:
        """Writes a consistent, durable copy while the book is in use. Raises Unusable if the target exists already."""
        if os.path.lexists(target):
            raise Unusable(target, "exists already: choose another name; nothing was changed")
        try:
            with unfinished(target) as folder:
                copy = folder / "copy.book"
                with said(target):
                    self._db.execute("vacuum into ?", (str(copy),))
                    connect_as_book(copy)
                flush(copy)
                give_name(copy, target)
            flush(target.absolute().parent)
        except OSError as wrong:
            raise Unusable(target, f"cannot be written ({wrong.strerror}): no copy was made") from None

    def tidy(self) -> None:
        """Moves all written changes from the WAL into the book file, as far as other readers allow."""
        with said(self.path):
            self._db.execute("pragma wal_checkpoint(truncate)")

    def counts(self) -> tuple[int, int]:
        """The number of changes and of attachments."""
        with said(self.path):
            (changes,) = self._db.execute("select count(*) from change").fetchone()
            (kept,) = self._db.execute("select count(*) from file where whole is not null").fetchone()
        return int(changes), int(kept)

    def damages(self) -> Iterator[damage.Damage]:
        """All damage in the file."""
        return damage.damages(self._db, self.path)


def connect_as_book(path: Path) -> None:
    """Sets the journal mode of a new copy."""
    db = sqlite3.connect(f"{path.absolute().as_uri()}?mode=rw", uri=True, isolation_level=None)
    try:
        db.execute("pragma journal_mode = wal")
    finally:
        db.close()


def remove(path: Path) -> None:
    """Removes an unfinished book file and the SQLite files beside it."""
    for name in (path.name, f"{path.name}-wal", f"{path.name}-shm", f"{path.name}-journal"):
        with suppress(OSError):
            path.with_name(name).unlink()


def give_name(made: Path, path: Path) -> None:
    """Gives a finished book its name, unless the name was taken meanwhile. Raises Unusable, OSError."""
    try:
        os.link(made, path)
    except FileExistsError:
        raise Unusable(path, "exists already: choose another name; nothing was changed") from None
    except OSError:  # a disk without links
        made.rename(path)
    else:
        with suppress(OSError):  # a temporary name, which goes anyhow: at once, because a book has one name
            made.unlink()


def _check_name(path: Path) -> None:
    """Raises Unusable for a hard link: SQLite keeps what is not yet in the file beside one of its names only."""
    if has_other_names(path):
        cure = f"make a book of its own (`trialfit keep-copy {path} NAME.book`) and use that"
        raise Unusable(path, f"{OTHER_NAMES}: {cure}; nothing was changed")


def _identity(path: Path) -> tuple[int, int] | None:
    try:
        found = path.stat()
    except OSError:
        return None
    return found.st_dev, found.st_ino
