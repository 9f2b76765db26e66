"""A placement problem: what moves, what is fixed, the clearances between them, and the range of poses.

Answers   Gap         a required distance between two solids
          Measures    values of the pose with limits: joint angles, a length, an attitude, an axle load
          Problem     all of it
          Limit       one requirement: its name, the unit of its value, its scale
Not here  margins of a pose (margins.py); the search (search.py)
Symbols   normalised margin m = (value − limit)/s, sign turned for upper limits; s the standard deviation of value − limit
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Literal

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from trialfit.handbook.arrays import Array
    from trialfit.placement.solids import Solid


LEAST_SIGMA = {"length": 1e-3, "angle": float(np.radians(0.1)), "share": 1e-3}
"""The least spread: a smaller one counts as this: 1 mm, 0.1°, 0.1 % (choice, no source)."""

Sort = Literal["length", "angle", "share"]


@dataclass(frozen=True)
class Gap:
    """A required distance between a solid of the group and one of the car, m; `sigma` the spread of that distance."""

    name: str
    moving: str
    fixed: str
    wanted: float
    sigma: float = 0.0


@dataclass(frozen=True, eq=False)
class Measures:
    """Values of poses that need no distances.

    of       poses (k, 6) to values (k, n); may not raise
    limits   the limit of each, SI; `sides` +1 at least, −1 at most; `sigmas` 1 s; `sorts` length, angle or share
    """

    names: tuple[str, ...]
    of: Callable[[Array], Array]
    limits: Array
    sides: Array
    sigmas: Array
    sorts: tuple[Sort, ...]


@dataclass(frozen=True)
class Limit:
    """One requirement: `relaxed_by` gives what 5 mm or 0.5° are in its unit."""

    name: str
    sort: Sort

    @property
    def step(self) -> float:
        """The step by which a requirement is relaxed to see its cost: 5 mm, 0.5° or 0.5 %, SI."""
        return {"length": 5e-3, "angle": float(np.radians(0.5)), "share": 5e-3}[self.sort]


@dataclass(frozen=True, eq=False)
class Problem:
    """The problem that the search solves.

    start    (6,) the pose the group has, or a first guess
    reach    (6,) how far each coordinate may go either way; 0 holds it
    eased    by name of a requirement: how much its limit is relaxed, SI
    left_out names of requirements that are left out
    prefer   (6,) breaks ties: the pose that makes prefer·q smallest; lower and further back by default
    """

    moving: tuple[Solid, ...]
    fixed: tuple[Solid, ...]
    gaps: tuple[Gap, ...]
    start: Array
    reach: Array
    measures: tuple[Measures, ...] = ()
    eased: dict[str, float] = field(default_factory=dict)
    left_out: frozenset[str] = frozenset()
    prefer: Array = field(default_factory=lambda: np.array([0.3, 0, 1.0, 0, 0, 0]))

    @property
    def limits(self) -> tuple[Limit, ...]:
        """Every requirement in order: gaps first."""
        return (
            *(Limit(gap.name, "length") for gap in self.gaps),
            *(
                Limit(name, sort)
                for block in self.measures
                for name, sort in zip(block.names, block.sorts, strict=True)
            ),
        )

    def with_eased(self, name: str, by: float) -> Problem:
        """The problem with one requirement relaxed."""
        return replace(self, eased={**self.eased, name: self.eased.get(name, 0.0) + by})

    def only(self, names: Iterable[str]) -> Problem:
        """The problem with only these requirements."""
        kept = set(names)
        return replace(self, left_out=frozenset(limit.name for limit in self.limits if limit.name not in kept))
