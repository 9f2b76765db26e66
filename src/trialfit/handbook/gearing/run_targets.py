"""What a run through the gears is asked for, and what has been met of it.

Answers   Targets   speeds to reach and distances to cover, by many cars
Not here  the run (run_through_gears.py), its result as handed out (acceleration.py)
Symbols   arrays have targets along the first axis and cars along the last
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from trialfit.handbook.arrays import Array


@dataclass(frozen=True)
class Targets:
    """Speeds and distances asked for, with the arrays to fill in: (T, all cars), nan until met."""

    speeds: Sequence[float]
    distances: Sequence[float]
    cars: NDArray[np.intp]
    """The cars at work, as places in the arrays."""
    time_to_speed: Array
    way_to_speed: Array
    shifts_to_speed: Array
    time_to_distance: Array
    speed_at_distance: Array
    shifts_to_distance: Array

    @staticmethod
    def empty(speeds: Sequence[float], distances: Sequence[float], cars: int) -> Targets:
        """Nothing met yet."""
        sizes = (len(speeds),) * 3 + (len(distances),) * 3
        return Targets(speeds, distances, np.arange(cars), *(np.full((size, cars), np.nan) for size in sizes))

    def results(self) -> tuple[Array, ...]:
        """The arrays, in the order of the fields."""
        return tuple(getattr(self, field.name) for field in fields(self)[3:])

    def only(self, cars: slice | NDArray[np.intp]) -> Targets:
        """The same arrays, to fill in for some of the cars at work."""
        return Targets(self.speeds, self.distances, self.cars[cars], *self.results())

    def lacks_speed(self, target: int) -> NDArray[np.bool_]:
        """Whether each car at work has yet to reach a speed."""
        return np.asarray(np.isnan(self.time_to_speed[target, self.cars]))

    def lacks_distance(self, target: int) -> NDArray[np.bool_]:
        """Whether each car at work has yet to cover a distance."""
        return np.asarray(np.isnan(self.time_to_distance[target, self.cars]))

    def are_open(self) -> NDArray[np.bool_]:
        """Whether each car at work has anything left to meet."""
        lacking = [self.lacks_speed(target) for target in range(len(self.speeds))]
        lacking += [self.lacks_distance(target) for target in range(len(self.distances))]
        return np.logical_or.reduce(lacking) if lacking else np.zeros(self.cars.shape, dtype=bool)

    def met_speed(self, target: int, cars: NDArray[np.intp], time: Array, way: Array, shifts: int) -> None:
        """Write down when some of the cars at work reached a speed."""
        places = self.cars[cars]
        self.time_to_speed[target, places] = time
        self.way_to_speed[target, places] = way
        self.shifts_to_speed[target, places] = np.where(np.isnan(time), np.nan, shifts)

    def met_distance(self, target: int, cars: NDArray[np.intp], time: Array, speed: Array, shifts: int) -> None:
        """Write down when some of the cars at work had covered a distance."""
        places = self.cars[cars]
        self.time_to_distance[target, places] = time
        self.speed_at_distance[target, places] = speed
        self.shifts_to_distance[target, places] = np.where(np.isnan(time), np.nan, shifts)
