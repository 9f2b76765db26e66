"""The weakest element: the one with the smallest capacity over its load.

Answers   requirements   the figure torque_path.weakest
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.evaluation.requirement import AtLeast, Requirement, Stake
from trialfit.facts.quantity import RATIO
from trialfit.subjects.torque_path import sentences
from trialfit.subjects.torque_path.element import SUBJECT

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.subjects.torque_path.element import Element


_LISTED = 3


def requirements(elements: Sequence[Element]) -> Iterator[Requirement]:
    """The smallest reserve of all elements whose capacity is known; none where no capacity is."""
    known = tuple(element for element in elements if not element.lacks)
    if not known:
        return
    lacking = tuple(element for element in elements if element.lacks)
    yield Requirement(
        id=f"{SUBJECT}.weakest",
        about="the whole line",
        says="weakest element: the smallest capacity after reserve, over load",
        value=partial(smallest, known=known),
        quantity=RATIO,
        stake=Stake.durability,
        turned_by=AtLeast,
        shows=partial(_shows, known=known, lacking=lacking),
        leads=True,
    )


def smallest(ev: Evaluation, known: tuple[Element, ...]) -> Array:
    """The smallest reserve, draw by draw."""
    return np.asarray(ev.of(_reserves, known).min(axis=-1))


def _undecided(ev: Evaluation, known: tuple[Element, ...]) -> tuple[Element, ...]:
    """Those whose capacity turns on a fact that is not written. Raises MissingFact where that leaves no element."""
    found: list[Element] = []
    for element in known:
        try:
            element.reserve(ev)
        except MissingFact as missing:
            if set(missing.wanted) != {element.may_lack} or len(known) == len(found) + 1:
                raise
            found.append(element)
    return tuple(found)


def _reserves(ev: Evaluation, known: tuple[Element, ...]) -> Array:
    """The reserve of each that is known; infinite where it is not decided, so that it is not the smallest."""
    undecided = ev.of(_undecided, known)
    nothing = np.full(ev.draws, np.inf)
    return np.stack([nothing if element in undecided else element.reserve(ev) for element in known], axis=-1)


def _shows(ev: Evaluation, known: tuple[Element, ...], lacking: tuple[Element, ...]) -> str:
    """The weakest by name, how often it is the weakest, those that follow, and those that are not known."""
    reserves = ev.of(_reserves, known)
    undecided = ev.of(_undecided, known)
    order = np.argsort(reserves[0])[: len(known) - len(undecided)]
    first = order[0]
    share = float(np.mean(reserves.argmin(axis=-1) == first))
    surely = "" if share == 1 else f" (the weakest in {sentences.share(share)})"
    said = [f"weakest element: {known[first].title}, capacity {sentences.ratio(reserves[0, first])} of demand{surely}"]
    if following := [f"{known[at].title} at {sentences.ratio(reserves[0, at])}" for at in order[1:_LISTED]]:
        said.append(f"then {', '.join(following)}")
    unknown = [(element.title, element.lacks[0]) for element in lacking]
    unknown += [(element.title, element.may_lack) for element in undecided]
    if unknown:
        said.append("not known: " + ", ".join(f"{title} ({path})" for title, path in unknown))
    return "; ".join(said)
