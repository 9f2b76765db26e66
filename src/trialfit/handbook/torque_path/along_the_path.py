"""The largest torque on each element between clutch and wheels: limited by the engine, or by the tyres' grip.

Answers   from_engine             torque at each place, engine side: driving, or with a motor that brakes the car
          from_grip               torque at each place when the tyres slip, driving or braking by the motor
          governing               the smaller of both, and which it is
          half_shaft_share        what one half-shaft gets of its axle
          rating_at_input         a maker's rating, carried to the gearbox input
Not here  shocks (shocks.py); grip of an axle (gearing/traction.py, gearing/axle_grip.py), capacity of a shaft or clutch (torsion.py, clutch.py)
Symbols   T_e peak engine torque, i_g and i_f ratios, η_g and η_f efficiencies
          of gearbox and final drive, F grip force, r_d rolling radius, B bias ratio
Sources   [1] power balance

The smaller of the two loads an element: the engine cannot send more, the tyres cannot hold more. Look at reverse too: its
ratio is often the lowest in the box. Losses are counted as when driving; coasting they work the other way.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, plain, where

if TYPE_CHECKING:
    from numpy.typing import NDArray


@dataclass(frozen=True)
class Torques:
    """Torque along the drive [N·m]."""

    gearbox_input: Numbers
    """At clutch and gearbox input."""
    gearbox_output: Numbers
    """At gearbox output and prop shaft."""
    pinion: Numbers
    """At the pinion of the final drive: the same as the gearbox output."""
    axle: Numbers
    """At both wheels together."""


def from_engine(
    into_gearbox: Numbers,
    gearbox_ratio: Numbers,
    final_ratio: Numbers,
    gearbox_efficiency: Numbers = 1.0,
    final_efficiency: Numbers = 1.0,
    *,
    coasting: bool = False,
) -> Torques:
    """Torque at each place for what enters the gearbox; or, coasting, for what a motor brakes with: the wheels pay the losses.

        T·i_g·η_g at gearbox output and pinion,   T·i_g·η_g·i_f·η_f at the axle;   coasting: 1/η in place of η

    into_gearbox        T       N·m    ≥ 0
    gearbox_ratio       i_g     1      > 0
    final_ratio         i_f     1      > 0
    gearbox_efficiency  η_g     1      0 < η_g ≤ 1
    final_efficiency    η_f     1      0 < η_f ≤ 1
    coasting            the motor brakes the car    –
    returns             T       N·m    nan outside that range

    Steady: what the inertias take up or give back is left out. Source: power balance.

    >>> torques = from_engine(400.0, 3.2, 3.7, 0.96, 0.97)
    >>> f"{torques.pinion:.1f} N·m, {torques.axle:.0f} N·m: 400·3.2·0.96, ·3.7·0.97"
    '1228.8 N·m, 4410 N·m: 400·3.2·0.96, ·3.7·0.97'
    >>> f"{from_engine(100.0, 1.0, 8.0, 0.98, 0.97, coasting=True).axle:.0f} N·m: 100·8/(0.98·0.97)"
    '842 N·m: 100·8/(0.98·0.97)'
    """
    torque, *drive = as_floats(into_gearbox, gearbox_ratio, final_ratio, gearbox_efficiency, final_efficiency)
    sound = (torque >= 0) & _sound_drive(*drive)
    to_pinion, to_axle = _gains(sound, drive, coasting=coasting)
    pinion = where(sound, torque * to_pinion)
    return Torques(where(sound, torque), pinion, pinion, where(sound, torque * to_pinion * to_axle))


def from_grip(
    grip_force: Numbers,
    rolling_radius: Numbers,
    gearbox_ratio: Numbers,
    final_ratio: Numbers,
    gearbox_efficiency: Numbers = 1.0,
    final_efficiency: Numbers = 1.0,
    *,
    coasting: bool = False,
) -> Torques:
    """Torque at each place at which the driven tyres slip; or, coasting, at which they slip under a motor that brakes.

        F·r_d at the axle,   F·r_d/(i_f·η_f) at the pinion,   F·r_d/(i_g·η_g·i_f·η_f) at the gearbox input;   coasting: 1/η for η

    grip_force          F, of the driven tyres     N      ≥ 0
    rolling_radius      r_d                        m      > 0
    gearbox_ratio       i_g                        1      > 0
    final_ratio         i_f                        1      > 0
    gearbox_efficiency  η_g                        1      0 < η_g ≤ 1
    final_efficiency    η_f                        1      0 < η_f ≤ 1
    coasting            the motor brakes the car   –
    returns             T                          N·m    nan outside that range

    Steady slip: what the wheels' inertia takes up before is left out. Source: power balance.

    >>> torques = from_grip(7296.0, 0.31, 3.2, 3.7, 0.96, 0.97)
    >>> f"{torques.axle:.1f} N·m, {torques.pinion:.1f} N·m: 7296·0.31, /(3.7·0.97)"
    '2261.8 N·m, 630.2 N·m: 7296·0.31, /(3.7·0.97)'
    >>> f"{from_grip(3000.0, 0.30, 1.0, 8.0, 0.98, 0.97, coasting=True).gearbox_input:.0f} N·m: 900·0.97·0.98/8"
    '107 N·m: 900·0.97·0.98/8'
    """
    force, radius, *drive = as_floats(
        grip_force, rolling_radius, gearbox_ratio, final_ratio, gearbox_efficiency, final_efficiency
    )
    sound = (force >= 0) & (radius > 0) & _sound_drive(*drive)
    to_pinion, to_axle = _gains(sound, drive, coasting=coasting)
    wheels = force * radius
    pinion = where(sound, wheels / to_axle)
    return Torques(where(sound, wheels / to_axle / to_pinion), pinion, pinion, where(sound, wheels))


def governing(engine_side: Numbers, grip_side: Numbers) -> tuple[Numbers, NDArray[np.bool_]]:
    """The torque on an element, and whether the tyres' grip sets it.

        T = min(engine side, grip side)

    engine_side   N·m    any
    grip_side     N·m    any
    returns       N·m, and True where the grip is the smaller; nan where either is nan

    Source: power balance.

    >>> torque, by_grip = governing(1228.8, 630.2)
    >>> f"{torque:.1f} N·m, by grip: {by_grip}"
    '630.2 N·m, by grip: True'
    """
    engine_side, grip_side = as_floats(engine_side, grip_side)
    return plain(np.minimum(engine_side, grip_side)), np.asarray(grip_side < engine_side)


def half_shaft_share(differential: str, bias_ratio: Numbers = 1.0) -> Numbers:
    """Share of the axle's torque that one half-shaft can get.

        open 1/2;   limited slip max(B, 1)/(1 + B);   locked 1

    differential   "open", "limited slip" or "locked"         –
    bias_ratio     B, gripping over slipping wheel            1     > 0; read for limited slip only
    returns        share                                      1     nan outside that range

    The wheel that gets the more: a B below 1, such as the tail of one that is not well known, favours the other wheel.
    Locked: one wheel may hold everything while the other is in the air; what it can hold is traction.best_wheel_share.
    Errors: ValueError for another word. Source: power balance.

    >>> f"{half_shaft_share('open'):.2f}, {half_shaft_share('limited slip', 3.0):.2f}, {half_shaft_share('locked'):.2f}"
    '0.50, 0.75, 1.00'
    """
    if differential == "open":
        return 0.5
    if differential == "locked":
        return 1.0
    if differential != "limited slip":
        raise ValueError(f'"{differential}" is an unknown differential: expected open, limited slip or locked')
    (bias,) = as_floats(bias_ratio)
    sound = bias > 0
    return where(sound, np.maximum(bias, 1.0) / np.where(sound, 1 + bias, 1.0))


def rating_at_input(
    rating: Numbers,
    gearbox_ratio: Numbers = 1.0,
    final_ratio: Numbers = 1.0,
    gearbox_efficiency: Numbers = 1.0,
    final_efficiency: Numbers = 1.0,
) -> Numbers:
    """A maker's rating for a place further along, as the torque at the gearbox input that reaches it.

        T = rating/(i_g·η_g·i_f·η_f)

    rating              at its place                         N·m    ≥ 0
    gearbox_ratio       i_g, 1 where the rating is before    1      > 0
    final_ratio         i_f, 1 where the rating is before    1      > 0
    gearbox_efficiency  η_g                                  1      0 < η_g ≤ 1
    final_efficiency    η_f                                  1      0 < η_f ≤ 1
    returns             T                                    N·m    nan outside that range

    Source: power balance.

    >>> f"{rating_at_input(1250.0, gearbox_ratio=3.6, gearbox_efficiency=0.965):.0f} N·m: 1250/(3.6·0.965)"
    '360 N·m: 1250/(3.6·0.965)'
    """
    rating, *drive = as_floats(rating, gearbox_ratio, final_ratio, gearbox_efficiency, final_efficiency)
    sound = (rating >= 0) & _sound_drive(*drive)
    return where(sound, rating / np.where(sound, np.prod(np.broadcast_arrays(*drive), axis=0), 1.0))


def _gains(
    sound: NDArray[np.bool_], drive: list[NDArray[np.float64]], *, coasting: bool
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Torque behind the gearbox over that at its input, and at the axle over that at the pinion; 1 where no drive is sound."""
    gear, final, box, axle = (np.where(sound, one, 1.0) for one in drive)
    return (gear / box, final / axle) if coasting else (gear * box, final * axle)


def _sound_drive(
    gear: NDArray[np.float64], final: NDArray[np.float64], box: NDArray[np.float64], axle: NDArray[np.float64]
) -> NDArray[np.bool_]:
    """Whether ratios and efficiencies can belong to a drive."""
    return np.asarray((gear > 0) & (final > 0) & (box > 0) & (box <= 1) & (axle > 0) & (axle <= 1))
