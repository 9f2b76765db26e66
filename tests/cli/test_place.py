"""`place`, `clearances` and `mesh` as commands."""

from __future__ import annotations

import json
import math
import os
import re

import jsonschema
import pytest
import trimesh
from thorough import only_long

from trialfit.cli.shapes import schema_of


def test_place_shows_pose_requirements_and_what_to_write(trialfit, pickup):
    ran = trialfit("place", pickup, "--draws", "64")

    assert ran.code == 0
    for words in (
        "where the drivetrain sits best",
        "now",
        "can go alone",
        "holds it back",
        " set ",
        "left out: frame_crossmember",
    ):
        assert words in ran.out


@only_long
def test_place_that_fits_nowhere_ends_with_1_and_names_the_conflict(trialfit, hillclimb):
    ran = trialfit("place", hillclimb, "--draws", "64")

    assert ran.code == 1
    assert "cannot hold together" in ran.out
    assert "licensed workshop" in " ".join(ran.out.split())


@pytest.mark.parametrize("columns", ["80", "60"])
def test_the_commands_of_place_can_be_pasted_from_a_narrow_terminal(trialfit, pickup, monkeypatch, columns):
    """Each stands on one line whatever the width, and no other line is longer than the terminal."""
    monkeypatch.setenv("COLUMNS", columns)
    lines = trialfit("place", pickup, "--draws", "64").out.splitlines()
    sets = [line for line in lines if " set " in line and line.endswith('computed"')]

    assert any("gearbox.output_inclination" in line for line in sets)
    assert len([line for line in lines if 'computed"' in line]) == len(sets)
    assert all(len(line) <= int(columns) for line in lines if line not in sets)


def test_place_says_what_is_left_in_millimetres_and_what_s_counts(trialfit, pickup):
    text = " ".join(trialfit("place", pickup, "--draws", "64").out.split())

    assert "1 s is one standard deviation of what the facts leave open" in text
    assert re.search(r"It fits on paper with [0-9.]+ mm left at the tightest, clearance", text)
    assert re.search(r"at most [0-9.]+° required", text)
    assert re.search(r"5 mm more room here leaves [0-9.]+ mm more", text)
    assert "clear by far clearance.gap.block.fuel_pipe" in text
    assert not re.search(r"-0\.0+(?![0-9])", text)


@only_long
def test_place_shows_the_gap_of_a_slip_joint_not_the_length_of_its_shaft(trialfit, hillclimb):
    found = trialfit("place", hillclimb, "--draws", "64", "--json").json
    slip = next(one for one in found["requirements"] if one["id"] == "driveline.slip.gap")

    assert (slip["limit"], slip["side"]) == (10.0, "at least")
    assert slip["value"] - slip["limit"] == pytest.approx(slip["margin"], abs=0.05)
    easings = {one["id"]: one["says"] for one in found["easings"]}
    assert easings["clearance.gap.sump.rack"].startswith("move sump deep and rack ")
    assert easings["driveline.slip.gap"].startswith("have the shaft made ")
    assert easings["driveline.slip.gap"].endswith("mm to spare")


@pytest.mark.parametrize("name", ["placement", "clearances"])
def test_json_keeps_to_its_schema(trialfit, pickup, name):
    command = {"placement": "place", "clearances": "clearances"}[name]
    ran = trialfit(command, pickup, "--draws", "64", "--json")

    jsonschema.validate(ran.json, json.loads(schema_of(name)))


def test_clearances_end_with_1_where_a_gap_fails(trialfit, pickup):
    ran = trialfit("clearances", pickup, "--draws", "256")

    assert ran.code == 1
    assert "clearance.gap.sump.front_axle" in ran.out
    assert "missing: frame_crossmember.z" in " ".join(ran.out.split())


def test_clearances_begin_with_how_many_fail_and_the_tightest_pair(trialfit, pickup):
    """A gap too small is said as what it falls short by, never as a negative length that is left."""
    ran = trialfit("clearances", pickup, "--draws", "256")
    second, text = " ".join(ran.out.splitlines()[1:3]), " ".join(ran.out.split())

    assert second.startswith("3 fail, 0 unsettled, 7 hold, 1 unknown. The tightest: turbo to fuel pipe, ")
    assert second.rstrip().endswith("mm short.")
    assert "mm left" in text
    assert not re.search(r": -[0-9.]+ ", text)
    assert "not known: a fact is missing, named below" in text


