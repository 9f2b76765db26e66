"""One prop shaft to a final drive that is fixed to the body: angles and evenness, in the user's own words."""

from __future__ import annotations

import numpy as np
import pytest

SPEED = 3000 * 2 * np.pi / 60
"""Of the shaft below: 4500 rpm over 1.5."""

GAUGED = """
[car]
rear_suspension = "independent"
[engine]
max_speed = "4500 rpm, manual"
[gearbox]
ratios = ["3.2", "1.5"]
output_inclination = "2.0 ± 0 deg"
output_heading = "0 ± 0 deg"
[prop_shaft]
after = "gearbox"
inclination = "3.5 ± 0 deg"
heading = "2.5 ± 0 deg"
yoke_twist = "0 ± 0 deg"
[final_drive]
after = "prop_shaft"
ratio = 3.5
input_inclination = "1.0 ± 0 deg"
input_heading = "0 ± 0 deg"
"""

OUTPUT_AT = 'output_x = "-1000 ± 0 mm"\noutput_y = "40 ± 0 mm"\noutput_z = "350 ± 0 mm"\n'
PINION_AT = 'input_x = "-2196.62 ± 0 mm"\ninput_y = "-12.24 ± 0 mm"\ninput_z = "276.74 ± 0 mm"\n'


def without(text: str, *beginnings: str) -> str:
    """The text without the lines that begin so."""
    return "".join(line for line in text.splitlines(keepends=True) if not line.startswith(beginnings))


def by_ends(text: str) -> str:
    """The same shaft by its ends, 1200 mm apart, instead of gauged; the second end rounded to 0.01 mm."""
    return without(text, "inclination", "heading").replace("[prop_shaft]", OUTPUT_AT + "[prop_shaft]") + PINION_AT


def test_working_angles_are_those_between_the_directions_in_space(driveline, vectors) -> None:
    """Compound angles: side view and plan together, held against vectors."""
    report = driveline(GAUGED)
    gearbox, shaft, pinion = vectors.unit(2.0), vectors.unit(3.5, 2.5), vectors.unit(1.0)

    front, rear = report["driveline.working_angle.front"].value, report["driveline.working_angle.rear"].value
    assert front.unit == "°"
    assert front.nominal == pytest.approx(vectors.true_angle(gearbox, shaft), abs=1e-9)
    assert rear.nominal == pytest.approx(vectors.true_angle(shaft, pinion), abs=1e-9)
    assert report["driveline.difference"].value.nominal == pytest.approx(rear.nominal - front.nominal, abs=1e-9)
    assert report["driveline.needle_roll.front"].value.nominal == front.nominal


def test_ends_and_gauge_say_the_same_of_one_shaft(driveline) -> None:
    """A shaft placed by its ends has the angles of the same shaft gauged."""
    gauged, placed = driveline(GAUGED), driveline(by_ends(GAUGED))

    for which in ("working_angle.front", "working_angle.rear", "residual", "inertia.drive"):
        one, other = gauged[f"driveline.{which}"].value.nominal, placed[f"driveline.{which}"].value.nominal
        assert one == pytest.approx(other, rel=1e-3)
    assert placed.figure("driveline.shaft_length.prop_shaft").value.nominal == pytest.approx(1200, abs=0.02)


def test_the_gauge_outranks_the_tape(driveline) -> None:
    """Where a tube was gauged too, its reading is taken, and the finding says so."""
    both = by_ends(GAUGED).replace("yoke_twist", 'inclination = "3.0 ± 0 deg"\nyoke_twist')
    finding = driveline(both)["driveline.working_angle.front"]

    # side view 3.0 − 2.0, plan 2.5 from the ends
    assert finding.value.nominal == pytest.approx(np.hypot(1.0, 2.5), rel=2e-3)
    assert "from its measured inclination, else from its ends" in finding.says
    assert "gearbox.output_z" not in {fact.path for fact in finding.facts}


@pytest.mark.parametrize(("twist", "expected"), [("0", 2.531), ("-14", 2.002), ("14", 3.237), ("90", None)])
def test_residual_angle_follows_the_twist_of_the_yokes(driveline, vectors, twist: str, expected: float | None) -> None:
    """Against joints by bare vectors: turned the right way a twist helps, the other way it hurts."""
    report = driveline(GAUGED.replace('yoke_twist = "0', f'yoke_twist = "{twist}'))
    line = [vectors.unit(2.0), vectors.unit(3.5, 2.5), vectors.unit(1.0)]
    solved = vectors.residual_angle(line, [float(twist)])
    angle = report.figure("driveline.residual_angle.ride_height").value.nominal

    assert angle == pytest.approx(solved, rel=2e-3)
    assert expected is None or solved == pytest.approx(expected, abs=1e-3)
    shaking = (SPEED * np.radians(angle)) ** 2
    assert report["driveline.residual"].value.nominal == pytest.approx(shaking, rel=1e-9)
    assert report["driveline.residual"].value.unit == "rad/s²"


