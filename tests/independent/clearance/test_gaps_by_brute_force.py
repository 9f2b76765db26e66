"""The smallest gap over all movements by brute force: every state of a grid, every point of edges, plain numpy.

Truth     Two bodies, boxes or bars with round ends, one on a drivetrain that rocks, heaves and goes forth and back, one on the car
          that travels along three axes, each possibly with its own way back. All states with every movement at either end
          and then some hundred about the best of them, ever closer. In each state the gap of two boxes that are apart is that of
          an edge of one to the other box, as edges hold the corners: points every 4 mm along all edges against a box in closed
          form, both ways. A bar with round ends is its middle line with a radius.
Worst     Asserted to 1.5 mm. Of 650 scenes 98 % agree within 0.3 mm and two are 0.9 mm off: the program leaves out a state between
          the ends that is nearer by less than 0.2 mm, looks at a rock mostly by its ends, 0.2 mm for 3° at 0.5 m, and looks for the
          place where bodies pass by trial. Where they overlap, only that is compared.
"""

from __future__ import annotations

import itertools
import sys
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from thorough import some

from trialfit.book import read_text
from trialfit.evaluation.evaluation import Evaluation
from trialfit.subjects.clearance.gaps import gap_between
from trialfit.subjects.clearance.pairs import the_pairs

WORST = 1.5e-3
STEP = 4e-3
LIMIT = 12e-3
"""Of two plain bodies; scenes are made so that as many keep it as do not."""


def turned(roll, drop, left):
    """Left side up by `roll`, its rear down by `drop`, its nose to the left by `left`: three turns one after the other, (..., 3, 3)."""
    roll, pitch, left = np.broadcast_arrays(*np.atleast_1d(roll, -np.asarray(drop), left))
    turns = []
    for angle, (one, two) in ((left, (0, 1)), (pitch, (2, 0)), (roll, (1, 2))):
        about = np.tile(np.eye(3), (angle.size, 1, 1))
        about[:, one, one] = about[:, two, two] = np.cos(angle)
        about[:, one, two], about[:, two, one] = -np.sin(angle), np.sin(angle)
        turns.append(about)
    return turns[0] @ turns[1] @ turns[2]


@dataclass
class Thing:
    """A body with its place in the axes of what it is fixed to: half sizes of a box, with a radius about it for a bar."""

    half: np.ndarray
    radius: float
    place: np.ndarray
    angles: np.ndarray
    travel: np.ndarray  # (3, 2): forth and back

    @cached_property
    def edges(self):
        """Points every 4 mm along all its edges, in its own axes."""
        points = []
        for axis in range(3):
            along = np.linspace(-1, 1, int(2 * self.half[axis] / STEP) + 2)
            for signs in itertools.product((-1, 1), repeat=2):
                line = np.empty((along.size, 3))
                line[:, axis] = along
                line[:, [n for n in range(3) if n != axis]] = signs
                points.append(line * self.half)
        return np.concatenate(points)

    def text(self, name, fixed_to):
        """It as a table of a build."""
        length, width, height = 2 * self.half * 1000
        sizes = f'length = "{length} ± 0 mm"\nwidth = "{width} ± 0 mm"\nheight = "{height} ± 0 mm"\n'
        if self.radius:
            whole, thick = 2 * (self.half[0] + self.radius) * 1000, 2 * self.radius * 1000
            sizes = f'shape = "capsule"\naxis = "x"\nlength = "{whole} ± 0 mm"\ndiameter = "{thick} ± 0 mm"\n'
        angles = zip(("roll", "inclination", "heading"), np.degrees(self.angles), strict=True)
        ways = (("travel_x", "travel_back"), ("travel_y", "travel_right"), ("travel_z", "travel_down"))
        travels = [
            (n, v) for names, values in zip(ways, self.travel, strict=True) for n, v in zip(names, values, strict=True)
        ]
        lines = [f'{axis} = "{at * 1000} ± 0 mm"' for axis, at in zip("xyz", self.place, strict=True)]
        lines += [f'{angle} = "{value} ± 0 deg"' for angle, value in angles]
        lines += [f'{way} = "{value * 1000} ± 0 mm"' for way, value in travels if value]
        return f'[{name}]\nkind = "solid"\nfixed_to = "{fixed_to}"\n{sizes}' + "\n".join(lines) + "\n"


