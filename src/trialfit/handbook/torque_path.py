"""What each element between clutch and wheels can see: what the engine sends, or what the tyres hold against it.

Answers   torque_into_gearbox     the most that comes through the clutch
          from_engine             torque at each place, engine side
          from_grip               torque at each place when the tyres slip
          governing               the smaller of both, and which it is
          half_shaft_share        what one half-shaft carries
          rating_at_input         a maker's rating, carried to the gearbox input
Not here  grip (traction.py), what a shaft can carry (torsion.py)
Symbols   T_e peak engine torque, k_s shock factor, S_c clutch capacity over T_e, i_g and i_f ratios, η_g and η_f
          efficiencies, F grip force of the axle, r_d rolling radius, B bias ratio
Sources   [1] power balance   [2] cardan-shaft maker's guide to dimensioning, shock factors; petrol 1.25 to 2 from memory

Each element sees the smaller of two torques: the engine cannot send more, the tyres do not hold more.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, where

if TYPE_CHECKING:
    from numpy.typing import NDArray


@dataclass(frozen=True)
class Torques:
    """Torque at the four places along the drive [N·m]."""

    gearbox_input: Numbers
    """At clutch and gearbox input."""
    gearbox_output: Numbers
    """At gearbox output and prop shaft."""
    pinion: Numbers
    """At the pinion of the final drive: the same as the gearbox output."""
    axle: Numbers
    """At both wheels together."""


def torque_into_gearbox(engine_torque: Numbers, clutch_capacity: Numbers, shock_factor: Numbers = 1.0) -> Numbers:
    """The most that comes through the clutch.

        T_c = max(k_s·T_e, S_c·T_e) with S_c·T_e the clutch capacity

    engine_torque     T_e, peak         N·m   ≥ 0
    clutch_capacity   of the clutch     N·m   ≥ 0; 0 where it is not known
    shock_factor      k_s               1     ≥ 1
    returns           T_c               N·m   nan outside that range

    A dropped clutch delivers up to its capacity whatever the engine makes: the flywheel pays.
    Source: power balance; shock factors from a cardan-shaft maker's guide (1 for electric motors) and from memory.

    >>> f"{torque_into_gearbox(265.0, 380.0, 1.2):.0f} N·m"
    '380 N·m'
    """
    torque, capacity, shock = as_floats(engine_torque, clutch_capacity, shock_factor)
    sound = (torque >= 0) & (capacity >= 0) & (shock >= 1)
    return where(sound, np.maximum(torque * shock, capacity))


def from_engine(
    into_gearbox: Numbers,
    gearbox_ratio: Numbers,
    final_ratio: Numbers,
    gearbox_efficiency: Numbers = 1.0,
    final_efficiency: Numbers = 1.0,
) -> Torques:
    """Torque at each place for what enters the gearbox.

        T·i_g·η_g at the output,   T·i_g·η_g·i_f·η_f at the axle

    into_gearbox        T                N·m   ≥ 0
    gearbox_ratio       i_g              1     > 0
    final_ratio         i_f              1     > 0
    gearbox_efficiency  η_g              1     0 < η ≤ 1
    final_efficiency    η_f              1     0 < η ≤ 1
    returns             Torques          N·m   nan outside that range

    Source: power balance.

    >>> torques = from_engine(400.0, 3.2, 3.7, 0.96, 0.97)
    >>> f"{torques.gearbox_output:.1f} N·m, {torques.axle:.0f} N·m"
    '1228.8 N·m, 4410 N·m'
    """
    torque, gear, final, box, axle = as_floats(
        into_gearbox, gearbox_ratio, final_ratio, gearbox_efficiency, final_efficiency
    )
    sound = (torque >= 0) & _sound_drive(gear, final, box, axle)
    output = torque * gear * box
    return Torques(
        where(sound, torque), where(sound, output), where(sound, output), where(sound, output * final * axle)
    )


def from_grip(
    grip_force: Numbers,
    rolling_radius: Numbers,
    gearbox_ratio: Numbers,
    final_ratio: Numbers,
    gearbox_efficiency: Numbers = 1.0,
    final_efficiency: Numbers = 1.0,
) -> Torques:
    """Torque at each place at which the driven tyres slip.

        F·r_d at the axle,   F·r_d/(i_f·η_f) at the pinion,   F·r_d/(i_g·η_g·i_f·η_f) at the gearbox input

    grip_force          F                N     ≥ 0
    rolling_radius      r_d              m     > 0
    gearbox_ratio       i_g              1     > 0
    final_ratio         i_f              1     > 0
    gearbox_efficiency  η_g              1     0 < η ≤ 1
    final_efficiency    η_f              1     0 < η ≤ 1
    returns             Torques          N·m   nan outside that range

    Steady slip: what the inertia of the wheels takes up before they slip is left out. Source: power balance.

    >>> torques = from_grip(7296.0, 0.31, 3.2, 3.7, 0.96, 0.97)
    >>> f"{torques.axle:.1f} N·m, {torques.pinion:.1f} N·m"
    '2261.8 N·m, 630.2 N·m'
    """
    force, radius, gear, final, box, axle = as_floats(
        grip_force, rolling_radius, gearbox_ratio, final_ratio, gearbox_efficiency, final_efficiency
    )
    sound = (force >= 0) & (radius > 0) & _sound_drive(gear, final, box, axle)
    wheels = force * radius
    pinion = wheels / np.where(sound, final * axle, 1.0)
    return Torques(
        where(sound, pinion / np.where(sound, gear * box, 1.0)),
        where(sound, pinion),
        where(sound, pinion),
        where(sound, wheels),
    )


def governing(engine_side: Numbers, grip_side: Numbers) -> tuple[Numbers, NDArray[np.bool_]]:
    """The torque an element sees: the smaller of both sides, and whether the tyres' grip sets it.

    engine_side, grip_side     N·m
    returns                    N·m, and True where the grip is the smaller

    Source: power balance.

    >>> torque, by_grip = governing(1228.8, 630.2)
    >>> float(torque), bool(by_grip)
    (630.2, True)
    """
    engine_side, grip_side = as_floats(engine_side, grip_side)
    return np.minimum(engine_side, grip_side)[()], np.asarray(grip_side < engine_side)


def half_shaft_share(differential: str, bias_ratio: Numbers = 1.0) -> Numbers:
    """Share of the axle's torque that one half-shaft can carry.

        open ½;   limited slip B/(1 + B);   locked 1

    differential   "open", "limited slip" or "locked"
    bias_ratio     B, gripping over slipping wheel     1    ≥ 1
    returns        share                               1    nan outside that range

    Locked: one wheel may hold everything while the other is in the air. Errors: ValueError for another word.
    Source: power balance.

    >>> half_shaft_share("open"), round(float(half_shaft_share("limited slip", 2.5)), 3), half_shaft_share("locked")
    (0.5, 0.714, 1.0)
    """
    if differential == "open":
        return 0.5
    if differential == "locked":
        return 1.0
    if differential != "limited slip":
        raise ValueError(f'"{differential}" is no way a differential works: open, limited slip or locked is wanted')
    (bias,) = as_floats(bias_ratio)
    return where(bias >= 1, bias / (1 + bias))


def rating_at_input(
    rating: Numbers,
    gearbox_ratio: Numbers = 1.0,
    final_ratio: Numbers = 1.0,
    gearbox_efficiency: Numbers = 1.0,
    final_efficiency: Numbers = 1.0,
) -> Numbers:
    """A maker's rating for a place further along, as the torque at the gearbox input that reaches it.

        T = rating/(i_g·η_g·i_f·η_f)

    rating              at its place                         N·m   ≥ 0
    gearbox_ratio       i_g, 1 where the rating is before    1     > 0
    final_ratio         i_f, 1 where the rating is before    1     > 0
    gearbox_efficiency  η_g                                  1     0 < η ≤ 1
    final_efficiency    η_f                                  1     0 < η ≤ 1
    returns             T                                    N·m   nan outside that range

    Source: power balance.

    >>> f"{rating_at_input(1250.0, gearbox_ratio=3.6, gearbox_efficiency=0.965):.0f} N·m"
    '360 N·m'
    """
    rating, gear, final, box, axle = as_floats(rating, gearbox_ratio, final_ratio, gearbox_efficiency, final_efficiency)
    sound = (rating >= 0) & _sound_drive(gear, final, box, axle)
    return where(sound, rating / np.where(sound, gear * final * box * axle, 1.0))


def _sound_drive(gear: np.ndarray, final: np.ndarray, box: np.ndarray, axle: np.ndarray) -> np.ndarray:
    return np.asarray((gear > 0) & (final > 0) & (box > 0) & (box <= 1) & (axle > 0) & (axle <= 1))
