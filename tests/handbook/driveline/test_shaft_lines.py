"""Joints in a row: what cancels and what does not, that a car may stand any way round, and the signs."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from trialfit.handbook.driveline import shaft_lines
from trialfit.handbook.driveline.shaft_lines import bends, direction, inertia_angles, residual_angle

SMALL = st.floats(-6.0, 6.0)
TWIST = st.floats(-90.0, 90.0)
SIDE_AND_PLAN = st.tuples(SMALL, SMALL)


def members(*angles: tuple[float, float]) -> np.ndarray:
    """Directions from pairs of inclination and heading in degrees."""
    return np.array([direction(math.radians(s), math.radians(p)) for s, p in angles])


@given(SIDE_AND_PLAN, SIDE_AND_PLAN)
def test_parallel_ends_in_phase_cancel(ends: tuple[float, float], shaft: tuple[float, float]) -> None:
    """Whatever the shaft does between two parallel members, its two joints undo each other."""
    assert residual_angle(members(ends, shaft, ends)) == pytest.approx(0, abs=1e-7)


@given(SMALL, SMALL)
def test_equal_angles_the_same_way_round_cancel_too(gearbox: float, bend: float) -> None:
    """Ends that lean towards each other, all in one plane."""
    line = members((gearbox, 0), (gearbox + bend, 0), (gearbox + 2 * bend, 0))

    assert residual_angle(line) == pytest.approx(0, abs=1e-7)


@given(SMALL, SMALL)
def test_in_one_plane_squares_add_crossed_and_subtract_in_phase(first: float, second: float) -> None:
    """The two rules every textbook prints."""
    line = members((0, 0), (first, 0), (first + second, 0))

    assert np.degrees(residual_angle(line, math.pi / 2)) == pytest.approx(math.hypot(first, second), abs=1e-6)
    assert np.degrees(residual_angle(line)) ** 2 == pytest.approx(abs(first**2 - second**2), abs=1e-6)


@given(SIDE_AND_PLAN, SIDE_AND_PLAN, SIDE_AND_PLAN, TWIST, st.tuples(*[st.floats(-40, 40)] * 3))
def test_how_the_car_stands_changes_nothing(gearbox, shaft, pinion, twist, stands) -> None:
    """Pitch, yaw and roll of the whole car leave sizes, residual and inertia angles alone."""
    line = members(gearbox, shaft, pinion)
    turned = Rotation.from_euler("zyx", stands, degrees=True).apply(line)
    twisted = math.radians(twist)

    assert np.abs(bends(turned)) == pytest.approx(np.abs(bends(line)), abs=1e-12)
    assert residual_angle(turned, twisted) ** 2 == pytest.approx(residual_angle(line, twisted) ** 2, abs=1e-12)
    # As above the squares: the root of what rounding leaves of two nearly equal angles is not small.
    assert np.square(inertia_angles(turned)) == pytest.approx(np.square(inertia_angles(line)), abs=1e-12)


@given(SIDE_AND_PLAN, SIDE_AND_PLAN, SIDE_AND_PLAN, TWIST)
def test_a_mirrored_car_with_mirrored_twist_is_the_same(gearbox, shaft, pinion, twist) -> None:
    """Left and right exchanged; a right-handed twist becomes a left-handed one."""
    line = members(gearbox, shaft, pinion)
    mirrored = line * [1.0, -1.0, 1.0]

    assert residual_angle(mirrored, -math.radians(twist)) ** 2 == pytest.approx(
        residual_angle(line, math.radians(twist)) ** 2, abs=1e-12
    )


@given(SIDE_AND_PLAN, SIDE_AND_PLAN, SIDE_AND_PLAN, TWIST)
def test_half_a_turn_of_a_yoke_is_no_twist(gearbox, shaft, pinion, twist) -> None:
    """A yoke has two ears."""
    line, twisted = members(gearbox, shaft, pinion), math.radians(twist)

    assert residual_angle(line, twisted + math.pi) ** 2 == pytest.approx(residual_angle(line, twisted) ** 2, abs=1e-12)


@given(SIDE_AND_PLAN, SIDE_AND_PLAN)
def test_size_of_a_bend_is_the_true_angle(before: tuple[float, float], after: tuple[float, float]) -> None:
    """And to first order its parts are the differences that a builder measures."""
    line = members(before, after)
    bent = bends(line)[0]
    level = math.cos(math.radians(before[0]))
    measured = (after[0] - before[0]) + 1j * (after[1] - before[1]) * level

    assert abs(bent) == pytest.approx(shaft_lines.true_angle(*line), rel=1e-12)
    assert abs(math.degrees(1) * bent - measured) < 0.01 * abs(measured) + 0.08


def test_signs_of_a_bend() -> None:
    """Real: the member behind points further down. Imaginary: further to the left, looking rearward."""
    assert bends(members((1.0, 0.0), (2.0, 0.0)))[0] == pytest.approx(math.radians(1.0) + 0j)
    assert bends(members((0.0, 1.0), (0.0, 2.0)))[0] == pytest.approx(1j * math.radians(1.0))


def test_a_right_handed_twist_turns_from_down_to_left() -> None:
    """A joint bent down, then one bent to the left by as much: a quarter turn right-handed brings their yokes in phase."""
    line = members((0.0, 0.0), (3.0, 0.0), (3.0, 3.0 / math.cos(math.radians(3.0))))

    assert np.degrees(residual_angle(line, math.pi / 2)) < 0.25
    assert np.degrees(residual_angle(line)) == pytest.approx(3 * math.sqrt(2), rel=0.01)


def test_equal_angles_in_different_planes_do_not_cancel() -> None:
    """Three degrees down and then three degrees aside is not a pair."""
    assert np.degrees(residual_angle(members((0, 0), (3, 0), (3, 3)))) > 4


def test_more_angle_at_one_end_leaves_more() -> None:
    """The sign of the effect is pinned."""
    left = [residual_angle(members((0, 0), (3, 0), (pinion, 0))) for pinion in (0.0, -0.5, -1.0, -2.0)]

    assert (np.diff(left) > 0).all()


def test_one_joint_alone_leaves_its_whole_angle() -> None:
    """The residual is that joint, and so is what shakes the shaft behind it."""
    line = members((0, 0), (2, 0))

    assert np.degrees(residual_angle(line)) == pytest.approx(2.0)
    assert np.degrees(inertia_angles(line)) == pytest.approx([2.0, 2.0])


def test_a_constant_velocity_joint_bends_without_unevenness() -> None:
    """Put in between it hands on what came; the two cardan joints around it still pair."""
    line = members((0, 0), (2, 0), (5, 0), (3, 0))

    assert np.degrees(residual_angle(line[:2], is_cardan=[False])) == 0
    assert np.degrees(residual_angle(line, is_cardan=[True, False, True])) == pytest.approx(0, abs=1e-6)
    assert np.degrees(residual_angle(line, is_cardan=[True, False, False])) == pytest.approx(2.0)
    assert np.degrees(inertia_angles(line, is_cardan=[True, False, True])) == pytest.approx([2.0, 2.0])


def test_inertia_angles_of_three_joints_take_the_worst_shaft() -> None:
    """2, 3, 2° down, up, down: driven √|4 − 9| behind joint 2 beats 2° behind joint 1; coasting the same."""
    drive, coast = np.degrees(inertia_angles(members((3, 0), (1, 0), (4, 0), (2, 0))))

    assert drive == pytest.approx(math.sqrt(5), rel=1e-6)
    assert coast == pytest.approx(math.sqrt(5), rel=1e-6)


def test_one_twist_serves_all_shafts_or_each_has_its_own() -> None:
    """A float, one per shaft, and one per shaft and draw give the same."""
    rng = np.random.default_rng(1)
    angles = np.radians(rng.normal(0, 3, (4, 5)))
    many = direction(angles, 0.3 * angles)
    one = residual_angle(many, 0.2)

    assert residual_angle(many, np.array([0.2, 0.2])) == pytest.approx(one)
    assert residual_angle(many, np.full((2, 5), 0.2)) == pytest.approx(one)
    assert residual_angle(many[:, 3], np.array([0.2, 0.2])) == pytest.approx(one[3])


def test_draws_and_positions_run_along_their_own_axes() -> None:
    """Members by positions by draws: every cell is what it gives alone."""
    rng = np.random.default_rng(2)
    many = direction(np.radians(rng.normal(0, 3, (3, 2, 4))), np.radians(rng.normal(0, 1, (3, 2, 4))))
    twists = rng.normal(0, 0.1, (1, 1, 4))
    together = residual_angle(many, twists)

    assert together.shape == (2, 4)
    assert together[1, 2] == pytest.approx(residual_angle(many[:, 1, 2], twists[:, 0, 2]))


def test_a_joint_bent_square_is_nan_for_its_draw_alone() -> None:
    """Nothing is invented for a joint that cannot turn."""
    line = direction(np.array([[0.0, 0.0], [0.1, 1.7], [0.0, 0.0]]))

    assert np.isfinite(residual_angle(line)).tolist() == [True, False]


@given(st.floats(1e-9, 1e-3))
def test_the_true_angle_keeps_its_digits_when_it_is_small(angle: float) -> None:
    """The arc cosine would be lost below 1e-8."""
    assert shaft_lines.true_angle(direction(0.0), direction(angle)) == pytest.approx(angle, rel=1e-6)


@given(st.floats(-80, 80), st.floats(-170, 170))
def test_direction_and_its_angles_are_each_others_inverse(inclination: float, heading: float) -> None:
    """Two angles make a direction, and it shows them again."""
    along = direction(math.radians(inclination), math.radians(heading))

    assert np.degrees(shaft_lines.inclination_of(along)) == pytest.approx(inclination, abs=1e-9)
    assert np.degrees(shaft_lines.heading_of(along)) == pytest.approx(heading, abs=1e-9)


def test_points_have_the_cars_axes_and_directions_those_of_the_drive() -> None:
    """The car's x runs forward and its left is at the right hand of someone who looks rearward."""
    here = np.array([-1.0, 0.0, 0.4])
    drop = shaft_lines.direction_between(here, np.array([-2.0, 0.0, 0.3]))
    to_the_cars_left = shaft_lines.direction_between(here, np.array([-2.0, 0.1, 0.4]))

    assert drop == pytest.approx(direction(math.atan(0.1)))
    assert to_the_cars_left == pytest.approx(direction(0.0, -math.atan(0.1)))
    assert np.isnan(shaft_lines.direction_between(here, here)).all()


@given(st.floats(-0.1, 0.1), st.floats(-0.05, 0.05))
def test_slip_travel_by_pythagoras(rise: float, back: float) -> None:
    """A level shaft of 1.2 m whose rear end moves; the front end moved along with it changes nothing."""
    front, rear = np.array([-0.4, 0.0, 0.3]), np.array([-1.6, 0.0, 0.3])
    moved = np.array([-back, 0.0, rise])

    assert shaft_lines.slip_travel(front, rear, rear + moved) == pytest.approx(
        math.hypot(1.2 + back, rise) - 1.2, abs=1e-12
    )
    assert shaft_lines.slip_travel(front, rear, rear + moved, front + moved) == pytest.approx(0, abs=1e-12)


def test_angles_beyond_square_have_no_compound() -> None:
    """nan, not a number that looks like one."""
    assert np.isnan(shaft_lines.compound_angle(math.pi / 2, 0.1))
    assert np.isnan(shaft_lines.compound_angle(0.1, -1.6))
    assert shaft_lines.compound_angle(0.0, 0.0) == 0.0
