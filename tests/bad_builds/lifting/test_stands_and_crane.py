"""Stands far from the axle, off centre or on a rocking floor, and holes that a crane does not have: each beside its mended twin."""

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
[car]
mass = "1100 kg, weighed"
rear_axle_mass = "480 kg, weighed"
laden_mass = "1100 kg, weighed"
wheelbase = "2.40 m, taped"
[engine_and_gearbox]
kind = "mass_part"
mass = "200 kg, weighed"
x = "-0.1 m, taped"
y = "0 m, taped"
z = "0.5 m, taped"
hoisted_by = "out"
[out]
kind = "lift"
hook_x = "-0.1 m, taped"
hook_y = "0 m, taped"
hook_z = "1.3 m, taped"
hole = "4"
required_reach = "1.2 m, taped"
[workshop_crane]
hole_reaches = ["0.9 m", "1.1 m", "1.3 m", "1.5 m"]
hole_ratings = ["1500 kg, manual", "1000 kg, manual", "700 kg, manual", "400 kg, manual"]
[in_front]
kind = "stands"
under = "front"
rated_mass = "380 kg, manual"
spacing = "0.9 m, taped"
inboard = "0 m, taped"
off_centre = "0 mm, taped"
car_end = "0.8 m, taped"
"""
BEHIND = """
[behind]
kind = "stands"
under = "rear"
rated_mass = "380 kg, manual"
spacing = "0.9 m, taped"
inboard = "0 m, taped"
off_centre = "0 mm, taped"
car_end = "0.8 m, taped"
"""


def found(text: str, which: str, *changes: tuple[str, str]) -> Finding:
    """One finding of lifting for a text with changes."""
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new)
    build = read_text(text)
    chosen = [one for one in requirements(build) if one.id == f"lifting.{which}"]
    return work_out(Evaluation(build, 256), chosen)[f"lifting.{which}"]


def test_stands_well_behind_the_front_axle_carry_a_third_more() -> None:
    """0.6 m behind it with 2.4 m between the axles: 413 kg on each where 310 kg are on each front wheel."""
    at_the_axle, inboard = (
        found(BUILD, "stand_load.in_front", ('inboard = "0 m', f'inboard = "{place} m')) for place in (0, 0.6)
    )

    assert at_the_axle.verdict is Verdict.holds
    assert inboard.verdict is Verdict.fails
    assert inboard.stake is Stake.safety
    assert inboard.value.nominal == pytest.approx(at_the_axle.value.nominal * 4 / 3, rel=1e-3)
    assert "1.33 times the axle's 620 kg" in inboard.remark
    assert "nearer to the axle" in inboard.cure


def test_stands_off_centre_load_one_of_them_more() -> None:
    """150 mm to one side of 900 mm: two thirds of the end on one stand."""
    finding = found(BUILD, "stand_load.in_front", ('off_centre = "0 mm', 'off_centre = "150 mm'))

    assert finding.verdict is Verdict.fails
    assert finding.value.nominal == pytest.approx(620 * 2 / 3, rel=1e-2)


def test_on_four_stands_one_may_carry_nothing_and_its_neighbour_all() -> None:
    """Rated for half an end holds for a pair; on four stands the car may rock on two, and asks for nearly all of the end."""
    rocking = found(BUILD + BEHIND, "stand_load.in_front")
    mended = found(BUILD + BEHIND, "stand_load.in_front", ("380 kg, manual", "1000 kg, manual"))

    assert rocking.verdict is Verdict.fails
    assert "both ends on stands" in rocking.state
    assert mended.verdict is Verdict.holds


def test_stands_right_in_front_of_the_rear_axle_hold_until_the_engine_is_out() -> None:
    """1.1 m ahead of the rear axle the centre of mass comes to lie behind them when 200 kg leave the nose."""
    near, far = (
        found(
            BUILD + BEHIND,
            "lean.behind",
            (
                'under = "rear"\nrated_mass = "380 kg, manual"\nspacing = "0.9 m, taped"\ninboard = "0 m',
                f'under = "rear"\nrated_mass = "380 kg, manual"\nspacing = "0.9 m, taped"\ninboard = "{place} m',
            ),
        )
        for place in (0.3, 1.1)
    )

    assert near.verdict is Verdict.holds
    assert far.verdict is Verdict.fails
    assert far.state == "without the load of out"
    assert "nearer to the rear axle" in far.cure


def test_an_axle_that_comes_out_counts_where_it_says_so() -> None:
    """120 kg of rear axle out and the engine still in: the front pair, far back, has the car on its nose."""
    axle = '\n[old_axle]\nkind = "mass_part"\nmass = "120 kg, weighed"\nx = "-2.4 m, taped"\ny = "0 m"\nz = "0.3 m"\nmounted = "no"\n'
    back = ('inboard = "0 m', 'inboard = "0.8 m')
    stays = found(BUILD + axle, "lean.in_front", back)
    comes_out = found(BUILD + axle + 'out_on_stands = "yes"\n', "lean.in_front", back)

    assert stays.verdict is Verdict.holds
    assert comes_out.verdict is Verdict.fails
    assert comes_out.state == "without old_axle"


def test_the_push_that_tips_the_car_is_that_with_the_engine_out() -> None:
    """0.28 m between the front stands bears the push as weighed and not without the engine."""
    narrow, wide = (
        found(BUILD, "push.in_front", ('spacing = "0.9 m', f'spacing = "{place} m')) for place in (0.42, 0.9)
    )

    assert narrow.verdict is Verdict.fails
    assert narrow.state.startswith("without the load of out")
    assert wide.verdict is Verdict.holds


@pytest.mark.parametrize("which", ["boom.out", "reach.out"])
def test_a_hole_that_the_boom_does_not_have_fails(which) -> None:
    """Hole 5 of 4: nothing is allowed there, and nothing is reached from it."""
    missing, there = (found(BUILD, which, ('hole = "4"', f'hole = "{hole}"')) for hole in (5, 3))

    assert missing.verdict is Verdict.fails
    assert missing.cure.startswith("workshop_crane has 4 holes: hole 5 does not exist")
    assert there.verdict is Verdict.holds
    assert "does not exist" not in there.cure
