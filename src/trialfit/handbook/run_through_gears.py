"""The run itself, for a block of cars: launch, pull, shift, and the targets met on the way.

Answers   run_through_gears   fills in the targets
          Cars                what the run needs of each car
          Targets             what is asked for, and when it was met
Not here  reading and checking the input (acceleration.py); when to shift (shifting.py)
Symbols   arrays have gears, points, pieces or targets along the first axis and cars along the last
Sources   those of acceleration.py
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from trialfit.handbook.motion import gain_in_time, time_to_cover, time_to_gain, way_of_gain
from trialfit.handbook.stretches import RoadLoad, Stretches, grip_or_engine

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Cars:
    """A block of N cars with G gears and a torque curve of K points."""

    curve: Floats
    """Engine speeds of the points [rad/s], (K,)."""
    torques: Floats
    """[N·m], (K, N)."""
    speed_per_turn: Floats
    """Road speed over engine speed in each gear [m], (G, N); nan for a gear the car does not have."""
    pull: Floats
    """Tractive effort over torque in each gear [1/m], (G, N)."""
    effective_mass: Floats
    """[kg], (G, N)."""
    decoupled_mass: Floats
    """[kg], (N,), clutch open or slipping."""
    leave: Floats
    """Engine speed at which each gear is left at the latest [rad/s], (G, N)."""
    launch: Floats
    """Engine speed held while the clutch slips [rad/s], (N,)."""
    shift_time: Floats
    """[s], (N,)."""
    load: RoadLoad
    begin: Floats
    """Time at the start [s], (N,): 0, or nan for a car outside the range of the formula."""

    def road_speed(self, engine_speed: Floats) -> Floats:
        """Road speed [m/s] in each gear, (G, N)."""
        return engine_speed * self.speed_per_turn

    def torque(self, engine_speed: Floats) -> Floats:
        """Torque of each car [N·m] at its engine speed, (N,); meant for speeds within the curve."""
        left = np.clip(np.searchsorted(self.curve, engine_speed, side="right") - 1, 0, self.curve.size - 2)
        car = np.arange(left.size)
        low, high = self.torques[left, car], self.torques[left + 1, car]
        return low + (engine_speed - self.curve[left]) / (self.curve[left + 1] - self.curve[left]) * (high - low)


@dataclass(frozen=True)
class State:
    """Where each car is: time [s], way [m], speed [m/s], (N,). nan: it does not get this far."""

    time: Floats
    way: Floats
    speed: Floats


@dataclass(frozen=True)
class Targets:
    """Speeds and distances asked for, with the arrays to fill in: (T, N), nan until met."""

    speeds: Sequence[float]
    distances: Sequence[float]
    time_to_speed: Floats
    way_to_speed: Floats
    shifts_to_speed: Floats
    time_to_distance: Floats
    speed_at_distance: Floats
    shifts_to_distance: Floats

    @staticmethod
    def empty(speeds: Sequence[float], distances: Sequence[float], cars: int) -> Targets:
        """Nothing met yet."""
        sizes = (len(speeds),) * 3 + (len(distances),) * 3
        return Targets(speeds, distances, *(np.full((size, cars), np.nan) for size in sizes))

    def results(self) -> tuple[Floats, ...]:
        """The arrays, in the order of the fields."""
        return (
            self.time_to_speed,
            self.way_to_speed,
            self.shifts_to_speed,
            self.time_to_distance,
            self.speed_at_distance,
            self.shifts_to_distance,
        )

    def of_cars(self, block: slice) -> Targets:
        """The same arrays, seen for some cars only: filling them in fills in the whole."""
        return Targets(self.speeds, self.distances, *(result[:, block] for result in self.results()))

    def are_open(self) -> NDArray[np.bool_]:
        """Whether a car has still something to meet, (N,)."""
        return np.asarray(np.isnan(self.time_to_speed).any(axis=0) | np.isnan(self.time_to_distance).any(axis=0))

    def met_speed(self, target: int, cars: NDArray[np.intp], time: Floats, way: Floats, shifts: int) -> None:
        """Write down when these cars reached a speed."""
        self.time_to_speed[target, cars] = time
        self.way_to_speed[target, cars] = way
        self.shifts_to_speed[target, cars] = np.where(np.isnan(time), np.nan, shifts)

    def met_distance(self, target: int, cars: NDArray[np.intp], time: Floats, speed: Floats, shifts: int) -> None:
        """Write down when these cars had covered a distance."""
        self.time_to_distance[target, cars] = time
        self.speed_at_distance[target, cars] = speed
        self.shifts_to_distance[target, cars] = np.where(np.isnan(time), np.nan, shifts)


def run_through_gears(cars: Cars, targets: Targets) -> None:
    """Run every car of the block from rest until its targets are met or its gears used up."""
    # Cars outside the range run as nan beside the others; numpy need not say so for each of them.
    with np.errstate(all="ignore"):
        state = State(cars.begin, np.zeros_like(cars.begin), np.zeros_like(cars.begin))
        state = _follow(_launch(cars), state, targets, 0)
        for gear in range(len(cars.pull)):
            state = _follow(_in_gear(cars, gear, state.speed), state, targets, gear)
            if not (targets.are_open() & np.isfinite(state.time)).any():
                return
            state = _change_up(cars, gear, state, targets)


def _launch(cars: Cars) -> Stretches:
    """One piece: the clutch slips, the engine is held at its launch speed."""
    gain = (cars.launch * cars.speed_per_turn[0])[None]
    force = (cars.pull[0] * cars.torque(cars.launch))[None]
    zero = np.zeros_like(gain)
    return grip_or_engine(zero, gain, force, zero, cars.decoupled_mass, cars.load)


def _in_gear(cars: Cars, gear: int, speed: Floats) -> Stretches:
    """From a road speed to where the gear is left, cut at the points of the torque curve."""
    per_turn = cars.speed_per_turn[gear]
    here = speed / per_turn
    leave = np.maximum(cars.leave[gear], here)
    low, high = _span(cars.curve, here, leave)
    curve, torques = cars.curve[low:high, None], cars.torques[low:high]
    turns = np.clip(curve, here, leave)
    rise = np.diff(torques, axis=0) / np.diff(curve, axis=0)
    force = cars.pull[gear] * (torques[:-1] + rise * (turns[:-1] - curve[:-1]))
    knots = turns * per_turn
    gain = np.diff(knots, axis=0)
    return grip_or_engine(knots[:-1], gain, force, cars.pull[gear] * rise / per_turn, cars.effective_mass[gear], cars.load)


def _span(curve: Floats, here: Floats, leave: Floats) -> tuple[int, int]:
    """The points of the curve that any car of the block needs."""
    used = np.isfinite(here) & np.isfinite(leave)
    if not used.any():
        return 0, 2
    low = int(np.searchsorted(curve, here[used].min(), side="right")) - 1
    high = int(np.searchsorted(curve, leave[used].max(), side="left")) + 1
    low = min(max(low, 0), curve.size - 2)
    return low, min(max(high, low + 2), curve.size)


def _follow(stretches: Stretches, state: State, targets: Targets, shifts: int) -> State:
    """Drive all pieces in order, and write down the targets met in them."""
    law = (stretches.start, stretches.slope, stretches.drag)
    times = np.asarray(time_to_gain(stretches.gain, *law))
    ways = np.asarray(way_of_gain(stretches.gain, times, stretches.speed, *law))
    time, way = _running_sum(state.time, times), _running_sum(state.way, ways)
    _meet_speeds(stretches, time, way, state, targets, shifts)
    _meet_distances(stretches, time, way, targets, shifts)
    end = stretches.speed[-1] + stretches.gain[-1]
    arrives = np.isfinite(time[-1])
    return State(*(np.where(arrives, value, np.nan) for value in (time[-1], way[-1], end)))


def _running_sum(begin: Floats, parts: Floats) -> Floats:
    """Begin, and the sum after each part: one row more than there are parts."""
    return np.asarray(np.cumsum(np.concatenate((begin[None], parts)), axis=0))


def _meet_speeds(stretches: Stretches, time: Floats, way: Floats, state: State, targets: Targets, shifts: int) -> None:
    ends = stretches.speed + stretches.gain
    for target, speed in enumerate(targets.speeds):
        open_ = np.isnan(targets.time_to_speed[target]) & (speed <= ends[-1]) & np.isfinite(state.time)
        cars = np.flatnonzero(open_)
        if cars.size == 0:
            continue
        piece = (ends[:, cars] < speed).sum(axis=0)
        law = stretches.pick(piece, cars)
        gain = speed - law.speed
        took = np.asarray(time_to_gain(gain, law.start, law.slope, law.drag))
        went = np.asarray(way_of_gain(gain, took, law.speed, law.start, law.slope, law.drag))
        reached = time[piece, cars] + took
        covered = np.where(np.isfinite(reached), way[piece, cars] + went, np.nan)
        targets.met_speed(target, cars, np.where(np.isfinite(reached), reached, np.nan), covered, shifts)


def _meet_distances(stretches: Stretches, time: Floats, way: Floats, targets: Targets, shifts: int) -> None:
    for target, distance in enumerate(targets.distances):
        cars = np.flatnonzero(np.isnan(targets.time_to_distance[target]) & (way[-1] >= distance))
        if cars.size == 0:
            continue
        piece = (way[1:, cars] < distance).sum(axis=0)
        law = stretches.pick(piece, cars)
        took = time_to_cover(distance - way[piece, cars], law.speed, law.start, law.slope, law.drag)
        gain, _ = gain_in_time(took, law.speed, law.start, law.slope, law.drag)
        targets.met_distance(target, cars, time[piece, cars] + took, law.speed + gain, shifts)


def _change_up(cars: Cars, gear: int, state: State, targets: Targets) -> State:
    """Roll without pull into the next gear; where there is none that pulls, stay at the limiter."""
    way, after = _roll(cars, state.speed, cars.shift_time)
    pulls, unknown = _next_gear(cars, gear + 1, after)
    rolls = (after > 0) & (pulls | unknown)
    _meet_at_limiter(state, ~rolls, targets, gear)
    _meet_rolling(cars, state, after, np.where(rolls, state.way + way, np.nan), targets, gear)
    goes_on = rolls & ~unknown
    return State(*(np.where(goes_on, v, np.nan) for v in (state.time + cars.shift_time, state.way + way, after)))


def _roll(cars: Cars, speed: Floats, time: Floats) -> tuple[Floats, Floats]:
    """Way and speed after rolling without pull: one Runge-Kutta step of fourth order, good to 1e-8 m/s for 1 s."""
    first = cars.load.at(speed) / cars.decoupled_mass
    second = cars.load.at(speed - first * time / 2) / cars.decoupled_mass
    third = cars.load.at(speed - second * time / 2) / cars.decoupled_mass
    fourth = cars.load.at(speed - third * time) / cars.decoupled_mass
    way = (speed - (first + second + third) * time / 6) * time
    return way, speed - (first + 2 * second + 2 * third + fourth) * time / 6


def _next_gear(cars: Cars, gear: int, speed: Floats) -> tuple[NDArray[np.bool_], NDArray[np.bool_]]:
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
        cars = np.flatnonzero(np.isnan(targets.time_to_distance[target]) & stays & np.isfinite(state.time))
        time = state.time[cars] + (distance - state.way[cars]) / state.speed[cars]
        targets.met_distance(target, cars, time, state.speed[cars], shifts)


def _meet_rolling(cars: Cars, state: State, after: Floats, way: Floats, targets: Targets, shifts: int) -> None:
    """Targets met during the shift; a speed can be met only downhill. `way` is nan for cars that do not shift."""
    for target, speed in enumerate(targets.speeds):
        met = np.isnan(targets.time_to_speed[target]) & (state.speed < speed) & (speed <= after) & np.isfinite(way)
        if met.any():
            took = cars.shift_time * (speed - state.speed) / (after - state.speed)
            went, _ = _roll(cars, state.speed, took)
            chosen = np.flatnonzero(met)
            targets.met_speed(target, chosen, (state.time + took)[chosen], (state.way + went)[chosen], shifts)
    for target, distance in enumerate(targets.distances):
        met = np.isnan(targets.time_to_distance[target]) & (way >= distance)
        if met.any():
            took = (distance - state.way) / state.speed
            for _ in range(4):
                went, speed_then = _roll(cars, state.speed, took)
                took = took + (distance - state.way - went) / speed_then
            chosen = np.flatnonzero(met)
            targets.met_distance(target, chosen, (state.time + took)[chosen], speed_then[chosen], shifts)
