"""Where the bolts of a joint sit, and in which order they are tightened.

Answers   places_of     nominal places, numbered; None where too little is written
          Order, order_of    the order, and whose it is
          bolt_count    written, or counted in the pattern
          mean_radius   of the bolts round the middle of the pattern
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.handbook.fastening import bolt_patterns, tightening_order
from trialfit.handbook.sources import NO_SOURCE

if TYPE_CHECKING:
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import BoltedJoint, FactRef


@dataclass(frozen=True)
class Order:
    """The bolts' numbers in their order, and where it comes from."""

    numbers: tuple[int, ...]
    source: str


def lacking_places(joint: BoltedJoint) -> dict[str, str]:
    """What is missing for the places of the bolts; empty where they are known."""
    if joint.places:
        return {}
    if joint.places_x or joint.places_y or joint.pattern == "perimeter":
        lists = {"places_x": joint.places_x, "places_y": joint.places_y}
        return {f"{joint.name}.{name}": joint.specs()[name].says for name, refs in lists.items() if not refs}
    if joint.pattern is None:
        return {f"{joint.name}.pattern": joint.specs()["pattern"].says}
    return {ref.path: ref.spec.says for ref in _sizes(joint) if ref.written is None}


def _sizes(joint: BoltedJoint) -> tuple[FactRef, ...]:
    return {
        "circle": (joint.bolts, joint.pitch_circle_diameter),
        "rectangle": (joint.columns, joint.rows, joint.length, joint.width),
        "rail pair": (joint.columns, joint.length, joint.width),
        "grid": (joint.rows, joint.columns, joint.length, joint.width),
    }[joint.pattern or ""]


def places_of(joint: BoltedJoint) -> Array:
    """Nominal places of the bolts, (bolts, 2), m. Raises MissingFact."""
    lacking = lacking_places(joint)
    if lacking:
        raise MissingFact(lacking)
    if joint.places:
        return np.array([[ref.written.si if ref.written else np.nan for ref in pair] for pair in joint.places])
    sizes = [ref.written.si for ref in _sizes(joint) if ref.written]
    if joint.pattern == "circle":
        return bolt_patterns.circle(round(sizes[0]), sizes[1])
    if joint.pattern == "rail pair":
        return bolt_patterns.rail_pair(round(sizes[0]), *sizes[1:])
    make = bolt_patterns.rectangle if joint.pattern == "rectangle" else bolt_patterns.grid
    return make(round(sizes[0]), round(sizes[1]), *sizes[2:])


def bolt_count(ev: Evaluation, joint: BoltedJoint) -> Array:
    """How many bolts there are: written, else counted in the pattern. Raises MissingFact."""
    if joint.bolts.written is None and not lacking_places(joint):
        return np.full(ev.draws, float(len(places_of(joint))))
    return ev(joint.bolts)


def order_of(joint: BoltedJoint) -> Order:
    """The maker's order where it is written, else one made for the pattern. Raises MissingFact."""
    if joint.tightening_order:
        return Order(tightening_order.read_order(joint.tightening_order), "the maker's order")
    places = places_of(joint)
    if joint.pattern == "circle" and not joint.places:
        return Order(tightening_order.circle_order(len(places)), f"cross, then bisect: {NO_SOURCE}")
    said = f"from the middle outwards, crossing over: {NO_SOURCE}"
    return Order(tightening_order.outward_order(places), said)


def mean_radius(ev: Evaluation, joint: BoltedJoint) -> Array:
    """Mean distance of the bolts from the middle of the pattern, m: the arm of their friction. Raises MissingFact.

    One bolt alone, wherever it sits, is turned about itself: the arm is the mean radius of the face under its own head.
    """
    if joint.bolts.written is not None and joint.bolts.written.si == 1:
        face, hole = ev.each(joint.bearing_diameter, joint.hole_diameter)
        return np.asarray((face + hole) / 4)
    if joint.pitch_circle_diameter.written is not None or (joint.pattern in (None, "circle") and not joint.places):
        return ev(joint.pitch_circle_diameter) / 2
    places = places_of(joint)
    return np.full(ev.draws, float(np.linalg.norm(places - places.mean(axis=0), axis=1).mean()))
