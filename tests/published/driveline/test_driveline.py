"""Joints and rows of joints against print, and against kinematics worked out in other ways.

`ExactLine` follows the pins of every joint by bare vectors: a cross keeps its two pins square to each other, a yoke's ears
keep their angle on the tube, a constant-velocity joint hands the turn on by the shortest way. No formula of the program is in it.
"""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
import sympy
from scipy.spatial.transform import Rotation
from sympy.physics.mechanics import ReferenceFrame, dynamicsymbols

from trialfit.handbook.constants import REVOLUTION_PER_MINUTE
from trialfit.handbook.driveline import angle_finder, cardan, joint_angle_limits, shaft_lines


class ExactLine:
    """A row of members as unit vectors, the twists of the shafts between, and which joints are cardan joints."""

    def __init__(
        self, members: np.ndarray, twists: np.ndarray | None = None, is_cardan: list[bool] | None = None
    ) -> None:
        self.members = members
        joints = len(members) - 1
        self.twists = np.zeros(max(joints - 1, 0)) if twists is None else twists
        self.is_cardan = [True] * joints if is_cardan is None else is_cardan

    def lag(self, turn: np.ndarray) -> np.ndarray:
        """How far the last member stands ahead of the first, rad, at each angle of the first; its mean taken off."""
        first = self.members[0]
        across = np.cross(first, [0.3, 0.5, 0.8])
        pin = Rotation.from_rotvec(np.outer(turn, first)).apply(across / np.linalg.norm(across))
        for number, (before, after) in enumerate(pairwise(self.members)):
            if self.is_cardan[number]:
                pin = np.cross(after, pin)
                pin /= np.linalg.norm(pin, axis=1, keepdims=True)
            else:
                normal = np.cross(before, after)
                size = np.linalg.norm(normal)
                angle = math.atan2(size, before @ after)
                pin = Rotation.from_rotvec(normal / size * angle if size else np.zeros(3)).apply(pin)
            if number < len(self.twists):
                pin = Rotation.from_rotvec(after * self.twists[number]).apply(pin)
        last = self.members[-1]
        level = np.cross(last, [0.1, 0.2, 0.9])
        level /= np.linalg.norm(level)
        stands = np.unwrap(np.arctan2(pin @ np.cross(last, level), pin @ level))
        ahead = stands - turn
        return ahead - ahead.mean()

    def residual_angle(self) -> float:
        """The one joint whose output swings as far, twice a turn: one joint at β swings by tan²(β/2)."""
        turn = np.linspace(0, 2 * np.pi, 720, endpoint=False)
        swing = 2 * abs(np.mean(self.lag(turn) * np.exp(-2j * turn)))
        return 2 * math.atan(math.sqrt(swing))


def line(*angles: tuple[float, float]) -> np.ndarray:
    """Members by inclination and heading in degrees."""
    return np.array([shaft_lines.direction(math.radians(s), math.radians(p)) for s, p in angles])


def in_one_plane(*inclinations: float) -> np.ndarray:
    """Members in one vertical plane, by inclination in degrees."""
    return line(*((angle, 0.0) for angle in inclinations))


# Textbook exercise on a joint at 20°, 1500 rpm, driven inertia 0.12 kg·m², from memory: 3090 rad/s² and 371 N·m. The exact
# figures are those of the vector solver above: 3083 rad/s² at 41.46°, 370.0 N·m.
def test_peak_acceleration_at_twenty_degrees() -> None:
    """Within 0.3 % of print; the peak and its place from second differences of the vector solver."""
    speed = 1500 * REVOLUTION_PER_MINUTE
    peak, at = cardan.peak_acceleration(math.radians(20), speed)
    turn = np.linspace(0, np.pi, 20001)
    swing = ExactLine(in_one_plane(0, 20)).lag(turn)
    followed = np.diff(swing, 2) / np.diff(turn)[:-1] ** 2 * speed**2

    assert peak == pytest.approx(3090, rel=3e-3)
    assert 0.12 * peak == pytest.approx(371, rel=3e-3)
    assert peak == pytest.approx(3083, rel=3e-4)
    assert math.degrees(at) == pytest.approx(41.46, abs=0.005)
    assert peak == pytest.approx(np.abs(followed).max(), rel=1e-5)


