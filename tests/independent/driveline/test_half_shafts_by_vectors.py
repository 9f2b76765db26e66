"""Half-shafts by another route: every combination of rise, lock and movement one by one, turns as rotations of scipy.

Nothing of the handbook is used. The stub is turned about a leaning steering axis by a rotation vector; the plunge is searched for
over a fine row of rises; the wheel of a swing axle is turned about the line along the car through its inner joint.
"""

from __future__ import annotations

import math
from itertools import product

import numpy as np
from scipy.spatial.transform import Rotation
from thorough import some

from trialfit.book import read_text
from trialfit.subjects import evaluate

MANY = range(500)
TOLERANCE = 2e-3
"""mm and degrees: the fine row of rises may miss the shortest place by this much."""


class Shaft:
    """One steered front half-shaft, by its numbers in mm and degrees."""

    def __init__(self, seed: int) -> None:
        """Draw it."""
        one = np.random.default_rng(seed)
        self.side = ("left", "right")[one.integers(2)]
        self.out = 1.0 if self.side == "left" else -1.0
        self.swings = one.random() < 0.1
        self.inner = np.array([one.uniform(-30, 30), self.out * one.uniform(90, 300), one.uniform(250, 330)])
        self.outer = np.array([one.uniform(-30, 30), self.out * one.uniform(540, 640), one.uniform(250, 310)])
        self.bump, self.droop = one.uniform(30, 80), one.uniform(40, 90)
        self.at_bump, self.at_droop = one.uniform(-8, 8, 2)
        self.moves = one.uniform(0, 10)
        self.inside, self.outside = one.uniform(33, 44), one.uniform(26, 33)
        self.kingpin, self.caster = one.uniform(5, 16), one.uniform(0, 8)
        self.plunge_in, self.plunge_out = one.uniform(3, 20), one.uniform(5, 36)
        self.limits = {"inner": one.uniform(8, 22), "outer": one.uniform(28, 50)}

    def wheel(self, rise: float) -> np.ndarray:
        """The outer joint at a rise."""
        if self.swings:
            arm = self.outer - self.inner
            square, up = arm[1] ** 2 + arm[2] ** 2, arm[2] + rise
            return self.inner + np.array([arm[0], self.out * math.sqrt(square - up**2), up])
        outward = self.at_bump * rise / self.bump if rise > 0 else -self.at_droop * rise / self.droop
        return self.outer + np.array([0, self.out * outward, rise])

    def stub(self, steer: float) -> np.ndarray:
        """The stub, outward, steered to the left by an angle in degrees."""
        lean = np.array([-math.tan(math.radians(self.caster)), -self.out * math.tan(math.radians(self.kingpin)), 1.0])
        turn = Rotation.from_rotvec(math.radians(steer) * lean / np.linalg.norm(lean))
        return turn.apply([0.0, self.out, 0.0])

    def text(self) -> str:
        """The same as a build."""
        ends = {
            f"{end}_{axis}": at
            for end in ("inner", "outer")
            for axis, at in zip("xyz", getattr(self, end), strict=True)
        }
        travel = {"bump_travel": self.bump, "droop_travel": self.droop, "inner_movement": self.moves}
        outward = {"outward_at_bump": self.at_bump, "outward_at_droop": self.at_droop}
        plunge = {"plunge_in": self.plunge_in, "plunge_out": self.plunge_out}
        lock = {
            "steering_lock": self.inside,
            "steering_lock_outside": self.outside,
            "kingpin_inclination": self.kingpin,
            "caster": self.caster,
        }

        def lines(numbers: dict[str, float], unit: str = "mm") -> str:
            return "".join(f'{name} = "{number:.12f} ± 0 {unit}"\n' for name, number in numbers.items())

        return (
            f'[car]\ndriven_axle = "front"\n{lines(lock, "deg")}[shaft]\nkind = "half_shaft"\nside = "{self.side}"\n'
            + ('outer_joint = "rigid"\n' if self.swings else "")
            + lines({**ends, **travel, **outward, **plunge})
            + "".join(
                f'{end}_joint_angle_limit = "{limit:.12f} ± 0 deg, manual"\n' for end, limit in self.limits.items()
            )
        )


def between(one: np.ndarray, other: np.ndarray) -> float:
    """Angle between two vectors, degrees."""
    return math.degrees(math.atan2(np.linalg.norm(np.cross(one, other)), one @ other))


def compared(one: Shaft) -> dict[str, tuple[float, float, bool]]:
    """What the program finds, what this route finds, and whether the limit is kept by this route."""
    report = evaluate(read_text(one.text()), draws=1, subjects=["driveline"])
    steered = {"inner": [one.stub(0.0)], "outer": [one.stub(angle) for angle in _locks(one)]}
    lifts, found = (0.0, one.moves, -one.moves), {}
    for end in ("inner",) if one.swings else ("inner", "outer"):
        worst = max(
            between(one.wheel(rise) - one.inner - [0, 0, lift], stub)
            for rise, lift, stub in product((0.0, one.bump, -one.droop), lifts, steered[end])
        )
        finding = report[f"driveline.half_shaft_angle.{one.side}.{end}"]
        found[end] = (finding.value.nominal, worst, worst < one.limits[end])
    if one.swings:
        return found
    ride = np.linalg.norm(one.outer - one.inner)
    rises = [*np.linspace(-one.droop, 0, 141), *np.linspace(0, one.bump, 141)]
    lengths = [
        np.linalg.norm(one.wheel(rise) - one.inner - [0, aside, 0]) - ride
        for rise, aside in product(rises, (one.moves, -one.moves))
    ]
    for way, left in (("in", one.plunge_in + min(lengths)), ("out", one.plunge_out - max(lengths))):
        found[way] = (report[f"driveline.plunge.{one.side}.{way}"].value.nominal, left, left > 3)
    return found


def _locks(one: Shaft) -> tuple[float, float, float]:
    left, right = (one.inside, one.outside) if one.side == "left" else (one.outside, one.inside)
    return 0.0, left, -right


def test_half_shaft_angles_and_plunge_by_another_route(capsys) -> None:
    """The worst angle of both joints and the plunge left both ways, on both sides of the limits."""
    worst = dict.fromkeys(("inner", "outer", "in", "out"), 0.0)
    kept = {name: [0, 0] for name in worst}
    for seed in some(MANY):
        for name, (found, truth, within) in compared(Shaft(seed)).items():
            worst[name] = max(worst[name], abs(found - truth))
            kept[name][int(within)] += 1
    with capsys.disabled():
        print(f"\nhalf-shafts, worst disagreement: {worst}; cases beyond and within each limit: {kept}")

    assert max(worst["inner"], worst["outer"]) < TOLERANCE
    assert max(worst["in"], worst["out"]) < 10 * TOLERANCE
    assert all(min(both) >= 5 for both in kept.values())
