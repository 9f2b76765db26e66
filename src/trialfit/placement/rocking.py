"""How a drivetrain moves on its mounts, in draws.

Answers   rocking    its states: turns and shifts in its own axes
          STATES     the same in words, in the same order
Not here  the place of the drivetrain (pose.py); solids that move by themselves
Symbols   lengths in m, angles in rad; x forward, y left, z up, as in pose.py
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from trialfit.handbook.arrays import Array

STATES = ("", "rolled with its left side up", "lifted", "rolled with its right side up", "sunk")


def rocking(roll: Array, heave: Array, across: Array, above: Array) -> tuple[list[Array], list[Array]]:
    """The states of a drivetrain on its mounts: turns (3, 3, draws) and shifts (3, draws), in the order of STATES.

    roll            how far it rolls to each side
    heave           how far it is lifted, and sinks
    across, above   where the axis lies about which it rolls, which is along x: left of the origin, and above it

    A point p goes to turn·p + shift; points of the axis stay where they are. A roll of ±3° sampled at its ends and middle
    underestimates the sweep of a point 0.5 m away by at most ρ(1 − cos(Δφ/2)) = 0.17 mm.

    >>> turns, shifts = rocking(*np.array([[0.1], [0.0], [0.02], [-0.3]]))
    >>> axis = np.array([0.0, 0.02, -0.3])
    >>> (turns[1][..., 0] @ axis + shifts[1][:, 0]).round(9).tolist()
    [0.0, 0.02, -0.3]
    """
    none = np.zeros(roll.shape)
    turns, shifts = [np.broadcast_to(np.eye(3)[..., None], (3, 3, *roll.shape))], [np.zeros((3, *roll.shape))]
    for sign in (1, -1):
        cos, sin = np.cos(roll), np.sin(sign * roll)
        turns.append(np.array([[none + 1, none, none], [none, cos, -sin], [none, sin, cos]]))
        shifts.append(np.array([none, across - cos * across + sin * above, above - sin * across - cos * above]))
        turns.append(turns[0])
        shifts.append(np.array([none, none, sign * heave]))
    return turns, shifts
