"""Pull against grip and road load, gear by gear, and what first gear and reverse must do."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.optimize import brentq

from trialfit.evaluation.verdict import Verdict

TURNS = np.linspace(1000, 6000, 500_001)
TORQUES = np.interp(TURNS, [1000, 3000, 5000, 6000], [150, 200, 190, 160])
RADIUS = 1.927 / (2 * math.pi)
WEIGHT = 1200 * 9.80665
EFFICIENCY = 0.96 * 0.97

# Fundamentals of Vehicle Dynamics (SAE), ch. 2, from memory: grip with the load transfer inside, by hand for each layout.
# Front of the centre of mass l_f/L = 0.48, h/L = 0.2, μ = 0.9.
REAR = 0.9 * WEIGHT * 0.48 / (1 - 0.9 * 0.2)
FRONT = 0.9 * WEIGHT * 0.52 / (1 + 0.9 * 0.2)
OPEN_LIVE_AXLE = 0.9 * WEIGHT * 0.48 / (1 - 0.9 * 0.2 + 2 * 0.9 * RADIUS / (3.73 * 1.4) * 0.6)


@pytest.mark.parametrize(
    ("changes", "force"),
    [
        ([], REAR),
        ([('driven_axle = "rear"', 'driven_axle = "front"'), ("[tyre]", '[tyre]\naxle = "front"')], FRONT),
        ([('driven_axle = "rear"', 'driven_axle = "all"')], 0.9 * WEIGHT),
        ([('"independent"', '"live axle"')], OPEN_LIVE_AXLE),
        (
            [('"independent"', '"live axle"'), ("[final_drive]", '[final_drive]\ndifferential = "locked"')],
            REAR,
        ),
    ],
    ids=["rear", "front", "all", "live axle, open", "live axle, locked"],
)
def test_grip_of_each_layout_by_hand(base, gearing, value, changes, force) -> None:
    """The force the driven tyres push with, for every way to drive them."""
    assert value(gearing(base, *changes), "gearing.grip") == pytest.approx(force, rel=1e-9)


def test_an_open_live_axle_grips_less_than_a_locked_one(base, gearing, value) -> None:
    """The prop shaft lifts one wheel: the sign is pinned."""
    assert OPEN_LIVE_AXLE < REAR
    assert value(gearing(base, ('"independent"', '"live axle"')), "gearing.grip") < value(gearing(base), "gearing.grip")


@pytest.mark.parametrize(("gear", "ratio"), [(1, 3.3), (5, 0.82)])
def test_tractive_effort_by_hand(base, gearing, value, gear, ratio) -> None:
    """200 N·m at peak, times the ratios and efficiencies, over the rolling radius."""
    by_hand = 200 * ratio * 3.73 * EFFICIENCY / RADIUS

    assert value(gearing(base), f"gearing.tractive_effort.{gear}") == pytest.approx(by_hand, rel=1e-9)


@pytest.mark.parametrize("friction", [0.3, 0.5, 0.9])
@pytest.mark.parametrize(("gear", "ratio"), [(1, 3.3), (2, 2.0), (3, 1.4)])
def test_wheelspin_against_a_grid(base, gearing, value, friction, gear, ratio) -> None:
    """The highest of half a million engine speeds at which the engine has more than the tyres can use.

    At full acceleration a part m_e/m of the pull speeds up the engine and the wheels: 4 % of the mass for the wheels
    (Fundamentals of Vehicle Dynamics, from memory) and the engine's inertia times the ratio squared.
    """
    total = ratio * 3.73
    grip = friction * WEIGHT * 0.48 / (1 - friction * 0.2)
    heavier = 1.04 + 0.15 * (total / RADIUS) ** 2 / 1200
    spins = total * EFFICIENCY / RADIUS * TORQUES > grip * heavier
    highest = TURNS[spins].max() if spins.any() else 0.0
    report = gearing(base, ("0.9 ± 0", f"{friction} ± 0"))

    assert value(report, f"gearing.grip_limited_up_to.{gear}") == pytest.approx(
        highest * 2 * math.pi / 60 * RADIUS / total * 3.6, abs=0.001
    )


@pytest.mark.parametrize(("gear", "ratio"), [(3, 1.4), (4, 1.0), (5, 0.82)])
def test_steepest_climb_against_a_grid_and_a_root_finder(base, gearing, value, gear, ratio) -> None:
    """The best of half a million engine speeds, and the slope that takes its surplus, by scipy."""
    total = ratio * 3.73
    speed = TURNS * 2 * math.pi / 60 * RADIUS / total
    surplus = (TORQUES * total * EFFICIENCY / RADIUS - 0.5 * 1.2 * 0.65 * speed**2).max()
    angle = brentq(lambda a: surplus - WEIGHT * (0.013 * math.cos(a) + math.sin(a)), -0.5, 1.0)
    report = gearing(base)

    assert value(report, f"gearing.climb.{gear}") == pytest.approx(100 * math.tan(angle), rel=1e-8)
    assert "pull sets the slope" in report[f"gearing.climb.{gear}"].remark


def test_grip_sets_the_slope_of_a_low_gear(base, gearing, value) -> None:
    """On ice it is the tyres' share of the weight, and the finding says so."""
    report = gearing(base, ("0.9 ± 0", "0.1 ± 0"))

    assert value(report, "gearing.climb.1") == pytest.approx(100 * 0.1 * 0.48 / (1 - 0.1 * 0.2))
    assert "grip sets the slope" in report["gearing.climb.1"].remark


