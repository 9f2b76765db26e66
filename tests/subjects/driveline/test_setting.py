"""Angle-gauge readings: angles as read, the correction at the final drive, and the change caused by welding."""

from __future__ import annotations

import numpy as np
import pytest

READ = """
[readings_trial]
kind = "angle_readings"
stage = "trial fit"
gearbox = "3.4 deg, gauged"
shaft = "2.3 deg, gauged"
final_drive = "2.0 deg, gauged"
floor_slope = "0.5 ± 0 deg"
base_length = "180 ± 0 mm"
"""
TACKED = READ.replace("readings_trial", "readings_tacked").replace("trial fit", "tacked")


def test_angles_as_a_workshop_manual_counts_them(driveline) -> None:
    """Front member minus rear member, sign kept: a car workshop manual's chart prints −0°51′ and +0°57′ for these.

    Readings 2°00′, 2°51′, 1°54′ on intermediate shaft, propeller shaft and axle.
    """
    text = READ.replace("3.4 deg", "2°00'").replace("2.3 deg", "2°51'").replace("2.0 deg", "1°54'")
    report = driveline(text)

    front, rear = (report.figure(f"driveline.setting.trial_fit.{end}_angle").value for end in ("front", "rear"))
    assert front.nominal == pytest.approx(-51 / 60, abs=1e-9)
    assert rear.nominal == pytest.approx(57 / 60, abs=1e-9)


def test_what_to_turn_and_the_shim_for_it(driveline) -> None:
    """β₁ = 1.1°, β₂ = 0.3°, the same way round: nose down 0.8° makes them alike; 180 mm · tan 0.8° = 2.51 mm."""
    report = driveline(READ)
    change, shim = (report.figure(f"driveline.setting.trial_fit.{what}").value for what in ("change", "shim"))

    assert change.nominal == pytest.approx(-0.8, abs=1e-9)
    assert shim.nominal == pytest.approx(180 * np.tan(np.radians(0.8)), abs=1e-9)
    assert report["driveline.setting.trial_fit.difference"].value.nominal == pytest.approx(0.8, abs=1e-9)


@pytest.mark.parametrize(("final_drive", "change"), [("3.0", 0.4), ("3.9", -0.5), ("1.4", -0.2), ("1.0", 0.2)])
def test_turning_by_the_change_makes_both_joints_alike(driveline, final_drive: str, change: float) -> None:
    """Of both angles that cancel, 3.4° and 1.2°, the nearer one; positive is nose up."""
    before = READ.replace("2.0 deg", f"{final_drive} deg")
    after = READ.replace("2.0 deg", f"{float(final_drive) + change:.3f} deg")

    assert driveline(before).figure("driveline.setting.trial_fit.change").value.nominal == pytest.approx(
        change, abs=1e-9
    )
    assert driveline(after)["driveline.setting.trial_fit.difference"].value.nominal == pytest.approx(0, abs=1e-9)


def test_the_gauge_eats_half_of_the_one_degree(driveline) -> None:
    """± 0.2° on each reading: ± 0.28° on an angle; on the difference ± 0.49° where the shaft counts twice, else ± 0.28°."""
    same_way = driveline(READ, 4096)["driveline.setting.trial_fit.difference"].value
    parallel = driveline(READ.replace("2.0 deg", "2.8 deg"), 4096)["driveline.setting.trial_fit.difference"].value
    angle = driveline(READ, 4096).figure("driveline.setting.trial_fit.front_angle").value

    def half(value) -> float:
        return (value.high - value.low) / 2 / 0.98  # 95 % is 1.96 of a standard uncertainty, ± is 2

    assert half(angle) == pytest.approx(0.2 * np.sqrt(2), rel=0.03)
    assert half(same_way) == pytest.approx(0.2 * np.sqrt(6), rel=0.03)
    assert half(parallel) == pytest.approx(0.2 * np.sqrt(2), rel=0.03)


