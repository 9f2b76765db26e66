"""Live axles that a sane engineer would not drive, and their mended twins: links, arms, wind-up both ways, under drive."""

from __future__ import annotations

import numpy as np
import pytest

from trialfit.book import read_text
from trialfit.evaluation.finding import Report
from trialfit.subjects import evaluate

AXLE = """
[car]
rear_suspension = "live axle"
floor_slope = "0 ± 0 deg"
[engine]
max_speed = "6000 rpm, manual"
[gearbox]
ratios = ["3.5", "2.0", "1.4", "1.0"]
reverse_ratio = "3.5"
output_x = "-1000 ± 0 mm"
output_y = "0 ± 0 mm"
output_z = "400 ± 0 mm"
output_inclination = "4.57 ± 0 deg"
output_heading = "0 ± 0 deg"
output_surge = "0 ± 0 mm, taped"
[prop_shaft]
after = "gearbox"
yoke_twist = "0 ± 0 deg"
spline_diameter = "32 ± 0 mm"
spline_overlap = "92 ± 0 mm"
slip_gap = "15 ± 0 mm"
rear_joint_angle_limit = "5.5 deg, manual"
[final_drive]
after = "prop_shaft"
ratio = "3.9"
input_x = "-2250 ± 0 mm"
input_y = "0 ± 0 mm"
input_z = "300 ± 0 mm"
input_inclination = "4.57 ± 0 deg"
input_heading = "0 ± 0 deg"
pinion_length = "250 ± 0 mm"
bump_travel = "70 ± 0 mm"
droop_travel = "90 ± 0 mm"
wind_up = "0 ± 0 deg, gauged"
wind_down = "0 ± 0 deg, gauged"
"""
CENTRE_X, CENTRE_Z = -2250 - 250 * np.cos(np.radians(4.57)), 300 - 250 * np.sin(np.radians(4.57))


def links(long: float) -> str:
    """Two pairs of equal links, level at ride height."""
    ends = {
        "lower_body": (CENTRE_X + long, 230),
        "lower_axle": (CENTRE_X, 230),
        "upper_body": (CENTRE_X + long, 400),
        "upper_axle": (CENTRE_X, 400),
    }
    places = "".join(f'{end}_x = "{x} ± 0 mm"\n{end}_z = "{z} ± 0 mm"\n' for end, (x, z) in ends.items())
    return f'[axle_location]\nheld_by = "links"\n{places}'


def arms(long: float) -> str:
    """An arm of a length, fixed to the axle, level at ride height."""
    return f'[axle_location]\nheld_by = "arms"\npivot_x = "{CENTRE_X + long} ± 0 mm"\npivot_z = "{CENTRE_Z} ± 0 mm"\n'


def driveline(text: str, draws: int = 1024) -> Report:
    """The driveline of a build."""
    return evaluate(read_text(text), draws=draws, subjects=["driveline"])


def test_short_links_pull_the_axle_forward_onto_the_slip_joint() -> None:
    """On links of 400 mm bump takes 6.2 mm more than an axle that rises straight up: 5.2 mm are left, 10 are asked for."""
    bad = driveline(AXLE + links(400))["driveline.slip.gap"]
    mended = driveline(AXLE.replace('slip_gap = "15', 'slip_gap = "21') + links(400))["driveline.slip.gap"]

    assert (bad.verdict, mended.verdict) == ("fails", "holds")
    assert bad.value.nominal == pytest.approx(5.2, abs=0.05)
    assert bad.state.startswith("full bump")


def test_an_axle_that_turns_on_an_arm_bends_its_rear_joint() -> None:
    """On an arm of 600 mm droop turns the pinion nose up by 8.6°: 6.2° at the joint instead of 4.1°, and the line is uneven."""
    bad = driveline(AXLE + arms(600))
    mended = driveline(AXLE + links(600))

    assert bad["driveline.largest_angle.rear"].value.nominal == pytest.approx(6.23, abs=0.02)
    assert bad.figure("driveline.residual_angle.droop").value.nominal == pytest.approx(5.74, abs=0.02)
    assert mended.figure("driveline.residual_angle.droop").value.nominal == pytest.approx(0, abs=0.05)
    verdicts = [report["driveline.largest_angle.rear"].verdict for report in (bad, mended)]
    assert verdicts == ["fails", "holds"]


