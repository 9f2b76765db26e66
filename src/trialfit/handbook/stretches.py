"""Stretches of a run: pieces of speed on which one law of motion holds, for many cars at once.

Answers   Stretches          speed, gain and law of every piece
          RoadLoad           the resistance as a polynomial of speed
          grip_or_engine     pieces cut where the tyres take over from the engine or hand back
Not here  the closed forms (motion.py); gears, shifts and targets (acceleration.py)
Symbols   every array has pieces along the first axis and cars along the last;
          the law is a = α + β·u − k·u² with u the gain of speed, see motion.py
Sources   [1] Fundamentals of Vehicle Dynamics (SAE), ch. 2, from memory: grip-limited acceleration is (F_grip − R)/m
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import TYPE_CHECKING

import numpy as np

from trialfit.handbook.constants import STANDARD_GRAVITY

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Stretches:
    """Pieces of a run, in the order in which they are driven; pieces of no gain may stand among them."""

    speed: Floats
    """v₀ [m/s] at the start of each piece, (P, N)."""
    gain: Floats
    """[m/s], ≥ 0."""
    start: Floats
    """α [m/s²]."""
    slope: Floats
    """β [1/s]."""
    drag: Floats
    """k [1/m]."""

    def pick(self, piece: NDArray[np.intp], car: NDArray[np.intp]) -> Stretches:
        """One piece for each of the cars, as arrays without the axis of pieces."""
        return Stretches(*(getattr(self, field.name)[piece, car] for field in fields(self)))


@dataclass(frozen=True)
class RoadLoad:
    """Resistance R = R₀ + R₁·v + R₂·v² of each car [N], and the mass that the grip moves."""

    constant: Floats
    linear: Floats
    square: Floats
    mass: Floats
    """m [kg]."""
    grip: Floats
    """Largest tractive effort of the driven tyres [N]."""

    @staticmethod
    def of(
        mass: Floats, grip: Floats, rolling: Floats, doubling: Floats, drag_area: Floats, density: Floats, slope: Floats
    ) -> RoadLoad:
        """R = m·g·(f₀·(1 + v/v₂)·cos θ + sin θ) + ½·ρ·C_dA·v², as in road_load.py."""
        weight = mass * STANDARD_GRAVITY
        rest = weight * rolling * np.cos(slope)
        return RoadLoad(rest + weight * np.sin(slope), rest / doubling, 0.5 * density * drag_area, mass, grip)

    def at(self, speed: Floats) -> Floats:
        """R [N] at a speed [m/s]."""
        return self.constant + (self.linear + self.square * speed) * speed


def grip_or_engine(speed: Floats, gain: Floats, force: Floats, force_slope: Floats, mass: Floats, load: RoadLoad) -> Stretches:
    """The law of each piece: the smaller of what the engine and what the tyres allow.

        a = min((F − R)/m_e, (F_grip − R)/m)

    What the engine spends on speeding up itself and the wheels never reaches the road, so that side has the effective
    mass and the tyres' side the plain one.

    speed        v₀ at the start of each piece                  m/s      (P, N)
    gain         of each piece                                  m/s      (P, N)
    force        F of the engine at the start of each piece     N        (P, N)
    force_slope  its slope over road speed                      N·s/m    (P, N)
    mass         m_e                                            kg       (N,)
    returns      P pieces, or 2·P where one is cut: the second half is empty where nothing changes

    A piece on which the tyres take over and hand back again is not cut twice: the road load bends the difference of
    the two sides by less than 1e-3 m/s² over a piece, and more is not lost.
    """
    resistance, stiffening = load.at(speed), load.linear + 2 * load.square * speed
    engine = ((force - resistance) / mass, (force_slope - stiffening) / mass, np.broadcast_to(load.square / mass, gain.shape))
    tyres = ((load.grip - resistance) / load.mass, -stiffening / load.mass, np.broadcast_to(load.square / load.mass, gain.shape))
    ahead, tilt, bend = (one - other for one, other in zip(engine, tyres, strict=True))
    at_end = ahead + (tilt - bend * gain) * gain
    spins = (ahead > 0) | ((ahead == 0) & (at_end > 0))
    changes = (gain > 0) & np.where(spins, at_end < 0, at_end > 0) & (ahead != 0)
    first = tuple(np.where(spins, of_tyres, of_engine) for of_tyres, of_engine in zip(tyres, engine, strict=True))
    if not changes.any():
        return Stretches(speed, gain, *first)
    root = np.sqrt(np.maximum(tilt * tilt + 4 * ahead * bend, 0.0))
    cut = np.where(changes, 2 * ahead / np.where(changes, np.copysign(root, ahead) - tilt, 1.0), gain)
    cut = np.clip(cut, 0.0, gain)
    start, slope, drag = (np.where(spins, of_engine, of_tyres) for of_tyres, of_engine in zip(tyres, engine, strict=True))
    second = (start + (slope - drag * cut) * cut, slope - 2 * drag * cut, drag)
    pairs = zip((speed, cut, *first), (speed + cut, gain - cut, *second), strict=True)
    return Stretches(*(np.stack(pair, axis=1).reshape(-1, gain.shape[-1]) for pair in pairs))
