"""A build whose scan did not come along, or came damaged: its findings are unknown and say so, and the rest goes on."""

from __future__ import annotations

import json

import pytest

BUILD = """
[drivetrain]
x = "0 mm, taped"
y = "0 mm, taped"
z = "400 mm, taped"
inclination = "0 deg, gauged"
removal_height = "400 mm"
[sump]
kind = "solid"
fixed_to = "drivetrain"
shape = "mesh"
file = "sump.solid.json"
x = "0 mm, taped"
z = "-100 mm, taped"
[block]
kind = "solid"
fixed_to = "drivetrain"
x = "0 mm, taped"
z = "120 mm, taped"
length = "500 mm, taped"
width = "300 mm, taped"
height = "300 mm, taped"
[rack]
kind = "solid"
x = "-200 mm, taped"
z = "250 mm, taped"
length = "40 mm, taped"
width = "800 mm, taped"
height = "40 mm, taped"
"""
CUBE = [[x, y, z] for x in (0, 0.2) for y in (0, 0.2) for z in (0, 0.1)]
NOT_THERE = "does not exist: "
DAMAGED = "has no convex pieces: import the scan again with"


@pytest.fixture
def scanned(written):
    """The build, and beside it what is in the file of the scan; None for no file at all."""

    def make(content: object = None):
        file = written(BUILD)
        if content is not None:
            text = content if isinstance(content, bytes) else json.dumps(content).encode()
            (file.parent / "sump.solid.json").write_bytes(text)
        return file

    return make


def test_what_is_worked_out_without_the_scan_stays_as_it_is_with_it(trialfit, scanned):
    sound = trialfit("check", scanned({"pieces": [CUBE]}), "--draws", "64", "--json").json["findings"]
    lacking = trialfit("check", scanned(), "--draws", "64", "--json").json["findings"]

    sound, lacking = ({one["id"]: one for one in found if "sump" not in one["id"]} for found in (sound, lacking))

    same = {name for name, one in lacking.items() if "sump.file" not in one["missing"]}
    assert "clearance.ground.block" in same
    assert {name: sound[name] for name in same} == {name: lacking[name] for name in same}


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (None, NOT_THERE),
        (b"", DAMAGED),
        (b"\xff\xfe\x00", DAMAGED),
        (b"[" * 100_000, DAMAGED),
        ([], DAMAGED),
        ({"pieces": 7}, DAMAGED),
        ({"pieces": []}, "has no piece, or an empty one"),
        ({"pieces": [[]]}, "has no piece, or an empty one"),
        ({"pieces": [CUBE], "surface_off": 1e300}, "larger than any part of a car (10 m)"),
        ({"pieces": [[[1e3 * x for x in point] for point in CUBE]]}, "larger than any part of a car (10 m)"),
        ({"pieces": [[[0, 0, 0]] * 8]}, "has a piece that is not a solid"),
    ],
)
def test_the_finding_is_unknown_and_names_the_file(trialfit, scanned, content, says):
    found = trialfit("check", scanned(content), "--draws", "64", "--json")

    ground = next(one for one in found.json["findings"] if one["id"] == "clearance.ground.sump")
    assert found.code in (0, 1)
    assert ground["verdict"] == "unknown"
    assert says in ground["missing"]["sump.file"]
    assert "sump.solid.json" in ground["missing"]["sump.file"]


@pytest.mark.parametrize(
    "words",
    [
        ("check", "BUILD"),
        ("why", "BUILD", "clearance.ground.sump"),
        ("measure", "BUILD"),
        ("facts", "BUILD"),
        ("clearances", "BUILD"),
        ("clearances", "BUILD", "--look", "gaps.html"),
        ("place", "BUILD", "--draws", "64"),
        ("place", "BUILD", "--draws", "64", "--look", "pose.html"),
        ("draw", "BUILD", "-o", "drawing.svg"),
        ("next", "BUILD"),
        ("sheet", "BUILD", "measuring", "-o", "sheet.pdf"),
        ("sheet", "BUILD", "build-record", "-o", "sheet.pdf"),
    ],
    ids=" ".join,
)
@pytest.mark.parametrize("content", [None, b"garbage"], ids=["left behind", "damaged"])
def test_every_command_and_drawing_goes_on(trialfit, scanned, tmp_path, monkeypatch, words, content):
    file = scanned(content)
    monkeypatch.chdir(tmp_path)

    done = trialfit(*(file if word == "BUILD" else word for word in words))

    assert done.code in (0, 1), done.err
    assert "Traceback" not in done.out + done.err


def test_the_next_step_is_to_get_the_file(trialfit, scanned):
    """However a long path is broken over the lines."""
    said = "".join(trialfit("check", scanned(), "--draws", "64").out.split())

    assert "Getsump.file(" in said
    assert "doesnotexist:trialfitmeshwritesit" in said  # a long path is shortened in its middle


def test_a_hull_of_points_in_one_plane_is_unknown_too(trialfit, scanned):
    flat = """
shape = "hull"
points_x = ["0 mm", "100 mm", "100 mm", "0 mm"]
points_y = ["0 mm", "0 mm", "100 mm", "100 mm"]
points_z = ["0 mm", "0 mm", "0 mm", "0 mm"]
"""
    file = scanned()
    text = file.read_text(encoding="utf-8").replace('shape = "mesh"\nfile = "sump.solid.json"', flat)
    file.write_text(text, encoding="utf-8")

    found = trialfit("check", file, "--draws", "64", "--json")

    ground = next(one for one in found.json["findings"] if one["id"] == "clearance.ground.sump")
    assert "lie in one plane" in ground["missing"]["sump.points_x"]
