"""A small frame by finite elements: stress against the steel as welded, deflection, and comparison with the frame as it was.

Answers   requirements   frame_stress.FRAME, frame_ratio.FRAME where members stand for cut ones, and the figures
                         frame_deflection.FRAME, frame_reaction.NODE
Not here  a single member (reinforcement.py)

One run with nominal sections and places gives the answers to one unit of each load; the draws combine them. So loads and the
strength of each section carry their spread in full; how a frame that is over-held shares its loads, and where its nodes are, is
nominal only. How far it moves is summed member by member with each draw's own stiffness (virtual work), right to first order.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.evaluation.requirement import AtLeast, AtMost, Requirement, Stake
from trialfit.facts.quantity import FORCE, LENGTH, RATIO
from trialfit.handbook.structure.brackets import equivalent_stress
from trialfit.handbook.structure.frame_work import combine, work_of_members
from trialfit.handbook.structure.welds import steel
from trialfit.parts import CutMember, Frame, FrameMember, FrameNode, Reinforcement
from trialfit.parts.structure.members import Sectioned
from trialfit.subjects.structure.margins import SAFETY_ON_YIELD, WELDING, counts_as, in_life, once_unsaid, safety
from trialfit.subjects.structure.metals import beside_weld, counted
from trialfit.subjects.structure.reinforcement import (
    AS_MUCH_AS_CUT,
    area,
    sideways_stiffness,
    torsion_stiffness,
    upright_stiffness,
)
from trialfit.subjects.structure.section_of import section_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.finite_elements import frames as elements
    from trialfit.handbook.arrays import Array
    from trialfit.parts import FactRef


NOMINAL = "how the frame shares its loads is worked out at its nominal shape and sections"


def requirements(build: Build) -> Iterator[Requirement]:
    """What each frame must carry."""
    for frame in build.all(Frame):
        yield Requirement(
            id=f"structure.frame_stress.{frame.name}",
            about=frame.name,
            says=f"the members of {frame.name} carry their loads, which come {in_life(counts_as(frame))}, beside their welds",
            value=partial(use_of_strength, frame=frame),
            quantity=RATIO,
            stake=Stake.safety,
            limit=AtMost(1.0 / safety(counts_as(frame))),
            source=SAFETY_ON_YIELD,
            formulas=(combine, equivalent_stress),
            shows=lambda ev, frame=frame: "; ".join(filter(None, (_worst_member(ev, frame), once_unsaid(frame)))),  # type: ignore[misc]
            caution=WELDING,
        )
        yield Requirement(
            id=f"structure.frame_deflection.{frame.name}",
            about=frame.name,
            says=f"deflection of {frame.name} under its worst loads, along the loads, weighted by their size",
            value=partial(deflection, frame=frame),
            quantity=LENGTH,
            stake=Stake.comfort,
            formulas=(work_of_members, combine),
            shows=lambda _: NOMINAL,
            caution=WELDING,
        )
        for node in _nodes(build, frame):
            if node.support != "free":
                yield _reaction(frame, node)
        if any(_before(build, member) is not build.named(member.section) for member in _members(build, frame)):
            yield Requirement(
                id=f"structure.frame_ratio.{frame.name}",
                about=frame.name,
                says=f"{frame.name} is at least as stiff under its loads as with the members that were cut",
                value=partial(ratio, frame=frame),
                quantity=RATIO,
                stake=Stake.safety,
                limit=AtLeast(1.0),
                source=AS_MUCH_AS_CUT,
                formulas=(work_of_members, combine),
                shows=lambda _: NOMINAL,
                caution=WELDING,
            )


def _reaction(frame: Frame, node: FrameNode) -> Requirement:
    return Requirement(
        id=f"structure.frame_reaction.{node.name}",
        about=node.name,
        says=f"largest force of the body on {frame.name} at {node.name}",
        value=partial(reaction, frame=frame, node=node),
        quantity=FORCE,
        stake=Stake.durability,
        formulas=(combine,),
        shows=lambda _: NOMINAL,
        caution=WELDING,
    )


def _nodes(build: Build, frame: Frame) -> tuple[FrameNode, ...]:
    return tuple(node for node in build.all(FrameNode) if node.frame in {frame.name, None})


def _members(build: Build, frame: Frame) -> tuple[FrameMember, ...]:
    return tuple(member for member in build.all(FrameMember) if member.frame in {frame.name, None})


def _loads(build: Build, frame: Frame) -> list[tuple[int, str, FactRef]]:
    """Node by number, axis and fact of each load that is written."""
    return [
        (number, axis, ref)
        for number, node in enumerate(_nodes(build, frame))
        for axis, ref in (("x", node.load_x), ("y", node.load_y), ("z", node.load_z))
        if ref.written is not None
    ]


def _section(build: Build, member: FrameMember) -> Sectioned:
    part = build.named(member.section)
    if not isinstance(part, Sectioned):
        raise MissingFact({f"{member.name}.section": "what it is made of"})
    return part


def _before(build: Build, member: FrameMember) -> Sectioned | None:
    """The section as it was before anything was cut."""
    part = build.named(member.section)
    cut = build.named(part.replaces) if isinstance(part, Reinforcement) else None
    return cut if isinstance(cut, CutMember) else part if isinstance(part, Sectioned) else None


def answers(ev: Evaluation, frame: Frame, original: bool = False) -> elements.Frame:  # noqa: FBT001, FBT002 - worked out once per value
    """The frame's answers to one unit of each load, with the sections as they are or as they were before the cut."""
    from trialfit.finite_elements.frames import solve

    nodes, members, loads = _nodes(ev.build, frame), _members(ev.build, frame), _loads(ev.build, frame)
    if not members:
        raise MissingFact({FrameMember.kind: f"no member of {frame.name} is written"})
    places = np.array([[float(axis[0]) for axis in ev.each(node.x, node.y, node.z)] for node in nodes])
    numbers = {node.name: number for number, node in enumerate(nodes)}
    rows = [_row(ev, member, numbers, original) for member in members]
    try:
        return solve(
            places, [node.support or "free" for node in nodes], rows, [(number, axis) for number, axis, _ in loads]
        )
    except ValueError as wrong:
        raise MissingFact({frame.name: str(wrong)}) from wrong


