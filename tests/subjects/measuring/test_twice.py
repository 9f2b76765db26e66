"""Facts that say the same thing twice: the expressions of the table, and what becomes a finding."""

from __future__ import annotations

import math

import pytest

from trialfit.book import read_text
from trialfit.evaluation.evaluation import Evaluation
from trialfit.evaluation.verdict import Verdict
from trialfit.evaluation.working import work_out
from trialfit.subjects.measuring.expressions import Expression
from trialfit.subjects.measuring.terms import TERMS
from trialfit.subjects.measuring.twice import relations, requirements

SHAFTS = """
[one]
kind = "half_shaft"
side = "left"
outer_y = "600 mm, manual"
[two]
kind = "half_shaft"
side = "right"
outer_y = "-610 mm, manual"
[car]
wheelbase = "2.4 m, manual"
[joint]
kind = "bolted_joint"
places_x = ["10 mm, manual", "-30 mm, manual"]
"""
EMPTY = read_text("")
CURVE = """
[engine]
torque_curve = "rpm : N·m ± 2 %, catalogue | 1000 : 180 | 2000 : 220 | 3000 : 250 | 4000 : 262"
power = "{} kW, manual"
power_speed = "{} rpm, manual"
"""
WAYS = [(relation, way) for relation in relations() for way in relation.ways]


def value(text: str, about: str | None = None) -> float:
    build = read_text(SHAFTS)
    part = build.parts[about] if about else None
    found = Expression(text, TERMS).value(Evaluation(build, 1), part)
    return float(found[0]) if hasattr(found, "__len__") else float(found)


def ids(text: str) -> list[str]:
    return [one.id for one in requirements(read_text(text))]


def worked(text: str, draws: int = 64):
    build = read_text(text)
    return work_out(Evaluation(build, draws), list(requirements(build)))


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("2 + 3*4", 14.0),
        ("-(1 - 3)/2**2", 0.5),
        ("2*pi", 2 * math.pi),
        ("car.wheelbase/2", 1.2),
        ("half_shaft.left.outer_y - half_shaft.right.outer_y", 1.21),
        ("span(bolted_joint.places_x)", 0.04),
    ],
)
def test_an_expression_is_worked_out(text, expected):
    assert value(text) == pytest.approx(expected)


def test_a_name_means_the_part_that_the_row_is_about():
    assert value("half_shaft.outer_y", "two") == pytest.approx(-0.61)
    assert value("half_shaft.outer_y") == pytest.approx(0.6)


@pytest.mark.parametrize(("relation", "way"), WAYS, ids=[f"{one.kind}.{one.id}.{way.said_by}" for one, way in WAYS])
def test_each_expression_of_the_table_names_facts_that_exist(relation, way):
    """An unknown kind, fact or name in parentheses is an error as soon as it is read."""
    assert way.expression.reads(EMPTY, None) in (None, ())
    assert len(relation.ways) > 1


def test_an_unknown_sign_or_name_is_refused():
    with pytest.raises(ValueError, match="expected kind.fact"):
        value("car.wheelbase % 2")
    with pytest.raises(KeyError):
        value("car.length")


def test_what_is_said_once_is_no_finding():
    assert ids('[car]\nmass = "960 kg"\nrear_axle_mass = "460 kg"') == []


def test_a_typical_value_alone_says_nothing():
    """The heading of the gearbox output and of the drivetrain are both typical."""
    pair = '[gearbox]\nratios = ["3"]\noutput_heading = "1°"\n[drivetrain]\n'

    assert ids(pair) == []
    assert ids(pair + 'heading = "1°"\n') == ["measuring.agree.gearbox.output_heading"]


def test_where_all_agree_nothing_is_supported():
    (found,) = worked(
        '[final_drive]\nratio = "3.73"\ncrown_wheel_teeth = "41"\npinion_teeth = "11"\n', draws=16
    ).findings

    assert found.verdict is Verdict.holds
    assert "supports" not in found.remark


def test_a_count_of_teeth_is_exact_and_a_ratio_is_as_it_is_rounded():
    text = '[final_drive]\nratio = "{}"\ncrown_wheel_teeth = "43"\npinion_teeth = "12"\n'

    assert worked(text.format("3.58")).findings[0].verdict is Verdict.holds
    assert worked(text.format("3.73")).findings[0].verdict is Verdict.fails


def test_beyond_its_last_point_a_curve_says_nothing():
    assert worked(CURVE.format(109, 4000)).findings[0].verdict is Verdict.holds
    assert worked(CURVE.format(109, 5500)).findings == ()


def test_a_peak_between_two_far_points_is_no_contradiction():
    text = CURVE.replace("2000 : 220 | 3000 : 250 | ", "").format(84, 3000)

    assert worked(text).findings[0].verdict is Verdict.holds


def test_a_rating_below_what_is_worked_out_is_usual():
    """A maker keeps a reserve: only a rating above what the steel can carry contradicts it."""
    text = '[half_shaft]\nside = "left"\nrated_torque = "{} N·m, catalogue"\nbar_diameter = "26 mm, calipered"\nyield_strength = "850 MPa, catalogue"'

    assert worked(text.format(500)).findings[0].verdict is Verdict.holds
    assert worked(text.format(3000)).findings[0].verdict is Verdict.fails


def test_one_draw_is_enough_to_say_what_is_missing():
    assert worked('[car]\nmass = "960 kg"\nrear_axle_mass = "460 kg"\nfront_axle_mass = "500 kg"', draws=1).findings
