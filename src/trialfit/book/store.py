"""The one place that knows SQL: a journal of changes in a SQLite file, with snapshots and attachments.

Answers   Store.create, Store.open          a new file; an existing one, refused with a sentence where it cannot be used
          append, since, count, last        the journal
          keep_snapshot, newest_snapshot    a state at a number, so that opening does not grow with history
          put_file, file_of, preview_of     attachments by content hash
          copy_to, check                    a consistent copy while in use; what is damaged
Not here  what a change means (changes.py); who may make one (journal.py)

Durable   WAL with synchronous FULL: a change is on disk when append returns. `begin immediate` makes two writers take turns;
          a reader is never blocked.
Seal      Each change carries a digest over itself and the seal before it, so that a flipped byte is found and named.
"""

from __future__ import annotations

import json
import sqlite3
import zlib
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from hashlib import sha256
from typing import TYPE_CHECKING, Any

from trialfit.book.changes import Recorded

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

APPLICATION = 0x74666274  # "tfbt", so that a file says what it is
SCHEMA = 1
BUSY_SECONDS = 10.0

_TABLES = """
    create table change (
        number integer primary key, time text not null, device text not null, path text not null,
        before text not null, after text not null, note text not null, key text unique, seal blob not null
    ) strict;
    create index change_path on change (path);
    create table snapshot (number integer primary key, state blob not null) strict;
    create table file (sha256 text primary key, size integer not null, media_type text not null, whole blob, preview blob) strict;
"""
_SELECT = "select number, time, device, path, before, after, note, coalesce(key, ''), seal from change"


class Unusable(Exception):
    """The file cannot be used as a book: one sentence that says why."""


class Stale(Exception):
    """What a change expects to replace is no longer there."""


@dataclass(frozen=True)
class Damage:
    """Something in the file that is not as it was written: what, and where."""

    where: str
    says: str


