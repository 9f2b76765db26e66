"""One cardan joint: symmetry, signs, small and large angles, and what lies outside."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from trialfit.handbook.driveline import cardan

TURN = st.floats(-20.0, 20.0)
BEND = st.floats(-1.4, 1.4)


@given(TURN, BEND)
def test_whole_turns_are_kept(turn: float, bend: float) -> None:
    """A full turn of the input is a full turn of the output, and the lead is less than a quarter turn."""
    here, later = cardan.driven_angle(turn, bend), cardan.driven_angle(turn + 2 * math.pi, bend)

    assert later - here == pytest.approx(2 * math.pi, abs=1e-9)
    assert abs(here - turn) < math.pi / 2


@given(TURN, BEND)
def test_the_angle_obeys_its_equation(turn: float, bend: float) -> None:
    """The tangent of φ₂ times cos β is that of φ₁, written without dividing."""
    driven = cardan.driven_angle(turn, bend)

    assert math.sin(driven) * math.cos(turn) * math.cos(bend) == pytest.approx(
        math.sin(turn) * math.cos(driven), abs=1e-9
    )


@given(TURN, BEND)
def test_down_or_up_bends_alike(turn: float, bend: float) -> None:
    """The sign of the joint angle does not matter."""
    assert cardan.speed_ratio(turn, -bend) == cardan.speed_ratio(turn, bend)
    assert cardan.angular_acceleration(turn, -bend, 100.0) == cardan.angular_acceleration(turn, bend, 100.0)


@given(TURN, BEND)
def test_speed_ratio_is_the_slope_of_the_angle(turn: float, bend: float) -> None:
    """Against a central difference of the position."""
    step = 1e-5
    slope = (cardan.driven_angle(turn + step, bend) - cardan.driven_angle(turn - step, bend)) / (2 * step)

    assert cardan.speed_ratio(turn, bend) == pytest.approx(slope, rel=1e-4)


@given(st.floats(0.01, 1.4), st.floats(1.0, 900.0))
def test_no_angle_of_a_turn_exceeds_the_peak(bend: float, speed: float) -> None:
    """The peak is reached where it is said to be, and nowhere surpassed."""
    peak, at = cardan.peak_acceleration(bend, speed)
    around = np.abs(cardan.angular_acceleration(np.linspace(0, 2 * math.pi, 2000), bend, speed))

    assert peak > 0
    assert 0 < at < math.pi / 2
    assert around.max() <= peak * (1 + 1e-12)
    assert cardan.angular_acceleration(at, bend, speed) == pytest.approx(-peak, rel=1e-12)
    assert cardan.angular_acceleration(-at, bend, speed) == pytest.approx(peak, rel=1e-12)


def test_the_output_runs_ahead_at_first() -> None:
    """At φ = 0 it is fastest, so just behind it the output leads; the sign is pinned."""
    assert cardan.driven_angle(0.3, 0.4) > 0.3
    assert cardan.speed_ratio(0.0, 0.4) > 1 > cardan.speed_ratio(math.pi / 2, 0.4)
    assert cardan.angular_acceleration(0.3, 0.4, 100.0) < 0


def test_fluctuation_is_the_swing_of_the_ratio() -> None:
    """Largest less smallest ratio, and it grows with the angle."""
    bends = np.radians([1.0, 3.0, 10.0, 30.0])
    swing = np.asarray(cardan.speed_ratio(0.0, bends)) - np.asarray(cardan.speed_ratio(math.pi / 2, bends))

    assert cardan.fluctuation(bends) == pytest.approx(swing, rel=1e-9)
    assert (np.diff(np.asarray(cardan.fluctuation(bends))) > 0).all()


# Small angles: ω²β² is low by 0.5 % at 10°, 2.5 % at 20°, 7 % at 30°. Derived.
@pytest.mark.parametrize(("degrees", "low"), [(10.0, 0.005), (20.0, 0.025), (30.0, 0.07)])
def test_how_far_the_small_angle_rule_is_off(degrees: float, low: float) -> None:
    """The docstring's figures, to their last digit."""
    bend = math.radians(degrees)

    assert 1 - bend**2 / cardan.peak_acceleration(bend, 1.0)[0] == pytest.approx(low, abs=0.0055)


def test_a_straight_joint_changes_nothing() -> None:
    """No angle, no unevenness, no division by zero."""
    assert cardan.driven_angle(1.2, 0.0) == 1.2
    assert cardan.speed_ratio(1.2, 0.0) == 1.0
    assert cardan.peak_acceleration(0.0, 500.0) == (0.0, pytest.approx(math.pi / 4))


def test_a_joint_bent_square_has_no_answer_and_spoils_no_other_draw() -> None:
    """From π/2 on it is nan, each draw by itself."""
    bends = np.array([0.1, math.pi / 2, 2.0, np.nan])

    for found in (
        cardan.driven_angle(0.3, bends),
        cardan.speed_ratio(0.3, bends),
        cardan.fluctuation(bends),
        cardan.angular_acceleration(0.3, bends, 10.0),
        *cardan.peak_acceleration(bends, 10.0),
    ):
        assert np.isfinite(found).tolist() == [True, False, False, False]


def test_floats_give_floats_and_arrays_broadcast() -> None:
    """A speed per draw against an angle per gear."""
    peak, at = cardan.peak_acceleration(np.full((1, 3), 0.1), np.array([[100.0], [200.0]]))

    assert isinstance(cardan.fluctuation(0.1), float)
    assert np.shape(peak) == np.shape(at) == (2, 3)
