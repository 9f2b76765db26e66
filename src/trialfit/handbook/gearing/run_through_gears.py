"""The run itself, for a block of cars: launch, pull, shift, and the targets met on the way.

Answers   run_through_gears   fills in the targets
Not here  reading and checking the input (acceleration.py); when to shift (shifting.py);
          what the run needs of each car (run_cars.py); what is asked for (run_targets.py)
Symbols   arrays have gears, points, pieces or targets along the first axis and cars along the last
Sources   those of acceleration.py
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from trialfit.handbook.gearing.motion import gain_in_time, time_and_distance_of_gain, time_to_cover
from trialfit.handbook.gearing.run_cars import Cars, Roll, State
from trialfit.handbook.gearing.stretches import Stretches, Tails, grip_or_engine

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from trialfit.handbook.arrays import Array, Numbers
    from trialfit.handbook.gearing.run_targets import Targets


_SHIFT_ROUNDS = 3
"""Newton's method for what is met during a shift: where the speed falls by a quarter, three leave 1e-7 s."""

_WORTH_LEAVING = 0.8
"""Cars that have met everything are left behind as soon as they are more than a fifth of the block."""


def run_through_gears(cars: Cars, targets: Targets) -> None:
    """Run every car of the block from rest until its targets are met or its gears used up.

    Call it with numpy's warnings off: a car outside the range runs as nan beside the others.
    """
    state = State(cars.begin, np.zeros_like(cars.begin), np.zeros_like(cars.begin))
    state = _follow(_launch(cars), state, targets, 0)
    for gear in range(len(cars.pull)):
        state = _follow(_in_gear(cars, gear, state.speed), state, targets, gear)
        at_work = np.flatnonzero(targets.are_open() & np.isfinite(state.time))
        if at_work.size == 0:
            return
        if at_work.size < _WORTH_LEAVING * state.time.size:
            cars, targets, state = cars.only(at_work), targets.only(at_work), state.only(at_work)
        state = _change_up(cars, gear, state, targets)


def _launch(cars: Cars) -> tuple[Stretches, Tails]:
    """One piece: the clutch slips, the engine is held at its launch speed."""
    gain = (cars.launch * cars.speed_per_turn[0])[None]
    force = (cars.pull[0] * cars.torque(cars.launch))[None]
    zero = np.zeros_like(gain)
    return grip_or_engine(zero, gain, force, zero, cars.decoupled_mass, cars.load)


def _in_gear(cars: Cars, gear: int, speed: Array) -> tuple[Stretches, Tails]:
    """From a road speed to where the gear is left, cut at the points of the torque curve."""
    per_turn = cars.speed_per_turn[gear]
    here = speed / per_turn
    leave = np.maximum(cars.leave[gear], here)
    low, high = _span(cars.curve, here, leave)
    curve, rise = cars.curve[low:high, None], cars.rise[low : high - 1]
    turns = np.clip(curve, here, leave)
    force = cars.pull[gear] * (cars.torques[low : high - 1] + rise * (turns[:-1] - curve[:-1]))
    knots = turns * per_turn
    gain = np.diff(knots, axis=0)
    return grip_or_engine(
        knots[:-1], gain, force, cars.pull[gear] * rise / per_turn, cars.effective_mass[gear], cars.load
    )


def _span(curve: Array, here: Array, leave: Array) -> tuple[int, int]:
    """The points of the curve that any car of the block needs."""
    used = np.isfinite(here) & np.isfinite(leave)
    if not used.any():
        return 0, 2
    low = int(np.searchsorted(curve, here[used].min(), side="right")) - 1
    high = int(np.searchsorted(curve, leave[used].max(), side="left")) + 1
    low = min(max(low, 0), curve.size - 2)
    return low, min(max(high, low + 2), curve.size)


