"""Loads off centre, tilted on their way in, on a plain sling and on a leveller: each bad build beside its mended twin."""

from __future__ import annotations

import pytest

from trialfit.book import read_text
from trialfit.evaluation.evaluation import Evaluation
from trialfit.evaluation.finding import Finding
from trialfit.evaluation.requirement import Stake
from trialfit.evaluation.verdict import Verdict
from trialfit.evaluation.working import work_out
from trialfit.subjects.lifting import requirements

BUILD = """
[unit]
kind = "mass_part"
mass = "200 kg, weighed"
x = "0 m, taped"
y = "0 m, taped"
z = "0.5 m, taped"
hoisted_by = "out"
[out]
kind = "lift"
hook_x = "0 m, taped"
hook_y = "0 m, taped"
hook_z = "1.3 m, taped"
[front]
kind = "sling_leg"
eye_x = "0.3 m, taped"
eye_y = "0 m, taped"
eye_z = "0.8 m, taped"
rated_mass = "200 kg, manual"
[rear]
kind = "sling_leg"
eye_x = "-0.3 m, taped"
eye_y = "0 m, taped"
eye_z = "0.8 m, taped"
rated_mass = "200 kg, manual"
"""
FROM_LEVEL = ('hook_z = "1.3 m, taped"', 'hook_z = "1.3 m, taped"\nlowest_tilt = "0 deg"\nsteepest_tilt = "{} deg"')
LEVELLER = 'hook_z = "1.3 m, taped"\nsteepest_tilt = "{} deg"\nleveller_travel = "{} mm, taped"'


def found(text: str, which: str, *changes: tuple[str, str]) -> Finding:
    """One finding of lifting for a text with changes."""
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new)
    build = read_text(text)
    chosen = [one for one in requirements(build) if one.id == f"lifting.{which}"]
    return work_out(Evaluation(build, 256), chosen)[f"lifting.{which}"]


def test_a_centre_of_mass_outside_the_eyes_makes_a_leg_slack() -> None:
    """0.75 m behind the hook with eyes 0.3 m behind it: the front leg is slack, and the rear one has all of the load."""
    off = ('x = "0 m, taped"\ny = "0 m, taped"\nz = "0.5', 'x = "-0.75 m, taped"\ny = "0 m, taped"\nz = "0.5')
    slack, carries = found(BUILD, "slack.out", off), found(BUILD, "leg_tension.rear", off)

    assert slack.verdict is Verdict.fails
    assert slack.stake is Stake.safety
    assert "further apart" in slack.cure
    assert carries.value.nominal == pytest.approx(200 * 1.25 * 9.80665)
    assert carries.verdict is Verdict.fails
    assert found(BUILD, "slack.out").verdict is Verdict.holds
    assert found(BUILD, "leg_tension.rear").verdict is Verdict.holds


def test_legs_that_hold_at_rest_fail_on_the_way_in() -> None:
    """Level both legs carry the same; at 40° the front one has nearly all of it. Half of that tilt holds."""
    old, new = FROM_LEVEL
    steep, half = (found(BUILD, "leg_tension.front", (old, new.format(tilt))) for tilt in (40, 8))

    assert steep.verdict is Verdict.fails
    assert steep.state == "step 9 of the way, 40° rear end low"
    assert half.verdict is Verdict.holds


def test_the_rear_leg_goes_slack_on_the_steep_part_of_the_way() -> None:
    """With eyes 0.1 m before and behind the centre and the load at 30°; eyes 0.3 m away keep their share."""
    old, new = FROM_LEVEL
    near = [('eye_x = "0.3', 'eye_x = "0.1'), ('eye_x = "-0.3', 'eye_x = "-0.1')]
    slack = found(BUILD, "slack.out", (old, new.format(30)), *near)

    assert slack.verdict is Verdict.fails
    assert "30° rear end low" in slack.state
    assert found(BUILD, "slack.out", near[0], near[1]).verdict is Verdict.holds
    assert found(BUILD, "slack.out", (old, new.format(25))).verdict is Verdict.holds


def test_a_leveller_with_too_short_a_screw_does_not_reach_the_tilt() -> None:
    """30° with the centre 300 mm below the eyes ask for about 200 mm from the middle of the bar."""
    old = FROM_LEVEL[0]
    short, long = (found(BUILD, "leveller.out", (old, LEVELLER.format(30, travel))) for travel in (120, 260))

    assert short.verdict is Verdict.fails
    assert short.value.nominal == pytest.approx(1000 * 0.34 * 0.57735, rel=1e-3)
    assert "30° rear end low" in short.state
    assert long.verdict is Verdict.holds


