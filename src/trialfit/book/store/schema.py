"""The tables of a book, their version, and the migration from older versions.

Answers   create       makes the tables of the present version in an empty file
          version_of   the version of a file; refuses a file that is not a book or is newer than this program
          migrate      brings an older file to the present version
          copy_name    the name of the copy kept before migration
          SCHEMA       the present version
          Newer        the refusal of a newer book

Versions  1   journal, snapshots, files
          2   index by path: the last change of a path is found without reading the whole journal
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.book.refusals import Unusable
from trialfit.book.store.connection import said

if TYPE_CHECKING:
    import sqlite3
    from pathlib import Path

APPLICATION = 0x74666274  # identifies the file as a book
SCHEMA = 2
TABLES = (
    """create table change (
        number integer primary key, time text not null, device text not null, path text not null,
        before text not null, after text not null, note text not null, key text unique, seal blob not null
    ) strict""",
    "create table snapshot (number integer primary key, size integer not null, state blob not null, seal blob not null) strict",
    """create table file (
        sha256 text primary key, size integer not null, media_type text not null, whole blob, preview blob
    ) strict""",
)
MIGRATIONS = {1: ("create index change_by_path on change (path, number)",)}
"""By the version before the step."""


class Newer(Unusable):
    """A book of a version that only a newer program can read."""


def create(db: sqlite3.Connection) -> None:
    """Makes the tables of the present version in an empty file."""
    db.execute(f"pragma application_id = {APPLICATION}")
    db.execute("begin immediate")
    for statement in (*TABLES, *(one for version in sorted(MIGRATIONS) for one in MIGRATIONS[version])):
        db.execute(statement)
    db.execute(f"pragma user_version = {SCHEMA}")
    db.execute("commit")


def version_of(db: sqlite3.Connection, path: Path) -> int:
    """The version of a file. Raises Unusable for the file of another program and for an unknown version."""
    with said(path):
        (application,) = db.execute("pragma application_id").fetchone()
        (version,) = db.execute("pragma user_version").fetchone()
    if application != APPLICATION:
        raise Unusable(path, "is a database of another program, not a book; nothing was changed")
    if version > SCHEMA:
        raise Newer(
            path,
            f"was written by a newer trialfit (version {version} of the book, this one reads up to {SCHEMA}): "
            "use the newer program; nothing was changed",
        )
    if version < 1:
        raise Unusable(path, f"has the unknown book version {version}; nothing was changed")
    return int(version)


def migrate(db: sqlite3.Connection, path: Path) -> None:
    """Brings an older file to the present version; all of it or nothing. Raises Unusable."""
    with said(path):
        db.execute("begin immediate")
        try:
            for version in range(version_of(db, path), SCHEMA):  # checked again: another program may have been faster
                for statement in MIGRATIONS[version]:
                    db.execute(statement)
            db.execute(f"pragma user_version = {SCHEMA}")
        except BaseException:
            db.execute("rollback")
            raise
        db.execute("commit")


def copy_name(path: Path, version: int) -> Path:
    """A free name beside the file, for the copy kept before migration."""
    for number in range(1, 1000):
        kept = path.with_name(f"{path.stem}-version-{version}{f'-{number}' if number > 1 else ''}{path.suffix}")
        if not kept.exists():
            return kept
    raise Unusable(path, "has 1000 copies of older versions beside it: move them away first")
