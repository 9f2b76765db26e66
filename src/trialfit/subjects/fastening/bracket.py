"""A joint that carries an arm: the lever pulls on the hardest bolt, a thin foot pries, and the faces may turn.

Answers   applies        whether the load acts at a lever, or nobody has said that it does not
          requirements   separation, bolt_load, foot_bending, slip of such a joint, state by state
Not here  joints whose load acts in line with their bolts (holding.py); the loads of a mount (mount_loads.py)
States    each load case of the mount; under level bolts with the level load along the bolts, then across them
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.requirement import COMMON_PRACTICE, AtLeast, AtMost, Requirement
from trialfit.evaluation.states import InStates
from trialfit.facts.quantity import FORCE, SHARE
from trialfit.handbook.fastening import bolt_patterns, bolted_joints
from trialfit.handbook.fastening import bracket_feet as feet
from trialfit.subjects.fastening import mount_loads, preloads, stiffness
from trialfit.subjects.fastening.joints import (
    CAUTION,
    RESERVE,
    SUBJECT,
    cure_for_paint,
    force,
    source_of,
    stake_of,
    thread_of,
)
from trialfit.subjects.fastening.pattern import bolt_count, lacking_places, places_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import BoltedJoint

_LEVER = (feet.hardest_pull, feet.prying_share, feet.foot_use)
_MEND = (
    "a shorter arm, more bolts or bolts further apart, a thicker foot, or a brace that takes the lever off the bolts"
)


@dataclass(frozen=True)
class _Acting:
    """What acts on the joint in each state, N, (draws, states): pull in line, size of the load in line, load across."""

    pull: Array
    in_line: Array
    across: Array
    names: tuple[str, ...]


def applies(joint: BoltedJoint) -> bool:
    """Whether a lever or a foot is written, or the load comes from a mount and nobody has said that there is no arm."""
    written = [ref.written.si for ref in (joint.lever_out, joint.lever_aside) if ref.written is not None]
    if any(written) or (written and joint.web_distance.written is not None):
        return True
    return mount_loads.is_taken(joint, joint.pull) and len(written) < 2  # noqa: PLR2004 - out and aside


def requirements(joint: BoltedJoint) -> Iterator[Requirement]:
    """What the joint of an arm must hold."""
    holds = mount_loads.held(joint) or "pull and shear"
    if "pull" in holds:
        yield _separation(joint)
        yield _bolt_load(joint)
        if joint.web_distance.written is not None:
            yield _foot_bending(joint)
    if "shear" in holds:
        yield _slip(joint)


def _separation(joint: BoltedJoint) -> Requirement:
    return Requirement(
        id=f"{SUBJECT}.{joint.name}.separation",
        about=joint.name,
        says=f"the faces stay together at the hardest pulled bolt under {RESERVE} times its pull, lever and prying counted",
        value=partial(separation_load, joint=joint),
        quantity=FORCE,
        stake=stake_of(joint),
        limit=AtLeast(lambda ev: _times(RESERVE, ev.of(pull_with_prying, joint))),
        source=COMMON_PRACTICE,
        formulas=(bolted_joints.separation_load, *_LEVER, *mount_loads.formulas(joint, joint.pull)),
        unit="kN",
        shows=partial(_shown, joint=joint),
        caution=CAUTION,
        cure=cure_for_paint(joint) or _MEND,
    )


def _bolt_load(joint: BoltedJoint) -> Requirement:
    return Requirement(
        id=f"{SUBJECT}.{joint.name}.bolt_load",
        about=joint.name,
        says="preload plus its share of the pull, lever and prying counted, stays below the proof load of the hardest pulled bolt",
        value=partial(bolt_load, joint=joint),
        quantity=FORCE,
        stake=stake_of(joint),
        limit=AtMost(lambda _: preloads.proof_load(joint)),
        source=source_of("proof load: ISO 898-1, SAE J429"),
        formulas=(bolted_joints.bolt_force, bolted_joints.load_share, *_LEVER),
        unit="kN",
        caution=CAUTION,
        cure=_MEND,
    )


def _foot_bending(joint: BoltedJoint) -> Requirement:
    return Requirement(
        id=f"{SUBJECT}.{joint.name}.foot_bending",
        about=joint.name,
        says=f"the foot of the bracket does not yield beside its bolts under {RESERVE} times the pull; the value is the use of it",
        value=partial(foot_use, joint=joint),
        quantity=SHARE,
        stake=stake_of(joint),
        limit=AtMost(1.0),
        source=source_of("AISC Engineering Journal, 2nd quarter 1985; the reserve is common practice, no source"),
        formulas=(feet.foot_use, feet.hardest_pull),
        caution=CAUTION,
        cure="a thicker foot, a gusset, or bolts nearer to the web",
    )


def _slip(joint: BoltedJoint) -> Requirement:
    return Requirement(
        id=f"{SUBJECT}.{joint.name}.slip",
        about=joint.name,
        says=f"the clamped joint carries {RESERVE} times the shear force at its lever before its faces slide or turn",
        value=partial(slip_force, joint=joint),
        quantity=FORCE,
        stake=stake_of(joint),
        limit=AtLeast(lambda ev: _times(RESERVE, ev.of(turning_shear, joint))),
        source=COMMON_PRACTICE,
        formulas=(
            bolted_joints.slip_force,
            bolted_joints.clamp_force,
            feet.turned_shear,
            *mount_loads.formulas(joint, joint.shear),
        ),
        unit="kN",
        shows=partial(_sliding, joint=joint),
        caution=CAUTION,
        cure=cure_for_paint(joint) or "clean and bare faces, more clamp, dowels, or bolts further apart",
    )


def _times(factor: float, states: InStates) -> InStates:
    return InStates(factor * states.values, states.names)


def _acting(ev: Evaluation, joint: BoltedJoint) -> _Acting:
    """What acts in each state: of the mount, or as written."""
    if not mount_loads.is_taken(joint, joint.pull):
        pull = mount_loads.pull_on(ev, joint)[:, None]
        holds = mount_loads.held(joint) or "pull and shear"
        across = mount_loads.shear_on(ev, joint)[:, None] if "shear" in holds else np.zeros_like(pull)
        return _Acting(pull, pull, across, ("",))
    return _of_the_mount(*mount_loads.on_the_mount(ev, joint), joint.bolt_axis)


def _of_the_mount(upright: Array, level: Array, axis: str | None) -> _Acting:
    up, side = upright.T, level.T
    names, both, size = mount_loads.case_names(), np.hypot(up, side), np.abs(up)
    if axis == "level":
        ways = ("level load along the bolts", "level load across the bolts")
        named = tuple(f"{name}, {way}" for way in ways for name in names)
        pull = np.concatenate([side, np.zeros_like(side)], axis=1)
        return _Acting(pull, pull, np.concatenate([size, both], axis=1), named)
    if axis is None:
        pull = np.maximum(size, side)
        return _Acting(pull, pull, both, names)
    return _Acting(np.maximum(up if axis == "hung" else -up, 0), size, side, names)


def _places(joint: BoltedJoint) -> Array | None:
    """Where the bolts sit, m; on a circle where only that is written; None where too little is."""
    if not lacking_places(joint):
        return places_of(joint)
    bolts, circle = joint.bolts.written, joint.pitch_circle_diameter.written
    if bolts is not None and round(bolts.si) == 1:
        return np.zeros((1, 2))
    if bolts is None or circle is None or joint.pattern not in (None, "circle"):
        return None
    return bolt_patterns.circle(round(bolts.si), circle.si)


def pull_on_bolt(ev: Evaluation, joint: BoltedJoint) -> InStates:
    """Pull on the hardest bolt, N: in line and by the lever. Raises MissingFact."""
    out, aside, edge = (each[:, None] for each in ev.each(joint.lever_out, joint.lever_aside, joint.edge_distance))
    out, aside, edge = np.abs(out), np.abs(aside), np.maximum(edge, 0.0)  # a lever of 0 may come out on either side
    places = _places(joint)
    if places is None:
        places = places_of(joint)
    acting = ev.of(_acting, joint)
    moment = acting.across * out + acting.in_line * aside
    return InStates(np.asarray(feet.hardest_pull(places, edge, acting.pull, moment)), acting.names)


def _foot(ev: Evaluation, joint: BoltedJoint) -> tuple[Array, Array]:
    """Use of the foot, (draws, states), and the share of its width that the holes leave, (draws, 1); 0 where it is solid."""
    pull = ev.of(pull_on_bolt, joint).values
    web, width, thick, strength, hole = (
        each[:, None]
        for each in ev.each(
            joint.web_distance, joint.foot_width, joint.head_side_thickness, joint.foot_strength, joint.hole_diameter
        )
    )
    size = thread_of(joint).diameter
    use = feet.foot_use(pull, np.maximum(web, 0.51 * size), size, width, thick, strength)
    return np.asarray(np.where(web > size / 2, use, 0.0)), np.asarray(1 - hole / width)


def pull_with_prying(ev: Evaluation, joint: BoltedJoint) -> InStates:
    """Pull on the hardest bolt with what the edge of the foot pries, N."""
    pull, (use, _) = ev.of(pull_on_bolt, joint), ev.of(_foot, joint)
    web, edge, width, hole = (
        each[:, None]
        for each in ev.each(joint.web_distance, joint.edge_distance, joint.foot_width, joint.hole_diameter)
    )
    size = thread_of(joint).diameter
    pried = feet.prying_share(use, np.maximum(web, 0.51 * size), np.maximum(edge, 0.1 * size), size, hole, width)
    return InStates(np.asarray(pull.values * (1 + np.where(use > 1, pried, 0.0))), pull.names)


def foot_use(ev: Evaluation, joint: BoltedJoint) -> InStates:
    """Use of the foot at the reserve, (draws, states): 1 where it hinges at web and bolts."""
    pull, (use, left) = ev.of(pull_on_bolt, joint), ev.of(_foot, joint)
    return InStates(np.asarray(RESERVE * use / (1 + left)), pull.names)


def separation_load(ev: Evaluation, joint: BoltedJoint) -> InStates:
    """Pull on one bolt at which its faces part, N."""
    pull = ev.of(pull_with_prying, joint)
    one = bolted_joints.separation_load(ev.of(preloads.settled_preload, joint), ev.of(stiffness.load_share, joint))
    return InStates(np.broadcast_to(np.asarray(one)[:, None], pull.values.shape), pull.names)


def bolt_load(ev: Evaluation, joint: BoltedJoint) -> InStates:
    """Load on the hardest bolt, N, before the parts bed in. Raises MissingFact where the grip is unknown."""
    ev.of(stiffness.layers, joint)
    pull = ev.of(pull_with_prying, joint)
    full, share = (ev.of(each, joint)[:, None] for each in (preloads.preload, stiffness.load_share))
    return InStates(np.asarray(bolted_joints.bolt_force(full, share, pull.values)), pull.names)


def slip_force(ev: Evaluation, joint: BoltedJoint) -> InStates:
    """Force across the bolts at which the faces slide, N: the pull in line takes clamp off, the lever only shifts it."""
    acting = ev.of(_acting, joint)
    friction, faces = (each[:, None] for each in ev.each(joint.face_friction, joint.sliding_faces))
    settled, share = (ev.of(each, joint)[:, None] for each in (preloads.settled_preload, stiffness.load_share))
    bolts = ev.of(bolt_count, joint)[:, None]
    clamp = bolted_joints.clamp_force(settled, share, acting.pull / bolts)
    return InStates(np.asarray(bolted_joints.slip_force(bolts, clamp, friction, faces)), acting.names)


def turning_shear(ev: Evaluation, joint: BoltedJoint) -> InStates:
    """Force across the bolts that loads all of them like the hardest one, N."""
    acting = ev.of(_acting, joint)
    places = _places(joint)
    if places is None:
        places = places_of(joint)
    one = feet.turned_shear(places, acting.across, np.abs(ev(joint.lever_aside))[:, None])
    return InStates(np.asarray(one * len(places)), acting.names)


def _shown(ev: Evaluation, joint: BoltedJoint) -> str:
    pull, pried = ev.of(pull_on_bolt, joint), ev.of(pull_with_prying, joint)
    worst = int(np.argmax(pried.values[0]))
    in_line = float(ev.of(_acting, joint).pull[0, worst] / ev.of(bolt_count, joint)[0])
    share = pried.values[0, worst] / pull.values[0, worst] - 1 if pull.values[0, worst] else 0.0
    return (
        f"{force(pull.values[0, worst])} on the hardest bolt, of which {force(in_line)} in line and the rest by the lever; prying "
        f"adds {100 * share:.0f} %; clamp load {force(ev.of(preloads.settled_preload, joint))} per bolt"
    )


def _sliding(ev: Evaluation, joint: BoltedJoint) -> str:
    turned, across = ev.of(turning_shear, joint).values[0], ev.of(_acting, joint).across[0]
    worst = int(np.argmax(turned))
    more = turned[worst] / across[worst] - 1 if across[worst] else 0.0
    return (
        f"{force(across[worst])} across the bolts, and {100 * more:.0f} % more at the hardest bolt as the load acts beside them; "
        f"clamp load {force(ev.of(preloads.settled_preload, joint))} per bolt"
    )