def test_a_load_off_the_middle_of_the_bar_asks_for_more_screw() -> None:
    """80 mm behind the middle of the eyes the hook has to be 80 mm back to hang it level; in the middle none of it is used up."""
    old = FROM_LEVEL[0]
    level = (old, LEVELLER.format(0, 60))
    off = ('x = "0 m, taped"\ny = "0 m, taped"\nz = "0.5', 'x = "-0.08 m, taped"\ny = "0 m, taped"\nz = "0.5')

    assert found(BUILD, "leveller.out", level, off).verdict is Verdict.fails
    assert found(BUILD, "leveller.out", level).verdict is Verdict.holds


def test_chains_of_a_leveller_that_lean_pull_harder() -> None:
    """60° from upright double the pull, and lie too flat."""
    old = FROM_LEVEL[0]
    change = LEVELLER.format(5, 260)
    upright, leaning = (
        found(BUILD, "leg_tension.front", (old, f'{change}\nchain_lean = "{lean} ± 1 deg"')) for lean in (2, 60)
    )

    assert upright.verdict is Verdict.holds
    assert leaning.verdict is Verdict.fails
    assert leaning.value.nominal == pytest.approx(2 * upright.value.nominal, rel=0.02)


def test_a_leveller_on_four_low_eyes_turns_over() -> None:
    """With a leveller the load can turn over lengthways, however many eyes it has."""
    old = FROM_LEVEL[0]
    four = BUILD + BUILD[BUILD.index("[front]") :].replace("[front]", "[front_left]").replace(
        "[rear]", "[rear_left]"
    ).replace('eye_y = "0 m', 'eye_y = "0.2 m')
    change = (old, LEVELLER.format(5, 260))

    assert found(four, "roll_over.out", change, ('eye_z = "0.8 m', 'eye_z = "0.52 m')).verdict is Verdict.fails
    assert found(four, "roll_over.out", change).verdict is Verdict.holds


def test_a_powered_hoist_jerks() -> None:
    """1.5 times the weight where a hand pump pulls 1.25 times."""
    by_hand, powered = (
        found(BUILD, "leg_tension.front", ('hook_z = "1.3 m, taped"', f'hook_z = "1.3 m, taped"\nraised_by = "{by}"'))
        for by in ("hand pump", "powered hoist")
    )

    assert by_hand.verdict is Verdict.holds
    assert powered.value.nominal == pytest.approx(1.2 * by_hand.value.nominal)


def test_three_legs_with_the_load_to_one_side_go_slack() -> None:
    """Two eyes abreast in front and one behind: 0.3 m to the left of the middle the right one is slack; in the middle none is."""
    left = BUILD[BUILD.index("[front]") : BUILD.index("[rear]")].replace("[front]", "[left]")
    three = BUILD.replace('eye_x = "0.3 m, taped"\neye_y = "0 m', 'eye_x = "0.3 m, taped"\neye_y = "-0.2 m')
    three += left.replace('eye_y = "0 m', 'eye_y = "0.2 m')
    off = ('y = "0 m, taped"\nz = "0.5', 'y = "0.3 m, taped"\nz = "0.5')

    assert found(three, "slack.out", off).verdict is Verdict.fails
    assert found(three, "slack.out").verdict is Verdict.holds


def test_of_four_legs_one_across_may_be_slack_and_has_a_number() -> None:
    """Far behind the eyes a pair across the load hangs on one of its legs: no tension is left unknown."""
    right = BUILD[BUILD.index("[front]") :].replace("[front]", "[front_right]").replace("[rear]", "[rear_right]")
    four = BUILD.replace('eye_y = "0 m', 'eye_y = "0.2 m') + right.replace('eye_y = "0 m', 'eye_y = "-0.2 m')
    off = ('x = "0 m, taped"\ny = "0 m, taped"\nz = "0.5', 'x = "-1.3 m, taped"\ny = "0 m, taped"\nz = "0.5')
    finding = found(four, "leg_tension.rear", off)

    assert finding.verdict is Verdict.fails
    assert finding.value.nominal == pytest.approx(200 * 1.25 * 9.80665)