def _row(ev: Evaluation, member: FrameMember, numbers: dict[str, int], original: bool) -> elements.Member:  # noqa: FBT001
    """A member as the solver takes it, at the nominal."""
    from trialfit.finite_elements.frames import Member

    missing = {
        f"{member.name}.{end}": "a node of the same frame"
        for end, node in (("start", member.start), ("end", member.end))
        if node not in numbers
    }
    if missing:
        raise MissingFact(missing)
    part = _made_of(ev, member, original)
    section = ev.of(section_of, part)
    values = (section.area, section.upright, section.sideways, section.torsion)
    nominal = [float(np.asarray(value)[0]) for value in (*values, *ev.each(part.youngs_modulus, part.shear_modulus))]
    if not np.all(np.isfinite(nominal)):
        raise MissingFact({f"{part.name}.wall_thickness": "expected a section within the range of the formulas"})
    return Member(numbers[member.start or ""], numbers[member.end or ""], *nominal)


def _made_of(ev: Evaluation, member: FrameMember, original: bool) -> Sectioned:  # noqa: FBT001
    part = _before(ev.build, member) if original else _section(ev.build, member)
    if part is None:
        raise MissingFact({f"{member.name}.section": "what it is made of"})
    return part


def _worst_loads(ev: Evaluation, frame: Frame) -> Array:
    """The loads at their worst, N, (draws, loads). Raises MissingFact naming the nodes that can carry one."""
    written = [ref for _, _, ref in _loads(ev.build, frame)]
    if not written:
        nodes = _nodes(ev.build, frame)
        free = {f"{node.name}.load_z": node.load_z.spec.says for node in nodes if node.support == "free"}
        raise MissingFact(free or {FrameNode.kind: f"no node of {frame.name} that is free to move is written"})
    loads = np.stack(ev.each(*written), axis=-1)
    return np.asarray(loads * ev(frame.load_factor)[:, None])