# Closed form, any textbook on mechanisms: at 30° the ratio swings between 1/cos β = 1.15470 and cos β = 0.86603; peak
# acceleration 0.29457·ω² by the vector solver, ω²·β² is 0.27416 (7 % low).
def test_joint_at_thirty_degrees() -> None:
    """Within 0.01 %."""
    angle = math.radians(30)

    assert cardan.speed_ratio(0.0, angle) == pytest.approx(1.15470, rel=1e-4)
    assert cardan.speed_ratio(math.pi / 2, angle) == pytest.approx(0.86603, rel=1e-4)
    assert cardan.peak_acceleration(angle, 1.0)[0] == pytest.approx(0.29457, rel=1e-4)
    assert shaft_lines.torsional_acceleration(angle, 1.0) == pytest.approx(0.27416, rel=1e-4)


# Cardan-shaft maker, technical section: U ≤ 0.0027, which is 3°.
def test_fluctuation_at_three_degrees() -> None:
    """Within the printed digits."""
    assert cardan.fluctuation(math.radians(3)) == pytest.approx(0.0027, rel=0.02)


# General engineering reference site, design guidelines for drive shaft installation angle, row of 1500 rpm: largest angle
# of joint 2 for 0, 1 … 9° at joint 1. All cells that could be read lie at 396 to 408 rad/s².
def test_largest_second_angle_at_1500_rpm() -> None:
    """Within 0.08°, with 400 rad/s²."""
    printed = [7.3, 7.4, 7.6, 7.9, 8.3, 8.9, 9.5, 10.1, 10.8, 11.6]
    found = joint_angle_limits.largest_second_angle(np.radians(np.arange(10.0)), 400.0, 1500 * REVOLUTION_PER_MINUTE)

    assert np.degrees(found) == pytest.approx(printed, abs=0.08)


# Joint maker's angle rules: largest joint angle by shaft speed.
@pytest.mark.parametrize(
    ("rpm", "printed"),
    [(5000, 3.2), (4500, 3.7), (4000, 4.2), (3500, 5.0), (3000, 5.8), (2500, 7.0), (2000, 8.7), (1500, 11.5)],
)
def test_largest_joint_angle_by_speed(rpm: float, printed: float) -> None:
    """Each row comes back as printed, and lies at 855 to 1024 rad/s²."""
    speed = rpm * REVOLUTION_PER_MINUTE
    found = joint_angle_limits.largest_joint_angle(speed)

    assert math.degrees(found) == pytest.approx(printed, abs=1e-9)
    assert 854 < shaft_lines.torsional_acceleration(found, speed) < 1025


# Vector solver: inclinations 2.5, 4.0, 1.8°, in phase, 3000 rpm: β₁ 1.5°, β₂ 2.2°, β_eq 1.609°; 77.9, 67.6, 145.5 rad/s².
def test_two_joints_in_one_plane() -> None:
    """Within 0.2 %."""
    members, speed = in_one_plane(2.5, 4.0, 1.8), 3000 * REVOLUTION_PER_MINUTE
    residual = shaft_lines.residual_angle(members)
    drive, coast = shaft_lines.inertia_angles(members)

    assert np.degrees([drive, coast]) == pytest.approx([1.5, 2.2], rel=1e-9)
    assert math.degrees(residual) == pytest.approx(1.609, rel=2e-3)
    assert residual == pytest.approx(ExactLine(members).residual_angle(), rel=2e-3)
    found = [shaft_lines.torsional_acceleration(angle, speed) for angle in (residual, drive, coast)]
    assert found == pytest.approx([77.9, 67.6, 145.5], rel=2e-3)


# Car workshop manual, propeller-shaft joint-angle chart, worked example: readings 2°00′ (intermediate shaft), 2°51′
# (propeller shaft), 1°54′ (axle): joint 2 −0°51′, joint 3 +0°57′: front member minus rear member, sign kept.
def test_worked_example_of_a_workshop_manual() -> None:
    """Exact."""
    second, third = angle_finder.working_angles(*np.radians([2.0, 2 + 51 / 60, 1 + 54 / 60]))

    assert np.degrees([second, third]) * 60 == pytest.approx([-51, 57], abs=1e-9)