class Store:
    """A book's file, open. Every method that writes returns only when what it wrote is durable."""

    def __init__(self, connection: sqlite3.Connection, path: Path, *, read_only: bool) -> None:
        self._db = connection
        self.path = path
        self.read_only = read_only

    @classmethod
    def create(cls, path: Path) -> Store:
        """A new, empty file. Raises Unusable where one is there already or the place cannot be written."""
        try:
            path.open("xb").close()
        except FileExistsError:
            raise Unusable(f"{path} is there already: choose another name, nothing was touched") from None
        except OSError as wrong:
            raise Unusable(f"{path} cannot be made ({wrong.strerror})") from None
        try:
            store = cls(_connect(path, read_only=False), path, read_only=False)
            with _said(path):
                store._db.executescript(
                    f"pragma application_id = {APPLICATION}; pragma user_version = {SCHEMA}; begin immediate; {_TABLES} commit;"
                )
        except BaseException:
            path.unlink(missing_ok=True)
            raise
        return store

    @classmethod
    def open(cls, path: Path, *, read_only: bool = False) -> Store:
        """An existing file. Raises Unusable with a sentence for anything that is not a book of this or an older schema."""
        check_file(path)
        store = cls(_connect(path, read_only=read_only), path, read_only=read_only)
        with _said(path):
            (application,) = store._db.execute("pragma application_id").fetchone()
            (schema,) = store._db.execute("pragma user_version").fetchone()
        if application != APPLICATION:
            store.close()
            raise Unusable(f"{path} is an SQLite file of another program, not a book")
        if schema > SCHEMA:
            store.close()
            raise Unusable(
                f"{path} was written by a newer trialfit (schema {schema}, this one knows {SCHEMA}): use that one, nothing was touched"
            )
        return store

    def close(self) -> None:
        """Lets go of the file."""
        self._db.close()

    # --- the journal ---

    def last(self) -> tuple[int, datetime] | None:
        """Number and time of the newest change; None of an empty journal."""
        with _said(self.path):
            row = self._db.execute("select number, time from change order by number desc limit 1").fetchone()
        return (row[0], datetime.fromisoformat(row[1])) if row else None

    def since(self, number: int, until: int | None = None) -> Iterator[Recorded]:
        """The changes after a number, in order, up to and with `until`."""
        asked = _SELECT + " where number > ? and number <= ? order by number"
        with _said(self.path):
            for row in self._db.execute(asked, (number, until if until is not None else 2**62)):
                yield _recorded(row)

    def with_key(self, key: str) -> Recorded | None:
        """The change that carries a key, or None."""
        with _said(self.path):
            row = self._db.execute(_SELECT + " where key = ?", (key,)).fetchone()
        return _recorded(row) if row else None

    def number_at(self, time: datetime) -> int:
        """Number of the newest change that is not later than a time; 0 where there is none."""
        with _said(self.path):
            (number,) = self._db.execute(
                "select coalesce(max(number), 0) from change where time <= ?", (time.isoformat(timespec="microseconds"),)
            ).fetchone()
        return int(number)

    @contextmanager
    def turn(self) -> Iterator[None]:
        """One writer at a time: what is read and appended inside belongs together, and is durable or undone as a whole."""
        with _said(self.path):
            self._db.execute("begin immediate")
            try:
                yield
            except BaseException:
                self._db.execute("rollback")
                raise
            self._db.execute("commit")

    def append(self, change: Recorded) -> None:
        """Adds a change; inside a turn."""
        row = (*_row(change), _seal(self._last_seal(), change))
        self._db.execute("insert into change values (?, ?, ?, ?, ?, ?, ?, ?, ?)", row)

    def _last_seal(self) -> bytes:
        row = self._db.execute("select seal from change order by number desc limit 1").fetchone()
        return row[0] if row else b""

    # --- snapshots ---

    def keep_snapshot(self, number: int, state: dict[str, Any]) -> None:
        """Keeps the state after a change, inside a turn; older snapshots stay for `as of`."""
        packed = zlib.compress(json.dumps(state, ensure_ascii=False, separators=(",", ":")).encode(), 1)
        self._db.execute("insert or replace into snapshot values (?, ?)", (number, packed))

    def newest_snapshot(self, until: int | None = None) -> tuple[int, dict[str, Any]] | None:
        """The newest snapshot not after `until`: number and state; None where there is none that can be read."""
        with _said(self.path):
            rows = self._db.execute(
                "select number, state from snapshot where number <= ? order by number desc",
                (until if until is not None else 2**62,),
            )
            for number, packed in rows:
                try:
                    return number, json.loads(zlib.decompress(packed))
                except (zlib.error, ValueError):
                    continue  # an older one, or the journal from its beginning, serves as well
        return None

    # --- attachments ---

    def put_file(self, digest: str, media_type: str, whole: bytes, preview: bytes | None) -> None:
        """Keeps a file once, by its SHA-256, inside a turn."""
        self._db.execute(
            "insert into file values (?, ?, ?, ?, ?) on conflict (sha256) do update set whole = excluded.whole, preview = excluded.preview",
            (digest, len(whole), media_type, whole, preview),
        )

    def file_of(self, digest: str) -> bytes | None:
        """The file with that SHA-256; None where it is not kept, or was forgotten."""
        with _said(self.path):
            row = self._db.execute("select whole from file where sha256 = ?", (digest,)).fetchone()
        return row[0] if row else None

    def preview_of(self, digest: str) -> bytes | None:
        """The preview of that file, where one was made."""
        with _said(self.path):
            row = self._db.execute("select preview from file where sha256 = ?", (digest,)).fetchone()
        return row[0] if row else None

    def drop_file(self, digest: str) -> None:
        """Takes the bytes of a file out, inside a turn; that there was one stays known."""
        self._db.execute("update file set whole = null, preview = null where sha256 = ?", (digest,))

    # --- the file as a whole ---

    def copy_to(self, target: Path) -> None:
        """A consistent copy while the book is in use. Raises Unusable where the target is there already or cannot be made."""
        if target.exists():
            raise Unusable(f"{target} is there already: choose another name, nothing was touched")
        with _said(target):
            self._db.execute("vacuum into ?", (str(target),))

    def damages(self) -> Iterator[Damage]:
        """Everything in the file that is not as it was written."""
        try:
            for (said,) in self._db.execute("pragma integrity_check(20)"):
                if said != "ok":
                    yield Damage("file", str(said).splitlines()[0])
        except sqlite3.Error as wrong:
            yield Damage("file", str(wrong))
        yield from self._journal_damages()
        yield from self._file_damages()

    def _journal_damages(self) -> Iterator[Damage]:
        before, expected = b"", 1
        rows = _readable(self._db.execute(_SELECT + " order by number"))
        for row in rows:
            if isinstance(row, Damage):
                yield row
                return
            number, seal = row[0], row[-1]
            if number != expected:
                yield Damage(f"change {expected}", f"is missing: the next one is {number}")
            try:
                if seal != _seal(before, _recorded(row)):
                    yield Damage(f"change {number}", "is not as it was written")
            except ValueError:
                yield Damage(f"change {number}", "cannot be read")
            before, expected = seal, number + 1

    def _file_damages(self) -> Iterator[Damage]:
        for row in _readable(self._db.execute("select sha256, whole from file")):
            if isinstance(row, Damage):
                yield row
                return
            digest, whole = row
            if whole is not None and sha256(whole).hexdigest() != digest:
                yield Damage(f"attachment {digest[:12]}", "is not as it was written")


