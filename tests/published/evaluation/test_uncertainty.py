"""The evaluation against worked examples of published guides on measurement uncertainty.

The examples have no parts of a car in them, so their quantities are drawn by the function that draws facts.
"""

from __future__ import annotations

import numpy as np
import pytest

from trialfit.evaluation.draws import draws_of
from trialfit.evaluation.requirement import Stake
from trialfit.evaluation.shares import Shares
from trialfit.evaluation.verdict import Verdict, judge, share_kept
from trialfit.facts.spread import Shape, Spread

DRAWS = 65_536


def normal(name: str, value: float, standard_uncertainty: float, draws: int = DRAWS) -> np.ndarray:
    """A normal quantity as the evaluation draws it."""
    return draws_of(name, value, Spread(2 * standard_uncertainty, 2 * standard_uncertainty, Shape.normal), draws)


def rectangular(name: str, value: float, half_width: float, draws: int = DRAWS) -> np.ndarray:
    """A rectangular quantity as the evaluation draws it."""
    return draws_of(name, value, Spread(half_width, half_width, Shape.rectangular), draws)


# JCGM 100:2008 (GUM), example H.1, end-gauge calibration: l = 50 000 838 nm; u(l) = 32 nm by the first-order budget
# (31.7 before rounding; a reference library gives 31.66), 34 nm with the second-order terms (H.1.7, from memory). Draws carry
# all orders. The cyclic temperature has an arcsine distribution, which is drawn here from an even phase.
def test_gum_example_h1_end_gauge() -> None:
    """Length, standard uncertainty with and without the products of small terms, and the largest part of the budget."""
    standard = normal("l_s", 50_000_623, 25)
    difference = normal("d0", 215, 5.8) + normal("d1", 0, 3.9) + normal("d2", 0, 6.7)
    expansion = rectangular("alpha_s", 11.5e-6, 2e-6)
    expansion_difference = rectangular("delta_alpha", 0, 1e-6)
    temperature_difference = rectangular("delta_theta", 0, 0.05)
    temperature = normal("theta_mean", -0.1, 0.2) + 0.5 * np.sin(rectangular("phase", 0, np.pi))

    def length(alpha: np.ndarray | float, theta: np.ndarray | float) -> np.ndarray:
        return standard + difference - standard * (expansion_difference * theta + alpha * temperature_difference)

    first_order, whole = length(11.5e-6, -0.1), length(expansion, temperature)
    drawn = {"l_s": standard, "d": difference, "delta_theta": temperature_difference}
    shares = Shares(drawn)(first_order, list(drawn))

    assert whole[0] == pytest.approx(50_000_838, abs=0.5)
    assert first_order[1:].std() == pytest.approx(31.66, rel=5e-3)
    assert whole[1:].std() == pytest.approx(34, abs=0.5)
    assert shares["l_s"] == pytest.approx(25**2 / 31.66**2, abs=0.01)


# JCGM 101:2008, 9.2.3: sum of four rectangular quantities of standard uncertainty 1: shortest 95 % interval ±3.88,
# from memory; the normal law would give ±3.92.
def test_jcgm_101_four_rectangular_quantities() -> None:
    """The interval comes from the draws, not from a coverage factor."""
    total = sum(rectangular(f"x{number}", 0, np.sqrt(3)) for number in range(4))
    low, high = np.quantile(total[1:], [0.025, 0.975])

    assert (high - low) / 2 == pytest.approx(3.88, abs=0.02)


# JCGM 106:2012, 7.3.3, example 1, from memory: upper limit −5.40 V, reading −5.47 V, u 0.05 V: probability of
# conformance 0.92.
def test_jcgm_106_probability_of_conformance() -> None:
    """The share of draws that keep the limit is the probability of conformance."""
    margin = -5.40 - normal("breakdown voltage", -5.47, 0.05)

    assert share_kept(margin) == pytest.approx(0.92, abs=0.002)
    assert judge(share_kept(margin), Stake.durability) is Verdict.unsettled


# Closed form: Φ(2) = 0.97725 (any table of the normal distribution).
def test_a_gap_one_spread_above_its_limit() -> None:
    """13.0 ± 1.0 mm where 12.0 mm is wanted holds for durability and is unsettled for safety."""
    kept = share_kept(normal("gap", 13.0, 0.5, 4096) - 12.0)

    assert kept == pytest.approx(0.97725, abs=5e-4)
    assert judge(kept, Stake.durability) is Verdict.holds
    assert judge(kept, Stake.safety) is Verdict.unsettled


# Measurement Systems (textbook), chapter 3: power 2πRFL/t of a dynamometer; probable error by root sum square 22.08 W,
# worst case 36.80 W; the time causes 72 % of it. R 1202 ± 1 turns, F 45 ± 0.18 N, L 0.397 ± 0.00127 m, t 60 ± 0.5 s.
def test_textbook_dynamometer() -> None:
    """Nominal, spread and the share of the time."""
    drawn = {
        "R": normal("R", 1202, 1),
        "F": normal("F", 45, 0.18),
        "L": normal("L", 0.397, 0.00127),
        "t": normal("t", 60, 0.5),
    }
    power = 2 * np.pi * drawn["R"] * drawn["F"] * drawn["L"] / drawn["t"]

    assert power[0] == pytest.approx(2248.7, rel=1e-3)
    assert power[1:].std() == pytest.approx(22.08, rel=5e-3)
    assert Shares(drawn)(power, list(drawn))["t"] == pytest.approx(0.72, abs=0.01)