def test_a_sloping_floor_drops_out_of_the_angles(driveline) -> None:
    """The whole car stands steeper by 2°: all readings grow alike, nothing else changes."""
    steep = READ.replace("3.4", "5.4").replace("2.3", "4.3").replace("2.0 deg", "4.0 deg").replace('"0.5', '"2.5')

    for one, other in zip(driveline(READ).figures, driveline(steep).figures, strict=True):
        if one.id.startswith("driveline.setting") and one.value is not None:
            assert other.value.nominal == pytest.approx(one.value.nominal, abs=1e-9), one.id


@pytest.mark.parametrize(
    ("gearbox", "drift", "verdict"), [("3.4", 0.0, "holds"), ("4.1", 0.7, "unsettled"), ("4.4", 1.0, "fails")]
)
def test_drift_is_the_change_of_the_angles_since_the_stage_before(
    driveline, gearbox: str, drift: float, verdict: str
) -> None:
    """The gearbox moved in tacking; four readings make ± 0.4° of the half degree that is allowed."""
    finding = driveline(READ + TACKED.replace("3.4 deg", f"{gearbox} deg"))["driveline.drift.tacked"]

    assert finding.value.nominal == pytest.approx(drift, abs=1e-9)
    assert (finding.verdict, finding.source_kind) == (verdict, "common practice")
    assert "battery" in finding.caution


def test_a_car_that_was_put_elsewhere_has_not_drifted(driveline) -> None:
    """All three readings grew by the same: the floor is another."""
    moved = TACKED.replace("3.4 deg", "4.6 deg").replace("2.3 deg", "3.5 deg").replace("2.0 deg", "3.2 deg")

    assert driveline(READ + moved)["driveline.drift.tacked"].value.nominal == pytest.approx(0, abs=1e-9)


def test_only_the_latest_readings_are_judged(driveline) -> None:
    """A trial fit that was out and has been mended since is a figure, no failure."""
    out = READ.replace("2.0 deg", "9.0 deg")
    assert driveline(out)["driveline.setting.trial_fit.difference"].verdict == "fails"

    mended = driveline(out + TACKED)
    assert mended["driveline.setting.tacked.difference"].verdict == "unsettled"
    before = mended.figure("driveline.setting.trial_fit.difference")
    assert before.value.nominal == pytest.approx(5.6, abs=1e-9)
    assert "a later set replaces it" in before.says


def test_after_welding_the_tacked_readings_are_the_ones_before(driveline) -> None:
    """Welded is held against tacked, else against the trial fit."""
    welded = TACKED.replace("tacked", "welded").replace("2.0 deg", "2.6 deg")
    tacked = TACKED.replace("2.0 deg", "2.5 deg")

    assert driveline(READ + tacked + welded)["driveline.drift.welded"].value.nominal == pytest.approx(0.1, abs=1e-9)
    assert driveline(READ + welded)["driveline.drift.welded"].value.nominal == pytest.approx(0.6, abs=1e-9)


def test_readings_without_a_stage_before_ask_for_it(driveline) -> None:
    """Nothing was read before tacking: drift is unknown."""
    finding = driveline(TACKED)["driveline.drift.tacked"]

    assert finding.verdict == "unknown"
    assert 'stage = "trial fit"' in finding.missing["angle_readings"]


def test_missing_readings_are_named_together(driveline) -> None:
    """Only the gearbox has been read."""
    text = READ.replace('shaft = "2.3 deg, gauged"\n', "").replace('final_drive = "2.0 deg, gauged"\n', "")

    assert set(driveline(text)["driveline.setting.trial_fit.difference"].missing) == {
        "readings_trial.shaft",
        "readings_trial.final_drive",
    }


TWO_TUBES = """
[gearbox]
ratios = ["3.2", "1.0"]
[front_shaft]
kind = "prop_shaft"
after = "gearbox"
rear_joint = "rigid"
[rear_shaft]
kind = "prop_shaft"
after = "front_shaft"
[final_drive]
ratio = 3.5
after = "rear_shaft"
"""


