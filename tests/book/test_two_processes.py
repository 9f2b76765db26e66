"""Two processes write one book at once, and a third that only reads is never kept waiting."""

from __future__ import annotations

import sqlite3
import subprocess
import sys
from pathlib import Path

from trialfit.book.changes import Change
from trialfit.book.journal import Book

WRITER = """
import sys
from pathlib import Path
from trialfit.book.changes import Change
from trialfit.book.journal import Book
from trialfit.book.refusals import Stale
name, file, count = sys.argv[1], Path(sys.argv[2]), int(sys.argv[3])
stale = 0
with Book.open(file) as book:
    number = 0
    while number < count:
        before = book.value("story")
        try:
            book.write(Change(path="story", before=before, after=f"{before}{name}"), name)
            number += 1
        except Stale:
            stale += 1
print(stale)
"""


def writer(name: str, file: Path, count: int) -> subprocess.Popen[str]:
    """A process of its own that appends its name to the story again and again."""
    words = [sys.executable, "-c", WRITER, name, str(file), str(count)]
    return subprocess.Popen(words, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)  # noqa: S603 - our own


def test_two_writers_lose_nothing_and_a_reader_sees_only_whole_states(tmp_path):
    """Each writer appends a letter to one text: were a change written over another's, a letter would be missing."""
    file = tmp_path / "shared.book"
    Book.create(file).close()
    writers = [writer(name, file, 150) for name in "ab"]
    seen = []
    while any(one.poll() is None for one in writers):
        with Book.open(file, read_only=True) as book:
            seen.append(book.document.story)
    for one in writers:
        _, said = one.communicate()
        assert (one.returncode, said) == (0, "")

    with Book.open(file) as book:
        story = book.document.story
        assert list(book.damages()) == []
        assert [change.device for change in book.journal()] == list(story)
    assert (story.count("a"), story.count("b"), len(story)) == (150, 150, 300)
    assert all(story.startswith(state) for state in seen)


def test_a_reader_is_not_kept_waiting_by_a_writer_in_the_middle_of_a_change(book):
    other = sqlite3.connect(book.path, isolation_level=None)
    other.execute("begin immediate")

    with Book.open(book.path, read_only=True) as reader:
        assert reader.document == book.document
    other.close()


def test_an_open_book_sees_what_another_process_writes(book):
    with Book.open(book.path) as other:
        other.write(Change(path="car.mass", before="960 kg, weighed", after="985 kg"), "phone")

    assert book.value("car.mass") == "985 kg"
    assert book.document.parts["car"].entries["mass"] == "985 kg"


def test_a_copy_kept_while_somebody_writes_is_whole(tmp_path):
    file = tmp_path / "shared.book"
    Book.create(file).close()
    one = writer("a", file, 200)
    copies = 0
    while one.poll() is None:
        copies += 1
        target = tmp_path / f"copy {copies}.book"
        with Book.open(file, read_only=True) as book:
            book.keep_copy(target)
        with Book.open(target, read_only=True) as copy:
            assert list(copy.damages()) == []
            assert copy.document.story == "a" * copy.number
    one.communicate()
    assert copies
