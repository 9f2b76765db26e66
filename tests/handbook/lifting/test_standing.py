"""How a car on stands behaves: where its load goes as stands move, and what is no number."""

from __future__ import annotations

import numpy as np
import pytest

from trialfit.handbook.lifting.standing import (
    heavier_stand,
    lean_to_tip,
    load_at,
    push_to_tip,
    rocking_stand,
    without,
)


def test_both_places_together_carry_the_car() -> None:
    """Wherever they are, the centre beyond one of them too: then the other pulls."""
    here, there = load_at(1000.0, -1.1, -0.3, -2.0), load_at(1000.0, -1.1, -2.0, -0.3)

    assert here + there == pytest.approx(1000)
    assert load_at(1000.0, -2.2, -0.3, -2.0) < 0
    assert np.isnan(load_at(1000.0, -1.1, -0.3, -0.3))


def test_a_load_outside_the_pair_is_on_one_stand() -> None:
    """Never more than all of it."""
    assert heavier_stand(600.0, 0.0, 0.9) == pytest.approx(300)
    assert heavier_stand(600.0, -0.6, 0.9) == pytest.approx(600)
    assert np.isnan(heavier_stand(600.0, 0.0, 0.0))


def test_a_light_other_end_rocks_less() -> None:
    """Two ends alike put all of one on one stand; with nothing at the other end it carries half."""
    assert rocking_stand(600.0, 600.0, 0.0, 0.9, 0.0, 0.9) == pytest.approx(600)
    assert rocking_stand(600.0, 0.0, 0.0, 0.9, 0.0, 0.9) == pytest.approx(300)
    assert rocking_stand(600.0, 600.0, 0.0, 0.9, 0.0, 0.45) == pytest.approx(450)
    assert np.isnan(rocking_stand(600.0, 0.0, 0.0, 0.9, 0.0, 0.0))


def test_a_car_that_tips_by_itself_bears_less_than_nothing_on_its_end() -> None:
    """The centre of mass behind the rear stands; and stands outboard of the end of the car are outside the range."""
    assert lean_to_tip(1000.0, -0.1, 1.2) < 0
    assert np.isnan(lean_to_tip(1000.0, 0.4, 0.0))


def test_a_wider_pair_is_harder_to_tip() -> None:
    """And a push at the height of the feet tips nothing: no number."""
    assert np.isnan(push_to_tip(5000.0, 0.9, 0.0))
    assert push_to_tip(5000.0, 1.2, 1.0) > push_to_tip(5000.0, 0.9, 1.0)


def test_more_out_than_the_car_weighs_is_no_number() -> None:
    """And taking out what lies at the centre leaves it there."""
    assert np.isnan(without(200.0, -1.0, 300.0, 0.0)[0])
    assert without(1000.0, -1.0, 300.0, -1.0)[1] == pytest.approx(-1.0)