def test_three_joints_take_the_reading_of_the_front_tube(driveline, vectors) -> None:
    """Bends of 1°, 3° and 2°: √(3² − 1²) = 2.828° of the last joint cancels. The change found leaves nothing by vectors."""
    text = (
        TWO_TUBES
        + READ.replace("3.4 deg", "3.0 deg").replace("2.3 deg", "5.0 deg").replace("2.0 deg", "3.0 deg")
        + 'front_shaft = "2.0 deg, gauged"\n'
    )
    report = driveline(text)
    change = report.figure("driveline.setting.trial_fit.change").value.nominal

    assert change == pytest.approx(2 - np.sqrt(8), abs=1e-9)
    line = [vectors.unit(angle) for angle in (3.0, 2.0, 5.0, 3.0 + change)]
    assert vectors.residual_angle(line) < 0.15  # small-angle rule; without the change it is 2°
    assert report.figure("driveline.setting.trial_fit.front_angle").value.nominal == pytest.approx(1.0)
    assert report.figure("driveline.setting.trial_fit.rear_angle").value.nominal == pytest.approx(2.0)


def test_a_front_tube_that_was_not_read_is_asked_for_or_taken_from_its_ends(driveline) -> None:
    """Its ends give the inclination over the level, the floor's slope is added: 3.5° over level, 4° on the gauge."""
    missing = driveline(TWO_TUBES + READ)["driveline.setting.trial_fit.difference"].missing
    assert list(missing) == ["readings_trial.front_shaft"]

    drop = 600 * np.tan(np.radians(3.5))
    placed = TWO_TUBES.replace(
        'ratios = ["3.2", "1.0"]',
        'ratios = ["3.2", "1.0"]\noutput_x = "-1.0 m ± 0 mm"\noutput_y = "0 ± 0 mm"\noutput_z = "500 ± 0 mm"',
    ).replace(
        'rear_joint = "rigid"',
        f'rear_joint = "rigid"\nrear_x = "-1.6 m ± 0 mm"\nrear_y = "0 ± 0 mm"\nrear_z = "{500 - drop:.6f} ± 0 mm"',
    )
    front = driveline(placed + READ).figure("driveline.setting.trial_fit.front_angle").value.nominal
    assert front == pytest.approx(3.4 - (3.5 + 0.5), abs=1e-6)


def test_where_no_angle_of_the_final_drive_cancels_nothing_is_claimed(driveline) -> None:
    """The front joint bends more than the centre one: the last joint could only add."""
    text = TWO_TUBES + READ.replace("3.4 deg", "6.0 deg") + 'front_shaft = "2.0 deg, gauged"\n'
    report = driveline(text)

    assert report["driveline.setting.trial_fit.difference"].verdict == "unknown"
    assert report.figure("driveline.setting.trial_fit.change").value is None


def test_turning_a_pinion_with_a_constant_velocity_joint_evens_nothing_out(driveline) -> None:
    """Only the angles are shown."""
    text = TWO_TUBES.replace('after = "front_shaft"', 'after = "front_shaft"\nrear_joint = "constant velocity"') + READ

    assert driveline(text).result("driveline.setting.trial_fit.change") is None


def test_a_live_axle_is_set_lower_by_its_wind_up(driveline) -> None:
    """The sentence says so where the axle winds up."""
    live = driveline('[car]\nrear_suspension = "live axle"\n' + READ).figure("driveline.setting.trial_fit.change")

    assert "with what the axle winds up at full drive in the highest gear allowed for" in live.says
    assert "winds up" not in driveline(READ).figure("driveline.setting.trial_fit.change").says


def test_a_live_axle_is_set_for_what_full_drive_leaves_in_the_highest_gear(driveline) -> None:
    """0.8° of wind-up in a gear four times as tall leave 0.2°: lower by that. Of 6° 1.5° are left: then the other angle is nearer."""
    ends = '[car]\nrear_suspension = "live axle"\n[gearbox]\nratios = ["4.0", "1.0"]\n[prop_shaft]\nafter = "gearbox"\n'
    live = ends + '[final_drive]\nafter = "prop_shaft"\nratio = 3.5\n'
    still, wound, soft = (
        driveline(f'{live}wind_up = "{angle} ± 0 deg"\n' + READ)
        .figure("driveline.setting.trial_fit.change")
        .value.nominal
        for angle in (0, 0.8, 6)
    )

    assert still == pytest.approx(0.3 - 1.1)
    assert wound == pytest.approx(0.3 - 0.2 - 1.1)
    assert soft == pytest.approx(0.3 - 1.5 + 1.1)
