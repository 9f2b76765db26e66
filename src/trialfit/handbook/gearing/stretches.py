"""Stretches of a run: pieces of speed on which one law of motion holds, for many cars at once.

Answers   grip_or_engine     the law of each piece, cut where the tyres take over from the engine or hand back
          Stretches, Tails   the pieces and what is cut off them
          RoadLoad           the resistance as a polynomial of speed
Not here  the closed forms (motion.py); gears, shifts and targets (run_through_gears.py)
Symbols   a = α + β·u − k·u² with u the gain of speed, see motion.py;
          P pieces stand along the first axis and N cars along the last
Sources   [1] Fundamentals of Vehicle Dynamics (SAE), ch. 2, from memory: grip-limited acceleration is (F_grip − R)/m
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import TYPE_CHECKING

import numpy as np

from trialfit.handbook.constants import STANDARD_GRAVITY

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from trialfit.handbook.arrays import Array


@dataclass(frozen=True)
class Stretches:
    """Pieces of a run, (P, N) in the order in which they are driven, or (n,) picked from them."""

    gain: Array
    """u [m/s], ≥ 0."""
    speed: Array
    """v₀ [m/s] at the start of each piece."""
    start: Array
    """α [m/s²]."""
    slope: Array
    """β [1/s]."""
    drag: Array
    """k [1/m]."""

    def columns(self) -> tuple[Array, Array, Array, Array, Array]:
        """The fields, in the order in which motion.time_and_distance_of_gain takes them."""
        return self.gain, self.speed, self.start, self.slope, self.drag

    def pick(self, piece: NDArray[np.intp], car: NDArray[np.intp]) -> Stretches:
        """One piece of each of some cars, to keep: the arrays are new."""
        # One index into flat arrays is twice as fast as two into tables.
        place = piece * self.gain.shape[-1] + car
        return Stretches(*(column.ravel().take(place) for column in self.columns()))

    def put(self, places: NDArray[np.intp], other: Stretches, others: NDArray[np.intp]) -> None:
        """Replace picked pieces by pieces of another."""
        for own, theirs in zip(self.columns(), other.columns(), strict=True):
            own[places] = theirs[others]


@dataclass(frozen=True)
class Tails:
    """The second halves of the pieces that are cut: n of them, few beside the pieces."""

    piece: NDArray[np.intp]
    car: NDArray[np.intp]
    stretches: Stretches


@dataclass(frozen=True)
class RoadLoad:
    """Resistance R = R₀ + R₁·v + R₂·v² of each car [N], and the mass that the grip moves."""

    constant: Array
    linear: Array
    square: Array
    mass: Array
    """m [kg]."""
    grip: Array
    """Largest tractive effort of the driven tyres [N]."""

    @staticmethod
    def of(
        mass: Array, grip: Array, rolling: Array, doubling: Array, drag_area: Array, density: Array, slope: Array
    ) -> RoadLoad:
        """R = m·g·(f₀·(1 + v/v₂)·cos θ + sin θ) + ½·ρ·C_dA·v², as in road_load.py."""
        weight = mass * STANDARD_GRAVITY
        rest = weight * rolling * np.cos(slope)
        return RoadLoad(rest + weight * np.sin(slope), rest / doubling, 0.5 * density * drag_area, mass, grip)

    def of_cars(self, cars: NDArray[np.intp]) -> RoadLoad:
        """The load of some of the cars."""
        return RoadLoad(*(getattr(self, field.name)[cars] for field in fields(self)))

    def at(self, speed: Array) -> Array:
        """R [N] at a speed [m/s]."""
        return self.constant + (self.linear + self.square * speed) * speed


def grip_or_engine(
    speed: Array, gain: Array, force: Array, force_slope: Array, mass: Array, load: RoadLoad
) -> tuple[Stretches, Tails]:
    """The law of each piece: the smaller of what the engine and what the tyres allow.

        a = min((F − R)/m_e, (F_grip − R)/m)

    What the engine spends on speeding up itself and the wheels never reaches the road, so that side has the effective
    mass and the tyres' side the plain one.

    speed        v₀ at the start of each piece                  m/s      (P, N)
    gain         of each piece                                  m/s      (P, N)
    force        F of the engine at the start of each piece     N        (P, N)
    force_slope  its slope over road speed                      N·s/m    (P, N)
    mass         m_e                                            kg       (N,)
    load         R, m and F_grip
    returns      the pieces, and the tails of those on which one side takes over from the other

    A piece on which the tyres take over and hand back again is not cut twice: the road load bends the difference of
    the two sides by less than 1e-3 m/s² over a piece, and more is not lost.
    """
    resistance, stiffening = load.at(speed), load.linear + 2 * load.square * speed
    engine = (force - resistance) / mass, (force_slope - stiffening) / mass, _for_each(load.square / mass, gain)
    tyres = (load.grip - resistance) / load.mass, -stiffening / load.mass, _for_each(load.square / load.mass, gain)
    ahead, tilt, bend = engine[0] - tyres[0], engine[1] - tyres[1], load.square / mass - load.square / load.mass
    at_end = ahead + (tilt - bend * gain) * gain
    spins = (ahead > 0) | ((ahead == 0) & (at_end > 0))
    piece, car = np.nonzero((gain > 0) & (ahead != 0) & (at_end != 0) & (spins != (at_end > 0)))
    law = _choose(spins, tyres, engine) if spins.any() else engine
    if piece.size == 0:
        return Stretches(gain, speed, *law), Tails(piece, car, Stretches(*(np.empty(0) for _ in range(5))))
    whole, cut = gain[piece, car], _crossing(ahead[piece, car], tilt[piece, car], bend[car], gain[piece, car])
    start, slope, drag = _choose(
        spins[piece, car], tuple(v[piece, car] for v in engine), tuple(v[piece, car] for v in tyres)
    )
    after = start + (slope - drag * cut) * cut, slope - 2 * drag * cut, drag
    gain = gain.copy()
    gain[piece, car] = cut
    return Stretches(gain, speed, *law), Tails(piece, car, Stretches(whole - cut, speed[piece, car] + cut, *after))


def _for_each(figure: Array, pieces: Array) -> Array:
    """A figure of each car seen as one of each piece, without copying it."""
    return np.broadcast_to(figure, pieces.shape)


def _choose(where: NDArray[np.bool_], some: tuple[Array, ...], others: tuple[Array, ...]) -> tuple[Array, ...]:
    return tuple(np.where(where, one, other) for one, other in zip(some, others, strict=True))


def _crossing(ahead: Array, tilt: Array, bend: Array, gain: Array) -> Array:
    """The root of ahead + tilt·u − bend·u² between 0 and gain, where its two ends differ in sign."""
    root = np.sqrt(np.maximum(tilt * tilt + 4 * ahead * bend, 0.0))
    return np.clip(2 * ahead / (np.copysign(root, ahead) - tilt), 0.0, gain)