@dataclass
class Scene:
    """Both, and how the drivetrain sits and moves: rock about x or y through `axis`, heave, fore and aft."""

    ours: Thing
    theirs: Thing
    pose: np.ndarray
    tilt: np.ndarray
    moves: np.ndarray
    axis: np.ndarray
    across: bool

    def build(self):
        """The scene as a build."""
        x, y, z = self.pose * 1000
        roll, drop, left = np.degrees(self.tilt)
        axis = [f'roll_axis_{name} = "{value * 1000} ± 0 mm"' for name, value in zip("xyz", self.axis, strict=True)]
        return read_text(
            f'[power_unit]\nlayout = "{"transverse" if self.across else "longitudinal"}"\n[drivetrain]\n'
            f'x = "{x} ± 0 mm"\ny = "{y} ± 0 mm"\nz = "{z} ± 0 mm"\nroll = "{roll} ± 0 deg"\ninclination = "{drop} ± 0 deg"\n'
            f'heading = "{left} ± 0 deg"\nrock = "{np.degrees(self.moves[0])} ± 0 deg"\nheave = "{self.moves[1] * 1000} ± 0 mm"\n'
            f'fore_aft = "{self.moves[2] * 1000} ± 0 mm"\n'
            + "\n".join(axis)
            + "\n"
            + self.ours.text("ours", "drivetrain")
            + self.theirs.text("theirs", "car")
        )

    def gap(self, shares):
        """The gap in each of some states, (n,), by the share of each movement that is gone: three of the drivetrain, three of theirs."""
        rock = shares[:, 0] * self.moves[0]
        on_mounts = turned(0, -rock, 0) if self.across else turned(rock, 0, 0)
        lift = np.stack([shares[:, 2] * self.moves[2], 0 * rock, shares[:, 1] * self.moves[1]], axis=-1)
        sits, there = turned(*self.tilt)[0], turned(*self.theirs.angles)[0]
        place = (on_mounts @ (self.ours.place - self.axis) + self.axis + lift) @ sits.T + self.pose
        turn = sits @ on_mounts @ turned(*self.ours.angles)[0]
        gone = np.where(shares[:, 3:] > 0, self.theirs.travel[:, 0], self.theirs.travel[:, 1]) * shares[:, 3:]
        return apart(self.ours, self.theirs, there.T @ turn, (place - self.theirs.place - gone) @ there)

    def smallest(self, rng):
        """Over a grid of all movements, then about the best state found, ever closer."""
        moves = [*self.moves, *self.theirs.travel.max(axis=1)]
        grid = np.array(list(itertools.product(*((-1, 1) if move else (0,) for move in moves))), float)
        gaps = self.gap(grid)
        best, least = grid[gaps.argmin()], gaps.min()
        for reach in (2.0, 1.0, 1.0, 0.5, 0.25, 0.1, 0.05, 0.02):
            near = np.clip(
                best
                + rng.uniform(-reach, reach, (40, 6))
                * (rng.random((40, 6)) < 0.7)
                * np.array([bool(move) for move in moves]),
                -1,
                1,
            )
            gaps = self.gap(near)
            if gaps.min() < least:
                best, least = near[gaps.argmin()], gaps.min()
        return least


def apart(one, other, turn, shift):
    """The gap of two things in states (n,), the first carried into the axes of the second; none or less where an edge of one enters the other."""
    here = one.edges @ turn.transpose(0, 2, 1) + shift[:, None]
    back = (other.edges - shift[:, None]) @ turn
    gaps = [
        np.sqrt(np.square(np.maximum(np.abs(points) - half, 0)).sum(axis=2).min(axis=1))
        for points, half in ((here, other.half), (back, one.half))
    ]
    return np.minimum(*gaps) - one.radius - other.radius


def thing(rng, *, travels):
    radius = rng.uniform(0.01, 0.03) if rng.random() < 0.4 else 0.0
    half = np.array([rng.uniform(0.04, 0.2), 1e-6, 1e-6]) if radius else rng.uniform(0.01, 0.1, 3)
    travel = rng.uniform(0.0, 0.07, (3, 2)) * (rng.random((3, 1)) < 0.6) if travels else np.zeros((3, 2))
    return Thing(half, radius, rng.uniform(-0.2, 0.2, 3), rng.uniform(-0.4, 0.4, 3), travel)


def scene(rng):
    """A scene whose bodies at rest are a little further apart than they move."""
    moves = rng.uniform([0.01, 0.0, 0.0], [0.09, 0.012, 0.012]) * (rng.random(3) < 0.8)
    pose = np.array([rng.uniform(-0.3, 0.3), rng.uniform(-0.1, 0.1), 0.5])
    axis = rng.uniform(-0.05, 0.05, 3)
    made = Scene(
        thing(rng, travels=False),
        thing(rng, travels=True),
        pose,
        rng.uniform(-0.08, 0.08, 3),
        moves,
        axis,
        rng.random() < 0.5,
    )
    way = rng.normal(size=3)
    way /= np.linalg.norm(way)
    low, high = 0.0, 1.2
    wanted = rng.uniform(0.0, 0.09)
    while high - low > 1e-3:  # away from ours along a line until they are so far apart at rest
        middle = (low + high) / 2
        made.theirs.place = pose + way * middle
        low, high = (low, middle) if made.gap(np.zeros((1, 6)))[0] > wanted else (middle, high)
    return made


def test_no_state_of_two_moving_bodies_is_nearer_than_the_program_says():
    rng = np.random.default_rng(4107)
    each, kept, short, overlapping, worst = some(220), 0, 0, 0, 0.0
    while min(kept, short) < each:
        made = scene(rng)
        truth = made.smallest(rng)
        if (kept if truth >= LIMIT else short) >= each:
            continue
        build = made.build()
        (pair,) = the_pairs(build)
        found = float(gap_between(Evaluation(build, 1), pair).values[0].min())
        kept, short = kept + (truth >= LIMIT), short + (truth < LIMIT)
        if truth <= 0 or found <= 0:
            overlapping += 1
            assert max(truth, found) < WORST, (found, truth)
            continue
        worst = max(worst, abs(found - truth))
        assert abs(found - truth) < WORST, (found, truth)
    sys.stdout.write(f"{kept} scenes keep 12 mm, {short} do not, {overlapping} overlap; worst {worst * 1e3:.2f} mm\n")
    assert overlapping < short