@dataclass(frozen=True)
class _Passage:
    """One gear as driven: its pieces, and when and where each of them begins."""

    pieces: Stretches
    tails: Tails
    time: Array
    """[s] at the start of each piece, and at the end of the last, (P + 1, N)."""
    way: Array
    """[m], likewise."""
    speed: Array
    """[m/s] at the end of each piece, (P, N)."""
    first_time: Array
    """[s] of each piece without its tail, (P, N)."""
    first_way: Array

    @cached_property
    def _tail_of(self) -> NDArray[np.intp]:
        """Which tail belongs to a piece, (P, N); −1: none."""
        tail_of = np.full(self.speed.shape, -1, dtype=np.intp)
        tail_of[self.tails.piece, self.tails.car] = np.arange(self.tails.piece.size)
        return tail_of

    def locate(self, piece: NDArray[np.intp], car: NDArray[np.intp], speed: float, way: float) -> _Spot:
        """The law that holds for each car on a piece of its own, or on its tail once past a speed or a way."""
        spot = _Spot(self.time[piece, car], self.way[piece, car], self.pieces.pick(piece, car))
        if self.tails.piece.size == 0:
            return spot
        tail, first_way = self._tail_of[piece, car], self.first_way[piece, car]
        beyond = (tail >= 0) & (spot.law.speed + spot.law.gain < speed) & (spot.way + first_way < way)
        places = np.flatnonzero(beyond)
        spot.law.put(places, self.tails.stretches, tail[places])
        spot.time[places] += self.first_time[piece[places], car[places]]
        spot.way[places] += first_way[places]
        return spot


@dataclass(frozen=True)
class _Spot:
    """Time [s] and way [m] at the start of a piece of each car, and its law."""

    time: Array
    way: Array
    law: Stretches


def _follow(stretches: tuple[Stretches, Tails], state: State, targets: Targets, shifts: int) -> State:
    """Drive all pieces in order, and write down the targets met in them."""
    pieces, tails = stretches
    times, ways = (np.asarray(v) for v in time_and_distance_of_gain(*pieces.columns()))
    tail_times, tail_ways = time_and_distance_of_gain(*tails.stretches.columns())
    passage = _Passage(
        pieces,
        tails,
        _running_sum(state.time, _with_tails(times, tails, tail_times)),
        _running_sum(state.way, _with_tails(ways, tails, tail_ways)),
        _with_tails(pieces.speed + pieces.gain, tails, tails.stretches.gain),
        times,
        ways,
    )
    _meet_speeds(passage, state, targets, shifts)
    _meet_distances(passage, targets, shifts)
    arrives = np.isfinite(passage.time[-1])
    return State(*(np.where(arrives, v, np.nan) for v in (passage.time[-1], passage.way[-1], passage.speed[-1])))


def _with_tails(parts: Array, tails: Tails, more: Numbers) -> Array:
    if tails.piece.size == 0:
        return parts
    whole = parts.copy()
    whole[tails.piece, tails.car] += more
    return whole


def _running_sum(begin: Array, parts: Array) -> Array:
    """Begin, and the sum after each part: one row more than there are parts."""
    sums = np.concatenate((begin[None], parts))
    # Row by row: numpy's own cumsum along the first axis takes four times as long.
    for row in range(1, len(sums)):
        sums[row] += sums[row - 1]
    return sums


def _meet_speeds(passage: _Passage, state: State, targets: Targets, shifts: int) -> None:
    for target, speed in enumerate(targets.speeds):
        open_ = targets.lacks_speed(target) & (speed <= passage.speed[-1]) & np.isfinite(state.time)
        cars = np.flatnonzero(open_)
        if cars.size == 0:
            continue
        piece = np.count_nonzero(passage.speed < speed, axis=0)[cars]
        spot = passage.locate(piece, cars, speed, np.inf)
        law = spot.law
        took, went = time_and_distance_of_gain(speed - law.speed, law.speed, law.start, law.slope, law.drag)
        time = spot.time + took
        met = np.isfinite(time)
        targets.met_speed(target, cars, np.where(met, time, np.nan), np.where(met, spot.way + went, np.nan), shifts)


