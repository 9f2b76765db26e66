"""Which fact causes how much of a margin's variance, against closed forms and an independent library."""

from __future__ import annotations

import numpy as np
import pytest
from uncertainties import ufloat

from trialfit.book import read_text
from trialfit.evaluation.evaluation import Evaluation
from trialfit.evaluation.shares import Shares

TEXT = (
    '[car]\nmass = "1000 ± 20 kg, weighed"\nrear_axle_mass = "520 ± 16 kg, weighed"\nwheelbase = "2.4 m ± 5 mm, taped"'
)


def share_of(function) -> tuple[dict[str, float], np.ndarray]:
    """The shares of a function of mass, rear mass and wheelbase, and its draws."""
    build = read_text(TEXT)
    ev, car = Evaluation(build), build.parts["car"]
    drawn = {ref.path: ev(ref) for ref in (car.mass, car.rear_axle_mass, car.wheelbase)}
    margin = function(*drawn.values())
    return Shares(drawn)(margin, list(drawn)), margin


def test_a_straight_line_gives_the_budget_of_the_gum() -> None:
    """Two kilograms in a difference: (c u)² over the sum, 20² and 2² · 16² over 20² + 32²."""
    shares, _ = share_of(lambda mass, rear, _: mass - 2 * rear)

    assert shares["car.mass"] == pytest.approx(400 / (400 + 1024), abs=0.01)
    assert shares["car.rear_axle_mass"] == pytest.approx(1024 / (400 + 1024), abs=0.01)
    assert shares["car.wheelbase"] == pytest.approx(0, abs=0.002)
    assert sum(shares.values()) == pytest.approx(1, abs=1e-3)


def test_a_product_agrees_with_an_independent_linear_budget() -> None:
    """The share of variance of a moment, by draws and by the derivatives of the uncertainties library."""
    shares, moment = share_of(lambda mass, rear, wheelbase: rear / mass * wheelbase)
    mass, rear, base = ufloat(1000, 10), ufloat(520, 8), ufloat(2.4, 0.0025)
    linear = rear / mass * base
    budget = {variable: error**2 / linear.std_dev**2 for variable, error in linear.error_components().items()}

    assert moment[1:].std() == pytest.approx(linear.std_dev, rel=0.01)
    assert shares["car.mass"] == pytest.approx(budget[mass], abs=0.02)
    assert shares["car.rear_axle_mass"] == pytest.approx(budget[rear], abs=0.02)
    assert shares["car.wheelbase"] == pytest.approx(budget[base], abs=0.01)


def test_a_curved_margin_is_still_explained() -> None:
    """A square around its foot has no straight part: the curved term carries it."""
    shares, _ = share_of(lambda mass, rear, _: (mass - 1000) ** 2 + 0 * rear)

    assert shares["car.mass"] == pytest.approx(1, abs=0.02)


def test_what_two_facts_cause_only_together_is_left_out() -> None:
    """Interaction is not shared out: the sum falls short of one and nobody is blamed for it."""
    shares, _ = share_of(lambda mass, rear, _: (mass - 1000) * (rear - 520))

    assert sum(shares.values()) < 0.05


def test_exact_facts_cause_nothing() -> None:
    """Without spread there is no variance to share."""
    build = read_text('[car]\nmass = "1000 ± 0 kg, weighed"')
    mass = Evaluation(build)(build.parts["car"].mass)

    assert Shares({"car.mass": mass})(mass, ["car.mass"]) == {"car.mass": 0.0}


def test_a_margin_that_moves_only_by_rounding_is_nobodys_and_the_least_real_move_is_shared() -> None:
    """A millionth of a millionth of the margin is a spread; the sixteenth digit is not."""
    drawn = {"a": np.random.default_rng(1).normal(size=257), "b": np.random.default_rng(2).normal(size=257)}
    shares = Shares(drawn)

    assert shares(1000.0 + 1e-12 * drawn["a"], ["a", "b"]) == {"a": 0.0, "b": 0.0}
    assert shares(1000.0 + 1e-9 * drawn["a"], ["a", "b"])["a"] == pytest.approx(1, abs=0.01)
    assert shares(1e-9 * drawn["a"], ["a", "b"])["a"] == pytest.approx(1, abs=0.01)
    assert shares(0 * drawn["a"], ["a", "b"]) == {"a": 0.0, "b": 0.0}


def test_a_draw_outside_of_a_formula_has_no_part_in_the_shares() -> None:
    """The others are shared out as if it were not there."""
    drawn = {"a": np.random.default_rng(1).normal(size=257), "b": np.random.default_rng(2).normal(size=257)}
    margin = 1e-3 * drawn["a"] + 1e-3 * drawn["b"]
    with_one = np.where(np.arange(257) == 40, np.nan, margin)

    assert Shares(drawn)(with_one, ["a", "b"]) == pytest.approx(Shares(drawn)(margin, ["a", "b"]), abs=0.02)
    assert Shares(drawn)(np.full(257, np.nan), ["a"]) == {"a": 0.0}


def test_the_shares_of_a_fact_with_a_curved_effect_beside_a_straight_one() -> None:
    """A mass that counts by its square around the nominal, and one that counts plainly: as the variances stand to each other."""
    shares, _ = share_of(lambda mass, rear, _: (mass - 1000) ** 2 / 100 + rear)
    square, plain = 2 * (10**2 / 100) ** 2, 8**2

    assert shares["car.mass"] == pytest.approx(square / (square + plain), abs=0.02)
    assert shares["car.rear_axle_mass"] == pytest.approx(plain / (square + plain), abs=0.02)


def test_a_spread_of_millimetres_in_metres_is_a_spread() -> None:
    shares, _ = share_of(lambda _, __, wheelbase: wheelbase)

    assert shares["car.wheelbase"] == pytest.approx(1, abs=0.01)


def test_a_fact_whose_draws_are_all_the_same_takes_nothing_from_the_others() -> None:
    drawn = {"a": np.random.default_rng(1).normal(size=257), "same": np.full(257, 3.0)}

    assert Shares(drawn)(2 * drawn["a"], ["a", "same"]) == pytest.approx({"a": 1.0, "same": 0.0})


def test_more_facts_than_the_draws_can_tell_apart_still_get_shares() -> None:
    """Forty facts, 63 draws: what moves the margin is not lost, and no share is below 0 or above 1."""
    rows = np.random.default_rng(1).normal(size=(40, 64))
    drawn = {f"fact_{number}": row for number, row in enumerate(rows)}
    shares = Shares(drawn)(sum(drawn.values()), list(drawn))

    assert all(0 <= share <= 1 for share in shares.values())
    assert sum(shares.values()) == pytest.approx(1, abs=0.1)


def test_one_draw_inside_of_a_formula_is_no_spread() -> None:
    """What is left to share out is one value: nobody causes it."""
    drawn = {"a": np.random.default_rng(1).normal(size=257)}
    alone = np.where(np.arange(257) == 40, 2.0, np.nan)

    assert Shares(drawn)(alone, ["a"]) == {"a": 0.0}
