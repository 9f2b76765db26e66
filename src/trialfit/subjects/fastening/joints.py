"""What the topics of fastening share: words of a joint that must be known, its thread and strength, stake and caution.

Answers   word, thread_of, strength_of     or MissingFact naming what is not written
          strength_is_known                whether it can be said
          stake_of, source_of, CAUTION, RESERVE   for requirements
          cure_for_paint                   what to do first where paint is clamped
          nominal, force, torque, share    numbers in sentences
Not here  preload (torque_figures.py); where the bolts sit (pattern.py)
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.evaluation.requirement import Source, SourceKind, Stake
from trialfit.facts.quantity import FORCE, SHARE, TORQUE
from trialfit.facts.showing import show
from trialfit.facts.units import display_unit, find_unit
from trialfit.handbook.fastening.fastener_classes import Strength
from trialfit.handbook.fastening.fastener_classes import strength_of as strength_in_table
from trialfit.handbook.fastening.thread_sizes import ScrewThread, read_fastener_thread

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

    from trialfit.parts import BoltedJoint

SUBJECT = "fastening"
CAUTION = (
    "the maker's torque, angle, order and new bolts outrank every figure calculated here; pull the wrench, never push it, and "
    "keep fingers clear; where a failure can hurt people, licensed practice decides"
)
RESERVE = 1.5
"""Load at which faces part or slide, over the load: 1.5 to 2 is common practice, no source."""
BARE = (
    "Bare the faces under heads and nuts and between the parts, paint over the joint when it is tight, and tighten again after a day; or "
    "take a longer grip, more or larger bolts."
)
_STAKES = {
    "somebody is hurt": Stake.safety,
    "something breaks": Stake.durability,
    "it leaks": Stake.comfort,
}


def cure_for_paint(joint: BoltedJoint) -> str:
    """Paint comes first where there is any: it is cheap to take away, and it creeps."""
    films = joint.paint_films.written
    return BARE if films and films.si > 0 else ""


def word(joint: BoltedJoint, name: str) -> str:
    """A word of the joint. Raises MissingFact where it is not written."""
    text: str | None = getattr(joint, name)
    if text is None:
        raise MissingFact({f"{joint.name}.{name}": joint.specs()[name].says})
    return text


def thread_of(joint: BoltedJoint) -> ScrewThread:
    """Thread of the bolts. Raises MissingFact."""
    return read_fastener_thread(word(joint, "thread"))


def strength_of(joint: BoltedJoint) -> Strength:
    """Strength of the bolts by class and size. Raises MissingFact where neither says it."""
    lacking = {f"{joint.name}.{name}": joint.specs()[name].says for name in ("thread", "strength_class")}
    lacking = {path: says for path, says in lacking.items() if getattr(joint, path.rpartition(".")[2]) is None}
    if lacking:
        raise MissingFact(lacking)
    thread, grade = thread_of(joint), word(joint, "strength_class")
    strength = strength_in_table(grade, thread.diameter)
    if strength is None:
        says = (
            f"a class whose strength is known for {thread.designation}: the table of {grade} does not reach that size"
        )
        raise MissingFact({f"{joint.name}.strength_class": says})
    return strength


def strength_is_known(joint: BoltedJoint) -> bool:
    """Whether thread and class are written, and the class is made in that size."""
    if joint.thread is None or joint.strength_class is None:
        return False
    return strength_in_table(joint.strength_class, read_fastener_thread(joint.thread).diameter) is not None


def stake_of(joint: BoltedJoint) -> Stake:
    """What is at stake, by the worst consequence if it fails."""
    return _STAKES[joint.failure_consequence or "somebody is hurt"]


def source_of(text: str) -> Source:
    """A source by its own words: what is from memory in part counts as from memory."""
    if "common practice" in text:
        return Source(text, SourceKind.common_practice)
    return Source(text, SourceKind.from_memory if "from memory" in text else SourceKind.published)


def nominal(values: ArrayLike) -> float:
    """The value at draw 0."""
    return float(np.atleast_1d(np.asarray(values))[0])


def torque(values: ArrayLike) -> str:
    """The nominal torque as text."""
    return show(nominal(values), display_unit(TORQUE))


def force(values: ArrayLike) -> str:
    """The nominal force as text, in kN."""
    return show(nominal(values), find_unit(FORCE, "kN"))


def share(values: ArrayLike) -> str:
    """The nominal share as text."""
    return show(nominal(values), display_unit(SHARE), 2)
