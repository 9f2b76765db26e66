"""`trialfit tighten`: a figure with the turns in place, stages, JSON."""

from __future__ import annotations

import json

import jsonschema
import pytest

from trialfit.cli.shapes import schema_of
from trialfit.drawing.bolt_pattern_in_signs import bolt_pattern_in_signs

JOINT = """
[flange]
kind = "bolted_joint"
thread = "M10×1.25"
strength_class = "10.9"
nut_class = "10"
thread_state = "dry"
bolts = "4"
pattern = "circle"
pitch_circle_diameter = "96 mm, calipered"
maker_torques = ["70 N·m, manual"]
maker_state = "dry"
load_type = "torque"
load_torque = "300 N·m"
"""


def test_each_turn_stands_where_its_bolt_sits(trialfit, written):
    """Four bolts on a circle, cross: 1 at the top, 2 below, 3 right, 4 left."""
    ran = trialfit("tighten", written(JOINT), "flange", "--draws", "64")
    rows = [row for row in ran.out.splitlines() if row.strip().endswith(")") and "(" in row and "each" not in row]

    assert ran.code == 0
    assert [row.split() for row in rows] == [["1(1)"], ["4(4)", "3(2)"], ["2(3)"]]
    assert rows[0].index("1(1)") == rows[2].index("2(3)")


def test_the_page_names_order_stages_and_whose_figure_it_is(trialfit, written):
    words = " ".join(trialfit("tighten", written(JOINT), "flange", "--draws", "64").out.split())

    assert "order: 1-3-2-4 cross, then bisect: common practice, no source" in words
    assert "loosen: 4-2-3-1" in words
    assert "2. 21 N·m 30 %; set 21 N·m" in words
    assert "figure the maker's the maker's 70 N·m" in words
    assert "The maker's manual outranks a computed figure" in words


def test_a_failing_finding_of_the_joint_ends_with_1(trialfit, written):
    ran = trialfit("tighten", written(JOINT.replace('nut_class = "10"', 'nut_class = "8"')), "flange", "--draws", "64")

    assert ran.code == 1
    assert "fastening.flange.nut_grade" in ran.out


def test_json_fits_its_schema(trialfit, written):
    ran = trialfit("tighten", written(JOINT), "flange", "--draws", "64", "--json")

    jsonschema.validate(ran.json, json.loads(schema_of("tightening")))
    assert ran.json["order"] == [1, 3, 2, 4]


def test_a_joint_that_is_not_there_is_answered_with_those_that_are(trialfit, written):
    file = written(JOINT)
    ran = trialfit("tighten", file, "flanch")

    assert ran.code == 2
    assert ran.err.endswith('unknown bolted joint "flanch": did you mean "flange"?\n')


def test_a_build_without_joints_says_how_one_begins(trialfit, written):
    ran = trialfit("tighten", written('[car]\nmass = "900 kg"'), "sump")

    assert ran.code == 2
    assert 'the build has none: add a table [my_joint] with kind = "bolted_joint"' in ran.err


@pytest.mark.parametrize("demo", ["hillclimb", "pickup", "electric"])
def test_every_joint_of_the_demos_has_a_sheet_that_fits_the_screen(trialfit, demo, request):
    file = request.getfixturevalue(demo)
    joints = [
        part["part"] for part in trialfit("facts", file, "--json").json["parts"] if part["kind"] == "bolted_joint"
    ]

    assert len(joints) >= 4
    for joint in joints:
        ran = trialfit("tighten", file, joint, "--draws", "64")
        assert ran.code in {0, 1}
        assert max(map(len, ran.out.splitlines())) <= 80


def test_labels_that_would_cover_each_other_move_apart():
    lines = bolt_pattern_in_signs(["1(1)", "2(2)", "3(3)"], [(0.0, 0.0), (1.0, 0.0), (200.0, 0.0)], 40)

    assert sorted(" ".join(lines).split()) == ["1(1)", "2(2)", "3(3)"]
    assert max(map(len, lines)) <= 40


def test_one_bolt_and_none():
    assert bolt_pattern_in_signs(["1(1)"], [(3.0, 4.0)], 40) == ["1(1)"]
    assert bolt_pattern_in_signs([], [], 40) == []
