"""Requirements into findings and figures: value, limits, margin, verdict, and the facts each depends on.

Answers   work_out    all requirements of a build in one evaluation, as a Report
          listed      those that are near enough to matter to be worked out
          margin_of   the margin of one requirement alone
Not here  the requirements (subjects/); the limits of one, and which decides (limits.py); the rule of the verdict (verdict.py)
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import Evaluation, MissingFact
from trialfit.evaluation.finding import FactUse, Figure, Finding, Formula, LimitUse, Report, StateUse
from trialfit.evaluation.intervals import interval, middle, middle_of_margin
from trialfit.evaluation.limits import held_against, with_own
from trialfit.evaluation.requirement import AtLeast, AtMost, Between, SourceKind
from trialfit.evaluation.shares import Shares
from trialfit.evaluation.states import as_states
from trialfit.evaluation.unusual import questions
from trialfit.evaluation.unusual import remarks as unusual_remarks
from trialfit.evaluation.verdict import Verdict
from trialfit.facts.provenance import Provenance
from trialfit.facts.units import display_unit, find_unit
from trialfit.parts.declaring import CurveRef, FactRef

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Sequence
    from typing import Any

    from trialfit.evaluation.finding import Interval
    from trialfit.evaluation.intervals import Middle
    from trialfit.evaluation.limits import Held, HeldIn
    from trialfit.evaluation.requirement import Requirement
    from trialfit.evaluation.states import InStates
    from trialfit.facts.units import Unit
    from trialfit.handbook.arrays import Array


_SOURCE = re.compile(r"Sources?:\s*(.+?)(?:\n\s*\n|\Z)", re.DOTALL)
_SIDES = {AtMost: "at most", AtLeast: "at least", Between: "between"}
_WEAK = {
    SourceKind.common_practice: "the limit is common practice, without a source",
    SourceKind.from_memory: "the limit is from memory, not seen in print",
}


@dataclass(frozen=True)
class _Worked:
    """What came out of one requirement: an array of shape (draws,), or what was missing; its limits; the facts that were read."""

    requirement: Requirement
    readings: dict[str, FactRef | CurveRef]
    missing: dict[str, str]
    value: Array | None = None
    state: str = ""
    held: tuple[Held, ...] = ()
    shown: str = ""

    @property
    def judged(self) -> Array | None:
        """What spreads of facts are weighed by: the margin against the limit that decides, else the value."""
        margin = self.held[0].margin if self.held else None
        return self.value if margin is None else margin


def work_out(
    ev: Evaluation,
    requirements: Sequence[Requirement],
    *,
    all_figures: bool = True,
    all_facts: bool = True,
    however_far: bool = False,
) -> Report:
    """All requirements of a build worked out in one evaluation. Raises Unreadable for an own limit that cannot be read.

    Without `all_figures`, of the figures only those that lead beside the findings are worked out. Without `all_facts`, the
    facts that a finding stands on, and the remark about them, are left out where it holds. What is too far from mattering to be
    listed is only counted, unless `however_far`; what the builder has written a limit for is always listed.
    """
    limits = ev.build.limits
    stated = [with_own(one, limits[one.id]) if one.id in limits else one for one in requirements]
    near, far = (stated, 0) if however_far else listed(ev, stated)
    wanted = [one for one in near if all_figures or one.limits or one.leads]
    worked = [_work(ev, requirement) for requirement in wanted]
    read = {path for one in worked for path, ref in one.readings.items() if _was_drawn(ref)}
    shares = Shares({path: ev.drawn(path) for path in sorted(read)})
    return Report(
        build=ev.build.name,
        draws=ev.draws,
        findings=tuple(_finding(one, shares, all_facts=all_facts) for one in worked if one.held),
        figures=tuple(_figure(one, shares) for one in worked if not one.held),
        figures_left_out=len(near) - len(wanted),
        findings_left_out=far,
        questions=tuple(questions(ev.build)),
    )


def listed(ev: Evaluation, requirements: Sequence[Requirement]) -> tuple[list[Requirement], int]:
    """The requirements that are near enough to matter, in their order but for those that say how near: of these the nearest
    comes first. And how many are too far away to be listed.
    """
    away = {one.id: one.away(ev) for one in requirements if one.away}
    near = [one for one in requirements if one.away and (one.own or np.isfinite(_or_far(away[one.id])))]
    by_nearness = iter(sorted(near, key=lambda one: _or_far(away[one.id])))
    kept = {one.id for one in near}
    found = [next(by_nearness) if one.away else one for one in requirements if not one.away or one.id in kept]
    return found, sum(away[one] == np.inf for one in away if one not in kept)


def _or_far(away: float | None) -> float:
    return np.inf if away is None else away


def margin_of(ev: Evaluation, requirement: Requirement) -> Array:
    """How far the value is on the right side of the limit that decides, (draws,), SI; an own limit counts. Raises MissingFact.

    Raises ValueError for a figure, which has no limit.
    """
    text = ev.build.limits.get(requirement.id)
    stated = with_own(requirement, text) if text is not None else requirement
    if not stated.limits:
        msg = f"{requirement.id} has no limit"
        raise ValueError(msg)
    decides = held_against(ev, stated, as_states(stated.value(ev), ev.draws))[0]
    if decides.margin is None:
        raise MissingFact(decides.missing)
    return decides.margin


def _work(ev: Evaluation, requirement: Requirement) -> _Worked:
    with ev.recording() as readings:
        try:
            value = as_states(requirement.value(ev), ev.draws)
        except MissingFact as missing:
            return _Worked(requirement, readings, missing.wanted, held=held_against(ev, requirement, None))
    held = held_against(ev, requirement, value, readings)
    if held:
        readings.update({path: ref for path, ref in held[0].readings.items() if path not in readings})
        if held[0].missing:
            return _Worked(requirement, readings, held[0].missing, held=held)
    shown = held[0].shown if held else None
    number = 0 if shown else _extreme(requirement, value)
    one = _Worked(
        requirement,
        readings,
        {},
        value=shown.value if shown else value.values[:, number],
        state=shown.state if shown else value.names[number],
        held=held,
    )
    return replace(one, shown=_shown(requirement, ev, one.judged))


def _extreme(requirement: Requirement, value: InStates) -> int:
    """The state that a figure is shown in: the one that a limit would ask for first."""
    nominal = value.values[0] if requirement.turned_by is AtMost else -value.values[0]
    return int(np.argmax(np.where(np.isfinite(nominal), nominal, -np.inf)))


def _shown(requirement: Requirement, ev: Evaluation, judged: Array | None) -> str:
    """The sentence of a requirement with this build's numbers in it; none where the nominal lies outside of a formula."""
    is_known = judged is not None and np.isfinite(judged[0])
    return requirement.shows(ev) if requirement.shows and is_known else ""


