"""The photos and papers in a book, each kept once by the SHA-256 of its bytes.

Answers   KeptFiles   put, whole, preview, drop
Not here  what may be attached (book/media.py), previews (book/pictures.py)
"""

from __future__ import annotations

from hashlib import sha256
from typing import TYPE_CHECKING

from trialfit.book.store.connection import said

if TYPE_CHECKING:
    import sqlite3
    from collections.abc import Iterator
    from pathlib import Path


class KeptFiles:
    """The attachments of an open store. Write only inside a turn of the store."""

    def __init__(self, db: sqlite3.Connection, path: Path) -> None:
        self._db = db
        self._path = path

    def put(self, whole: bytes, media_type: str, preview: bytes | None) -> str:
        """Keeps a file once and returns its SHA-256. A forgotten file is kept again."""
        digest = sha256(whole).hexdigest()
        with said(self._path):
            self._db.execute(
                "insert into file values (?, ?, ?, ?, ?) on conflict (sha256) do update "
                "set whole = excluded.whole, preview = excluded.preview where whole is null",
                (digest, len(whole), media_type, whole, preview),
            )
        return digest

    def whole(self, digest: str) -> bytes | None:
        """The original file with that SHA-256; None if it is not kept or was forgotten. Raises Unusable."""
        with said(self._path):
            row = self._db.execute("select whole from file where sha256 = ?", (digest,)).fetchone()
        return row[0] if row else None

    def preview(self, digest: str) -> bytes | None:
        """The preview of that file, if one was made."""
        with said(self._path):
            row = self._db.execute("select preview from file where sha256 = ?", (digest,)).fetchone()
        return row[0] if row else None

    def has(self, digest: str) -> bool:
        """Whether the bytes are kept."""
        with said(self._path):
            row = self._db.execute("select 1 from file where sha256 = ? and whole is not null", (digest,)).fetchone()
        return row is not None

    def digests(self) -> Iterator[str]:
        """The SHA-256 of every file that is kept."""
        with said(self._path):
            for (digest,) in self._db.execute("select sha256 from file where whole is not null"):
                yield digest

    def drop(self, digest: str) -> None:
        """Removes the bytes of a file and writes zeros over them; the record of the file stays."""
        with said(self._path):
            self._db.execute("pragma secure_delete = on")
            self._db.execute("update file set whole = null, preview = null where sha256 = ?", (digest,))
