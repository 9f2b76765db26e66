"""How a drivetrain moves on its mounts, in draws: it rocks, goes up and down, and forward and back, all of it at once.

Answers   Motion      how far it goes each way, and about which axis it rocks
          rocking     its states by their levels: turns and shifts in its own axes
          in_words    a level as it is said
          corners     the levels that decide: at rest, and every movement at either end together with every other
Not here  where the drivetrain is (pose.py); solids that travel by themselves; how far it rocks (subjects/clearance/mounted.py)
Symbols   lengths in m, angles in rad; x forward, y left, z up, as in pose.py. A level gives for each movement the share of it
          that is gone, from −1 to 1: (rocked, lifted, moved forward)
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence

    from trialfit.handbook.arrays import Array

Level = tuple[float, ...]
ALONG, ACROSS = 0, 1
"""The axes that it may rock about: along the car, and across it."""

_ROCKED = {
    ALONG: ("rolled with its left side up", "rolled with its right side up"),
    ACROSS: ("pitched with its front down", "pitched with its front up"),
}
_SHIFTED = (("lifted", "sunk"), ("moved forward", "moved back"))


@dataclass(frozen=True, eq=False)
class Motion:
    """What a drivetrain does on its mounts; arrays are (draws,) and `at` (3, draws), in its own axes.

    rock      how far it rocks to each side, about an axis ALONG or ACROSS through `at`
    heave     how far it is lifted, and sinks; `fore_aft` how far it moves forward, and back
    """

    rock: Array
    heave: Array
    fore_aft: Array
    at: Array
    axis: int = ALONG

    @property
    def moves(self) -> tuple[bool, ...]:
        """Which of the three it does at all."""
        return tuple(bool(each.any()) for each in (self.rock, self.heave, self.fore_aft))


def rocking(motion: Motion, levels: Sequence[Level]) -> tuple[Array, Array]:
    """The states of a drivetrain on its mounts: turns (3, 3, states, draws) and shifts (3, states, draws).

    A point p goes to turn·p + shift; points of the axis stay where they are. A roll of ±3° sampled at its ends and middle
    underestimates the sweep of a point 0.5 m away by at most ρ(1 − cos(Δφ/2)) = 0.17 mm.

    >>> motion = Motion(*np.array([[0.1], [0.0], [0.0]]), at=np.array([[0.0], [0.02], [-0.3]]))
    >>> turns, shifts = rocking(motion, [(1.0, 0.0, 0.0)])
    >>> (turns[..., 0, 0] @ [0.5, 0.02, -0.3] + shifts[:, 0, 0]).round(9).tolist()
    [0.5, 0.02, -0.3]
    """
    gone = np.asarray(levels, float)
    angle = gone[:, 0, None] * motion.rock
    cos, sin = np.cos(angle), np.sin(angle)
    one, two = ((1, 2), (2, 0))[motion.axis]  # a turn about the axis takes the first of these towards the second
    turns = np.zeros((3, 3, *angle.shape))
    turns[motion.axis, motion.axis] = 1.0
    turns[one, one], turns[two, two], turns[one, two], turns[two, one] = cos, cos, -sin, sin
    at = motion.at[:, None]
    shifts = at - np.einsum("ijsd,jkd->isd", turns, at)
    shifts[2] += gone[:, 1, None] * motion.heave
    shifts[0] += gone[:, 2, None] * motion.fore_aft
    return turns, shifts


def in_words(motion: Motion, level: Level) -> str:
    """A level in words: "rolled with its left side up, lifted"; nothing at rest.

    >>> none = np.zeros(1)
    >>> in_words(Motion(none, none, none, np.zeros((3, 1))), (-1.0, 1.0, 0.0))
    'rolled with its right side up, lifted'
    """
    pairs = (_ROCKED[motion.axis], *_SHIFTED)
    return ", ".join(said for gone, pair in zip(level, pairs, strict=True) if (said := word(gone, pair)))


def word(gone: float, pair: tuple[str, str]) -> str:
    """One movement in words by the share that is gone, of the words for either end of it.

    >>> word(1.0, ("lifted", "sunk")), word(-0.5, ("lifted", "sunk")), word(0.0, ("lifted", "sunk"))
    ('lifted', 'partly sunk', '')
    """
    if not gone:
        return ""
    said = pair[0] if gone > 0 else pair[1]
    return said if abs(gone) == 1 else f"partly {said}"


def corners(moves: Sequence[bool]) -> tuple[Level, ...]:
    """At rest, and every movement that there is at either end, all of them at once.

    The distance of two convex bodies is convex in how far one is shifted: between the ends of its movements it is nowhere larger
    than at one of them, and smaller only where one passes the other.

    >>> corners((True, False))
    ((0.0, 0.0), (1.0, 0.0), (-1.0, 0.0))
    """
    at_rest: Level = (0.0,) * len(moves)
    if not any(moves):
        return (at_rest,)
    return (at_rest, *product(*((1.0, -1.0) if each else (0.0,) for each in moves)))