def _meet_distances(passage: _Passage, targets: Targets, shifts: int) -> None:
    for target, distance in enumerate(targets.distances):
        cars = np.flatnonzero(targets.lacks_distance(target) & (passage.way[-1] >= distance))
        if cars.size == 0:
            continue
        piece = np.count_nonzero(passage.way[1:] < distance, axis=0)[cars]
        spot = passage.locate(piece, cars, np.inf, distance)
        law = spot.law
        took = time_to_cover(distance - spot.way, law.speed, law.start, law.slope, law.drag)
        gain, _ = gain_in_time(took, law.speed, law.start, law.slope, law.drag)
        targets.met_distance(target, cars, spot.time + took, law.speed + gain, shifts)


def _change_up(cars: Cars, gear: int, state: State, targets: Targets) -> State:
    """Roll without pull into the next gear; where there is none that pulls, stay at the limiter."""
    way, after = Roll(cars.load, cars.decoupled_mass, state.speed).until(cars.shift_time)
    pulls, unknown = _next_gear(cars, gear + 1, after)
    rolls = (after > 0) & (pulls | unknown)
    _meet_at_limiter(state, ~rolls, targets, gear)
    _meet_rolling(cars, state, after, np.where(rolls, state.way + way, np.nan), targets, gear)
    goes_on = rolls & ~unknown
    return State(*(np.where(goes_on, v, np.nan) for v in (state.time + cars.shift_time, state.way + way, after)))


def _next_gear(cars: Cars, gear: int, speed: Array) -> tuple[NDArray[np.bool_], NDArray[np.bool_]]:
    """Whether the gear speeds the car up, and whether it turns the engine below what its curve tells."""
    if gear >= len(cars.pull):
        nowhere = np.zeros(speed.shape, dtype=bool)
        return nowhere, nowhere
    turns = speed / cars.speed_per_turn[gear]
    force = np.minimum(cars.pull[gear] * cars.torque(turns), cars.load.grip)
    unknown = np.asarray(turns < cars.curve[0])
    return np.asarray(force > cars.load.at(speed)) & ~unknown, unknown


def _meet_at_limiter(state: State, stays: NDArray[np.bool_], targets: Targets, shifts: int) -> None:
    for target, distance in enumerate(targets.distances):
        cars = np.flatnonzero(targets.lacks_distance(target) & stays & np.isfinite(state.time))
        time = state.time[cars] + (distance - state.way[cars]) / state.speed[cars]
        targets.met_distance(target, cars, time, state.speed[cars], shifts)


def _meet_rolling(cars: Cars, state: State, after: Array, way: Array, targets: Targets, shifts: int) -> None:
    """Targets met during the shift; a speed can be met only downhill. `way` is nan for cars that do not shift."""
    for target, speed in enumerate(targets.speeds):
        met = targets.lacks_speed(target) & (state.speed < speed) & (speed <= after) & np.isfinite(way)
        chosen = np.flatnonzero(met)
        if chosen.size:
            entry, shift_time = state.speed[chosen], cars.shift_time[chosen]
            rate = (after[chosen] - entry) / shift_time
            roll = Roll(cars.load.of_cars(chosen), cars.decoupled_mass[chosen], entry)
            took = (speed - entry) / rate
            for _ in range(_SHIFT_ROUNDS):
                took = took + (speed - roll.until(took)[1]) / rate
            targets.met_speed(
                target, chosen, state.time[chosen] + took, state.way[chosen] + roll.until(took)[0], shifts
            )
    for target, distance in enumerate(targets.distances):
        chosen = np.flatnonzero(targets.lacks_distance(target) & (way >= distance))
        if chosen.size:
            roll = Roll(cars.load.of_cars(chosen), cars.decoupled_mass[chosen], state.speed[chosen])
            left = distance - state.way[chosen]
            took = left / roll.entry
            for _ in range(_SHIFT_ROUNDS):
                went, speed_then = roll.until(took)
                took = took + (left - went) / speed_then
            targets.met_distance(target, chosen, state.time[chosen] + took, roll.until(took)[1], shifts)
