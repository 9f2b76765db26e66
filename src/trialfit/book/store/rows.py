"""A change as a row of the journal, and back; and the seal that shows damage to a row.

Answers   row_of, change_of    a Recorded as eight columns, and back
          Unreadable           columns that are not a change
          seal                 digest over the row and the seal before it
          pack, unpack         a state as the bytes of a snapshot, and back

A seal binds a change to all changes before it. A flipped byte, a removed change or an inserted change shows from that row on.
"""

from __future__ import annotations

import json
import zlib
from datetime import datetime
from hashlib import sha256
from typing import Any

from trialfit.book.changes import Recorded

COLUMNS = ("number", "time", "device", "path", "before", "after", "note", "key", "seal")
_SEAL_BYTES = 16
_TYPES = (int, str, str, str, str, str, str, str | None, bytes)
_LARGEST_STATE = 500_000_000


class Unreadable(ValueError):
    """Columns that are not a change, bytes that are not a snapshot."""


def row_of(change: Recorded) -> tuple[Any, ...]:
    """The columns of a change, without the seal."""
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


def change_of(row: tuple[Any, ...]) -> Recorded:
    """The change in the columns. Raises Unreadable."""
    if len(row) != len(COLUMNS) or not all(isinstance(value, kind) for value, kind in zip(row, _TYPES, strict=True)):
        raise Unreadable("is not a row of a journal")
    number, time, device, path, before, after, note, key, _ = row
    try:
        return Recorded(
            number=number,
            time=datetime.fromisoformat(time),
            device=device,
            path=path,
            before=json.loads(before),
            after=json.loads(after),
            note=note,
            key=key or "",
        )
    except (ValueError, RecursionError):
        raise Unreadable("is not a readable change") from None


def seal(before: bytes, row: tuple[Any, ...]) -> bytes:
    """The seal of a row of eight columns that follows a row with the seal `before` (b"" for the first)."""
    return sha256(before + json.dumps(row, ensure_ascii=False).encode()).digest()[:_SEAL_BYTES]


def is_sealed(before: bytes, row: tuple[Any, ...]) -> bool:
    """Whether the ninth column is the seal of the others."""
    try:
        return bool(row[-1] == seal(before, row[:-1]))
    except (TypeError, ValueError):
        return False


def pack(number: int, state: dict[str, Any]) -> tuple[int, bytes, bytes]:
    """A state after a change: its size as text, its bytes, and their seal."""
    text = json.dumps(state, ensure_ascii=False, separators=(",", ":")).encode()
    packed = zlib.compress(text, 1)
    return len(text), packed, _snapshot_seal(number, packed)


def unpack(number: object, packed: object, sealed: object) -> dict[str, Any]:
    """The state in the bytes of a snapshot. Raises Unreadable."""
    if not (isinstance(number, int) and isinstance(packed, bytes) and sealed == _snapshot_seal(number, packed)):
        raise Unreadable("is damaged")
    try:
        return dict(json.loads(zlib.decompressobj().decompress(packed, _LARGEST_STATE)))
    except (zlib.error, ValueError, RecursionError, TypeError):
        raise Unreadable("is damaged") from None


def _snapshot_seal(number: int, packed: bytes) -> bytes:
    return sha256(f"{number}:".encode() + packed).digest()[:_SEAL_BYTES]
