"""A disk that is full, cannot be written, or goes away: said in one sentence, and what was accepted before stays."""

from __future__ import annotations

import os
import shutil
import sqlite3
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from trialfit.book import BadInput
from trialfit.book.changes import Change
from trialfit.book.document import Document
from trialfit.book.journal import Book
from trialfit.book.opening import open_build
from trialfit.book.refusals import Unusable

NOBODY = 65534
NEEDS_FORK = pytest.mark.skipif(not hasattr(os, "fork"), reason="this system has no users as this test needs them")
FILL = """
import resource, signal, sys
from pathlib import Path
from trialfit.book.changes import Change
from trialfit.book.journal import Book
from trialfit.book.problems import BadInput
file, limit = Path(sys.argv[1]), int(sys.argv[2])
if limit:
    signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))
count = 0
with Book.open(file) as book:
    try:
        while count < 2000:
            book.write(Change(path="story", before=book.value("story"), after=f"{count} " + "x" * 3000))
            count += 1
    except BadInput as refused:
        print(count, book.number, *refused.sentences())
"""


def fill(file: Path, limit: int = 0) -> tuple[int, int, str]:
    """Writes until it is refused: how many changes were accepted, the newest number, and the sentence."""
    words = [sys.executable, "-c", FILL, str(file), str(limit)]
    ran = subprocess.run(words, capture_output=True, text=True, check=False)  # noqa: S603 - our own words
    assert (ran.returncode, ran.stderr) == (0, "")
    count, number, sentence = ran.stdout.strip().split(" ", 2)
    return int(count), int(number), sentence


def check_that_all_accepted_is_there(file: Path, count: int, begin: int) -> None:
    with Book.open(file) as book:
        assert list(book.damages()) == []
        assert book.number == begin + count
        assert not count or str(book.value("story")).startswith(f"{count - 1} ")


def test_a_quota_that_is_reached_is_said_and_loses_nothing(tmp_path, small):
    """The system refuses to let the file grow, as a quota does."""
    pytest.importorskip("resource")
    file = tmp_path / "quota.book"
    with Book.create(file, small) as book:
        begin = book.number
    count, number, sentence = fill(file, 600_000)

    assert count > 10
    assert number == begin + count
    assert sentence.startswith(f"{file}: the disk ")
    assert "nothing was changed" in sentence
    check_that_all_accepted_is_there(file, count, begin)


def test_a_disk_that_is_full_is_said_and_loses_nothing(tmp_path, small):
    """On a file system of 1 MB of its own; only the administrator can make one."""
    disk = tmp_path / "small disk"
    disk.mkdir()
    made = subprocess.run(  # noqa: S603 - our own words
        ["mount", "-t", "tmpfs", "-o", "size=1m", "tmpfs", str(disk)],  # noqa: S607 - wherever it is
        capture_output=True,
        check=False,
    )
    if made.returncode:
        pytest.skip(
            "making a small file system wants the administrator; the quota and the page limit are tested in any case"
        )
    try:
        file = disk / "full.book"
        with Book.create(file, small) as book:
            begin = book.number
        count, _, sentence = fill(file)
        assert count > 10
        assert sentence == f"{file}: the disk is full; nothing was changed: make room, then try again"
        (disk / "ballast").write_bytes(b"")
        check_that_all_accepted_is_there_by_reading(file, count, begin)
        with pytest.raises(Unusable, match="the disk is full|cannot be made"):
            Book.create(disk / "another.book", Document(story="y" * 90_000))
        assert sorted(one.name for one in disk.iterdir() if "another" in one.name) == []
    finally:
        subprocess.run(["umount", str(disk)], check=True)  # noqa: S603, S607 - our own words


def check_that_all_accepted_is_there_by_reading(file: Path, count: int, begin: int) -> None:
    with Book.open(file, read_only=True) as book:
        assert list(book.damages()) == []
        assert book.number == begin + count


def test_a_file_that_may_not_grow_is_said_and_loses_nothing(book, put):
    """The same by SQLite's own limit, which works on every system."""
    pages = book._store._db.execute("pragma page_count").fetchone()[0]  # noqa: SLF001 - the disk is in there
    book._store._db.execute(f"pragma max_page_count = {pages + 2}")  # noqa: SLF001
    number = book.number

    refused = ""
    while not refused:
        try:
            put(book, "story", f"{number}" + "x" * 3000)
            number += 1
        except Unusable as full:
            (refused,) = full.sentences()
    assert refused == f"{book.path}: the disk is full; nothing was changed: make room, then try again"
    assert book.number == number
    assert list(book.damages()) == []


