"""Cranes that do not rise high enough, or that tip: each bad build beside its mended twin."""

from __future__ import annotations

import pytest

from trialfit.book import read_text
from trialfit.book.problems import BadInput
from trialfit.evaluation.evaluation import Evaluation
from trialfit.evaluation.finding import Finding
from trialfit.evaluation.requirement import Stake
from trialfit.evaluation.verdict import Verdict
from trialfit.evaluation.working import work_out
from trialfit.subjects.lifting import requirements

BUILD = """
[unit]
kind = "mass_part"
mass = "230 kg, weighed"
x = "-0.2 m, taped"
y = "0 m, taped"
z = "0.5 m, taped"
hoisted_by = "out"
[out]
kind = "lift"
hook_x = "-0.2 m, taped"
hook_y = "0 m, taped"
hook_z = "1.1 m, taped"
hole = "3"
passes_over = "0.85 m, taped"
bottom_z = "0.2 m, taped"
front_end_x = "0.3 m, taped"
rear_end_x = "-1.1 m, taped"
highest_hook = "2.0 m, taped"
floor_slope = "0.5 deg, gauged"
[front]
kind = "sling_leg"
eye_x = "0.1 m, taped"
eye_y = "0 m, taped"
eye_z = "0.8 m, taped"
[rear]
kind = "sling_leg"
eye_x = "-0.5 m, taped"
eye_y = "0 m, taped"
eye_z = "0.8 m, taped"
[workshop_crane]
hole_reaches = ["0.9 m", "1.1 m", "1.3 m"]
hole_ratings = ["1000 kg, manual", "750 kg, manual", "500 kg, manual"]
hook_heights = ["1.9 m, taped", "2.1 m, taped", "2.3 m, taped"]
leg_reach = "1.45 m, taped"
rear_wheels = "0.1 m, taped"
front_track = "0.9 m, taped"
rear_track = "0.6 m, taped"
mass = "80 kg, weighed"
centre_ahead = "0.35 m, taped"
centre_height = "0.7 m, taped"
"""


def found(text: str, which: str, *changes: tuple[str, str]) -> Finding:
    """One finding of lifting for a text with changes."""
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new)
    build = read_text(text)
    chosen = [one for one in requirements(build) if one.id == f"lifting.{which}"]
    return work_out(Evaluation(build, 256), chosen)[f"lifting.{which}"]


def test_a_tilted_load_needs_more_height_than_a_level_one() -> None:
    """Level the hook goes to 1.8 m and the shortest hole does; at 25° the gearbox hangs half a metre deeper."""
    short = ('hole = "3"', 'hole = "1"')
    steep = ("passes_over =", 'steepest_tilt = "25 deg"\npasses_over =')
    level, low = found(BUILD, "hook_height.out", short), found(BUILD, "hook_height.out", short, steep)

    assert level.verdict is Verdict.holds
    assert level.value.nominal == pytest.approx(1800)
    assert low.verdict is Verdict.fails
    assert "25° rear end low" in low.state
    assert found(BUILD, "hook_height.out", steep).verdict is Verdict.holds


def test_a_leveller_hangs_the_load_a_little_deeper() -> None:
    """Its chains stay upright where a sling turns with the load."""
    steep = ("passes_over =", 'steepest_tilt = "30 deg"\npasses_over =')
    screw = ("passes_over =", 'leveller_travel = "0.3 m, taped"\nleveller_eye = "0 m, taped"\npasses_over =')
    sling, leveller = found(BUILD, "hook_height.out", steep), found(BUILD, "hook_height.out", screw, steep)

    # 0.9 m from the hook to the bottom and 0.9 m back to the end; on the leveller the hook is 0.3·tan 30° ahead, not 0.6·tan 30°
    assert sling.value.nominal == pytest.approx(1000 * (0.9 + 0.9 * 0.8660 + (0.9 + 0.6 * 0.57735) * 0.5), rel=1e-3)
    assert leveller.value.nominal == pytest.approx(
        1000 * (0.9 + 0.9 * 0.8660 + (0.9 + 0.3 * 0.57735) * 0.5 + 0.3 * 0.1340), rel=1e-3
    )


def test_a_crane_with_its_legs_not_drawn_out_tips_forwards() -> None:
    """The hook 0.4 m ahead of the front wheels; with the legs out it is behind them."""
    pushed_in, out = (
        found(BUILD, "crane_tips.out", ('leg_reach = "1.45 m', f'leg_reach = "{legs} m')) for legs in (0.9, 1.45)
    )

    assert pushed_in.verdict is Verdict.fails
    assert pushed_in.stake is Stake.safety
    assert pushed_in.state == "over the front wheels"
    assert pushed_in.value.nominal < 0
    assert out.verdict is Verdict.holds


def test_a_narrow_crane_tips_to_the_side_on_a_sloping_floor() -> None:
    """0.5 m between its wheels with the load at 2 m on a fall of 6°; on a level floor 0.9 m hold."""
    narrow = found(
        BUILD,
        "crane_tips.out",
        ('front_track = "0.9 m', 'front_track = "0.5 m'),
        ('rear_track = "0.6 m', 'rear_track = "0.4 m'),
        ('floor_slope = "0.5 deg', 'floor_slope = "6 deg'),
    )

    assert narrow.verdict is Verdict.fails
    assert narrow.state == "over the wheels of one side"


def test_what_is_not_written_of_the_crane_is_not_asked() -> None:
    """A crane of reaches and ratings alone has no more findings than before."""
    plain = "\n".join(line for line in BUILD.splitlines() if not line.startswith(("passes_over", "leg_reach")))
    asked = {one.id for one in requirements(read_text(plain))}

    assert not {"lifting.hook_height.out", "lifting.crane_tips.out"} & asked


def test_a_height_for_each_hole() -> None:
    """Two heights for three holes are refused."""
    with pytest.raises(BadInput, match="hook_heights holds 2 values for 3 holes: expected one for each hole"):
        read_text(BUILD.replace(', "2.3 m, taped"]', "]"))
