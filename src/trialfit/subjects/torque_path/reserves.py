"""Steel against torque: three loads, each with the reserve that belongs to it, for tubes, bars and splined ends alike.

Answers   LOADS             the three
          section_capacity  torque that a round section carries against one of them
          against_each      the three comparisons of one part
          asked             what is asked of it there, in words, with its numbers
          STAYS_SOUND, YIELD      what a finding says of them, and where they come from
Not here  which section (yielding.py, hubs.py); the torques (loads.py)

Full torque is without any peak: the plain section keeps a reserve of 1.5 on yield. What a careful driver's starts and shifts come
to, many thousand times, stays below yield at the worst notch. The peak of a shock (a dropped clutch, wheels that grip again, a
throttle snatched open) contains its swing, with its spread, and needs no reserve on top: a ductile section does not yield through.
Its skin may, and so may its notch: torsion bars are wound up beyond that on purpose.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.requirement import Source, SourceKind
from trialfit.handbook.sources import NO_SOURCE
from trialfit.handbook.torque_path import torsion
from trialfit.subjects.torque_path.element import Compared
from trialfit.subjects.torque_path.events import Load

if TYPE_CHECKING:
    from collections.abc import Callable

    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.subjects.torque_path.loads import Sides


LOADS = (Load.peak, Load.careful, Load.steady)
FORMULAS = (torsion.torque_capacity, torsion.limit_torque)
STAYS_SOUND = (
    "under full torque {} keeps a reserve of 1.5 on yield; driven with care its worst notch stays below yield, "
    "and at the peak of a shock it does not yield through, in every gear"
)
YIELD = Source(
    "0.577 of the yield strength (distortion energy): with a reserve of 1.5 for full torque, at the worst notch for careful driving, "
    f"through the whole section for a shock; {NO_SOURCE}",
    SourceKind.common_practice,
)


def section_capacity(load: Load, outside: Array, inside: Array, strength: Array, notch: Array) -> Array:
    """Torque that a round section carries against a load, N·m, (draws,)."""
    if load is Load.peak:
        return np.asarray(torsion.limit_torque(outside, inside, strength))
    if load is Load.careful:
        return np.asarray(torsion.torque_capacity(outside, inside, strength, notch, reserve=1.0))
    return np.asarray(torsion.torque_capacity(outside, inside, strength))


def against_each(
    sees: Callable[[Load], Callable[..., Sides]],
    carries: Callable[[Evaluation, Load], Array],
    how: Callable[[Evaluation, Load], str],
) -> tuple[Compared, ...]:
    """The torque of each load against what the part carries of it, (draws,)."""

    def carried(ev: Evaluation, load: Load) -> Array:
        return carries(ev, load)[:, None]

    def shown(ev: Evaluation, _column: int, load: Load) -> str:
        return how(ev, load)

    return tuple(Compared(sees(load), partial(carried, load=load), partial(shown, load=load)) for load in LOADS)


def asked(load: Load, notch: str) -> str:
    """What is asked of the steel under a load: "reserve 1.5 on yield"."""
    words = {
        Load.peak: "yielding through at the peak of a shock",
        Load.careful: f"at yield with its notch factor of {notch}, driven with care",
    }
    return words.get(load, f"reserve {torsion.YIELD_RESERVE} on yield under full torque")
