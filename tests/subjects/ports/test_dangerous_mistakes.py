"""The mistakes that feel right and hurt somebody later: each in the builder's own words, with the finding it yields."""

from __future__ import annotations

import pytest

from trialfit.evaluation.requirement import Stake
from trialfit.evaluation.verdict import Verdict

TAPERED_SENDER_IN_A_STRAIGHT_PORT = """
[oil_gallery]
kind = "port"
thread = "M10×1"
sealing = "washer"
medium = "oil"
plug = "male 1/8 NPT"
sealant = "tape"
"""

INCH_BRAKE_NUT_IN_A_METRIC_CYLINDER = """
[rear_cylinder]
kind = "port"
thread = "M10×1"
sealing = "bubble flare"
medium = "brake fluid"
fitted = "pipe"

[pipe]
kind = "line"
end = "male 3/8-24, inverted flare"
other_end = "male 3/8-24, inverted flare"
far_port = "splitter"

[splitter]
kind = "port"
thread = "3/16 tube"
medium = "brake fluid"
"""

METRIC_STUD_IN_AN_INCH_NUT = """
[wheel_nut]
kind = "port"
thread = "1/2-20"
sealing = "none"
medium = "none"
plug = "male M12×1.25, none"
"""

PIPE_THREAD_IN_A_FLARE_BOSS = """
[fuel_pump]
kind = "port"
thread = "-6"
sealing = "O-ring boss"
medium = "fuel"
plug = "male 1/4 NPT"
sealant = "paste"
"""

ONE_FLARE_IN_THE_OTHER = """
[filter]
kind = "port"
gender = "male"
thread = "-8"
sealing = "37° flare"
medium = "fuel"
fitted = "hose"

[hose]
kind = "line"
end = "female -8 45° flare"
other_end = "female -8 37° flare"
far_port = "rail"

[rail]
kind = "port"
gender = "male"
thread = "-8"
sealing = "37° flare"
medium = "fuel"
"""

TAPER_IN_A_FACE_SEALED_HOLE = """
[water_pump]
kind = "port"
thread = "G 3/8"
medium = "coolant"
plug = "male R 3/8"
sealant = "tape"
"""


@pytest.mark.parametrize(
    ("text", "port", "says"),
    [
        (TAPERED_SENDER_IN_A_STRAIGHT_PORT, "oil_gallery", "a tapered sender in a straight metric port"),
        (INCH_BRAKE_NUT_IN_A_METRIC_CYLINDER, "rear_cylinder", "an inch brake nut in a metric cylinder"),
        (METRIC_STUD_IN_AN_INCH_NUT, "wheel_nut", "a metric wheel stud in an inch wheel nut"),
        (PIPE_THREAD_IN_A_FLARE_BOSS, "fuel_pump", "holds on 32 % of the flank"),
        (ONE_FLARE_IN_THE_OTHER, "filter", "the cones do not"),
        (TAPER_IN_A_FACE_SEALED_HOLE, "water_pump", "wedges the boss open"),
    ],
    ids=lambda value: value if " " not in value else "",
)
def test_it_fails_as_a_matter_of_safety_and_says_why(ports, text, port, says):
    finding = ports(text)[f"ports.{port}.mates"]

    assert finding.verdict is Verdict.fails
    assert finding.stake is Stake.safety
    assert "dangerous" in finding.remark
    assert says in finding.remark


def test_the_next_step_names_the_joint_and_the_way_out(ports):
    finding = ports(TAPERED_SENDER_IN_A_STRAIGHT_PORT)["ports.oil_gallery.mates"]

    assert finding.cure.startswith("Take the plug in oil_gallery out of oil_gallery: 1/8-27 NPT into M10×1")
    assert 'trialfit join BUILD oil_gallery "male 1/8-27 NPT" finds the fittings' in finding.cure


def test_the_brake_pipe_fits_at_its_other_end(ports):
    """The mistake is at the cylinder; the splitter is the pipe's own."""
    report = ports(INCH_BRAKE_NUT_IN_A_METRIC_CYLINDER)

    assert report["ports.splitter.mates"].verdict is Verdict.holds
    assert "brakes" in report["ports.rear_cylinder.mates"].caution
    assert "holds on 56 % of the flank" in report["ports.rear_cylinder.mates"].remark


def test_tape_on_a_joint_that_does_not_fit_is_pointed_out(ports):
    """It hides the leak for a while."""
    finding = ports(TAPERED_SENDER_IN_A_STRAIGHT_PORT)["ports.oil_gallery.sealing"]

    assert finding.verdict is Verdict.fails
    assert "hides a joint that does not fit" in finding.remark


def test_paste_on_a_brake_flare_fails(ports):
    """Bits of it end in the valves; nothing belongs on a thread that does not seal."""
    text = INCH_BRAKE_NUT_IN_A_METRIC_CYLINDER.replace(
        'far_port = "splitter"', 'far_port = "splitter"\nsealant = "paste"'
    )
    finding = ports(text)["ports.splitter.sealing"]

    assert finding.verdict is Verdict.fails
    assert finding.stake is Stake.safety
    assert "and must have none" in finding.remark


def test_a_cap_is_no_plug(ports):
    """Oil comes out at the first crank."""
    finding = ports(
        '[gallery_end]\nkind = "port"\nthread = "M14×1.5"\nsealing = "washer"\nmedium = "oil"\ncover = "cap"'
    )["ports.gallery_end.plugged"]

    assert finding.verdict is Verdict.fails
    assert "only a cap is on it" in finding.remark


def test_a_thread_cut_into_a_thin_boss_fails(ports):
    """The tap breaks out, and the taper wedges the thin side open."""
    text = """
[sump_hole]
kind = "port"
thread = "1/4-18 NPT"
medium = "oil"
material = "aluminium"
plug = "male 1/4-18 NPT"
sealant = "paste"
cut_by = "builder"
drill = "11.1 mm, calipered"
thread_depth = "12 mm, calipered"
edge_distance = "8.2 mm, calipered"
"""
    report = ports(text)

    assert report["ports.sump_hole.tapping_wall"].verdict is Verdict.fails
    assert report["ports.sump_hole.tapping_wall"].limit.nominal == pytest.approx(2 * 25.4 / 18, abs=0.01)
    assert "the rule of thumb asks 10.2 mm" in report["ports.sump_hole.tapping_wall"].remark
    assert report["ports.sump_hole.tapping_drill"].verdict is Verdict.holds
    assert "ruin" in report["ports.sump_hole.tapping_wall"].caution


def test_the_steel_figure_on_a_plug_in_aluminium_fails(ports):
    """45 N·m is right for M14×1.5 in iron and strips it in aluminium, where 15 belong."""
    text = """
[drain]
kind = "port"
thread = "M14×1.5"
sealing = "washer"
medium = "oil"
material = "aluminium"
plug = "male M14×1.5, washer"
torque = "45 N·m"
"""

    assert ports(text)["ports.drain.torque"].verdict is Verdict.fails
    assert (
        ports(text.replace('"aluminium"', '"iron"').replace("45 N·m", "45 ± 0 N·m"))["ports.drain.torque"].verdict
        is Verdict.holds
    )
