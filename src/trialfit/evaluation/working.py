"""Requirements into findings and figures: value, limit, margin, verdict, and the facts each stands on.

Answers   work_out    all requirements of a build in one evaluation, as a Report
          margin_of   the margin of one requirement alone
          own_limit   a limit that the builder or a manual sets, in place of the one a subject states
Not here  the requirements (subjects/); the rule of the verdict (verdict.py)
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import Evaluation, MissingFact
from trialfit.evaluation.finding import FactUse, Figure, Finding, Formula, Interval, Report
from trialfit.evaluation.requirement import BUILDER, AtLeast, AtMost, Between, Source, SourceKind
from trialfit.evaluation.shares import Shares
from trialfit.evaluation.unusual import guarded, questions
from trialfit.evaluation.unusual import remarks as unusual_remarks
from trialfit.evaluation.verdict import Verdict, judge, share_kept
from trialfit.facts.provenance import Provenance
from trialfit.facts.reading import read_fact
from trialfit.facts.units import display_unit, find_unit, from_si, from_si_difference
from trialfit.parts.declaring import CurveRef, FactRef

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence
    from typing import Any

    from numpy.typing import ArrayLike

    from trialfit.evaluation.requirement import Limit, Requirement
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
    """What came out of one requirement: arrays of shape (draws,), or what was missing; and the facts that were read."""

    requirement: Requirement
    readings: dict[str, FactRef | CurveRef]
    missing: dict[str, str]
    value: Array | None = None
    bound: Array | None = None
    margin: Array | None = None
    shown: str = ""


def work_out(
    ev: Evaluation, requirements: Sequence[Requirement], *, all_figures: bool = True, all_facts: bool = True
) -> Report:
    """All requirements of a build worked out in one evaluation. Raises Unreadable for an own limit that cannot be read.

    Without `all_figures`, of the figures only those that lead beside the findings are worked out. Without `all_facts`, the
    facts that a finding stands on, and the remark about them, are left out where it holds.
    """
    limits = ev.build.limits
    stated = [own_limit(one, limits[one.id]) if one.id in limits else one for one in requirements]
    wanted = [one for one in stated if all_figures or one.limit is not None or one.leads]
    worked = [_work(ev, requirement) for requirement in wanted]
    read = {path for one in worked for path, ref in one.readings.items() if _was_drawn(ref)}
    shares = Shares({path: ev.drawn(path) for path in sorted(read)})
    return Report(
        build=ev.build.name,
        draws=ev.draws,
        findings=tuple(
            _finding(one, shares, all_facts=all_facts) for one in worked if one.requirement.limit is not None
        ),
        figures=tuple(_figure(one, shares) for one in worked if one.requirement.limit is None),
        figures_left_out=len(stated) - len(wanted),
        questions=tuple(questions(ev.build)),
    )


def margin_of(ev: Evaluation, requirement: Requirement) -> Array:
    """How far the value is on the right side of its limit, (draws,), SI; the builder's own limit counts. Raises MissingFact.

    Raises ValueError for a figure, which has no limit.
    """
    text = ev.build.limits.get(requirement.id)
    stated = own_limit(requirement, text) if text is not None else requirement
    if stated.limit is None:
        msg = f"{requirement.id} has no limit"
        raise ValueError(msg)
    return _against(ev, stated.limit, _spread_out(stated.value(ev), ev.draws))[1]


def own_limit(requirement: Requirement, text: str) -> Requirement:
    """The requirement with the limit that is written in the build. Raises Unreadable or ValueError with one sentence."""
    if isinstance(requirement.limit, Between):
        msg = f"{requirement.id} lies between two bounds that are facts of the build: set these instead"
        raise ValueError(msg)  # noqa: TRY004 - the value of the limit is wrong here, not its type
    fact = read_fact(text, requirement.quantity)
    side = type(requirement.limit) if requirement.limit else requirement.turned_by
    note = f": {fact.note}" if fact.note else ""
    if fact.provenance is Provenance.manual:
        source = Source(f"maker's manual{note}", SourceKind.manual)
    else:
        source = Source(f"{BUILDER.text}{note}", SourceKind.builder)
    return replace(requirement, limit=side(fact.si), source=source)


def _work(ev: Evaluation, requirement: Requirement) -> _Worked:
    bound = margin = None
    with ev.recording() as readings:
        try:
            value = _spread_out(requirement.value(ev), ev.draws)
            if requirement.limit is not None:
                bound, margin = _against(ev, requirement.limit, value)
        except MissingFact as missing:
            return _Worked(requirement, readings, missing.wanted)
    shown = _shown(requirement, ev, value if margin is None else margin)
    return _Worked(requirement, readings, {}, value, bound, margin, shown)


def _shown(requirement: Requirement, ev: Evaluation, judged: Array) -> str:
    """The sentence of a requirement with this build's numbers in it; none where the nominal lies outside of a formula."""
    return requirement.shows(ev) if requirement.shows and np.isfinite(judged[0]) else ""


