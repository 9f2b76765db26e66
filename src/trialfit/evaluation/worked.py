"""One requirement worked out: its value, what came out against each limit, and the facts that were read.

Answers   Worked         what came out of one requirement
          worked         works one out in an evaluation
          by_limit       what came out, with the limits in another order
Not here  the limits, and which decides (limits.py); what is shown of it (as_findings.py); a whole build (working.py)
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.evaluation.laxer import is_laxer, keep_to
from trialfit.evaluation.limits import decided, held_against
from trialfit.evaluation.requirement import AtMost, Stake
from trialfit.evaluation.states import as_states
from trialfit.evaluation.typical_ends import with_ends
from trialfit.evaluation.verdict import Verdict
from trialfit.parts.fact_refs import FactRef
from trialfit.parts.watching import watching

if TYPE_CHECKING:
    from collections.abc import Hashable

    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.evaluation.limits import Held
    from trialfit.evaluation.requirement import Requirement
    from trialfit.evaluation.states import InStates
    from trialfit.handbook.arrays import Array
    from trialfit.parts.fact_refs import CurveRef


@dataclass(frozen=True)
class Worked:
    """What came out of one requirement: an array of shape (draws,), or what was missing; its limits; the facts that were read.

    `seen` is all that was looked at in the build (parts/watching.py).
    """

    requirement: Requirement
    readings: dict[str, FactRef | CurveRef]
    missing: dict[str, str]
    value: Array | None = None
    state: str = ""
    held: tuple[Held, ...] = ()
    shown: str = ""
    seen: frozenset[Hashable] = frozenset()

    @property
    def judged(self) -> Array | None:
        """What spreads of facts are weighed by: the margin against the limit that decides, else the value."""
        margin = self.held[0].margin if self.held else None
        return self.value if margin is None else margin


def worked(ev: Evaluation, requirement: Requirement, *, with_words: bool = True, counts_only: bool = False) -> Worked:
    """One requirement in an evaluation: what is missing is part of the result. Without words the sentence it shows is left out;
    with `counts_only` also what holds a verdict back, for draws that are added to others.
    """
    with watching() as looked_at:
        one = _worked(ev, requirement, with_words=with_words and not counts_only, counts_only=counts_only)
    return replace(one, seen=frozenset(looked_at))


def _worked(ev: Evaluation, requirement: Requirement, *, with_words: bool, counts_only: bool) -> Worked:
    with ev.recording() as readings:
        try:
            value = as_states(requirement.value(ev), ev.draws)
        except MissingFact as missing:
            return Worked(requirement, readings, missing.wanted, held=held_against(ev, requirement, None))
    held = held_against(ev, requirement, value, readings)
    if held and not counts_only:
        held = _at_good_ends(ev, requirement, readings, held)
    if held and not counts_only and requirement.stake is Stake.safety:
        held = _kept_by_ours(ev, requirement, readings, held)
    if held:
        one = by_limit(Worked(requirement, readings, {}), held)
    else:
        number = _extreme(requirement, value)
        one = Worked(requirement, readings, {}, value.values[:, number], value.names[number])
    return replace(one, shown=_shown(requirement, ev, one)) if with_words else one


def _at_good_ends(
    ev: Evaluation, requirement: Requirement, readings: dict[str, FactRef | CurveRef], held: tuple[Held, ...]
) -> tuple[Held, ...]:
    """The limits, with the typical values at whose other ends it would not fail."""
    read = {**readings, **{path: ref for one in held for path, ref in one.readings.items()}}
    found = with_ends(ev, requirement, read, held, held_against)
    return decided(requirement, found) if found else held


def _kept_by_ours(
    ev: Evaluation, requirement: Requirement, readings: dict[str, FactRef | CurveRef], held: tuple[Held, ...]
) -> tuple[Held, ...]:
    """The limits, with what is against holding by factors that are laxer than the usual ones."""
    if all(one.count is None or one.alone is Verdict.fails for one in held):
        return held
    read = {**readings, **{path: ref for one in held for path, ref in one.readings.items()}}
    laxer = [ref for ref in read.values() if isinstance(ref, FactRef) and is_laxer(ref)]
    if not laxer:
        return held
    ours = ev.by_ours()
    try:
        value = as_states(requirement.value(ours), ev.draws)
    except MissingFact:
        verdicts = {}
    else:
        verdicts = {one.limit.id: one.alone for one in held_against(ours, requirement, value)}
    found = [
        replace(one, reasons=_and(one.reasons, keep_to(laxer, verdicts.get(one.limit.id, Verdict.unknown))))
        for one in held
    ]
    return decided(requirement, found)


def _and(reasons: tuple[str, ...], another: str) -> tuple[str, ...]:
    return (*reasons, another) if another else reasons


def by_limit(one: Worked, held: tuple[Held, ...]) -> Worked:
    """The same with these limits: the first decides, and lends it its facts and the state that is shown."""
    first = held[0]
    readings = {**one.readings, **{path: ref for path, ref in first.readings.items() if path not in one.readings}}
    if first.missing or not first.shown:
        return replace(one, readings=readings, missing=first.missing, held=held, value=None)
    return replace(one, readings=readings, missing={}, held=held, value=first.shown.value, state=first.shown.state)


def _extreme(requirement: Requirement, value: InStates) -> int:
    """The state that a figure is shown in: the one that a limit would ask for first."""
    nominal = value.values[0] if requirement.turned_by is AtMost else -value.values[0]
    return int(np.argmax(np.where(np.isfinite(nominal), nominal, -np.inf)))


def _shown(requirement: Requirement, ev: Evaluation, one: Worked) -> str:
    """The sentence of a requirement with this build's numbers in it; none where the nominal lies outside the range of the formula."""
    is_known = one.judged is not None and np.isfinite(one.judged[0])
    return requirement.shows(ev) if requirement.shows and is_known else ""