def _was_drawn(ref: FactRef | CurveRef) -> bool:
    return ref.written is not None or (isinstance(ref, FactRef) and ref.known is not None)


def _finding(one: _Worked, shares: Shares, *, all_facts: bool) -> Finding:
    unit, value = _unit(one.requirement), middle(one.value)
    limits = (_limit_use(one.held[0], unit, value), *(_limit_use(held, unit) for held in one.held[1:]))
    decides, in_full = limits[0], all_facts or limits[0].verdict is not Verdict.holds
    return Finding(
        **_common(one, shares if in_full else None),
        verdict=decides.verdict,
        stake=one.requirement.stake,
        side=decides.side,
        value=interval(value, unit),
        limit=decides.limit,
        margin=decides.margin,
        share_ok=decides.share_ok,
        state=decides.state,
        states=tuple(_state_uses(one.held[0], unit)) if in_full and decides.state else (),
        source=decides.source,
        source_kind=decides.source_kind,
        parts=_parts(one),
        limits=limits,
        cure=one.requirement.cure,
    )


def _parts(one: _Worked) -> tuple[str, ...]:
    """The parts whose facts it read or misses."""
    return tuple(dict.fromkeys(path.partition(".")[0] for path in (*one.readings, *one.missing)))


def _limit_use(held: Held, unit: Unit, value: Middle | None = None) -> LimitUse:
    row, shown = held.limit, held.shown
    return LimitUse(
        id=row.id,
        side=_SIDES[type(row.side)],
        limit=interval(middle(shown.bound), unit) if shown else None,
        margin=_margin(held, shown, unit, value) if shown else None,
        share_ok=held.share,
        verdict=held.verdict,
        load_state=row.load_state,
        source=row.source.text,
        clause=row.clause,
        edition=row.edition,
        source_kind=row.source.kind,
        replaced_by=row.replaced_by,
        state=shown.state if shown else "",
    )


