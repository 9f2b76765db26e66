"""Jobs that are done and depend on a finding or reading that no longer holds.

Answers   to_look_at_again    them, each with the reason
Not here  how a finding is worked out (evaluation/)
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from trialfit.evaluation.finding import Finding
from trialfit.evaluation.verdict import Verdict
from trialfit.planning.states import State

if TYPE_CHECKING:
    from collections.abc import Mapping

    from trialfit.planning.ground import Ground
    from trialfit.planning.states import Status

READING = "reading."


@dataclass(frozen=True)
class Turned:
    """A job that is done, and what it relied on that no longer holds. `facts` changed since, if the book records it."""

    job: str
    what: str
    says: str
    facts: tuple[str, ...] = ()


def to_look_at_again(status: Status, ground: Ground, changed: Mapping[str, int] | None = None) -> list[Turned]:
    """Every finished job with each thing it relied on that no longer holds. `changed`: the number of the change
    of the book that last wrote each path.
    """
    if ground.findings is None:
        return []
    found = []
    for name, known in status.jobs.items():
        if known.state is not State.done:
            continue
        for what in known.relied:
            says, facts = _turned(what, ground)
            if says:
                newer = tuple(fact for fact in facts if _is_newer(fact, f"work.{known.event}", changed))
                told = f"; {', '.join(newer)} was written since" if newer else ""
                day = f"{known.since:%Y-%m-%d}" if known.since else ""
                found.append(Turned(name, what, f"{what} held when it was done on {day}, and {says}{told}", newer))
    return found


def _turned(what: str, ground: Ground) -> tuple[str, tuple[str, ...]]:
    """The present state of a thing, "" if it still holds, and the facts that it depends on."""
    if what.startswith(READING):
        taken = ground.readings.get(what.removeprefix(READING))
        if taken is None or not taken.is_taken:
            return "is no longer in the book", ()
        return ("" if taken.does else f"does not now: {taken.says}"), (what,)
    result = ground.report.result(what) if ground.report else None
    if not isinstance(result, Finding):
        return "is not a finding of this build any more", ()
    if result.verdict is Verdict.holds:
        return "", ()
    is_state = result.verdict in (Verdict.unsettled, Verdict.unknown)
    return f"{'is ' if is_state else ''}{result.verdict} now", tuple(fact.path for fact in result.facts)


def _is_newer(fact: str, event: str, changed: Mapping[str, int] | None) -> bool:
    if not changed or event not in changed:
        return False
    parents = [".".join(fact.split(".")[:end]) for end in range(1, fact.count(".") + 2)]
    return any(changed[path] > changed[event] for path in parents if path in changed)