def test_the_shaft_itself_is_shaken_by_the_joint_it_is_driven_through(driveline, vectors) -> None:
    """Driving, the front joint shakes the shaft; coasting, the rear one."""
    report = driveline(GAUGED)
    front = vectors.true_angle(vectors.unit(2.0), vectors.unit(3.5, 2.5))
    rear = vectors.true_angle(vectors.unit(3.5, 2.5), vectors.unit(1.0))

    drive, coast = (report[f"driveline.inertia.{way}"].value.nominal for way in ("drive", "coast"))
    assert drive == pytest.approx((SPEED * np.radians(front)) ** 2, rel=1e-9)
    assert coast == pytest.approx((SPEED * np.radians(rear)) ** 2, rel=1e-9)


def test_parallel_ends_in_phase_cancel(driveline) -> None:
    """Equal bends up and down leave nothing, crossed yokes leave √2 times the angle."""
    parallel = (
        GAUGED.replace('heading = "2.5', 'heading = "0')
        .replace('output_inclination = "2.0', 'output_inclination = "1.5')
        .replace('input_inclination = "1.0', 'input_inclination = "1.5')
    )
    in_phase, crossed = driveline(parallel), driveline(parallel.replace('yoke_twist = "0', 'yoke_twist = "90'))

    assert in_phase["driveline.residual"].value.nominal == pytest.approx(0, abs=1e-6)
    assert in_phase["driveline.residual"].verdict == "holds"
    crossed_angle = crossed.figure("driveline.residual_angle.ride_height").value.nominal
    assert crossed_angle == pytest.approx(2.0 * np.sqrt(2), rel=1e-3)


def test_signs_of_the_angles_in_side_view_and_plan(driveline) -> None:
    """The shaft drops more than the gearbox: negative. It points to the left, looking rearward: positive."""
    report = driveline(GAUGED)

    assert report.figure("driveline.side_angle.front").value.nominal == pytest.approx(-1.5, abs=0.06)
    assert report.figure("driveline.side_angle.rear").value.nominal == pytest.approx(2.5, abs=0.06)
    assert report.figure("driveline.plan_angle.front").value.nominal == pytest.approx(2.5, abs=0.01)
    assert report.figure("driveline.plan_angle.rear").value.nominal == pytest.approx(-2.5, abs=0.01)


def test_a_shaft_that_runs_to_the_right_of_the_car_points_left_looking_rearward(driveline) -> None:
    """The ends of the shaft give the same sign of heading as the measured heading does."""
    report = driveline(by_ends(GAUGED))

    assert report.figure("driveline.plan_angle.front").value.nominal == pytest.approx(2.5, abs=0.01)


def test_a_mirrored_car_has_the_same_angles(driveline) -> None:
    """Left for right: angles and shaking stay, plan angles turn over; a twist is mirrored too."""
    one = by_ends(GAUGED).replace('yoke_twist = "0', 'yoke_twist = "9')
    other = (
        one.replace('output_y = "40', 'output_y = "-40')
        .replace('input_y = "-12.24', 'input_y = "12.24')
        .replace('yoke_twist = "9', 'yoke_twist = "-9')
    )
    left, right = driveline(one), driveline(other)

    for finding in left.findings:
        if finding.value is not None:
            assert right[finding.id].value.nominal == pytest.approx(finding.value.nominal, rel=1e-9), finding.id
    plan = "driveline.plan_angle.front"
    assert right.figure(plan).value.nominal == pytest.approx(-left.figure(plan).value.nominal)


def test_the_angle_allowed_is_the_joint_makers_within_his_table(driveline) -> None:
    """Printed: 5.8° at 3000 rpm (joint maker's angle rules)."""
    finding = driveline(GAUGED)["driveline.working_angle.front"]

    assert finding.limit.nominal == pytest.approx(5.8, abs=1e-9)
    assert finding.verdict == "holds"


@pytest.mark.parametrize("rpm", [1000, 8000])
def test_beyond_the_table_the_acceleration_behind_it_decides(driveline, rpm) -> None:
    """√1000 rad/s² over the shaft speed, and the finding says that this is common practice."""
    finding = driveline(GAUGED.replace("4500 rpm", f"{rpm * 1.5} rpm"))["driveline.working_angle.front"]

    assert finding.limit.nominal == pytest.approx(np.degrees(np.sqrt(1000) / (rpm * 2 * np.pi / 60)), rel=1e-9)
    assert finding.source_kind == "common practice"
    assert "printed from 1500 to 5000 rpm" in finding.source