def test_clearances_of_a_build_without_solids_say_what_to_write(trialfit, written):
    ran = trialfit("clearances", written("[car]"))

    assert ran.code == 0
    assert "kinds solid" in " ".join(ran.out.split())


def test_a_mesh_is_brought_in_and_its_pieces_can_be_used(trialfit, tmp_path, monkeypatch):
    """A box in inches, named by three corners; then a build with it."""
    monkeypatch.chdir(tmp_path)
    trimesh.creation.box((12, 8, 4)).export("sump.stl")
    points = [
        "6 | 4 | 2 = 152.4 mm | 101.6 mm | 50.8 mm",
        "-6 | 4 | 2 = -152.4 mm | 101.6 mm | 50.8 mm",
        "6 | -4 | -2 = 152.4 mm | -101.6 mm | -50.8 mm",
    ]
    words = [word for point in points for word in ("--point", point)]
    ran = trialfit("mesh", "sump.stl", "--for", "sump", *words, "--json")

    assert ran.code == 0, ran.err
    assert (ran.json["unit"], ran.json["size"]) == ("in", pytest.approx([304.8, 203.2, 101.6]))
    jsonschema.validate(ran.json, json.loads(schema_of("mesh")))
    assert ran.json["entries"]["sump.file"] == "sump.solid.json"
    garage = tmp_path / "garage"
    garage.mkdir()
    place = '[drivetrain]\nx = "0 mm, taped"\ny = "0 mm, taped"\nz = "400 mm, taped"\ninclination = "0 deg, gauged"\n'
    (garage / "mine.toml").write_text(place, encoding="utf-8")
    ran = trialfit(
        "mesh", "sump.stl", "--for", "sump", *words, "--into", "garage/mine.toml", "--fixed-to", "drivetrain"
    )
    assert ran.code == 0, ran.err
    assert "into garage/mine.toml as sump" in " ".join(ran.out.split())

    # the file counts from the folder of the build, wherever the command is typed
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    monkeypatch.chdir(elsewhere)
    found = trialfit("check", garage / "mine.toml", "--draws", "64", "--json").json
    ground = next(one for one in found["findings"] if one["id"] == "clearance.ground.sump")
    rocked = 50.8 * math.cos(math.radians(3)) + 101.6 * math.sin(
        math.radians(3)
    )  # the usual rock, and 8 mm of usual heave
    assert ground["value"]["nominal"] == pytest.approx(400 - rocked - 8, abs=0.5)


BROUGHT = [
    *("mesh", "sump.stl", "--for", "sump"),
    *("--point", "6 | 4 | 2 = 152.4 mm | 101.6 mm | 50.8 mm"),
    *("--point", "-6 | 4 | 2 = -152.4 mm | 101.6 mm | 50.8 mm"),
    *("--point", "6 | -4 | -2 = 152.4 mm | -101.6 mm | -50.8 mm"),
]


def test_a_mesh_is_written_into_a_book_as_one_change(trialfit, tmp_path, monkeypatch):
    """Brought in again with other words, only what is new is written; with the same, nothing; undo takes the whole part back."""
    monkeypatch.chdir(tmp_path)
    trimesh.creation.box((12, 8, 4)).export("sump.stl")
    trialfit("new", "g.book", "--empty")

    def changes():
        return trialfit("journal", "g.book", "--json").json["changes"]

    before = len(changes())
    ran = trialfit(*BROUGHT, "--into", "g.book", "--fixed-to", "drivetrain")
    assert ran.code == 0, ran.err
    assert [one["path"] for one in changes()[before:]] == ["sump"]
    assert changes()[-1]["after"]["entries"]["fixed_to"] == "drivetrain"
    assert trialfit(*BROUGHT, "--into", "g.book").code == 0
    assert len(changes()) == before + 1
    trialfit(*BROUGHT, "--into", "g.book", "--fixed-to", "car")
    assert len(changes()) == before + 2
    entries = changes()[-1]["after"]["entries"]
    assert (entries["fixed_to"], entries["file"]) == ("car", "sump.solid.json")
    assert trialfit("undo", "g.book").code == 0
    assert trialfit("undo", "g.book", before + 1).code == 0
    assert "sump" not in trialfit("facts", "g.book").out


