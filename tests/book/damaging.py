"""Books damaged in a thousand ways, each the same way every time."""

from __future__ import annotations

import random
import sqlite3
from pathlib import Path

from trialfit.book.changes import Change
from trialfit.book.document import Document
from trialfit.book.editing import attach
from trialfit.book.journal import Book
from trialfit.book.media import Paper

SCHEMA_AT = 60  # where an SQLite file keeps the version of its user
KINDS = ("flipped", "cut", "zeroed", "beginning zeroed", "pages swapped", "longer", "wrong file", "future")


def sound_book(file: Path, start: Document) -> None:
    """A book with some history: changes, snapshots on the way, a curve, two attachments of several pages."""
    rng = random.Random(7)  # noqa: S311 - the same every time, and no secret
    with Book.create(file, start, "laptop") as book:
        for number in range(250):
            book.write(
                Change(path="car.mass", before=book.value("car.mass"), after=f"{900 + number} kg, weighed"), "phone"
            )
        for name in ("tunnel", "mount"):
            text = "".join(rng.choice("abcdefgh \n") for _ in range(9000)).encode()
            attach(book, "gearbox", Paper(f"{name}.txt", text, "text/plain"), note=name)
        for number in range(20):
            book.write(Change(path="car.note", before=book.value("car.note"), after=f"note {number}"), "phone")


def damaged(sound: bytes, seed: int) -> tuple[str, bytes]:
    """The kind of damage, and the bytes of the book with it."""
    rng = random.Random(seed)  # noqa: S311 - the same every time, and no secret
    kind = KINDS[seed % len(KINDS)]
    data = bytearray(sound)
    if kind == "flipped":
        for _ in range(rng.choice((1, 1, 2, 8))):
            data[rng.randrange(len(data))] ^= 1 << rng.randrange(8)
    elif kind == "cut":
        del data[rng.randrange(len(data)) :]
    elif kind == "zeroed":
        start, length = rng.randrange(len(data)), rng.choice((16, 512, 4096, 20_000))
        data[start : start + length] = bytes(len(data[start : start + length]))
    elif kind == "beginning zeroed":
        length = rng.choice((1, 16, 100, 4096))
        data[:length] = bytes(length)
    elif kind == "pages swapped":
        one, other = (4096 * rng.randrange(len(data) // 4096) for _ in range(2))
        data[one : one + 4096], data[other : other + 4096] = data[other : other + 4096], data[one : one + 4096]
    elif kind == "longer":
        data += rng.randbytes(rng.choice((1, 100, 4096)))
    elif kind == "wrong file":
        data = bytearray(
            rng.choice((b"\x89PNG\r\n\x1a\n" + rng.randbytes(500), rng.randbytes(5000), b"SQLite format 3\0"))
        )
    else:
        data[SCHEMA_AT : SCHEMA_AT + 4] = rng.randrange(3, 2**31).to_bytes(4, "big")
    return kind, bytes(data)


def other_database(file: Path) -> None:
    """A sound database of another program."""
    db = sqlite3.connect(file)
    db.execute("pragma journal_mode = wal")
    db.execute("create table note (text)")
    db.commit()
    db.close()