@pytest.mark.parametrize(
    ("which", "limit", "unit"),
    [
        ("residual", 400, "rad/s²"),  # general engineering reference, design guidelines by speed
        ("inertia.drive", 1000, "rad/s²"),  # joint maker's angle rules
        ("inertia.coast", 1000, "rad/s²"),
        ("difference", 1, "°"),  # joint maker's angle rules
        ("needle_roll.rear", 0.5, "°"),  # joint maker's angle rules
        ("length.prop_shaft", 10, "mm"),  # common practice, no source
        ("slip.gap", 10, "mm"),  # common practice, no source
    ],
)
def test_the_limits_are_those_of_their_sources(driveline, which, limit, unit) -> None:
    """A limit cannot drift unseen."""
    measured = 'length = "1200 ± 0 mm"\nslip_gap = "20 ± 0 mm"\nspline_overlap = "90 ± 0 mm"\n'
    text = by_ends(GAUGED).replace("[final_drive]", measured + "[final_drive]")
    found = driveline(text)[f"driveline.{which}"].limit

    assert (found.nominal, found.unit) == (pytest.approx(limit), unit)


def test_the_makers_limit_counts_where_it_is_smaller(driveline) -> None:
    """A joint limit below what the speed allows is the limit; one above it is not."""
    tight = GAUGED.replace('after = "gearbox"', 'after = "gearbox"\nrear_joint_angle_limit = "3 deg, manual"')
    wide = tight.replace('"3 deg', '"25 deg')

    assert driveline(tight)["driveline.working_angle.rear"].limit.nominal == pytest.approx(3.0)
    assert driveline(tight)["driveline.working_angle.rear"].verdict == "fails"
    assert driveline(tight)["driveline.working_angle.front"].limit.nominal > 5
    assert driveline(wide)["driveline.working_angle.rear"].verdict == "holds"


def test_a_straight_line_lets_the_needles_stand_still(driveline) -> None:
    """A joint below half a degree fails; the limit is a published one."""
    straight = GAUGED.replace('heading = "2.5', 'heading = "0').replace('inclination = "3.5', 'inclination = "2.2')
    finding = driveline(straight)["driveline.needle_roll.front"]

    assert finding.value.nominal == pytest.approx(0.2, abs=1e-6)
    assert finding.limit.nominal == pytest.approx(0.5)
    assert (finding.verdict, finding.source_kind) == ("fails", "published")


def test_the_spread_of_the_gauge_reaches_the_angle(driveline) -> None:
    """Two readings of ± 0.2° each give a side-view angle ± 0.28°, as √2 says."""
    gauged = GAUGED.replace(' ± 0 deg"\noutput_heading', ' deg, gauged"\noutput_heading').replace(
        'inclination = "3.5 ± 0 deg"', 'inclination = "3.5 deg, gauged"'
    )
    value = driveline(gauged).figure("driveline.side_angle.front").value

    assert (value.high - value.low) / 2 == pytest.approx(0.2 * np.sqrt(2) * 1.96 / 2, rel=0.03)


def test_a_gearbox_and_pinion_of_unknown_heading_are_taken_as_straight(driveline) -> None:
    """A typical heading stands in, with half a degree of spread, and the finding says so."""
    report = driveline(without(GAUGED, "output_heading", "input_heading"))
    finding = report["driveline.working_angle.front"]

    assert finding.typical == ("gearbox.output_heading",)
    assert finding.value.high - finding.value.low > 0.5


def test_missing_ends_are_named_together(driveline) -> None:
    """A shaft that was neither gauged nor placed asks for all of its ends at once."""
    report = driveline(without(GAUGED, "inclination", "heading"))
    finding = report["driveline.working_angle.front"]

    assert finding.verdict == "unknown"
    ends = {f"{part}_{axis}" for part in ("gearbox.output", "final_drive.input") for axis in "xyz"}
    assert set(finding.missing) == ends


def test_a_gauged_tube_asks_only_for_its_ends_in_plan(driveline) -> None:
    """Heights are not needed where the inclination was gauged."""
    report = driveline(GAUGED.replace('\nheading = "2.5 ± 0 deg"', ""))

    missing = set(report["driveline.working_angle.front"].missing)
    assert missing == {f"{part}_{axis}" for part in ("gearbox.output", "final_drive.input") for axis in "xy"}


def test_a_missing_speed_is_named(driveline) -> None:
    """Without an engine the angle is known and what it may be is not."""
    report = driveline(GAUGED.replace('[engine]\nmax_speed = "4500 rpm, manual"\n', ""))

    assert set(report["driveline.working_angle.front"].missing) == {"engine"}
    assert report["driveline.needle_roll.front"].verdict == "holds"


def test_one_draw_is_enough_for_the_nominal(driveline) -> None:
    """A single draw gives the nominal values of many."""
    one, many = driveline(by_ends(GAUGED), draws=1), driveline(by_ends(GAUGED))

    for finding in many.findings:
        if finding.value is not None:
            assert one[finding.id].value.nominal == pytest.approx(finding.value.nominal, rel=1e-12), finding.id