def _against(ev: Evaluation, limit: Limit, value: Array) -> tuple[Array, Array]:
    def bound_of(bound: float | Callable[[Evaluation], ArrayLike]) -> Array:
        return _spread_out(bound(ev) if callable(bound) else bound, ev.draws)

    if isinstance(limit, AtMost):
        bound = bound_of(limit.bound)
        return bound, bound - value
    if isinstance(limit, AtLeast):
        bound = bound_of(limit.bound)
        return bound, value - bound
    low, high = bound_of(limit.low), bound_of(limit.high)
    nearer = low if value[0] - low[0] < high[0] - value[0] else high
    return nearer, np.minimum(value - low, high - value)


def _spread_out(value: ArrayLike, draws: int) -> Array:
    return np.broadcast_to(np.asarray(value, float), draws)


def _was_drawn(ref: FactRef | CurveRef) -> bool:
    return ref.written is not None or (isinstance(ref, FactRef) and ref.known is not None)


def _finding(one: _Worked, shares: Shares, *, all_facts: bool) -> Finding:
    requirement, margin = one.requirement, one.margin
    source = requirement.source or BUILDER
    outside = one.value is not None and margin is not None and not np.isfinite(margin[0])
    if one.missing or margin is None or outside:
        verdict, share_ok = Verdict.unknown, None
    else:
        share_ok = share_kept(margin)
        verdict = guarded(judge(share_ok, requirement.stake), requirement.stake, one.readings)
    unit, value_middle = _unit(requirement), _middle(one.value)
    return Finding(
        **_common(one, shares if all_facts or verdict is not Verdict.holds else None),
        verdict=verdict,
        stake=requirement.stake,
        side=_SIDES[type(requirement.limit)],
        value=_interval(value_middle, unit),
        limit=_interval(_middle(one.bound), unit),
        margin=_interval(_middle_of_margin(one, value_middle), unit, difference=True),
        share_ok=share_ok,
        source=source.text,
        source_kind=source.kind,
        cure=requirement.cure,
    )


def _figure(one: _Worked, shares: Shares) -> Figure:
    return Figure(
        **_common(one, shares),
        value=_interval(_middle(one.value), _unit(one.requirement)),
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
    judged = one.margin if one.margin is not None else one.value
    drawn = [path for path, ref in one.readings.items() if _was_drawn(ref)]
    by_path = shares(judged, drawn) if judged is not None else dict.fromkeys(drawn, 0.0)
    return tuple(_fact_use(path, one.readings[path], by_path[path]) for path in drawn)


def _remarks(one: _Worked, facts: Iterable[FactUse]) -> Iterable[str]:
    requirement = one.requirement
    yield from unusual_remarks(one.readings)
    if one.shown:
        yield one.shown
    if requirement.limit is not None and requirement.source and requirement.source.kind in _WEAK:
        yield _WEAK[requirement.source.kind]
    typical = [fact.path for fact in facts if fact.provenance == Provenance.typical]
    if typical:
        yield f"typical values stand in for {', '.join(typical)}"
    judged = one.margin if one.margin is not None else one.value
    if judged is not None:
        outside = np.count_nonzero(~np.isfinite(judged)) / judged.size
        if outside:
            yield f"{max(outside, 0.001):.1%} of the draws lie outside the range of the formula and count as not kept"


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


@dataclass(frozen=True)
class _Middle:
    """The nominal of some draws and the ends of the interval that holds 95 % of them, SI."""

    nominal: float
    low: float
    high: float


def _middle(values: Array | None) -> _Middle | None:
    """None where the nominal itself lies outside the range of a formula."""
    if values is None or not np.isfinite(values[0]):
        return None
    nominal = float(values[0])
    if values.strides == (0,) or values.size == 1:  # one exact value, stretched over the draws
        return _Middle(nominal, nominal, nominal)
    drawn = values[1:]
    if not (sound := np.isfinite(drawn)).all():
        drawn = drawn[sound]
    return _Middle(nominal, *_middle_95(drawn)) if drawn.size else _Middle(nominal, nominal, nominal)


def _middle_of_margin(one: _Worked, value: _Middle | None) -> _Middle | None:
    """The same of the margin; against one exact bound it is that of the value, counted from the bound."""
    bound, limit = one.bound, one.requirement.limit
    if value is None or bound is None or bound.strides != (0,) or isinstance(limit, Between):
        return _middle(one.margin)
    exact = float(bound[0])
    if isinstance(limit, AtMost):
        return _Middle(exact - value.nominal, exact - value.high, exact - value.low)
    return _Middle(value.nominal - exact, value.low - exact, value.high - exact)


def _middle_95(drawn: Array) -> tuple[float, float]:
    """The quantiles of 2.5 % and 97.5 %, straight between neighbours, as numpy.quantile takes them but without its ceremony."""
    places = [share * (drawn.size - 1) for share in (0.025, 0.975)]
    below = [int(place) for place in places]
    above = [min(place + 1, drawn.size - 1) for place in below]
    ordered = np.partition(drawn, sorted({*below, *above}))
    low, high = (
        float(ordered[left] + (place - left) * (ordered[right] - ordered[left]))
        for place, left, right in zip(places, below, above, strict=True)
    )
    return low, high


def _interval(middle: _Middle | None, unit: Unit, *, difference: bool = False) -> Interval | None:
    """Nominal and 95 % interval in a unit."""
    if middle is None:
        return None
    convert = from_si_difference if difference else from_si
    nominal, low, high = (float(convert(value, unit)) for value in (middle.nominal, middle.low, middle.high))
    return Interval(nominal=nominal, low=low, high=high, unit=unit.spelling)
