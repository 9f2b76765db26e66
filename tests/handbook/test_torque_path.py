"""The torque each element can see: it behaves at the edges of what is known."""

from __future__ import annotations

import numpy as np
import pytest

from trialfit.handbook.torque_path import half_shaft_share, torque_into_gearbox


def test_a_shock_factor_below_one_takes_nothing_off_the_engine() -> None:
    """The tail of a badly known factor must not make a shock smaller than the torque itself."""
    assert torque_into_gearbox(300.0, 0.0, 0.9) == pytest.approx(300.0)
    assert torque_into_gearbox(300.0, 320.0, 0.9) == pytest.approx(320.0)


def test_a_shock_factor_that_cannot_be_is_nan() -> None:
    """Zero or less is no factor."""
    assert np.isnan(torque_into_gearbox(300.0, 320.0, 0.0))


def test_a_bias_below_one_favours_the_other_wheel() -> None:
    """2 and 1/2 share alike: one wheel gets two thirds."""
    shares = half_shaft_share("limited slip", np.array([2.0, 0.5, 1.0]))

    assert shares == pytest.approx([2 / 3, 2 / 3, 0.5])
    assert np.isnan(half_shaft_share("limited slip", -1.0))


def test_another_word_for_a_differential_is_refused_in_one_sentence() -> None:
    """The words that are known stand in the message."""
    with pytest.raises(
        ValueError, match='"welded" is no way a differential works: open, limited slip or locked is wanted'
    ):
        half_shaft_share("welded")
