"""Options that name a file to write: what is there and is not such a file is never written over."""

from __future__ import annotations

import os

import pytest

BUILD = """
[car]
wheelbase = "2400 mm, taped"
"""
COMMANDS = {
    "sheet": ("sheet", "{build}", "tightening", "-o", "{out}"),
    "draw": ("draw", "{build}", "--draws", "16", "-o", "{out}"),
    "plot": ("plot", "{build}", "pull", "--draws", "16", "-o", "{out}"),
    "picture": ("place", "{build}", "--draws", "16", "--picture", "{out}"),
    "look": ("clearances", "{build}", "--draws", "16", "--look", "{out}"),
    "place look": ("place", "{build}", "--draws", "16", "--look", "{out}"),
    "write-out": ("write-out", "{build}", "{out}", "--replace"),
    "salvage": ("write-out", "{build}", "{out}", "--replace", "--salvage"),
    "keep-copy": ("keep-copy", "{book}", "{out}"),
    "new": ("new", "{out}", "--empty"),
}
ENDING = {"sheet": ".pdf", "draw": ".svg", "plot": ".csv", "picture": ".png", "look": ".html", "place look": ".html"}


@pytest.fixture
def garage(trialfit, tmp_path):
    """A build in TOML, and a book of it, each under its usual name."""
    (tmp_path / "m.toml").write_text(BUILD)
    assert trialfit("new", tmp_path / "g.book", "--from", tmp_path / "m.toml").code == 0
    return tmp_path


def tree(folder):
    """Every file with its bytes; a pipe as such."""
    return {one.name: one.read_bytes() if one.is_file() else b"no file" for one in sorted(folder.iterdir())}


def words_of(command, garage, source, out):
    """The words of a command."""
    return [word.format(build=garage / source, book=garage / "g.book", out=garage / out) for word in COMMANDS[command]]


@pytest.mark.parametrize("target", ["m.toml", "g.book", "photo.jpg", "notes.txt"])
@pytest.mark.parametrize("source", ["m.toml", "g.book"])
@pytest.mark.parametrize("command", COMMANDS)
def test_no_command_writes_over_a_build_a_book_or_another_kind_of_file(trialfit, garage, command, source, target):
    for name in ("photo.jpg", "notes.txt"):
        (garage / name).write_bytes(b"mine")
    before = tree(garage)
    ran = trialfit(*words_of(command, garage, source, target))

    assert ran.code == 2, ran.out
    assert ran.err.count("\n") == 1
    assert tree(garage) == before


@pytest.mark.parametrize("command", ENDING)
@pytest.mark.parametrize("content", ["book", "build", "pipe", "device"])
def test_what_has_the_right_ending_and_another_content_stays(trialfit, garage, command, content):
    out = garage / f"out{ENDING[command]}"
    if content == "pipe":
        os.mkfifo(out)
    elif content == "device":
        out.symlink_to("/dev/null")
    else:
        out.write_bytes((garage / ("g.book" if content == "book" else "m.toml")).read_bytes())
    mode = out.stat().st_mode
    before = tree(garage)
    ran = trialfit(*words_of(command, garage, "m.toml", out.name))

    assert ran.code == 2, ran.out
    assert ran.err.count("\n") == 1
    assert tree(garage) == before
    assert out.stat().st_mode == mode


def test_a_sheet_of_a_drawing_is_looked_at_before_the_first_is_written(trialfit, hillclimb, tmp_path):
    """The general arrangement goes on on further sheets, NAME-2.svg and so on."""
    (tmp_path / "wall-2.svg").write_bytes(b"mine")
    ran = trialfit("draw", hillclimb, "--draws", "16", "-o", tmp_path / "wall.svg")

    assert ran.code == 2
    assert "wall-2.svg: exists already, and its content is not an SVG drawing" in ran.err
    assert tree(tmp_path) == {"wall-2.svg": b"mine"}


def test_no_sheet_of_all_is_written_where_one_cannot_be(trialfit, hillclimb, tmp_path):
    (tmp_path / "weekend.pdf").write_bytes(b"mine")
    ran = trialfit("sheet", hillclimb, "--all", tmp_path)

    assert ran.code == 2
    assert tree(tmp_path) == {"weekend.pdf": b"mine"}


def test_what_was_written_before_is_written_anew(trialfit, garage):
    for name in ("pull.svg", "pull.csv"):
        words = ("plot", garage / "m.toml", "pull", "--draws", "16", "-o", garage / name)
        first, second = trialfit(*words), trialfit(*words)
        assert (first.code, second.code) == (0, 0), second.err


def test_a_full_disk_leaves_no_empty_page(trialfit, garage, monkeypatch):
    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("trialfit.book.disk.os.fsync", full)
    ran = trialfit("clearances", garage / "m.toml", "--look", garage / "bay.html")

    assert ran.code == 2
    assert "bay.html: cannot be written: no space left on device" in ran.err
    assert sorted(tree(garage)) == ["g.book", "m.toml"]


@pytest.mark.parametrize("command", COMMANDS)
def test_a_name_that_is_only_an_ending_is_refused(trialfit, garage, command):
    """The further sheets of a drawing would be .svg-2, .svg-3 and so on: no drawings to any program."""
    (garage / "sub").mkdir()
    ending = {"new": ".book", "keep-copy": ".book"}.get(command, ENDING.get(command, ".toml"))
    for out in (f"sub/{ending}", f"sub/{ending.upper()}"):
        ran = trialfit(*words_of(command, garage, "m.toml", out))

        assert ran.code == 2, ran.out
        assert ran.err.count("\n") == 1
        own = "expected a PNG file, for example" if command == "picture" else "expected an HTML file, for example"
        says = (
            own
            if ENDING.get(command) in (".png", ".html")
            else "is an ending without a name: expected a name before it"
        )
        assert says in ran.err
        assert list((garage / "sub").iterdir()) == []