def test_a_mesh_is_written_into_a_file_at_once_or_not_at_all(trialfit, tmp_path, monkeypatch):
    """The last of its entries is refused, so none of them is written; a sound one replaces the file once."""
    monkeypatch.chdir(tmp_path)
    trimesh.creation.box((12, 8, 4)).export("sump.stl")
    (tmp_path / "mine.toml").write_text("[car] # mine\n", encoding="utf-8")
    trialfit("new", "g.book", "--empty")
    written = []
    monkeypatch.setattr("trialfit.book.rewriting.write_whole", lambda file, data: written.append((file.name, data)))
    for build in ("mine.toml", "g.book"):
        ran = trialfit(*BROUGHT, "--into", build, "--fixed-to", "the moon")
        assert (ran.code, "the moon" in ran.err) == (2, True)
    assert written == []
    assert "sump" not in trialfit("journal", "g.book").out

    assert trialfit(*BROUGHT, "--into", "mine.toml", "--fixed-to", "car").code == 0
    assert [name for name, _ in written] == ["mine.toml"]
    assert b"[car] # mine" in written[0][1]
    assert b'fixed_to = "car"' in written[0][1]


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no pipes with names there")
def test_only_an_ordinary_file_is_read_as_a_scan(trialfit, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    place = '[drivetrain]\nx = "0 mm, taped"\ny = "0 mm, taped"\nz = "400 mm, taped"\ninclination = "0 deg, gauged"\n'
    angles = "".join(f'{one} = "0 deg"\n' for one in ("roll", "inclination", "heading"))
    sump = f'[sump]\nkind = "solid"\nshape = "mesh"\nfile = "sump.solid.json"\nx = "0 mm"\ny = "0 mm"\nz = "0 mm"\n{angles}'
    (tmp_path / "mine.toml").write_text(f'{place}{sump}fixed_to = "drivetrain"\n', encoding="utf-8")
    os.mkfifo("sump.solid.json")
    os.mkfifo("pipe.stl")
    ran = trialfit("check", "mine.toml", "--draws", "16", "--subject", "clearance", "--json")
    ground = next(one for one in ran.json["findings"] if one["id"] == "clearance.ground.sump")

    assert ground["verdict"] == "unknown"
    assert "sump.solid.json is not a file" in str(ground["missing"])
    ran = trialfit("mesh", "pipe.stl", "--for", "pan")
    assert (ran.code, "pipe.stl is not a file" in ran.err) == (2, True)


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("none.stl", "--for", "sump"), "none.stl does not exist"),
        (("none.stl", "--for", "sump", "--point", "1 2 3"), "is not a named point"),
        (("none.iges", "--for", "sump"), "save it as STEP or STL"),
        (("none.stl", "--for", "sump", "--pieces", "0"), "expected a number from 1 to 256"),
    ],
)
def test_what_cannot_be_brought_in_is_said_in_a_sentence(trialfit, words, says):
    ran = trialfit("mesh", *words)

    assert ran.code == 2
    assert says in ran.err


def test_a_mesh_without_named_points_is_answered_with_an_example_that_works(trialfit, tmp_path, monkeypatch):
    """The example has three points, and says between which numbers the points of the file lie."""
    monkeypatch.chdir(tmp_path)
    trimesh.creation.box((360, 190, 70)).export("sump.stl")
    ran = trialfit("mesh", "sump.stl", "--for", "sump")

    assert ran.code == 2
    assert "0 named points do not fix unit and axes" in ran.err
    assert "x from -180 to 180, y from -95 to 95, z from -35 to 35" in ran.err
    points = re.findall(r'--point "([^"]*)"', ran.err)
    assert len(points) == 3
    ran = trialfit("mesh", "sump.stl", "--for", "sump", *(word for point in points for word in ("--point", point)))
    assert ran.code == 0, ran.err


def test_a_picture_of_the_pose_is_written(trialfit, pickup, tmp_path):
    file = tmp_path / "bay.png"
    ran = trialfit("place", pickup, "--draws", "64", "--picture", file)

    assert ran.code == 0
    assert file.read_bytes()[:8] == b"\x89PNG\r\n\x1a\n"
    assert file.stat().st_size > 20_000


@pytest.mark.parametrize(
    ("name", "says"), [("bay.gif", "expected a PNG file"), ("nowhere/bay.png", "nowhere is not there")]
)
def test_a_picture_that_cannot_be_written_is_refused_before_the_search(
    trialfit, pickup, tmp_path, monkeypatch, name, says
):
    def never(*_: object) -> None:
        raise AssertionError

    monkeypatch.setattr("trialfit.advice.placing.place", never)
    ran = trialfit("place", pickup, "--draws", "64", "--picture", tmp_path / name)

    assert ran.code == 2
    assert says in ran.err
