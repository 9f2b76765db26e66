"""Changes that were committed into the write-ahead file and are gone from sight are noticed, and never written over."""

from __future__ import annotations

import random
import shutil

import pytest

from trialfit.book.carrying import write_out_any
from trialfit.book.changes import Change
from trialfit.book.editing import set_entry
from trialfit.book.journal import Book
from trialfit.book.opening import open_build
from trialfit.book.problems import BadInput
from trialfit.book.salvage import verification
from trialfit.book.store import damage
from trialfit.book.store.waiting import newest_waiting

HEAD, FRAME, PAGE = 32, 24, 4096
CHANGES = 40


@pytest.fixture
def left(tmp_path, small, monkeypatch):
    """A book with its write-ahead file, as a killed writer leaves them; the number of its newest change, and each commit's end."""
    monkeypatch.setattr(damage, "_BETWEEN_TRIES", 0)
    file = tmp_path / "garage.book"
    Book.create(file, small).close()
    ends = []
    with Book.open(file) as book:
        for number in range(CHANGES):
            change = Change(path="car.mass", before=book.value("car.mass"), after=f"{900 + number}.{number} kg")
            newest = book.write(change).number
            ends.append((file.with_name("garage.book-wal").stat().st_size, newest))
        copy = tmp_path / "left" / "garage.book"
        copy.parent.mkdir()
        for end in ("", "-wal"):
            shutil.copy(f"{file}{end}", f"{copy}{end}")
    return copy, newest, ends


def waiting_of(file):
    """The write-ahead file beside a book."""
    return file.with_name(f"{file.name}-wal")


def flip(file, place):
    """One bit turned."""
    data = bytearray(file.read_bytes())
    data[place] ^= 4
    file.write_bytes(data)


@pytest.mark.parametrize("seed", range(12))
def test_one_bit_anywhere_in_the_waiting_file_is_noticed(left, tmp_path, seed):
    file, newest, _ = left
    waiting = waiting_of(file)
    frame = random.Random(seed).randrange((waiting.stat().st_size - HEAD) // (FRAME + PAGE))  # noqa: S311 - the same every time
    if seed == 0:
        frame = (waiting.stat().st_size - HEAD) // (FRAME + PAGE) - 1  # the last of all
    within = random.Random(-seed).randrange(FRAME, FRAME + PAGE)  # noqa: S311 - the same every time
    flip(waiting, HEAD + frame * (FRAME + PAGE) + within)
    before = file.read_bytes(), waiting.read_bytes()

    found = verification(str(file))
    assert any("which is damaged" in one.says for one in found.damages), found
    with pytest.raises(BadInput, match="is damaged"), Book.open(file) as book:
        set_entry(book, "car.mass", "1 kg")
    assert (file.read_bytes(), waiting.read_bytes()) == before

    saved = write_out_any(file, tmp_path / "saved.toml", salvage=True)
    assert "which is damaged" in saved.remarks[0]
    assert newest - 1 <= int("".join(sign for sign in saved.remarks[1].partition(";")[0] if sign.isdigit()))


@pytest.mark.parametrize("place", [16, 20, 24, 30])
def test_a_bit_of_its_head_takes_nothing_away_unnoticed(left, place):
    file, _, _ = left
    flip(waiting_of(file), place)

    assert verification(str(file)).damages


def test_what_a_killed_writer_left_is_sound_at_every_length(left):
    """Cut off anywhere: what was promised up to there is shown, and what was not is not damage."""
    file, _, ends = left
    waiting = waiting_of(file)
    whole = waiting.read_bytes()
    for end, number in ends[::6]:
        for more in (0, FRAME, FRAME + 1000, FRAME + PAGE - 1):
            waiting.write_bytes(whole[: end + more])
            file.with_name(f"{file.name}-shm").unlink(missing_ok=True)
            found = verification(str(file))

            assert (found.damages, found.changes) == ((), number)


def test_a_commit_that_was_torn_by_a_kill_was_never_promised(left):
    """The head of its last frame is written, behind it still stands a page of an earlier round."""
    file, newest, ends = left
    waiting = waiting_of(file)
    data = waiting.read_bytes()
    torn = data[: ends[-1][0] - PAGE] + random.Random(1).randbytes(PAGE)  # noqa: S311 - the same every time

    assert newest_waiting(data[: ends[-1][0]], PAGE) == newest
    assert newest_waiting(torn, PAGE) == newest - 1


def test_a_sound_book_is_not_called_damaged_when_it_is_salvaged(left, tmp_path):
    file, _, _ = left
    done = write_out_any(file, tmp_path / "saved.toml", salvage=True)

    assert done.remarks == (f"{file} is sound: no salvage was needed.",)
    assert "damaged" not in (tmp_path / "saved.toml").read_text()
    assert open_build(tmp_path / "saved.toml").document == open_build(file).document
