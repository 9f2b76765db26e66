"""Ordinary files only, whole or not at all; what a killed process left is taken away by the next."""

from __future__ import annotations

import os
import signal
import threading
from pathlib import Path

import pytest

from trialfit.book import disk
from trialfit.book.carrying import write_out_any
from trialfit.book.changing import change_entry
from trialfit.book.disk import PREFIX, open_ordinary, unfinished, write_whole
from trialfit.book.editing import attach
from trialfit.book.journal import Book
from trialfit.book.media import Paper
from trialfit.book.opening import is_book, open_build
from trialfit.book.problems import BadInput
from trialfit.book.store import store as book_store


def killed_in(work) -> None:
    """Runs something in a process of its own, which ends by a kill."""
    child = os.fork()
    if child == 0:
        try:
            work()
        finally:
            os._exit(0)
    assert os.waitpid(child, 0)[1] == signal.SIGKILL


def _kill_itself(*_: object) -> None:
    os.kill(os.getpid(), signal.SIGKILL)


def test_several_that_write_at_once_lose_nothing(tmp_path):
    """Eight processes, each of which begins before any other has ended: every answer of "done" stands in the file."""
    file = tmp_path / "mine.toml"
    file.write_text('[gearbox]\nratios = ["8", "7", "6", "5", "4", "3", "2", "1"]\n')
    reading, writing = os.pipe()
    children = []
    for number in range(1, 9):
        child = os.fork()
        if child == 0:
            code = 1
            try:
                os.close(writing)
                os.read(reading, 1)  # ends when the parent lets go: all begin together
                change_entry(file, f"gearbox.ratios.{number}", f"{9 - number}.5")
                code = 0
            finally:
                os._exit(code)
        children.append(child)
    os.close(reading)
    os.close(writing)

    assert [os.waitpid(child, 0)[1] for child in children] == [0] * 8
    assert open_build(file).document.parts["gearbox"].entries["ratios"] == tuple(f"{9 - n}.5" for n in range(1, 9))


def test_what_an_editor_saves_meanwhile_is_not_lost(tmp_path):
    """An editor asks for no turn: the change is made anew on what it saved."""
    file = tmp_path / "mine.toml"
    file.write_text('[car]\nmass = "900 kg"\n')
    seen = []

    def edited_once(_: object) -> None:
        if not seen:
            file.write_text('[car]\nmass = "900 kg"  # weighed anew\nwheelbase = "2.40 m"\n')
        seen.append(1)

    change_entry(file, "car.mass", "910 kg", edited_once)

    assert file.read_text() == '[car]\nmass = "910 kg"  # weighed anew\nwheelbase = "2.40 m"\n'
    assert len(seen) == 2


def test_one_that_waits_too_long_for_its_turn_is_told(tmp_path, monkeypatch):
    monkeypatch.setattr(disk, "BUSY_SECONDS", 0)
    file = tmp_path / "mine.toml"
    file.write_text("[car]\n")
    with (
        disk.turn(file),
        pytest.raises(BadInput, match="another program has been writing to it .*; nothing was changed"),
    ):
        change_entry(file, "car.mass", "910 kg")


@pytest.mark.parametrize("name", ["pipe", "null"])
def test_a_pipe_or_a_device_is_neither_read_nor_replaced(tmp_path, name):
    """A pipe without a writer would keep a reader waiting for ever."""
    place = tmp_path / "mine.toml"
    if name == "pipe":
        os.mkfifo(place)
    else:
        place.symlink_to("/dev/null")
    mode = place.stat().st_mode

    assert not is_book(place)
    for work in (open_build, lambda file: change_entry(file, "car.mass", "910 kg"), Book.open):
        with pytest.raises(BadInput, match="it is a pipe or a device"):
            work(place)
    with pytest.raises(OSError, match="it is a pipe or a device"):
        write_whole(place, b"new")
    with pytest.raises(OSError, match="it is a pipe or a device"):
        open_ordinary(place)
    assert place.stat().st_mode == mode


def test_what_a_link_leads_to_is_written_and_the_link_stays(tmp_path):
    (tmp_path / "real.toml").write_bytes(b"old")
    (tmp_path / "link.toml").symlink_to("real.toml")
    write_whole(tmp_path / "link.toml", b"new")

    assert (tmp_path / "link.toml").is_symlink()
    assert (tmp_path / "real.toml").read_bytes() == b"new"


def test_a_link_that_leads_in_a_circle_is_not_replaced(tmp_path):
    (tmp_path / "link.toml").symlink_to("link.toml")
    with pytest.raises(OSError, match="symbolic links"):
        write_whole(tmp_path / "link.toml", b"new")
    assert (tmp_path / "link.toml").is_symlink()


def test_a_copy_that_is_killed_leaves_nothing_under_its_name(tmp_path, small, monkeypatch):
    file, copy = tmp_path / "garage.book", tmp_path / "copies" / "copy.book"
    copy.parent.mkdir()
    Book.create(file, small).close()
    monkeypatch.setattr(book_store, "connect_as_book", _kill_itself)  # the pages are written, the copy is not finished

    def copying() -> None:
        with Book.open(file, read_only=True) as book:
            book.keep_copy(copy)

    killed_in(copying)
    left = [one.name for one in copy.parent.iterdir()]
    assert len(left) == 1
    assert left[0].startswith(PREFIX)

    monkeypatch.undo()
    copying()
    assert [one.name for one in copy.parent.iterdir()] == ["copy.book"]


def test_the_next_takes_away_what_a_killed_write_out_left(tmp_path, book, monkeypatch):
    attach(book, "car", Paper("plan.pdf", b"%PDF-1.4 plan", "application/pdf"))
    file = tmp_path / "out" / "mine.toml"
    file.parent.mkdir()
    monkeypatch.setattr(disk.os, "fsync", _kill_itself)
    killed_in(lambda: write_out_any(book.path, file))
    monkeypatch.undo()
    assert [one.name.startswith(PREFIX) for one in file.parent.iterdir()] == [True]

    write_out_any(book.path, file)
    assert sorted(one.name for one in file.parent.iterdir()) == ["mine.files", "mine.toml"]


def test_what_another_process_is_about_to_finish_stays(tmp_path):
    with unfinished(tmp_path / "one") as folder:
        (folder / "half").touch()
        inside = []
        other = threading.Thread(target=lambda: inside.append(disk.clear_unfinished(tmp_path)))
        other.start()
        other.join()

        assert (folder / "half").exists()
    assert list(Path(tmp_path).iterdir()) == []
