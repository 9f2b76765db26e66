"""Points set into the wide stretches of a torque curve, against the parabola they stand for."""

from __future__ import annotations

import numpy as np
import pytest

from trialfit.handbook.gearing.curve_shape import torque_of_power, wide_stretches, with_bulge


def test_three_points_lie_on_the_parabola_of_the_whole_curve() -> None:
    """A parabola through 0, its top and 0 again, cut in half: the halves lie above their chords by the bulge of the whole."""

    def arch(speed: np.ndarray) -> np.ndarray:
        return 200 + 80 * (1 - ((speed - 350) / 250) ** 2)

    ends, middle = np.array([100.0, 600.0]), np.array([100.0, 350.0, 600.0])

    for speeds in (ends, middle):
        chord = arch(speeds)
        # b is a share of the mean of the two ends of a stretch: 80 N·m over 200 for the whole, over 240 for a half
        share = 80.0 / chord[:2].mean()
        x, y = with_bulge(speeds, chord, share)
        assert y == pytest.approx(arch(x))


def test_a_curve_of_many_points_stays_as_it_is() -> None:
    speeds = np.linspace(100.0, 600.0, 12)
    x, y = with_bulge(speeds, np.linspace(200.0, 250.0, 12), 0.4)

    assert x == pytest.approx(speeds)
    assert y == pytest.approx(np.linspace(200.0, 250.0, 12))


def test_a_short_piece_of_a_curve_counts_as_short() -> None:
    """Three points from 3000 to 4000 rpm say little of the rest, and miss little between them."""
    assert wide_stretches([300.0, 350.0, 400.0]) == pytest.approx([0.25, 0.25])


def test_each_car_has_its_own_curve() -> None:
    x, y = with_bulge([100.0, 600.0], np.array([[200.0, 200.0], [100.0, 100.0]]), np.array([0.0, 0.4]))

    assert y.shape == (2, 5)
    assert y[:, 2] == pytest.approx([200.0, 140.0])
    assert x[2] == 350.0


def test_power_and_speed_give_torque() -> None:
    assert torque_of_power(100e3, 500.0) == pytest.approx(200.0)
    assert np.isnan(torque_of_power(-1.0, 500.0))
    assert np.isnan(torque_of_power(100e3, 0.0))