# Vector solver: members at (inclination, heading) (2.0, 0), (3.5, 2.5), (1.0, 0)°: true angles 2.913 and 3.534°; β_eq 2.531°
# in phase, 2.002° with the yokes twisted by 14° the right way (left-handed looking rearward, here), 3.237° the wrong way.
@pytest.mark.parametrize(("twist", "expected"), [(0.0, 2.531), (-14.0, 2.002), (14.0, 3.237)])
def test_compound_angles_with_twisted_yokes(twist: float, expected: float) -> None:
    """Within 0.2 %, against the figure and against the vector solver."""
    members, twists = line((2.0, 0.0), (3.5, 2.5), (1.0, 0.0)), np.radians([twist])
    found = shaft_lines.residual_angle(members, twists)

    assert math.degrees(shaft_lines.true_angle(members[0], members[1])) == pytest.approx(2.913, abs=5e-4)
    assert math.degrees(shaft_lines.true_angle(members[1], members[2])) == pytest.approx(3.534, abs=5e-4)
    assert math.degrees(found) == pytest.approx(expected, rel=2e-3)
    assert found == pytest.approx(ExactLine(members, twists).residual_angle(), rel=2e-3)


# Vector solver: three joints in one plane, 2, 3, 2° down, up, down: 1.001° with both shafts in phase, √|4 − 9 + 4|; 3.001°
# with the second shaft a quarter turn out, √|4 − 9 − 4|.
@pytest.mark.parametrize(("twist", "expected"), [(0.0, 1.001), (90.0, 3.001)])
def test_three_joints_in_one_plane(twist: float, expected: float) -> None:
    """Within 0.2 %."""
    members, twists = in_one_plane(3, 1, 4, 2), np.radians([0.0, twist])
    found = shaft_lines.residual_angle(members, twists)

    assert math.degrees(found) == pytest.approx(expected, rel=2e-3)
    assert found == pytest.approx(ExactLine(members, twists).residual_angle(), rel=2e-3)


def _any_line(seed: int) -> tuple[np.ndarray, np.ndarray, list[bool]]:
    """A row of two to four joints bent by up to 6°, pitched, yawed and rolled; twists; some constant-velocity joints."""
    rng = np.random.default_rng(seed)
    joints = int(rng.integers(2, 5))
    members = [np.array([1.0, 0.0, 0.0])]
    for bend in np.radians(rng.uniform(0.2, 6.0, joints)):
        aside = np.cross(members[-1], rng.normal(size=3))
        members.append(Rotation.from_rotvec(bend * aside / np.linalg.norm(aside)).apply(members[-1]))
    stands = Rotation.from_euler("zyx", rng.uniform(-25, 25, 3), degrees=True)
    twists = rng.uniform(-np.pi / 2, np.pi / 2, joints - 1)
    return stands.apply(np.array(members)), twists, list(rng.random(joints) < 0.8)


@pytest.mark.parametrize("seed", range(40))
def test_any_line_against_the_exact_vector_solver(seed: int) -> None:
    """Residual in space, twisted, with constant-velocity joints: squares within 0.4 % of the sum of the squared angles."""
    members, twists, is_cardan = _any_line(seed)
    bent = np.abs(shaft_lines.bends(members))
    exact = ExactLine(members, twists, is_cardan).residual_angle()

    assert shaft_lines.residual_angle(members, twists, is_cardan) ** 2 == pytest.approx(
        exact**2, abs=4e-3 * np.sum(bent**2)
    )


@pytest.mark.parametrize("seed", range(20))
def test_inertia_angles_against_the_exact_vector_solver(seed: int) -> None:
    """The worst shaft between, solved as a line that ends there; on the overrun the line is followed from the rear."""
    members, twists, is_cardan = _any_line(seed)
    drive, coast = shaft_lines.inertia_angles(members, twists, is_cardan)
    joints = len(members) - 1
    driven = [
        ExactLine(members[: last + 1], twists[: last - 1], is_cardan[:last]).residual_angle()
        for last in range(1, joints)
    ]
    # From the rear the directions turn round; a twist of the front yoke against the rear one, seen from behind, is the same.
    back, back_twists, back_cardan = -members[::-1], twists[::-1], is_cardan[::-1]
    coasting = [
        ExactLine(back[: last + 1], back_twists[: last - 1], back_cardan[:last]).residual_angle()
        for last in range(1, joints)
    ]
    tolerance = 4e-3 * np.sum(np.abs(shaft_lines.bends(members)) ** 2)

    assert drive**2 == pytest.approx(max(driven) ** 2, abs=tolerance)
    assert coast**2 == pytest.approx(max(coasting) ** 2, abs=tolerance)