def test_a_gear_that_does_not_even_hold_the_level_fails(base, gearing) -> None:
    """An overdrive far too long for the engine."""
    report = gearing(base, ('"0.82"', '"0.08"'))

    assert report["gearing.climb.5"].verdict is Verdict.fails
    assert report["gearing.climb.5"].value.nominal < 0
    assert report["gearing.climb.4"].verdict is Verdict.holds


def test_a_shorter_final_drive_pulls_and_climbs_more(base, gearing, value) -> None:
    """Both signs are pinned."""
    short, long = gearing(base, ('ratio = "3.73"', 'ratio = "4.10"')), gearing(base)

    for what in ("gearing.tractive_effort.4", "gearing.climb.4"):
        assert value(short, what) > value(long, what)


DRIVING = ('reverse_ratio = "3.4"', 'reverse_ratio = "3.4"\nfirst_gear = "driving"')


def test_how_long_first_gear_is_nobody_judges_unless_it_is_for_driving(base, gearing) -> None:
    """A farm truck spins its wheels all over first gear and is right to."""
    for change in ((), (("driving", "crawling"),)):
        report = gearing(base, *((DRIVING, *change) if change else ()), ("0.9 ± 0", "0.3 ± 0"))

        assert report.figure("gearing.first_gear.grip").value.nominal > 0
        assert "gearing.first_gear.grip" not in {one.id for one in report.findings}


def test_first_gear_that_spins_over_its_whole_range_is_too_short(base, gearing) -> None:
    """On gravel the tyres spin right up to the limit: 80 % of the range is the most."""
    finding = gearing(base, DRIVING, ("0.9 ± 0", "0.3 ± 0"))["gearing.first_gear.grip"]
    at_limit = 100 * 1.927 / (3.3 * 3.73) * 3.6

    assert finding.verdict is Verdict.fails
    assert finding.value.nominal == pytest.approx(at_limit)
    assert finding.limit.nominal == pytest.approx(0.8 * at_limit)
    assert f"first gear reaches {at_limit:.1f} km/h" in finding.remark


def test_first_gear_with_grip_enough_is_long_enough(base, gearing) -> None:
    """On a dry road this engine does not spin the tyres."""
    finding = gearing(base, DRIVING)["gearing.first_gear.grip"]

    assert finding.verdict is Verdict.holds
    assert finding.value.nominal == 0


@pytest.mark.parametrize(("which", "ratio"), [("first_gear", 3.3), ("reverse", 3.4)])
def test_crawl_at_idle_by_hand(base, gearing, which, ratio) -> None:
    """850 turns a minute over the total ratio, times the circumference; 10 km/h is the most."""
    finding = gearing(base)[f"gearing.{which}.crawl"]

    assert finding.value.nominal == pytest.approx(850 / (ratio * 3.73) * 1.927 * 60 / 1000)
    assert finding.limit.nominal == pytest.approx(10)
    assert finding.verdict is Verdict.holds


def test_gears_too_long_to_crawl_fail(base, gearing) -> None:
    """A first gear of 2.1 and a reverse of 2.0 are not gears to park with."""
    report = gearing(base, ('"3.3"', '"2.1"'), ('"3.4"', '"2.0"'))

    assert report["gearing.first_gear.crawl"].verdict is Verdict.fails
    assert report["gearing.reverse.crawl"].verdict is Verdict.fails


def test_overall_ratio_of_reverse(base, gearing, value) -> None:
    """Gearbox times final drive."""
    assert value(gearing(base), "gearing.reverse.ratio") == pytest.approx(3.4 * 3.73)
