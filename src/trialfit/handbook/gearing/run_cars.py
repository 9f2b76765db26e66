"""What a run through the gears needs of each car, where each car is, and how it rolls during a shift.

Answers   Cars    a block of cars with gears and torque curves
          State   time, way and speed of each
          Roll    motion without pull
Not here  the run (run_through_gears.py); its result (acceleration.py)
Symbols   arrays have gears or points along the first axis and cars along the last
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from trialfit.handbook.arrays import Array
    from trialfit.handbook.gearing.stretches import RoadLoad


@dataclass(frozen=True)
class Cars:
    """A block of N cars with G gears and a torque curve of K points."""

    curve: Array
    """Engine speeds of the points [rad/s], (K,)."""
    torques: Array
    """[N·m], (K, N)."""
    rise: Array
    """Slope of the torque over engine speed between the points [N·m·s], (K − 1, N)."""
    speed_per_turn: Array
    """Road speed over engine speed in each gear [m], (G, N); nan for a gear the car does not have."""
    pull: Array
    """Tractive effort over torque in each gear [1/m], (G, N)."""
    effective_mass: Array
    """[kg], (G, N)."""
    decoupled_mass: Array
    """[kg], (N,), clutch open or slipping."""
    leave: Array
    """Engine speed at which each gear is left at the latest [rad/s], (G, N)."""
    launch: Array
    """Engine speed held while the clutch slips [rad/s], (N,)."""
    shift_time: Array
    """[s], (N,)."""
    load: RoadLoad
    begin: Array
    """Time at the start [s], (N,): 0, or nan for a car outside the range of the formula."""

    def only(self, cars: NDArray[np.intp]) -> Cars:
        """Some of the cars."""
        columns = {f.name: getattr(self, f.name)[..., cars] for f in fields(self) if f.name not in {"curve", "load"}}
        return Cars(curve=self.curve, load=self.load.of_cars(cars), **columns)

    def road_speed(self, engine_speed: Array) -> Array:
        """Road speed [m/s] in each gear, (G, N)."""
        return engine_speed * self.speed_per_turn

    def torque(self, engine_speed: Array) -> Array:
        """Torque of each car [N·m] at its engine speed, (N,); meant for speeds within the curve."""
        left = np.clip(np.searchsorted(self.curve, engine_speed, side="right") - 1, 0, self.curve.size - 2)
        car = np.arange(left.size)
        return self.torques[left, car] + self.rise[left, car] * (engine_speed - self.curve[left])


@dataclass(frozen=True)
class State:
    """Where each car is: time [s], way [m], speed [m/s], (N,). nan: it does not get this far."""

    time: Array
    way: Array
    speed: Array

    def only(self, cars: NDArray[np.intp]) -> State:
        """Some of the cars."""
        return State(self.time[cars], self.way[cars], self.speed[cars])


@dataclass(frozen=True)
class Roll:
    """Rolling without pull, clutch open."""

    load: RoadLoad
    mass: Array
    entry: Array
    """Speed [m/s] at the start."""

    def until(self, time: Array) -> tuple[Array, Array]:
        """Way and speed after a time: one Runge-Kutta step of fourth order, good to 1e-8 m/s for 1 s."""
        first = self.load.at(self.entry) / self.mass
        second = self.load.at(self.entry - first * time / 2) / self.mass
        third = self.load.at(self.entry - second * time / 2) / self.mass
        fourth = self.load.at(self.entry - third * time) / self.mass
        way = (self.entry - (first + second + third) * time / 6) * time
        return way, self.entry - (first + 2 * second + 2 * third + fourth) * time / 6