def as_nobody(work: Callable[[], object], folder: Path) -> str:
    """What a piece of work gives, or is refused with, when it is done by a user who may not write there."""
    for one in (folder, *folder.parents):
        if os.geteuid() == 0 and one.stat().st_uid == 0 and one.stat().st_mode & 0o005 != 0o005:
            one.chmod(one.stat().st_mode | 0o055)
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        try:
            if os.geteuid() == 0:
                os.setgroups([])
                os.setgid(NOBODY)
                os.setuid(NOBODY)
            try:
                said = str(work())
            except BadInput as refused:
                said = " ".join(refused.sentences())
            except BaseException as wrong:  # noqa: BLE001 - the test must see it, in the other process
                said = repr(wrong)
            os.write(writing, said.encode())
        finally:
            os._exit(0)
    os.close(writing)
    os.waitpid(child, 0)
    with os.fdopen(reading, "rb") as pipe:
        return pipe.read().decode()


@pytest.fixture
def read_only_folder(tmp_path, small):
    """A folder with a book in it, neither of which may be written."""
    folder = tmp_path / "read only"
    folder.mkdir()
    Book.create(folder / "mine.book", small).close()
    (folder / "mine.book").chmod(0o444)
    folder.chmod(0o555)
    yield folder
    folder.chmod(0o755)


@NEEDS_FORK
def test_a_book_on_a_disk_that_cannot_be_written_can_be_read(read_only_folder):
    file = read_only_folder / "mine.book"

    assert as_nobody(lambda: open_build(file).name, read_only_folder) == "small"
    assert [one.name for one in read_only_folder.iterdir()] == ["mine.book"]


@NEEDS_FORK
def test_writing_on_a_disk_that_cannot_be_written_is_refused_in_a_sentence(read_only_folder, put):
    file, new = read_only_folder / "mine.book", read_only_folder / "new.book"
    said = as_nobody(lambda: put(Book.open(file), "name", "x"), read_only_folder)

    assert said == f"{file}: the disk or the file cannot be written; nothing was changed"
    assert as_nobody(lambda: Book.create(new), read_only_folder) == (
        f"{new}: cannot be made (Permission denied): expected a folder that can be written"
    )
    assert as_nobody(lambda: file.open("ab"), read_only_folder).startswith("PermissionError")


def test_a_folder_that_vanishes_while_the_book_is_open_is_noticed(tmp_path, small, put):
    """The system would let the open file be written on, into nothing."""
    folder = tmp_path / "gone"
    folder.mkdir()
    with Book.create(folder / "mine.book", small) as book:
        shutil.rmtree(folder)

        with pytest.raises(
            Unusable, match="was moved, replaced or deleted while it was open, or its folder is missing"
        ):
            put(book, "car.mass", "985 kg")


def test_a_book_that_is_replaced_while_it_is_open_is_noticed(tmp_path, book, put):
    """As a program that keeps folders alike on two computers would do."""
    other = tmp_path / "other.book"
    shutil.copyfile(book.path, other)
    other.replace(book.path)

    with pytest.raises(Unusable, match="was moved, replaced or deleted while it was open"):
        put(book, "car.mass", "985 kg")


def test_a_folder_that_is_not_there_is_said(tmp_path):
    with pytest.raises(Unusable, match="cannot be made: the folder"):
        Book.create(tmp_path / "nowhere" / "mine.book")
    with pytest.raises(Unusable, match="does not exist: `trialfit new"):
        Book.open(tmp_path / "nowhere" / "mine.book")


@pytest.mark.parametrize("name", ["with space.book", "Größe ÄÖÜ 漢字.book", "100 % ?#&.book", "'quoted'.book", "mine"])
def test_any_name_of_a_file_will_do(tmp_path, small, put, name):
    folder = tmp_path / "Träume aus Blech"
    folder.mkdir()
    with Book.create(folder / name, small) as book:
        put(book, "car.mass", "985 kg")
        book.keep_copy(folder / f"copy of {name}")

    assert open_build(folder / name).document == open_build(folder / f"copy of {name}").document
    assert sorted(one.name for one in folder.iterdir()) == sorted([name, f"copy of {name}"])


@pytest.mark.parametrize("name", ["a\0b.book", "x" * 300])
def test_what_is_no_name_of_a_file_is_said(tmp_path, name):
    for work in (Book.create, Book.open):
        with pytest.raises(BadInput):
            work(tmp_path / name)


def test_a_writer_that_waits_too_long_is_told(book, monkeypatch):
    monkeypatch.setattr("trialfit.book.store.connection.BUSY_SECONDS", 0.05)
    blocker = sqlite3.connect(book.path, isolation_level=None)
    blocker.execute("begin immediate")
    with (
        Book.open(book.path) as other,
        pytest.raises(
            Unusable, match="another program has been writing to it for more than 10 seconds; nothing was changed"
        ),
    ):
        other.write(Change(path="name", before="small", after="x"))
    blocker.close()


def test_reading_leaves_nothing_beside_the_book(tmp_path, small):
    Book.create(tmp_path / "mine.book", small).close()
    before = (tmp_path / "mine.book").read_bytes()
    open_build(tmp_path / "mine.book")

    assert [one.name for one in tmp_path.iterdir()] == ["mine.book"]
    assert (tmp_path / "mine.book").read_bytes() == before
