"""How fast the book takes changes, and how fast a large one opens.

    .setup/venv/bin/python benchmarks/book.py            both
    .setup/venv/bin/python benchmarks/book.py --short    the same with a tenth of the changes

Changes per second stand beside those of a bare SQLite table of the same columns with the same durability (WAL, synchronous
FULL, one transaction for each change), written in turns of 200 in one run, because a disk is not the same from one second
to the next. Then books of a quarter, a half and the whole of 100,000 changes to 400 parts with 2,000 attachments are opened,
and checked against the build that was written.
"""

from __future__ import annotations

import json
import os
import sqlite3
import sys
import tempfile
import time
from hashlib import sha256
from pathlib import Path
from statistics import median
from typing import TYPE_CHECKING

from trialfit.book.changes import Change
from trialfit.book.document import AttachmentText, Document, PartText
from trialfit.book.journal import Book
from trialfit.book.media import Paper
from trialfit.book.toml_text import read

if TYPE_CHECKING:
    from collections.abc import Iterator

DEMO = Path(__file__).parent.parent / "demos" / "hillclimb.toml"
ROUND = 200
ROUNDS = 15
CHANGES, PARTS, ATTACHMENTS = 100_000, 400, 2_000
FACTS = ("length", "tube_outside_diameter", "tube_wall_thickness", "slip_gap", "spline_overlap")
BLOCK = 1_000


def write_to_book(book: Book, first: int) -> None:
    """Changes one fact again and again, as a builder's phone would: each with its own key."""
    before = book.value("car.mass")
    for number in range(first, first + ROUND):
        after = f"{1000 + number} kg, weighed"
        book.write(Change(path="car.mass", before=before, after=after, key=f"{number:032x}"), "phone")
        before = after


def bare(file: Path) -> sqlite3.Connection:
    """A table of the same columns with the same durability, and nothing else."""
    db = sqlite3.connect(file, isolation_level=None)
    db.execute("pragma journal_mode = wal")
    db.execute("pragma synchronous = full")
    columns = "number integer primary key, time text, device text, path text, before text, after text, note text"
    db.execute(f"create table change ({columns}, key text unique) strict")
    return db


def write_bare(db: sqlite3.Connection, first: int) -> None:
    """The same changes into the bare table."""
    for number in range(first, first + ROUND):
        texts = [json.dumps(f"{1000 + n} kg, weighed") for n in (number - 1, number)]
        row = (number, f"2026-03-14T16:30:00.{number:06}", "phone", "car.mass", *texts, "", f"{number:032x}")
        db.execute("begin immediate")
        db.execute("insert into change values (?, ?, ?, ?, ?, ?, ?, ?)", row)
        db.execute("commit")


def changes_per_second(folder: Path) -> None:
    """Prints both rates and their ratio."""
    book, db = Book.create(folder / "rate.book", read(DEMO).document), bare(folder / "bare.db")
    ours, theirs = [], []
    for number in range(ROUNDS):
        first = 1 + number * ROUND
        begun = time.perf_counter()
        write_to_book(book, first)
        between = time.perf_counter()
        write_bare(db, first)
        theirs.append(ROUND / (time.perf_counter() - between))
        ours.append(ROUND / (between - begun))
    print(f"changes per second, median of {ROUNDS} turns of {ROUND}:")
    print(f"  book         {median(ours):7.0f}")
    print(f"  bare SQLite  {median(theirs):7.0f}")
    print(f"  ratio        {median(our / their for our, their in zip(ours, theirs, strict=True)):7.2f}")
    book.close()
    db.close()


def large_build(changes: int) -> Iterator[tuple[Document, list[Paper]]]:
    """A build that grows and changes: each document differs from the one before in BLOCK changes."""
    parts = {f"shaft_{number}": PartText(kind="prop_shaft") for number in range(PARTS)}
    cards: dict[str, AttachmentText] = {}
    made = PARTS
    yield Document(parts=dict(parts)), []
    while made < changes:
        papers = []
        for _ in range(min(BLOCK, changes - made)):
            name = f"shaft_{made % PARTS}"
            if made % (CHANGES // ATTACHMENTS) == 0 and len(cards) < ATTACHMENTS * changes // CHANGES:
                whole = os.urandom(2_000)
                card = AttachmentText(about=name, file="photo.txt", sha256=sha256(whole).hexdigest(), size=len(whole))
                cards[f"photo_{made}"] = card
                papers.append(Paper(card.file, whole, "text/plain"))
            else:
                entries = {**parts[name].entries, FACTS[made // PARTS % len(FACTS)]: f"{500 + made} mm, taped"}
                parts[name] = PartText(kind="prop_shaft", entries=entries)
            made += 1
        yield Document(parts=dict(parts), attachments=dict(cards)), papers


def opening(folder: Path, changes: int) -> None:
    """Prints how large a book of so many changes is, and how long it takes to open."""
    file = folder / f"large-{changes}.book"
    last = Document()
    with Book.create(file) as book:
        for last, papers in large_build(changes):
            book.take_in(last, "laptop", papers=papers)
        book.write(Change(path="story", before="", after="done"), "laptop")
        last = last.model_copy(update={"story": "done"})
        number = book.number
    print(f"{number:7} changes, {len(last.parts)} parts, {len(last.attachments):4} attachments", end="")
    print(f"  {file.stat().st_size / 1e6:6.1f} MB", end="")
    for read_only, what in ((True, "to read"), (False, "to write")):
        spent = []
        for _ in range(5):
            begun = time.perf_counter()
            with Book.open(file, read_only=read_only) as book:
                document = book.document
                spent.append(time.perf_counter() - begun)
            if document != last:
                sys.exit("the book that was opened is not the one that was written")
        print(f"  {what} {min(spent):.3f} s", end="")
    print(flush=True)


def main() -> None:
    """Prints everything."""
    whole = CHANGES // 10 if "--short" in sys.argv else CHANGES
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        changes_per_second(folder)
        print("opening, best of 5:")
        for share in (4, 2, 1):
            opening(folder, whole // share)


if __name__ == "__main__":
    main()