@pytest.mark.parametrize("joint", [0.05, 0.3, 0.8, 1.3])
def test_one_joint_against_rotation_matrices(joint: float) -> None:
    """The turn of the output for every turn of the input, within 1e-9; φ starts with the driving pin in the plane of both."""
    turn = np.linspace(-7.0, 7.0, 400)
    # Shafts in the x-z plane: the input along x, the output bent about y. The driving pin starts along z, in that plane.
    driving_pin = Rotation.from_rotvec(np.outer(turn, [1.0, 0.0, 0.0])).apply([0.0, 0.0, 1.0])
    bend = Rotation.from_rotvec([0.0, joint, 0.0])
    output, start = bend.apply([1.0, 0.0, 0.0]), np.array([0.0, -1.0, 0.0])
    driven_pin = np.cross(output, driving_pin)
    stands = np.unwrap(np.arctan2(np.cross(start, driven_pin) @ output, driven_pin @ start))
    stands += 2 * np.pi * np.round((turn - stands).mean() / (2 * np.pi))

    assert cardan.driven_angle(turn, joint) == pytest.approx(stands, abs=1e-9)


def test_position_speed_and_acceleration_against_a_computer_algebra_system() -> None:
    """The constraint of the cross written with sympy.physics.mechanics, and differentiated twice there."""
    turned, followed = dynamicsymbols("q1 q2")
    beta, omega = sympy.symbols("beta omega")
    ground = ReferenceFrame("N")
    driving = ground.orientnew("A", "Axis", [turned, ground.z])
    bent = ground.orientnew("B", "Axis", [beta, ground.x])
    driven = bent.orientnew("C", "Axis", [followed, bent.z])
    time = dynamicsymbols._t  # noqa: SLF001 - the library's name for time
    square = driving.y.dot(
        driven.x
    )  # driving pin and driven pin; at q1 = 0 the driving pin lies in the plane of the shafts
    first, second = sympy.diff(square, time), sympy.diff(square, time, 2)
    rate = sympy.solve(first, followed.diff(time))[0]
    change = sympy.solve(second, followed.diff(time, 2))[0]

    for angle, input_angle, speed in [(0.1, 0.3, 50.0), (0.35, 1.1, 120.0), (0.9, 2.5, 300.0)]:
        output_angle = cardan.driven_angle(input_angle, angle)
        still = {turned.diff(time, 2): 0}
        moving = {turned.diff(time): omega}
        place = {turned: input_angle, followed: output_angle, beta: angle, omega: speed}
        output_speed = rate.subs(moving).subs(place)
        acceleration = change.subs(still).subs({followed.diff(time): output_speed}).subs(moving).subs(place)

        assert float(square.subs(place)) == pytest.approx(0, abs=1e-12)
        assert cardan.speed_ratio(input_angle, angle) * speed == pytest.approx(float(output_speed), rel=1e-9)
        assert cardan.angular_acceleration(input_angle, angle, speed) == pytest.approx(float(acceleration), rel=1e-9)


# Axle maker's maintenance manual, measuring and recording driveline angles: β ≈ √(Δs² + Δp²).
@pytest.mark.parametrize(("side", "plan"), [(1.0, 2.0), (3.0, 4.0), (6.0, 8.0), (9.5, 3.0)])
def test_short_form_of_a_compound_angle(side: float, plan: float) -> None:
    """The exact angle within 0.2 % up to 10°, and the same as between the two directions within 1e-12."""
    exact = shaft_lines.compound_angle(math.radians(side), math.radians(plan))

    assert math.degrees(exact) == pytest.approx(math.hypot(side, plan), rel=2e-3)
    assert exact == pytest.approx(shaft_lines.true_angle(*line((0.0, 0.0), (side, plan))), rel=1e-12)