def _margin(held: Held, state: HeldIn, unit: Unit, value: Middle | None = None) -> Interval | None:
    shown = middle_of_margin(state.margin, value or middle(state.value), state.bound, held.limit.side)
    return interval(shown, unit, difference=True)


def _state_uses(held: Held, unit: Unit) -> Iterator[StateUse]:
    for one in held.states:
        yield StateUse(
            state=one.state,
            value=interval(middle(one.value), unit),
            limit=interval(middle(one.bound), unit),
            margin=_margin(held, one, unit),
            share_ok=one.share,
        )


def _figure(one: _Worked, shares: Shares) -> Figure:
    return Figure(
        **_common(one, shares),
        value=interval(middle(one.value), _unit(one.requirement)),
        state=one.state,
        headline=one.shown if one.requirement.leads else "",
    )


def _common(one: _Worked, shares: Shares | None) -> dict[str, Any]:
    requirement = one.requirement
    facts = _facts(one, shares) if shares else ()
    return {
        "id": requirement.id,
        "subject": requirement.subject,
        "about": requirement.about,
        "says": requirement.says,
        "facts": tuple(sorted(facts, key=lambda fact: -fact.share)),
        "missing": one.missing,
        "formulas": tuple(describe(formula) for formula in requirement.formulas),
        "remark": "; ".join(_remarks(one, facts)),
        "caution": requirement.caution,
    }


def _facts(one: _Worked, shares: Shares) -> tuple[FactUse, ...]:
    judged = one.judged
    drawn = [path for path, ref in one.readings.items() if _was_drawn(ref)]
    by_path = shares(judged, drawn) if judged is not None else dict.fromkeys(drawn, 0.0)
    return tuple(_fact_use(path, one.readings[path], by_path[path]) for path in drawn)


def _remarks(one: _Worked, facts: Iterable[FactUse]) -> Iterable[str]:
    yield from unusual_remarks(one.readings)
    if one.shown:
        yield one.shown
    if one.held and one.held[0].limit.source.kind in _WEAK:
        yield _WEAK[one.held[0].limit.source.kind]
    typical = [fact.path for fact in facts if fact.provenance == Provenance.typical]
    if typical:
        yield f"typical values used for {', '.join(typical)}"
    judged = one.judged
    if judged is not None:
        outside = np.count_nonzero(~np.isfinite(judged)) / judged.size
        if outside:
            yield f"{max(outside, 0.001):.1%} of the draws are outside the range of the formula and count as failed"


def _fact_use(path: str, ref: FactRef | CurveRef, share: float) -> FactUse:
    if isinstance(ref, CurveRef):
        curve = ref.written
        text = f"curve of {len(curve.x)} points" if curve else ""
        return FactUse(path=path, text=text, provenance=curve.provenance if curve else "", share=share)
    fact = ref.known
    if fact is None:  # not drawn: filtered out before
        raise AssertionError(path)
    return FactUse(path=path, text=fact.plain, provenance=fact.provenance, share=share)


def describe(formula: Callable[..., Any]) -> Formula:
    """A handbook formula by its name, its first line, and the source it names in its docstring."""
    text = (formula.__doc__ or "").strip()
    first = text.partition("\n")[0]
    found = _SOURCE.search(text)
    source = " ".join(found[1].split()) if found else ""
    module = formula.__module__.removeprefix("trialfit.")
    return Formula(name=f"{module}.{formula.__name__}", says=first, source=source)


def _unit(requirement: Requirement) -> Unit:
    if requirement.unit:
        return find_unit(requirement.quantity, requirement.unit)
    return display_unit(requirement.quantity)
