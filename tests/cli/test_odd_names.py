"""Every command on a name that no file has, or that holds no build: one sentence for each problem, exit code 2."""

from __future__ import annotations

import os

import pytest

from trialfit.cli.commands import COMMANDS

WORDS = {
    "BUILD": "{name}", "BOOK": "{name}", "FILE": "{name}", "PART": "car", "PATH": "car.mass", "VALUE": "1 kg", "TO": "1",
    "FINDING": "gearing.steps", "REQUIREMENT": "car.mass", "READING...": "1 kg", "JOINT": "sump", "JOB": "tray",
    "GATE": "road", "DATE": "2026-03-14", "COMMAND": "check", "PORT": "a", "NAME": "x",
}  # fmt: skip
SPECIAL = {
    "write-out": ("{name}", "out.toml"),
    "attach": ("{name}", "car", "{name}"),
    "new": ("x.book", "--from", "{name}"),
    "mesh": ("{name}", "--for", "sump"),
    "read-in": ("{name}", "{name}"),
    "keep-copy": ("{name}", "copy.book"),
}
TAKING = [
    name for name, (words, _, _) in COMMANDS.items() if words and name not in ("kinds", "thread", "demo", "schema")
]
NAMES = {
    "empty": "",
    "long": "x" * 300,
    "null": "a\0b",
    "no UTF-8": os.fsdecode(b"a\xffb.book"),
    "control signs": "no\x1b[31mwhere\x9b.toml",
    "folder": "folder",
    "pipe": "pipe",
    "device": "/dev/null",
}


@pytest.mark.parametrize("name", NAMES.values(), ids=NAMES)
@pytest.mark.parametrize("command", TAKING)
def test_no_name_of_a_file_ends_in_a_traceback_or_keeps_waiting(trialfit, tmp_path, monkeypatch, command, name):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "folder").mkdir()
    os.mkfifo(tmp_path / "pipe")
    words = SPECIAL.get(command) or [WORDS[word] for word in COMMANDS[command][0].split() if word in WORDS]
    ran = trialfit(command, *(word.format(name=name) for word in words))

    assert ran.code == 2, ran.err
    assert "Traceback" not in ran.err
    assert ran.err.strip()
    assert all(line.isprintable() for line in ran.err.splitlines())


@pytest.mark.parametrize("salvage", [(), ("--salvage",)])
@pytest.mark.parametrize("name", NAMES.values(), ids=NAMES)
def test_the_same_with_salvage(trialfit, tmp_path, monkeypatch, name, salvage):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "folder").mkdir()
    os.mkfifo(tmp_path / "pipe")

    assert trialfit("write-out", name, "o.toml", *salvage).code == 2
    assert not (tmp_path / "o.toml").exists()


@pytest.mark.parametrize("target", [NAMES["long"], f"{NAMES['long']}/x", "a\0b"])
@pytest.mark.parametrize(
    "words",
    [
        ("keep-copy", "g.book", "{}"),
        ("new", "{}", "--empty"),
        ("write-out", "g.book", "{}.toml"),
        ("draw", "g.book", "--draws", "16", "--against", "{}"),
        ("draw", "g.book", "--draws", "16", "-o", "{}.svg"),
        ("clearances", "g.book", "--draws", "16", "--look", "{}.html"),
        ("place", "g.book", "--draws", "16", "--picture", "{}.png"),
        ("sheet", "g.book", "--all", "{}"),
        ("set", "g.book", "story", "--from", "{}"),
    ],
)
def test_nothing_can_be_written_under_a_name_that_no_file_has(trialfit, tmp_path, monkeypatch, words, target):
    monkeypatch.chdir(tmp_path)
    trialfit("new", "g.book", "--empty")
    ran = trialfit(*(word.format(target) for word in words))

    assert ran.code == 2, ran.err
    assert "Traceback" not in ran.err
    assert [one.name for one in tmp_path.iterdir()] == ["g.book"]


def test_a_photo_whose_name_is_no_utf_8_is_refused(trialfit, tmp_path):
    trialfit("new", tmp_path / "g.book", "--empty")
    trialfit("set", tmp_path / "g.book", "car.kind", "car")
    file = tmp_path / os.fsdecode(b"a\xff.txt")
    file.write_text("a text")
    ran = trialfit("attach", tmp_path / "g.book", "car", file)

    assert ran.code == 2
    assert "not UTF-8 or cannot be printed: rename the file" in ran.err


@pytest.mark.parametrize(
    "text", ["[" + ".".join(["a"] * 3000) + "]", "a = " + "[" * 400 + "]" * 400, "[a]\nb" + ".c" * 3000 + " = 1"]
)
@pytest.mark.parametrize("command", [("check",), ("set", "car.mass", "1 kg")])
def test_tables_nested_without_end_are_refused(trialfit, written, text, command):
    ran = trialfit(command[0], written(text), *command[1:])

    assert ran.code == 2
    assert "nested" in ran.err


def test_control_signs_of_a_build_reach_the_terminal_in_no_message(trialfit, written):
    ran = trialfit("check", written('[car]\nmass = "12 \\u001b]0;title\\u0007 mm"\n["\\u009b31m"]\nkind = "x\\u202e"'))

    assert ran.code == 2
    assert all(line.isprintable() for line in ran.err.splitlines())
