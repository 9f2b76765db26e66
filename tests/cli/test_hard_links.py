"""A build with a second name on the disk is read and not written: a change would reach one of the two names only."""

from __future__ import annotations

import os

import pytest

from trialfit.book.disk import PREFIX
from trialfit.book.journal import Book

BUILD = """
[car]
mass = "960 kg, weighed"

[gearbox]
ratios = ["3.6", "2.1"]
"""
BOTH = {
    "set": ("set", "{file}", "car.mass", "990 kg, weighed"),
    "record": ("record", "{file}", "car.mass", "990 ± 2 kg", "--draws", "16"),
    "update-names": ("update-names", "{file}"),
}
OF_A_BOOK = {
    "loose": ("loose", "{file}", "--add", "hose tied up @ first-roll"),
    "remove": ("remove", "{file}", "gearbox"),
    "move": ("move", "{file}", "gearbox.ratios.1", "2"),
    "undo": ("undo", "{file}"),
    "attach": ("attach", "{file}", "car", "{note}"),
    "read-in": ("read-in", "{other}", "{file}"),
}


@pytest.fixture
def garage(trialfit, tmp_path):
    """A build in TOML and a book of it, each with a second name elsewhere."""
    (tmp_path / "copies").mkdir()
    (tmp_path / "m.toml").write_text(BUILD)
    (tmp_path / "other.toml").write_text(BUILD.replace("960", "970"))
    (tmp_path / "note.txt").write_text("weighed twice\n")
    assert trialfit("new", tmp_path / "g.book", "--from", tmp_path / "m.toml").code == 0
    for name in ("m.toml", "g.book"):
        os.link(tmp_path / name, tmp_path / "copies" / name)
    return tmp_path


def _tree(folder):
    return {one: one.read_bytes() for one in folder.rglob("*") if one.is_file()}


@pytest.mark.parametrize(
    ("name", "command"),
    [(name, command) for name in ("m.toml", "g.book") for command in BOTH] + [("g.book", one) for one in OF_A_BOOK],
)
def test_no_command_writes_a_build_that_has_a_second_name(trialfit, garage, name, command):
    file = garage / "copies" / name
    words = (BOTH | OF_A_BOOK)[command]
    before = _tree(garage)
    ran = trialfit(*(word.format(file=file, note=garage / "note.txt", other=garage / "other.toml") for word in words))

    cure = "cp {} NAME.toml" if name == "m.toml" else "trialfit keep-copy {} NAME.book"
    assert ran.code == 2, ran.out
    assert ran.err.count("\n") == 1
    assert f"{name}: has a second name on the disk (a hard link), and a change would be missing or lost" in ran.err
    assert f"make a file of its own (`{cure.format(file)}`)" in ran.err.replace("a book of", "a file of")
    assert _tree(garage) == before
    assert (garage / name).samefile(garage / "copies" / name)


def test_write_out_does_not_replace_it_either(trialfit, garage):
    out = garage / "out.toml"
    assert trialfit("write-out", garage / "g.book", out).code == 0
    os.link(out, garage / "copies" / "out.toml")
    before = _tree(garage)
    ran = trialfit("write-out", garage / "g.book", out, "--replace")

    assert (ran.code, _tree(garage)) == (2, before)
    assert "out.toml: has a second name on the disk" in ran.err


@pytest.mark.parametrize("name", ["m.toml", "g.book"])
def test_it_is_read_as_ever_and_a_file_of_its_own_is_written(trialfit, garage, name):
    assert trialfit("facts", garage / name, "car").code == 0

    if name == "g.book":
        assert trialfit("keep-copy", garage / name, garage / "own.book").code == 0
        own = garage / "own.book"
    else:
        own = garage / "own.toml"
        own.write_bytes((garage / name).read_bytes())
    assert trialfit("set", own, "car.mass", "990 kg, weighed").code == 0


def test_a_symbolic_link_is_no_second_name(trialfit, garage):
    (garage / "real.toml").write_text(BUILD)
    (garage / "link.toml").symlink_to("real.toml")

    assert trialfit("set", garage / "link.toml", "car.mass", "990 kg, weighed").code == 0
    assert "990 kg" in (garage / "real.toml").read_text()


def test_what_a_killed_process_left_of_a_new_book_does_not_lock_it(trialfit, tmp_path):
    """A book gets its name by a hard link to a finished file in a folder of its own; a kill just then leaves both names."""
    file = tmp_path / "g.book"
    Book.create(file).close()
    assert file.stat().st_nlink == 1
    left = tmp_path / f"{PREFIX}killed"
    left.mkdir()
    os.link(file, left / "unfinished.book")

    assert trialfit("set", file, "car.mass", "990 kg, weighed").code == 0
    assert not left.exists()
