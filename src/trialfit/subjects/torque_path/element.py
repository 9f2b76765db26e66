"""One element of the line of drive that torque can break or make slip, and its requirement.

Answers   Element          a requirement, and its capacity over its load
          Held             a torque compared with a capacity, gear by gear
          element_of       an Element made of a Held
          lacking          which of some facts are missing
          rating_source, YIELD    where the limits come from
Not here  the torques (loads.py); the capacities (gear_sets.py, shafts.py, half_shafts.py, hubs.py)

A maker's rating is compared with the full torque of the engine. A capacity calculated from the yield strength is compared with
the shock, because it contains no allowance for a shock.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING, Any

import numpy as np

from trialfit.evaluation.requirement import AtMost, Requirement, Source, SourceKind, Stake
from trialfit.facts.provenance import Provenance
from trialfit.facts.quantity import TORQUE
from trialfit.handbook.sources import NO_SOURCE
from trialfit.subjects.torque_path.sentences import gear_names, left_out, spoken_together, who_sets_it

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.typing import NDArray

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import FactRef
    from trialfit.subjects.torque_path.loads import Sides


SUBJECT = "torque_path"
_RULE = "compared with the lesser of low-gear torque and wheel-slip torque, as a driveshaft maker's installation manual does"
YIELD = Source(
    "0.577 of the yield strength (distortion energy): the plain section with a reserve of 1.5, the worst notch without; "
    f"{NO_SOURCE}",
    SourceKind.common_practice,
)

CURE = "Fit a stronger part, or reduce its torque: a taller first gear or final drive, a clutch of lower capacity, less torque low down."

_ALIKE = 1e-9  # gears that differ by less than this share are named together


@dataclass(frozen=True)
class Element:
    """One thing in the line.

    requirement   what is required of it
    called        what it is called in a sentence: "the front joint"
    reserve       capacity over load, (draws,): 1 is just at its limit
    lacks         the facts missing for its capacity; empty where it is known
    """

    requirement: Requirement
    title: str
    reserve: Callable[[Evaluation], Array]
    lacks: tuple[str, ...] = ()


@dataclass(frozen=True)
class Held:
    """A torque compared with a capacity at one place.

    name      which element, the second half of the finding's id
    sees      the torque, both sides of it, (draws, gears); from loads.at
    carries   the capacity at the same place, N·m, (draws, gears) or (draws, 1)
    how       how the capacity came about, with numbers, for the gear of that column
    plain     the largest torque is looked for, not the least reserve: where no capacity is known, or the builder sets one
    """

    name: str
    sees: Callable[[Evaluation], Sides]
    carries: Callable[[Evaluation], Array]
    how: Callable[[Evaluation, int], str]
    plain: bool = False


def element_of(
    build: Build,
    one: Held,
    *,
    about: str,
    title: str,
    says: str,
    source: Source,
    formulas: tuple[Callable[..., Any], ...],
    lacks: tuple[str, ...] = (),
    stake: Stake = Stake.durability,
    caution: str = "",
) -> Element:
    """The element whose finding says that its torque stays within its capacity."""
    identifier = f"{SUBJECT}.{one.name}"
    judged = Held(one.name, one.sees, one.carries, one.how, plain=bool(lacks) or identifier in build.limits)
    requirement = Requirement(
        id=identifier,
        about=about,
        says=says,
        value=partial(_seen, one=judged),
        quantity=TORQUE,
        stake=stake,
        limit=AtMost(partial(_carried, one=judged)),
        source=source,
        formulas=formulas,
        shows=partial(_shows, one=judged),
        caution=caution,
        cure=CURE,
    )
    return Element(requirement, title, partial(reserve, one=one), lacks)


def reserve(ev: Evaluation, one: Held) -> Array:
    """Capacity over torque in the gear that leaves the least, (draws,)."""
    return np.asarray((ev.of(one.carries) / one.sees(ev).seen).min(axis=-1))


def lacking(*refs: FactRef) -> tuple[str, ...]:
    """The paths of the facts that are neither written nor typical."""
    return tuple(ref.path for ref in refs if ref.known is None)


def rating_source(ref: FactRef | None) -> Source:
    """Where a limit comes from that is a rating: its maker, or another source where the build says so."""
    written = ref.written if ref is not None else None
    if written is None or written.provenance in {Provenance.manual, Provenance.catalogue}:
        return Source(f"its maker's rating; {_RULE}", SourceKind.manual)
    return Source(f"the rating as written in the build; {_RULE}", SourceKind.builder)


def _worst(ev: Evaluation, one: Held) -> NDArray[np.intp]:
    """The column of the gear that decides, draw by draw, (draws, 1)."""
    pressed = _pressed(ev, one)
    hardest = pressed.max(axis=-1, keepdims=True)
    chosen = (pressed >= hardest * (1 - _ALIKE)) | np.isnan(
        pressed
    )  # the first of those that press alike; nan stays nan
    return np.asarray(np.argmax(chosen, axis=-1)[:, None])


def _pressed(ev: Evaluation, one: Held) -> Array:
    """How hard each gear presses the element, (draws, gears): torque over capacity, or the torque alone."""
    seen = one.sees(ev).seen
    return seen if one.plain else np.asarray(seen / ev.of(one.carries))


def _seen(ev: Evaluation, one: Held) -> Array:
    return np.asarray(np.take_along_axis(one.sees(ev).seen, ev.of(_worst, one), axis=-1)[:, 0])


def _carried(ev: Evaluation, one: Held) -> Array:
    worst = ev.of(_worst, one)
    carried = ev.of(one.carries)
    return np.asarray(np.take_along_axis(carried, np.minimum(worst, carried.shape[1] - 1), axis=-1)[:, 0])


def _shows(ev: Evaluation, one: Held) -> str:
    """Which gear decides, which side sets the torque there, how the capacity came about, and what was left out."""
    sides, pressed = one.sees(ev), _pressed(ev, one)[0]
    alike = np.flatnonzero(pressed >= pressed.max() * (1 - _ALIKE))
    first, last = int(alike[0]), int(alike[-1])
    surest = first if sides.grip_governs[0, first] else last  # grip is surest in a low gear, the engine in a high one
    gears = spoken_together([gear_names(ev.build)[column] for column in alike])
    where = f"{'most torque' if one.plain else 'least reserve'} in {gears}, where {who_sets_it(sides, surest)}"
    return "; ".join([where, *([] if one.plain else [one.how(ev, first)]), *left_out(ev.build)])
