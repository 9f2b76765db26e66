"""`trialfit draw` and `trialfit plot`: files, data, lists, and what cannot be done."""

from __future__ import annotations

import json
from xml.etree import ElementTree as ET

import jsonschema
import pytest

from trialfit.cli.shapes import schema_of

SMALL = """
name = "small build"
[car]
wheelbase = "2400 mm, taped"
rear_track = "1420 mm, taped"
[tyre_rear]
kind = "tyre"
size = "205/55 R16"
[drivetrain]
x = "-300 mm, taped"
y = "0 mm, taped"
z = "400 mm, taped"
inclination = "3 deg, gauged"
[sump]
kind = "solid"
fixed_to = "drivetrain"
x = "200 mm, taped"
z = "-200 mm, taped"
length = "400 mm, taped"
width = "300 mm, taped"
height = "120 mm, taped"
"""


def texts_of(file):
    """What stands in a picture."""
    return [element.text for element in ET.parse(file).iter("{http://www.w3.org/2000/svg}text")]  # noqa: S314 - our own


def test_the_drawing_is_written_where_it_is_wanted_with_its_further_sheets(trialfit, written, tmp_path):
    file = tmp_path / "wall.svg"
    ran = trialfit("draw", written(SMALL), "-o", file, "--draws", "16")

    assert ran.code == 0
    assert ran.out.split("\n")[0] == str(file)
    assert "scale 1:20" in ran.out
    assert "small build" in texts_of(file)
    assert "2400" in texts_of(file)
    assert "2 of 2" in texts_of(tmp_path / "wall-2.svg")


def test_without_o_it_is_written_here(trialfit, written, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)

    assert trialfit("draw", written(SMALL), "--draws", "16").code == 0
    assert (tmp_path / "arrangement.svg").is_file()


def test_against_an_earlier_file_it_names_what_moved(trialfit, written, tmp_path):
    earlier = tmp_path / "earlier.toml"
    earlier.write_text(SMALL.replace("-300 mm", "-325 mm"), encoding="utf-8")
    ran = trialfit("draw", written(SMALL), "--against", earlier, "-o", tmp_path / "a.svg", "--draws", "16")

    assert "drivetrain: 25 mm forward" in ran.out
    assert "drivetrain: 25 mm forward" in texts_of(tmp_path / "a.svg")
    assert "earlier.toml" in texts_of(tmp_path / "a.svg")


def test_against_an_earlier_change_of_the_book(trialfit, written, tmp_path):
    """The journal number stands in the title block, and what moved since the change is named."""
    book = tmp_path / "garage.book"
    trialfit("new", book, "--from", written(SMALL))
    before = json.loads(trialfit("journal", book, "--json").out)["changes"][-1]["number"]
    trialfit("set", book, "drivetrain.x", "-290 mm, taped")
    ran = trialfit("draw", book, "--against", str(before), "-o", tmp_path / "a.svg", "--draws", "16")

    assert "drivetrain: 10 mm forward" in ran.out
    assert str(before + 1) in texts_of(tmp_path / "a.svg")


def test_against_what_is_not_there(trialfit, written):
    ran = trialfit("draw", written(SMALL), "--against", "nowhere.toml")

    assert ran.code == 2
    assert 'is "nowhere.toml": expected an existing file or a moment' in ran.err


def test_the_drawing_as_data_writes_nothing(trialfit, written, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    ran = trialfit("draw", written(SMALL), "--json", "--draws", "16")
    data = json.loads(ran.out)

    jsonschema.validate(data, json.loads(schema_of("drawing")))
    assert data["files"] == []
    assert data["scale"] == "1:20"
    assert not list(tmp_path.glob("*.svg"))


def test_without_a_name_it_lists_the_plots_and_why_not(trialfit, written):
    ran = trialfit("plot", written(SMALL))
    data = json.loads(trialfit("plot", written(SMALL), "--json").out)

    assert ran.code == 0
    assert "not yet: gearbox" in ran.out
    assert "trialfit plot BUILD NAME draws one" in " ".join(ran.out.split())
    jsonschema.validate(data, json.loads(schema_of("plots")))


@pytest.mark.parametrize(
    "name", ["pull", "gears", "joint_angles", "torque_path", "brakes", "oil_pickup", "cooling", "schedule"]
)
def test_a_plot_of_little_is_a_page_with_lines_to_fill_in(trialfit, written, tmp_path, name):
    file = tmp_path / "a.svg"
    ran = trialfit("plot", written(SMALL), name, "-o", file, "--draws", "16", "--when", "2026-03-14 16:30")

    assert (ran.code, ran.out.split()) == (0, [name, str(file)])
    assert "small build" in texts_of(file)


def test_a_table_where_the_file_ends_in_csv(trialfit, tmp_path, demo_file):
    file = tmp_path / "pull.csv"
    trialfit("plot", demo_file, "pull", "-o", file, "--draws", "16")

    assert file.read_text(encoding="utf-8").startswith(
        "what,name,road speed [km/h],force at the road [N],low,high,finding\n"
    )


def test_a_plot_as_data(trialfit, demo_file):
    data = json.loads(trialfit("plot", demo_file, "torque_path", "--json", "--draws", "16").out)

    jsonschema.validate(data, json.loads(schema_of("plot")))
    assert data["name"] == "torque_path"


def test_an_unknown_plot_and_a_file_without_a_name(trialfit, written):
    unknown, nameless = trialfit("plot", written(SMALL), "pul"), trialfit("plot", written(SMALL), "-o", "a.svg")

    assert (unknown.code, nameless.code) == (2, 2)
    assert 'unknown plot "pul": did you mean "pull"?' in unknown.err
    assert "needs the name of a plot: trialfit plot BUILD NAME -o FILE" in nameless.err


def test_it_cannot_be_written_where_a_folder_is(trialfit, written, tmp_path):
    ran = trialfit("plot", written(SMALL), "pull", "-o", tmp_path, "--draws", "16")

    assert ran.code == 2
    assert "is a folder: expected a name for the file" in ran.err


@pytest.fixture
def demo_file():
    """The demo with a live axle."""
    from pathlib import Path

    return Path(__file__).parents[2] / "demos" / "pickup.toml"
