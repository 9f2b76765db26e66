"""Movements that come together, rock worked out from the mounts, and the axis that a unit rocks about."""

from __future__ import annotations

import numpy as np
import pytest
from clearance_builds import DRIVETRAIN, solid

from trialfit.evaluation.verdict import Verdict

WIDE = solid(0, 0, 0, 100, 600, 100, fixed_to="drivetrain")
LONG = solid(0, 0, 0, 600, 100, 100, fixed_to="drivetrain")
GAP = "clearance.gap.unit.pipe"
MOVES = {**DRIVETRAIN, "rock": "4 ± 0 deg", "heave": "8 ± 0 mm"}


def test_a_unit_that_rocks_over_a_bump_touches_where_neither_alone_does(worked):
    """Corner 300 mm out and 50 mm up, rolled 4°: up by 300·sin 4° + 50·cos 4° = 70.8 mm; lifted 8 mm more. Pipe from 486 mm: 15.2 or 7.2 left."""
    finding = worked(drivetrain=MOVES, unit=WIDE, pipe=solid(0, 290, 496, 100, 20, 20))[GAP]

    assert (finding.value.nominal, finding.verdict) == (pytest.approx(7.2, abs=0.1), Verdict.fails)
    assert finding.state == "unit rolled with its left side up, lifted"


def test_with_8_mm_more_it_clears_it(worked):
    finding = worked(drivetrain=MOVES, unit=WIDE, pipe=solid(0, 290, 504, 100, 20, 20))[GAP]

    assert (finding.value.nominal, finding.verdict) == (pytest.approx(15.2, abs=0.1), Verdict.holds)


def arm(up, right):
    return solid(
        0,
        120,
        300,
        50,
        60,
        60,
        neighbour="moving",
        travel_z=f"{up} ± 0 mm",
        travel_down="0 mm",
        travel_y="0 mm",
        travel_right=f"{right} ± 0 mm",
    )


def test_an_arm_that_comes_up_and_in_at_once_hits_what_it_misses_one_way_at_a_time(worked):
    """Alone it passes beside the unit and below it, 20 mm from both; at bump on lock it is 20 mm inside."""
    finding = worked(drivetrain=DRIVETRAIN, unit=LONG, arm=arm(60, 60))["clearance.gap.unit.arm"]

    assert (finding.value.nominal, finding.verdict) == (pytest.approx(-20, abs=0.1), Verdict.fails)
    assert finding.state == "arm moved to the right, moved up"


def test_an_arm_that_comes_in_by_less_than_the_room_beside_the_unit_clears_it(worked):
    finding = worked(drivetrain=DRIVETRAIN, unit=LONG, arm=arm(60, 20))["clearance.gap.unit.arm"]

    assert (finding.value.nominal, finding.verdict) == (pytest.approx(20, abs=0.1), Verdict.holds)


def rod(travel):
    """A thin rod 12 mm from the unit's flank at its height, which starts 70 mm below its floor."""
    return solid(0, 72, 280, 400, 20, 10, travel_z=f"{travel} ± 0 mm", travel_down="0 mm")


def test_a_rod_that_passes_the_unit_on_its_way_is_seen_there(worked):
    """From 65 mm below the floor to 195 mm above the roof: nowhere at an end, 12 mm beside the flank on its way; 11 mm is too little."""
    near = {**rod(380), "y": "71 ± 0 mm"}
    finding = worked(drivetrain=DRIVETRAIN, unit=LONG, pipe=near)[GAP]

    assert (finding.value.nominal, finding.verdict) == (pytest.approx(11, abs=0.1), Verdict.fails)
    assert "partly moved up" in finding.state


def test_a_rod_that_passes_quickly_is_seen_though_both_ends_are_far(worked):
    """From 165 mm below the floor to 165 mm above the roof: listed, and 11 mm beside the flank."""
    far = {**rod(440), "y": "71 ± 0 mm", "z": "180 ± 0 mm"}
    finding = worked(drivetrain=DRIVETRAIN, unit=LONG, pipe=far)[GAP]

    assert (finding.value.nominal, finding.verdict) == (pytest.approx(11, abs=0.1), Verdict.fails)


def test_a_rod_that_stops_below_the_unit_is_not_beside_it(worked):
    finding = worked(drivetrain=DRIVETRAIN, unit=LONG, pipe={**rod(40), "y": "71 ± 0 mm"})[GAP]

    assert finding.verdict is Verdict.holds
    assert finding.value.nominal == pytest.approx(np.hypot(11, 25), abs=0.1)