def check_file(path: Path) -> None:
    """Raises Unusable where a path is no file that could be a book."""
    try:
        with path.open("rb") as file:
            head = file.read(16)
    except FileNotFoundError:
        raise Unusable(f"{path} is not there: `trialfit new {path}` makes a book") from None
    except OSError as wrong:
        raise Unusable(f"{path} cannot be read ({wrong.strerror})") from None
    except ValueError:
        raise Unusable(f"{str(path)!r} is no name of a file") from None
    if head != b"SQLite format 3\0":
        raise Unusable(f"{path} is not a book: it does not begin as one")


def _connect(path: Path, *, read_only: bool) -> sqlite3.Connection:
    with _said(path):
        mode = "ro" if read_only else "rw"
        db = sqlite3.connect(
            f"{path.absolute().as_uri()}?mode={mode}", uri=True, timeout=BUSY_SECONDS, isolation_level=None
        )
        try:
            if not read_only:
                db.execute("pragma journal_mode = wal")
                db.execute("pragma synchronous = full")
            db.execute("pragma trusted_schema = off")
            db.execute("select count(*) from sqlite_schema").fetchone()
        except BaseException:
            db.close()
            raise
    return db


@contextmanager
def _said(path: Path) -> Iterator[None]:
    """Turns what SQLite complains of into one sentence."""
    try:
        yield
    except sqlite3.Error as wrong:
        raise Unusable(f"{path}: {_SENTENCES.get(_error_name(wrong), f'cannot be used ({wrong})')}") from wrong


def _error_name(wrong: sqlite3.Error) -> str:
    return getattr(wrong, "sqlite_errorname", "").removeprefix("SQLITE_").split("_")[0]


_SENTENCES = {
    "BUSY": "somebody else has been writing for too long; nothing was changed, try again",
    "READONLY": "the disk or the file cannot be written; nothing was changed",
    "FULL": "the disk is full; nothing was changed, make room and try again",
    "CORRUPT": "is damaged; nothing was changed. `trialfit verify` says where, `write-out --salvage` brings out what can be read",
    "NOTADB": "is damaged at its beginning; nothing was changed. `write-out --salvage` brings out what can be read",
    "CANTOPEN": "cannot be opened: the folder is gone, or it cannot be written",
    "IOERR": "the disk does not answer as it should; nothing was changed",
}


def _readable(rows: sqlite3.Cursor) -> Iterator[Any]:
    """The rows that can be read, and the damage where reading ended."""
    while True:
        try:
            row = rows.fetchone()
        except sqlite3.Error as wrong:
            yield Damage("file", str(wrong))
            return
        if row is None:
            return
        yield row


def _row(change: Recorded) -> tuple[Any, ...]:
    return (
        change.number,
        change.time.isoformat(timespec="microseconds"),
        change.device,
        change.path,
        json.dumps(change.before, ensure_ascii=False),
        json.dumps(change.after, ensure_ascii=False),
        change.note,
        change.key or None,
    )


def _recorded(row: tuple[Any, ...]) -> Recorded:
    number, time, device, path, before, after, note, key, _ = row
    return Recorded(
        number=number,
        time=time,
        device=device,
        path=path,
        before=json.loads(before),
        after=json.loads(after),
        note=note,
        key=key,
    )


def _seal(before: bytes, change: Recorded) -> bytes:
    return sha256(before + json.dumps(_row(change), ensure_ascii=False).encode()).digest()[:16]