def _inside(ev: Evaluation, frame: Frame, original: bool = False) -> Array:  # noqa: FBT001, FBT002 - worked out once per value
    """Forces inside at the worst loads, (draws, rows, 4, 2)."""
    return np.asarray(combine(ev.of(_worst_loads, frame), ev.of(answers, frame, original).inside))


def uses(ev: Evaluation, frame: Frame) -> Array:
    """Stress over yield strength of each member, (draws, members)."""
    inside, answer = ev.of(_inside, frame), ev.of(answers, frame)
    found = []
    for number, member in enumerate(_members(ev.build, frame)):
        part = _section(ev.build, member)
        section = ev.of(section_of, part)
        pull, twist, sideways, upright = (
            np.abs(inside[:, answer.member == number, way]).max(axis=(1, 2)) for way in range(4)
        )
        along = pull / section.area + sideways / section.sideways_modulus + upright / section.upright_modulus
        if isinstance(part, Reinforcement):
            strength = counted(ev.of(beside_weld, part), part.material, counts_as(frame))
        else:
            strength = np.full(ev.draws, steel("welded_yield"))
        found.append(np.asarray(equivalent_stress(along, twist / section.torsion_modulus)) / strength)
    return np.stack(found, axis=-1)


def use_of_strength(ev: Evaluation, frame: Frame) -> Array:
    """Stress over yield strength in the hardest worked member."""
    return np.asarray(ev.of(uses, frame).max(axis=-1))


def _worst_member(ev: Evaluation, frame: Frame) -> str:
    worst = int(np.argmax(ev.of(uses, frame)[0]))
    return f"{_members(ev.build, frame)[worst].name} is loaded most; {NOMINAL}"


def work(ev: Evaluation, frame: Frame, original: bool = False) -> Array:  # noqa: FBT001, FBT002 - worked out once per value
    """Work that the worst loads do on the frame, twice the energy in it, J."""
    inside, answer = ev.of(_inside, frame, original), ev.of(answers, frame, original)
    total = np.zeros(ev.draws)
    for number, member in enumerate(_members(ev.build, frame)):
        part = _made_of(ev, member, original)
        pull = ev(part.youngs_modulus) * area(ev, part)
        stiffness = (pull, torsion_stiffness(ev, part), sideways_stiffness(ev, part), upright_stiffness(ev, part))
        for row in np.flatnonzero(answer.member == number):
            for way, one in enumerate(stiffness):
                forces = inside[:, row, way]
                total = total + np.asarray(work_of_members(forces, forces, answer.length[row], one))
    return total


def deflection(ev: Evaluation, frame: Frame) -> Array:
    """Movement along the loads, each counted by its size, m: of one load simply how far it goes."""
    return np.asarray(ev.of(work, frame) / np.sqrt((ev.of(_worst_loads, frame) ** 2).sum(axis=-1)))


def ratio(ev: Evaluation, frame: Frame) -> Array:
    """Stiffness over that of the frame with the members that were cut: work then over work now, for the same loads."""
    return np.asarray(ev.of(work, frame, original=True) / ev.of(work, frame))


def reaction(ev: Evaluation, frame: Frame, node: FrameNode) -> Array:
    """Size of the force at a held node, N."""
    number = [one.name for one in _nodes(ev.build, frame)].index(node.name)
    force = combine(ev.of(_worst_loads, frame), ev.of(answers, frame).reactions[:, number])
    return np.asarray(np.linalg.norm(np.asarray(force), axis=-1))
