"""What nothing judges in a build, as a list for the hand: how to see it, and before which gate.

Answers   HandCheck, HandChecks   the shapes: one way of failing, all of them
          hand_checks             all of a build, the worst stake first
          before                  those at stake safety that belong to a gate
Not here  the register and what judges it (subjects/register.py, subjects/unjudged.py)

A gate that a build does not have, such as the first fire of an electric car, hands its looks on to the next one.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from pydantic import Field

from trialfit.book.conditions import holds
from trialfit.evaluation.requirement import Stake
from trialfit.facts.frozen import Frozen
from trialfit.planning.templates import gates
from trialfit.subjects.catalogue import evaluate, requirements
from trialfit.subjects.register import WHEN
from trialfit.subjects.unjudged import modes_unjudged, parts_unjudged

if TYPE_CHECKING:
    from trialfit.book.build import Build
    from trialfit.evaluation.finding import Report
    from trialfit.subjects.unjudged import ModeUnjudged

_MOST_NAMED = 4


class HandCheck(Frozen):
    """One way of failing that nothing judges in this build."""

    id: str
    kind: str = Field(description="kind of part")
    parts: tuple[str, ...] = Field(description="the parts it is about; empty where the part is not written")
    about: str = Field(description="the thing on the car, in words")
    fails: str = Field(description="how it fails")
    stake: Stake
    by_hand: str = Field(description="how to see it by hand")
    before: str = Field(description='the gate before which to look, else "after 100 km" or "yearly"')
    source: str = Field(description="source of the figures")


class HandChecks(Frozen):
    """What nothing judges in a build."""

    build: str
    checks: tuple[HandCheck, ...]
    parts: dict[str, str] = Field(description="parts that are written and that no finding is about, with their kind")


def hand_checks(build: Build, report: Report | None = None) -> HandChecks:
    """All of a build. `report` is its findings, of all subjects; without it they are worked out for the nominal values."""
    found = report or evaluate(build, draws=1, all_figures=False, all_facts=False)
    stated = requirements(build)
    gate_of = _gates_of(build)
    return HandChecks(
        build=build.name,
        checks=tuple(_check(one, gate_of) for one in modes_unjudged(build, stated, found)),
        parts={name: build.parts[name].kind for name in parts_unjudged(build, stated, found)},
    )


def before(gate: str, checks: HandChecks, last: str) -> tuple[HandCheck, ...]:
    """The looks at stake safety before a gate; with the last gate those after it too."""
    later = WHEN[WHEN.index("road") + 1 :] if gate == last else ()
    return tuple(one for one in checks.checks if one.stake is Stake.safety and one.before in (gate, *later))


def _gates_of(build: Build) -> dict[str, str]:
    """For each moment of the register the gate of this build, or the moment itself where no gate follows."""
    there = {gate.id for words, gate in gates() if holds(build, words)}
    return {when: next((one for one in WHEN[number:] if one in there), when) for number, when in enumerate(WHEN)}


def _check(one: ModeUnjudged, gate_of: dict[str, str]) -> HandCheck:
    mode = one.mode
    return HandCheck(
        id=mode.id,
        kind=mode.kind,
        parts=one.parts,
        about=mode.about or _names(one.parts) or mode.kind.replace("_", " "),
        fails=mode.fails,
        stake=mode.stake,
        by_hand=mode.by_hand,
        before=gate_of[mode.before],
        source=mode.source,
    )


def _names(parts: tuple[str, ...]) -> str:
    """The names of parts as they stand in front of a sentence: the first ones where there are many."""
    more = f" and {len(parts) - _MOST_NAMED} more" if len(parts) > _MOST_NAMED else ""
    return ", ".join(parts[:_MOST_NAMED]) + more
