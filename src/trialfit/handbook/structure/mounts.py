"""Mounts of engine and gearbox: what each carries, from weight, load factors and the torque in the lowest gear.

Answers   torque_on_mounts     of the unit, in line or across the car
          upright_loads        of any number of mounts, by statics where there are three
          in_one_line          whether the mounts that are left can still hold the unit level
          rock_on_mounts       how far a unit rocks under a torque
          elastic_centre       where the axis is that it rocks about
          load_cases           the load factors at their worst; everyday_load_cases    those that come again and again
Not here  stress of brackets and welds (brackets.py, weld_lines.py)
Symbols   N force of a mount on the unit, upwards positive; M_x moment about the forward axis, M_y about the leftward axis;
          i_g gearbox ratio, i_f final drive; k stiffness
Axes      ISO 8855: x forward, y left, z up; a moment about x positive lifts the left side
Sources   [1] statics; load factors are common practice, no source (tables/mount_load_cases.csv);
          everyday ones from memory (tables/everyday_load_cases.csv)
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, where
from trialfit.handbook.tables import rows

CRASH_FACTOR = 10.0
"""Deceleration in g that the mounts must hold the unit against once, without parting: common practice, no source."""

LEAST_TRIANGLE = 0.1
"""Smaller over larger spread of the mounts, below which they count as standing in one line: a choice, no source."""


@dataclass(frozen=True)
class LoadCase:
    """One row of load factors: what the unit weighs with, in g, downwards, forwards and to the left, and the share of the torque."""

    name: str
    down: float
    forward: float
    left: float
    torque: float


@cache
def load_cases() -> tuple[LoadCase, ...]:
    """The load cases of a mount.

    returns   LoadCase rows; forward 1 is braking at 1 g: the unit presses forwards

    The gravity of the car at rest is inside `down`. Source: common practice, no source.

    >>> [case.name for case in load_cases()][:3]
    ['bump', 'rebound', 'braking']
    """
    return _cases("mount_load_cases")


@cache
def everyday_load_cases() -> tuple[LoadCase, ...]:
    """The load cases of a mount that come again and again in use: the torque is that of the engine, without a shock.

    returns   LoadCase rows

    Source: from memory: 2 g up and down, 1 g along and ½ g across for fatigue of chassis points; along is halved here, as the
    everyday stop is.

    >>> [case.name for case in everyday_load_cases()][:2]
    ['everyday bump', 'everyday rebound']
    """
    return _cases("everyday_load_cases")


def _cases(table: str) -> tuple[LoadCase, ...]:
    columns = ("down_g", "forward_g", "left_g", "torque_share")
    return tuple(LoadCase(row["name"], *(float(row[column]) for column in columns)) for row in rows("structure", table))


def torque_on_mounts(crank_torque: Numbers, gearbox_ratio: Numbers, final_ratio: Numbers = 1.0) -> Numbers:
    """Torque that the mounts of a unit hold.

        T = T_crank·i_g (in line, about x),   T_crank·i_g·i_f (across, with its final drive inside, about y)

    crank_torque   T_crank                                    N·m    any
    gearbox_ratio  i_g, of the lowest gear or reverse         1      > 0
    final_ratio    i_f, 1 where the final drive is elsewhere  1      > 0
    returns        T                                          N·m    nan outside that range

    The reaction of an in-line unit stays about x: the axle takes T·i_f about y and the prop shaft's torque about x.
    Losses are left out, which is on the safe side. Source: statics.

    >>> f"{torque_on_mounts(400.0, 3.2):.0f} N·m, {torque_on_mounts(200.0, 3.5, 4.0):.0f} N·m"
    '1280 N·m, 2800 N·m'
    """
    torque, gear, final = as_floats(crank_torque, gearbox_ratio, final_ratio)
    return where((gear > 0) & (final > 0), torque * gear * final)


def upright_loads(
    x: Numbers,
    y: Numbers,
    stiffness: Numbers,
    down: Numbers,
    at_x: Numbers,
    at_y: Numbers,
    about_x: Numbers,
    about_y: Numbers,
) -> Numbers:
    """Upward force of each mount on a rigid unit.

        N_i = k_i·(a + b·y_i − c·x_i) with ΣN = W,  Σ N·y = W·y_g − M_x,  −Σ N·x = −W·x_g − M_y

    x, y          of the mounts, along the last axis               m      any
    stiffness     k upright, the same                              N/m    > 0
    down          W, the load downwards                            N      any
    at_x, at_y    x_g, y_g, where it acts                          m      any
    about_x       M_x, of other loads on the unit                  N·m    any
    about_y       M_y, the same                                    N·m    any
    returns       N, mounts along the last axis                    N      nan where the mounts stand in one line

    With three mounts it is statics and stiffness drops out; with more the stiffer takes more. Source: statics; springs in
    parallel.

    >>> loads = upright_loads(np.array([0.0, 0.0, -1.0]), np.array([0.3, -0.3, 0.0]), np.ones(3), 2000.0, -0.4, 0.0, 0.0, 0.0)
    >>> [round(float(load)) for load in loads]
    [600, 600, 800]
    """
    x, y, stiffness = np.broadcast_arrays(*as_floats(x, y, stiffness))
    down, at_x, at_y, about_x, about_y = np.broadcast_arrays(*as_floats(down, at_x, at_y, about_x, about_y))
    shape = np.broadcast_shapes(x.shape[:-1], down.shape)
    mounts = np.stack([np.ones(x.shape), y, -x], axis=-2)  # (..., 3, mounts)
    sound = np.all(stiffness > 0, axis=-1) & ~np.asarray(in_one_line(x, y))
    whole = np.einsum("...am,...m,...bm->...ab", mounts, stiffness, mounts)
    whole = np.where(sound[..., None, None], whole, np.eye(3))
    load = np.stack([down, down * at_y - about_x, -down * at_x - about_y], axis=-1)
    # Inverted once for all loads on the same mounts; those in one line, for which that would be inexact, are out by now.
    moved = np.einsum("...ab,...b->...a", np.linalg.inv(whole), load)
    forces = stiffness * np.einsum("...am,...a->...m", mounts, moved)
    return where(np.broadcast_to(sound, shape)[..., None], forces)


STRAIGHT = 0.3
"""Rock up to which a mount's stiffness is taken as one figure, rad: a choice, no source. Beyond it any mount is on its stop."""