def test_nobody_knows_before_it_is_written_what_holds_the_axle() -> None:
    """No axle is taken to rise straight up."""
    finding = driveline(AXLE)["driveline.slip.gap"]

    assert finding.verdict == "unknown"
    assert '"links"' in finding.missing["axle_location"]


def test_the_nose_goes_down_in_braking_and_reverse() -> None:
    """Low nose and 6° of wind-up: 18° at full drive, 24° and more in reverse at full droop, against 20°."""
    low = (
        AXLE.replace('input_inclination = "4.57', 'input_inclination = "-6')
        .replace('droop_travel = "90', 'droop_travel = "160')
        .replace('input_z = "300', 'input_z = "330')
        .replace("5.5 deg", "20 deg")
    )
    bad = driveline(low.replace('wind_up = "0', 'wind_up = "6') + links(900))["driveline.largest_angle.rear"]
    stiff = driveline(low.replace('wind_up = "0', 'wind_up = "2') + links(900))["driveline.largest_angle.rear"]
    braked = driveline(low.replace('wind_down = "0', 'wind_down = "6') + links(900))["driveline.largest_angle.rear"]

    assert (bad.verdict, stiff.verdict, braked.verdict) == ("fails", "holds", "fails")
    assert (bad.state, braked.state) == ("full droop, full reverse", "full droop, hard braking")
    drive = next(state for state in bad.states if state.state == "full droop, full drive")
    assert drive.margin.nominal > 0


def test_a_pinion_that_cancels_unwound_is_uneven_under_drive() -> None:
    """Straight at rest; in top gear 6° of wind-up leave 2° at 6000 rpm. Set lower by that, it holds; both are shown."""
    bad = AXLE.replace('wind_up = "0', 'wind_up = "6')
    lower = bad.replace('input_inclination = "4.57', 'input_inclination = "2.55')
    first, second = (driveline(text)["driveline.residual"] for text in (bad, lower))

    assert (first.verdict, second.verdict) == ("fails", "holds")
    top = next(state for state in first.states if state.state == "full drive, 4th gear")
    assert top.margin.nominal < 0
    assert driveline(bad).figure("driveline.residual_angle.ride_height").value.nominal == pytest.approx(0, abs=0.01)


def test_the_engine_on_its_mounts_takes_room_in_the_slip_joint() -> None:
    """12 mm on soft mounts: the gap that was enough without is not."""
    roomy = AXLE.replace('slip_gap = "15', 'slip_gap = "25') + links(600)
    soft = roomy.replace('output_surge = "0', 'output_surge = "12')

    verdicts = [driveline(text)["driveline.slip.gap"].verdict for text in (roomy, soft)]
    assert verdicts == ["holds", "fails"]
    assert driveline(soft)["driveline.slip.gap"].state.endswith("gearbox back")


def test_what_is_written_for_the_whole_drivetrain_counts_for_its_output() -> None:
    """The same 12 mm, written once for engine and gearbox together."""
    roomy = AXLE.replace('slip_gap = "15', 'slip_gap = "25').replace('output_surge = "0 ± 0 mm, taped"\n', "") + links(
        600
    )
    still, soft = (f'{roomy}[drivetrain]\nfore_aft = "{moves} ± 0 mm, taped"\n' for moves in (0, 12))

    assert [driveline(text)["driveline.slip.gap"].verdict for text in (still, soft)] == ["holds", "fails"]


def test_a_cardan_joint_without_a_limit_of_its_maker_binds_where_cardan_joints_do() -> None:
    """At 40° any binds, at 1° none; its maker's limit counts where it is written."""
    rear = "driveline.largest_angle.rear"
    usual = driveline(AXLE.replace('rear_joint_angle_limit = "', 'front_joint_angle_limit = "') + links(900))[rear]
    steep = driveline(AXLE.replace('input_inclination = "', 'input_inclination = "4') + links(900))[rear]

    assert (usual.verdict, usual.source_kind) == ("holds", "from memory")
    assert usual.limit.nominal == pytest.approx(25)
    assert steep.verdict == "fails"
