"""Placement problems whose best pose is known in closed form: five drawn by hand, and generated ones.

The margins of a found pose are worked out here again, without the distance library: support functions of boxes against
planes, distances of points and lines. c = 10 mm, s = 1 mm.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from trialfit.placement.pose import AXES, turn_of
from trialfit.placement.problem import Gap, Measures, Problem
from trialfit.placement.solids import Solid, box, cylinder, hull

SLAB = 0.02


@dataclass(frozen=True, eq=False)
class Known:
    """A problem with its answer: `exact` gives the smallest margin of a pose in closed form."""

    name: str
    problem: Problem
    margin: float
    pose: dict[str, float]
    exact: Callable[[np.ndarray], float]
    tolerance: float = 0.05
    also: dict[str, float] | None = None

    def is_solved_by(self, pose: np.ndarray) -> bool:
        """Whether a pose keeps the known margin and lies within 0.5 mm and 0.1° of the known one."""
        return abs(self.exact(pose) - self.margin) <= self.tolerance and self.off(pose) <= 1

    def off(self, pose: np.ndarray) -> float:
        """How far a pose is from the known one, or from the other that is as good: 1 is 0.5 mm or 0.1°."""
        return min(
            max(
                abs(pose[AXES.index(axis)] - value) / (5e-4 if axis in "xyz" else np.radians(0.1))
                for axis, value in one.items()
            )
            for one in (self.pose, self.also or self.pose)
        )


def slab(inner: np.ndarray, outward: np.ndarray, about: np.ndarray, reach: float = 1.5):
    """A slab whose inner face goes through `inner` and looks against `outward`."""
    z = outward / np.linalg.norm(outward)
    x = np.linalg.svd(z[None])[2][1]
    turn = np.column_stack([x, np.cross(z, x), z])
    foot = about - (about - inner) @ z * z
    return box(reach, reach, 2 * SLAB, foot + SLAB * z, turn)


def _problem(moving, fixed, start, reach, measures=(), hold=()):
    solids = [Solid(f"slab{n}", (piece,)) for n, piece in enumerate(fixed)]
    gaps = [Gap(f"{one.name}-{other.name}", one.name, other.name, 0.010) for one in moving for other in solids]
    reach = np.array([*reach[:3], *np.radians(reach[3:])])
    reach[list(hold)] = 0
    start = np.array([*start[:3], *np.radians(start[3:])])
    return Problem(tuple(moving), tuple(solids), tuple(gaps), start, reach, tuple(measures))


def box_corners(half):
    return np.array([[a, b, c] for a in (-1, 1) for b in (-1, 1) for c in (-1, 1)]) * half


def to_planes(points, planes):
    """The smallest signed distance of points to the inner sides of planes (point, outward)."""
    return min(float(((at - points) @ out).min()) for at, out in planes)


def snug_cavity(
    half=(0.30, 0.20, 0.15),
    play=0.025,
    at=(-0.40, 0.03, 0.45),
    tilt=(4.0, -3.0),
    start=(-0.40, 0, 0.45),
    span=0.1,
    turn_span=8.0,
):
    """A box in a tilted cavity with the same play all round: turned, it only gets wider along each cavity axis."""
    half, at = np.array(half), np.array(at)
    turn = turn_of(0, *np.radians(tilt))
    planes = [
        (at + sign * (half[axis] + play) * turn[:, axis], sign * turn[:, axis]) for axis in range(3) for sign in (-1, 1)
    ]
    corners = box_corners(half)

    def exact(pose):
        points = corners @ turn_of(*pose[3:]).T + pose[:3]
        return (to_planes(points, planes) - 0.010) / 0.001

    problem = _problem(
        [Solid("body", (box(*2 * half),))],
        [slab(point, out, at) for point, out in planes],
        (*start, 0, 0, 0),
        (span, span, span, 0, turn_span, turn_span),
    )
    pose = {"x": at[0], "y": at[1], "z": at[2], "pitch": np.radians(tilt[0]), "yaw": np.radians(tilt[1])}
    return Known("snug cavity", problem, (play - 0.010) / 0.001, pose, exact)


def trough(r=0.11, length=0.60, apex=(-0.3, 0.02, 0.10), lid=0.35, start=(-0.3, 0, 0.3)):
    """A cylinder in a V under a lid: its axis stands in the middle of the inscribed circle."""
    apex = np.asarray(apex)
    rho = lid * np.sin(np.pi / 4) / (1 + np.sin(np.pi / 4))
    root = np.sqrt(0.5)
    play = rho - r
    centre = apex + np.array([0, 0, lid - rho])
    planes = [
        (apex, np.array([0, root, -root])),
        (apex, np.array([0, -root, -root])),
        (apex + np.array([0, 0, lid]), np.array([0, 0, 1.0])),
        (apex + np.array([length / 2 + play, 0, 0]), np.array([1.0, 0, 0])),
        (apex - np.array([length / 2 + play, 0, 0]), np.array([-1.0, 0, 0])),
    ]

    def exact(pose):
        axis = turn_of(*pose[3:])[:, 0]
        lowest = min(
            float((at - pose[:3]) @ out - length / 2 * abs(axis @ out) - r * np.sqrt(max(1 - (axis @ out) ** 2, 0)))
            for at, out in planes
        )
        return (lowest - 0.010) / 0.001

    problem = _problem(
        [Solid("body", (cylinder(2 * r, length),))],
        [slab(point, out, centre) for point, out in planes],
        (*start, 0, 0, 0),
        (0.08, 0.08, 0.08, 0, 10, 10),
    )
    pose = {"x": centre[0], "y": centre[1], "z": centre[2], "pitch": 0, "yaw": 0}
    return Known("trough", problem, (play - 0.010) / 0.001, pose, exact)


def l_round_a_post():
    """An L round a post, in a room: the slack is shared between post and walls."""
    arms = [((0.17, -0.08, 0.0), (0.33, 0.08, 0.10)), ((-0.08, 0.17, 0.0), (0.08, 0.33, 0.10))]
    post = np.array([-0.2, -0.05, 0.5])
    walls = [(-0.27, (-1, 0, 0)), (-0.27, (0, -1, 0)), (0.55, (1, 0, 0)), (0.55, (0, 1, 0))]
    planes = [(post + abs(at) * np.array(out, float), np.array(out, float)) for at, out in walls]
    planes += [
        (np.array([-0.2, -0.05, 0.36]), np.array([0, 0, -1.0])),
        (np.array([-0.2, -0.05, 0.64]), np.array([0, 0, 1.0])),
    ]

    def exact(pose):
        turn = turn_of(*pose[3:])
        lowest = np.inf
        line = post + np.array([[0, 0, -0.4], [0, 0, 0.4]])
        samples = np.linspace(line[0], line[1], 4001)
        for centre, half in arms:
            points = (box_corners(np.array(half)) + centre) @ turn.T + pose[:3]
            lowest = min(lowest, to_planes(points, planes))
            local = (samples - pose[:3]) @ turn - centre
            outside = np.abs(local) - half
            to_axis = np.linalg.norm(np.maximum(outside, 0), axis=1) + np.minimum(outside.max(axis=1), 0)
            lowest = min(lowest, float(to_axis.min()) - 0.03)
        return (lowest - 0.010) / 0.001

    body = Solid("body", tuple(box(*(2 * np.array(half)), at=centre) for centre, half in arms))
    fixed = [cylinder(0.06, 0.8, post, along="z"), *(slab(at, out, post) for at, out in planes)]
    problem = _problem([body], fixed, (-0.15, 0, 0.5, 0, 0, 0), (0.2, 0.2, 0.06, 0, 5, 25))
    return Known("L round a post", problem, 30.0, {"x": -0.27, "y": -0.12, "z": 0.5, "pitch": 0, "yaw": 0}, exact)


def plate_between_bars():
    """A plate between three bars: it must pitch, as the widest slab between two of them and the third."""
    bars = np.array([[-0.35, 0.42], [0.35, 0.37], [0.065547286, 0.610878561]])
    half = np.array([0.60, 0.15, 0.06])
    planes = [(np.array([0, sign * 0.19, 0.5]), np.array([0, sign, 0.0])) for sign in (-1.0, 1.0)]

    def exact(pose):
        turn = turn_of(*pose[3:])
        points = box_corners(half) @ turn.T + pose[:3]
        lowest = to_planes(points, planes)
        for x, z in bars:
            samples = np.linspace([x, -0.5, z], [x, 0.5, z], 4001)
            outside = np.abs((samples - pose[:3]) @ turn) - half
            to_axis = np.linalg.norm(np.maximum(outside, 0), axis=1) + np.minimum(outside.max(axis=1), 0)
            lowest = min(lowest, float(to_axis.min()) - 0.02)
        return (lowest - 0.010) / 0.001

    fixed = [cylinder(0.04, 1.0, (x, 0, z), along="y") for x, z in bars]
    fixed += [slab(at, out, np.array([0, 0, 0.5]), 3.0) for at, out in planes]
    problem = _problem(
        [Solid("body", (box(*2 * half),))],
        fixed,
        (0.007837175, 0, 0.5, 0, 0, 0),
        (0, 0.04, 0.15, 0, 10, 5),
    )
    return Known("plate between bars", problem, 20.0, {"z": 0.504720, "pitch": np.arctan(0.05 / 0.70)}, exact)


def joint_angles():
    """Two joints of a shaft within a window of angles and alike; its mirror hits the roof.

    Two poses are equally good: shaft at pitch 4° with the gearbox parallel to the pinion (pitch 2°), or crossed with it (pitch
    6°, on the bound). Whichever of the two a search meets first is right; where it meets both it takes the crossed, lower one.
    """
    output, pinion = np.array([-0.45, 0, 0]), np.array([-2.0, 0, 0.32])
    pinion_axis = np.array([0.99939083, 0, -0.03489950])
    roof = 0.400587458

    def values(poses):
        turn = turn_of(poses[:, 3], poses[:, 4], poses[:, 5])
        start = turn @ output + poses[:, :3]
        shaft = pinion - start
        length = np.linalg.norm(shaft, axis=1)
        along = shaft / length[:, None]
        one = _angle(-turn[:, :, 0], along)
        two = _angle(along, -pinion_axis)
        return np.stack([one, one, two, two, one - two, two - one, length, length], axis=1)

    degrees = np.radians([1, 3, 1, 3, 0.5, 0.5])
    limits = np.array([*degrees, 1.185, 1.215])
    sides = np.array([1.0, -1, 1, -1, -1, -1, 1, -1])
    sigmas = np.array([*np.radians([0.25] * 4 + [0.125] * 2), 3.75e-3, 3.75e-3])
    names = (
        "front least",
        "front most",
        "rear least",
        "rear most",
        "difference",
        "difference back",
        "shortest",
        "longest",
    )
    block = Measures(names, values, limits, sides, sigmas, ("angle",) * 6 + ("length",) * 2)

    def exact(pose):
        margins = (values(pose[None])[0] - limits) * sides / sigmas
        points = box_corners(np.array([0.35, 0.12, 0.10])) @ turn_of(*pose[3:]).T + pose[:3]
        return min(float(margins.min()), (roof - float(points[:, 2].max()) - 0.010) / 0.001)

    problem = _problem(
        [Solid("gearbox", (box(0.70, 0.24, 0.20),))],
        [box(1.2, 1.2, 2 * SLAB, (-0.353, 0, roof + SLAB))],
        (-0.35, 0, 0.30, 0, 0, 0),
        (0.10, 0, 0.12, 0, 6, 0),
        (block,),
    )
    shaft, crossed = np.radians(4), np.radians(6)
    pose = {
        "x": -2 + 1.2 * np.cos(shaft) + 0.45 * np.cos(crossed),
        "z": 0.32 - 1.2 * np.sin(shaft) - 0.45 * np.sin(crossed),
        "pitch": crossed,
    }
    parallel = {"x": -0.353197268, "z": 0.220587458, "pitch": np.radians(2)}
    return Known("joint angles", problem, 4.0, pose, exact, 0.02, parallel)


def _angle(one, other):
    other = np.broadcast_to(other, one.shape)
    return np.arctan2(np.linalg.norm(np.cross(one, other), axis=-1), (one * other).sum(axis=-1))


def generated(seed):
    """A problem of random sizes, places and starts with its optimum by construction: cavity, trough, or held hull."""
    rng = np.random.default_rng(seed)
    at = rng.uniform([-0.6, -0.05, 0.3], [-0.2, 0.05, 0.5])
    start = at + rng.uniform(-0.05, 0.05, 3)
    tilt = rng.uniform(-4, 4, 2)
    if seed % 5 in {0, 1}:
        half, play = rng.uniform([0.2, 0.12, 0.08], [0.4, 0.25, 0.2]), rng.uniform(0.012, 0.030)
        return _renamed(f"cavity {seed}", snug_cavity(half, play, at, tilt, start, 0.12, 8.0))
    if seed % 5 in {2, 3}:
        lid = rng.uniform(0.25, 0.45)
        rho = lid * np.sin(np.pi / 4) / (1 + np.sin(np.pi / 4))
        apex = at - np.array([0, 0, lid - rho])
        return _renamed(
            f"trough {seed}", trough(rho - rng.uniform(0.012, 0.040), rng.uniform(0.4, 0.8), apex, lid, start)
        )
    return hull_in_a_cavity(seed, rng, at, start, tilt)


def _renamed(name, known):
    return replace(known, name=name)


def hull_in_a_cavity(seed, rng, at, start, tilt):
    """A hull that is the same on both sides of its middle, its angles held, between slabs at one play from its supports."""
    half, play = rng.uniform([0.2, 0.12, 0.08], [0.4, 0.25, 0.2]), rng.uniform(0.012, 0.030)
    points = rng.normal(size=(12, 3))
    points = points / np.linalg.norm(points, axis=1, keepdims=True) * half
    points = np.concatenate([points, -points])
    turn = turn_of(0, *np.radians(tilt))
    support = points.max(axis=0)
    planes = [
        (at + sign * (support[axis] + play) * turn[:, axis], sign * turn[:, axis])
        for axis in range(3)
        for sign in (-1, 1)
    ]

    def exact(pose):
        return (to_planes(points @ turn_of(*pose[3:]).T + pose[:3], planes) - 0.010) / 0.001

    problem = _problem(
        [Solid("body", (hull(points),))],
        [slab(point, out, at) for point, out in planes],
        (*start, 0, *tilt),
        (0.12, 0.12, 0.12, 0, 0, 0),
    )
    return Known(f"hull {seed}", problem, (play - 0.010) / 0.001, dict(zip("xyz", at, strict=True)), exact)


FIVE = (snug_cavity, trough, l_round_a_post, plate_between_bars, joint_angles)
GENERATED = range(20)