def elastic_centre(places: Numbers, stiffness: Numbers) -> Numbers:
    """Where springs in parallel carry a load without turning.

        b₀ = Σ k·b / Σ k

    places     b, of the mounts along one axis, mounts along the last axis    m      any
    stiffness  k upright, the same                                            N/m    > 0
    returns    b₀                                                             m      nan outside that range

    Source: statics of springs in parallel.

    >>> f"{elastic_centre([0.3, -0.3], [300e3, 100e3]):.2f} m"
    '0.15 m'
    """
    places, stiffness = as_floats(places, stiffness)
    whole = stiffness.sum(axis=-1)
    sound = np.all(stiffness > 0, axis=-1)
    return where(sound, (stiffness * places).sum(axis=-1) / np.where(sound, whole, 1.0))


def rock_on_mounts(torque: Numbers, places: Numbers, stiffness: Numbers) -> Numbers:
    """How far a unit rocks on its mounts under a torque about an axis in the plane of the mounts.

        φ = T / Σ k·(b − b₀)²

    torque     T, about the axis                                                  N·m    any
    places     b, of the mounts square to that axis, mounts along the last axis   m      any
    stiffness  k upright, the same                                                N/m    > 0
    returns    φ                                                                  rad    nan outside that range and beyond 0.3

    Small turns; the mounts' own stiffness sideways, which makes it less, is left out, and so are stops. nan where the mounts
    stand in one line along the axis. Source: statics of springs in parallel.

    >>> f"{np.degrees(rock_on_mounts(962.0, [0.2, -0.2], [90e3, 90e3])):.1f}°"
    '7.7°'
    """
    torque, places, stiffness = as_floats(torque, places, stiffness)
    levers = places - np.expand_dims(elastic_centre(places, stiffness), -1)
    rate = (stiffness * levers**2).sum(axis=-1)
    sound = np.all(stiffness > 0, axis=-1) & (rate > 0)
    rock = torque / np.where(sound, rate, 1.0)
    return where(sound & (np.abs(rock) <= STRAIGHT), rock)


def in_one_line(x: Numbers, y: Numbers) -> np.ndarray:
    """Whether points, along the last axis, stand so nearly in one line that they cannot hold a unit level.

        smaller over larger root mean square distance from the two main axes of the points < 0.1

    x, y      of the points     m
    returns   True or False for each draw; True for fewer than three points

    Source: statics; the 0.1 is a choice, no source.

    >>> bool(in_one_line([0.0, 0.0], [0.3, -0.3])), bool(in_one_line([0.0, 0.0, -1.0], [0.3, -0.3, 0.0]))
    (True, False)
    """
    along, across = as_floats(x, y)
    if along.shape[-1] < 3:  # noqa: PLR2004 - a plane stands on three points
        return np.ones(along.shape[:-1], bool)
    along = along - along.mean(axis=-1, keepdims=True)
    across = across - across.mean(axis=-1, keepdims=True)
    middle = ((along**2).mean(axis=-1) + (across**2).mean(axis=-1)) / 2
    apart = np.hypot(((along**2).mean(axis=-1) - (across**2).mean(axis=-1)) / 2, (along * across).mean(axis=-1))
    return np.asarray(middle - apart < LEAST_TRIANGLE**2 * (middle + apart))
