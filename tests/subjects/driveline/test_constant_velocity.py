"""Constant-velocity joints on a prop shaft: they bend without turning unevenly."""

from __future__ import annotations

import numpy as np
import pytest

SHAFT = """
[car]
rear_suspension = "independent"
[engine]
max_speed = "4500 rpm, manual"
[gearbox]
ratios = ["3.2", "1.5"]
output_inclination = "2 ± 0 deg"
output_heading = "0 ± 0 deg"
[prop_shaft]
after = "gearbox"
front_joint = "constant velocity"
rear_joint = "constant velocity"
inclination = "6 ± 0 deg"
heading = "0 ± 0 deg"
yoke_twist = "0 ± 0 deg"
[final_drive]
after = "prop_shaft"
ratio = 3.5
input_inclination = "5 ± 0 deg"
input_heading = "0 ± 0 deg"
"""


def test_two_constant_velocity_joints_leave_nothing_to_judge_but_their_angle(driveline) -> None:
    """No residual, no needles, no difference; an angle limit that does not fall with speed."""
    report = driveline(SHAFT)
    finding = report["driveline.working_angle.front"]

    assert finding.value.nominal == pytest.approx(4.0)
    assert finding.limit.nominal == pytest.approx(10.0)
    assert "car workshop manual" in finding.source
    ids = {result.id for result in (*report.findings, *report.figures)}
    assert not {one for one in ids if one.split(".")[1] in {"residual", "inertia", "needle_roll", "difference"}}


def test_a_written_limit_takes_the_place_of_the_usual_one(driveline) -> None:
    """The maker's word counts, smaller or larger; the source says where it stands."""
    text = SHAFT.replace('after = "gearbox"', 'after = "gearbox"\nfront_joint_angle_limit = "3 deg, catalogue"')
    finding = driveline(text)["driveline.working_angle.front"]

    assert (finding.limit.nominal, finding.source, finding.source_kind) == (
        pytest.approx(3.0),
        "prop_shaft.front_joint_angle_limit as written",
        "manual",
    )
    # the nominal is over the limit by 1°, a catalogue angle is good to half of that
    assert finding.verdict == "fails"


def test_a_cardan_joint_beside_one_of_constant_velocity_stands_alone(driveline, vectors) -> None:
    """Nothing cancels it: the residual is its own angle, and the workshop manual keeps it at 1.5°."""
    report = driveline(SHAFT.replace('rear_joint = "constant velocity"', 'rear_joint = "cardan"'))
    speed = 3000 * 2 * np.pi / 60
    shaking = (speed * np.radians(1.0)) ** 2

    assert report["driveline.residual"].value.nominal == pytest.approx(shaking, rel=1e-6)
    assert report["driveline.inertia.drive"].value.nominal == pytest.approx(0, abs=1e-9)
    assert report["driveline.inertia.coast"].value.nominal == pytest.approx(shaking, rel=1e-6)
    alone = report["driveline.single_joint"]
    assert (alone.value.nominal, alone.limit.nominal) == (pytest.approx(1.0), pytest.approx(1.5))
    swing = vectors.twice_a_turn([vectors.unit(6), vectors.unit(5)])
    assert report.figure("driveline.residual_angle.ride_height").value.nominal == pytest.approx(
        np.degrees(np.sqrt(4 * swing)), rel=1e-3
    )


def test_two_cardan_joints_cancel_across_one_of_constant_velocity(driveline) -> None:
    """A joint in the middle that turns evenly hands the phase on: two equal cardan bends still cancel."""
    text = SHAFT.replace('front_joint = "constant velocity"', 'front_joint = "cardan"').replace(
        'rear_joint = "constant velocity"', 'rear_joint = "rigid"'
    )
    text = text.replace(
        '[final_drive]\nafter = "prop_shaft"',
        '[rear_shaft]\nkind = "prop_shaft"\nafter = "prop_shaft"\nfront_joint = "constant velocity"\n'
        'inclination = "9 ± 0 deg"\nheading = "0 ± 0 deg"\nyoke_twist = "0 ± 0 deg"\n[final_drive]\nafter = "rear_shaft"',
    )
    report = driveline(text)  # bends: 4° cardan, 3° constant velocity, 4° back, cardan

    assert report["driveline.working_angle.centre"].value.nominal == pytest.approx(3.0)
    assert report["driveline.residual"].value.nominal == pytest.approx(0, abs=1e-6)
    assert report["driveline.difference"].value.nominal == pytest.approx(0, abs=1e-9)


def test_plunging_joints_take_the_place_of_a_slip_spline(driveline) -> None:
    """No spline is asked for where the joints can plunge; a cardan shaft is asked for one."""
    assert driveline(SHAFT).result("driveline.slip.overlap") is None
    cardan = driveline(SHAFT.replace("constant velocity", "cardan"))

    assert set(cardan["driveline.slip.overlap"].missing) == {"prop_shaft.spline_overlap", "prop_shaft.spline_diameter"}
