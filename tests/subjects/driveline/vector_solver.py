"""Cardan joints by bare vectors, to hold the program's answers against: no formula of the program is used here.

A joint turns the driven member so that the two pins of its cross stay square to each other: the driven pin is square to
the driving pin and to its own shaft. That is all; the rest is followed through one turn, step by step.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

STEPS = 720


def unit(inclination: float, heading: float = 0.0) -> np.ndarray:
    """A direction from two angles in degrees: down towards the rear, and to the left looking rearward.

    Axes along the drive: first rearward, second to the left of someone looking rearward, third up.
    """
    s, p = np.radians([inclination, heading])
    return np.array([np.cos(s) * np.cos(p), np.cos(s) * np.sin(p), -np.sin(s)])


def true_angle(before: np.ndarray, after: np.ndarray) -> float:
    """The angle between two directions, degrees."""
    return float(np.degrees(np.arctan2(np.linalg.norm(np.cross(before, after)), before @ after)))


def residual_angle(directions: Sequence[np.ndarray], twists: Sequence[float] = ()) -> float:
    """The angle of the one joint that would run as unevenly as the whole line, degrees.

    `directions` from gearbox output to pinion; `twists` of the tubes between, degrees, right-handed looking rearward.
    One joint at a small angle β swings its output by β²/4 twice a turn: the swing of the line, measured, gives β back.
    """
    return float(np.degrees(np.sqrt(4 * twice_a_turn(directions, twists))))


def twice_a_turn(directions: Sequence[np.ndarray], twists: Sequence[float] = ()) -> float:
    """How far the last member swings ahead and behind the first, twice a turn, in radians."""
    turn = np.linspace(0, 2 * np.pi, STEPS, endpoint=False)
    lag = _turn_of_last(directions, twists, turn) - turn
    return float(2 * np.abs(np.mean((lag - lag.mean()) * np.exp(-2j * turn))))


def _turn_of_last(directions: Sequence[np.ndarray], twists: Sequence[float], turn: np.ndarray) -> np.ndarray:
    pin = np.array([_about(directions[0], np.array([0.0, 0.0, 1.0]), angle) for angle in turn])
    for number, after in enumerate(directions[1:]):
        driven = np.cross(after, pin)
        pin = driven / np.linalg.norm(driven, axis=1, keepdims=True)
        if number < len(twists):
            pin = np.array([_about(after, one, np.radians(twists[number])) for one in pin])
    last = directions[-1]
    level = np.cross(last, [0.0, 0.0, 1.0])
    level /= np.linalg.norm(level)
    square = np.cross(last, level)
    return np.unwrap(np.arctan2(pin @ square, pin @ level))


def _about(axis: np.ndarray, vector: np.ndarray, angle: float) -> np.ndarray:
    """A vector made square to an axis and turned about it, right-handed (Rodrigues)."""
    square = vector - (vector @ axis) * axis
    square = square / np.linalg.norm(square)
    return square * np.cos(angle) + np.cross(axis, square) * np.sin(angle)