@pytest.mark.parametrize("turned", [False, True])
def test_a_unit_across_the_car_rocks_nose_up_and_nose_down(worked, turned):
    """Corner 300 mm ahead: up to 70.8 mm over the crank by 4°; the pipe begins 75 mm over it. Its axes lie as the car's, or turned with it."""
    drivetrain = {**DRIVETRAIN, "rock": "4 ± 0 deg"}
    unit = LONG
    if turned:
        drivetrain["heading"], unit = "90 ± 0 deg", WIDE
    finding = worked(
        power_unit={"layout": "transverse"}, drivetrain=drivetrain, unit=unit, pipe=solid(290, 0, 485, 20, 100, 20)
    )[GAP]

    assert (finding.value.nominal, finding.verdict) == (pytest.approx(4.2, abs=0.1), Verdict.fails)


def test_the_same_unit_with_a_pipe_a_finger_higher_clears_it(worked):
    pipe = solid(290, 0, 495, 20, 100, 20)
    finding = worked(
        power_unit={"layout": "transverse"}, drivetrain={**DRIVETRAIN, "rock": "4 ± 0 deg"}, unit=LONG, pipe=pipe
    )[GAP]

    assert (finding.value.nominal, finding.verdict) == (pytest.approx(14.2, abs=0.1), Verdict.holds)


ENGINE = {"torque_curve": "rpm : N·m | 1000 : 265 | 6000 : 265"}
GEARBOX = {"ratios": '["3.63", "2.36"]', "reverse_ratio": "3.37"}


def mounts(stiffness, y=200):
    return {
        f"mount_{side}": {
            "kind": "mount",
            "x": "0 ± 0 mm",
            "y": f"{sign * y} ± 0 mm",
            "z": "400 ± 0 mm",
            "stiffness": f"{stiffness} ± 0 N/mm",
        }
        for side, sign in (("left", 1), ("right", -1))
    }


def bay(rock, stiffness, **more):
    drivetrain = {name: value for name, value in DRIVETRAIN.items() if rock or name != "rock"}
    drivetrain |= {"rock": rock} if rock else {}
    return {
        "engine": ENGINE,
        "gearbox": GEARBOX,
        "drivetrain": drivetrain,
        "unit": WIDE,
        "pipe": solid(0, 290, 500, 100, 20, 20),
        **mounts(stiffness),
        **more,
    }


def test_soft_mounts_let_it_rock_further_than_a_usual_one(worked):
    """265 N·m · 3.63 over 2·90 N/mm·(0.2 m)²: 7.66°. Left corner up by 300·sin + 50·cos = 89.5 mm, the pipe from 90 mm: 0.5 mm left."""
    rock = np.degrees(265 * 3.63 / (2 * 90e3 * 0.2**2))
    found = worked(**bay(None, 90))

    up = 300 * np.sin(np.radians(rock)) + 50 * np.cos(np.radians(rock))
    assert found[GAP].value.nominal == pytest.approx(90 - up, abs=0.1)
    assert found[GAP].verdict is Verdict.fails


def test_on_stiff_mounts_the_same_unit_clears_it(worked):
    """320 N/mm: 2.15°, 61.2 mm up, 28.8 mm left."""
    finding = worked(**bay(None, 320))[GAP]

    assert (finding.value.nominal, finding.verdict) == (pytest.approx(28.8, abs=0.2), Verdict.holds)


def test_a_rock_that_is_guessed_does_not_outrank_the_mounts(worked):
    """1.5° guessed over mounts that give 7.66°: the mounts count. A maker's figure counts before them."""
    guessed, known = (worked(**bay(rock, 90))[GAP] for rock in ("1.5 ± 0.5 deg, guess", "1.5 ± 0.5 deg, manual"))

    assert (guessed.verdict, known.verdict) == (Verdict.fails, Verdict.holds)


def test_a_transaxle_rocks_about_the_axle_line_by_the_torque_of_the_wheels(worked):
    """265·3.63·3.9 N·m over mounts 0.4 m before and behind: 2·90e3·0.16 N·m/rad: 7.46°. Ahead it comes up."""
    fore_and_aft = {
        name: {**one, "x": one["y"].replace("200", "400"), "y": "0 ± 0 mm"} for name, one in mounts(90).items()
    }
    final_drive = {"after": "gearbox", "ratio": "3.9 ± 0"}
    parts = (
        bay(None, 90)
        | {"unit": LONG, "pipe": solid(290, 0, 505, 20, 100, 20), "final_drive": final_drive}
        | fore_and_aft
    )
    rock = 265 * 3.63 * 3.9 / (2 * 90e3 * 0.4**2)
    finding = worked(**parts)[GAP]

    assert finding.value.nominal == pytest.approx(95 - 300 * np.sin(rock) - 50 * np.cos(rock), abs=0.1)
    assert "pitched with its front up" in finding.state
