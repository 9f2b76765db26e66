"""What was worked out as the findings and figures of a report: intervals in their units, facts by their share, remarks.

Answers   finding_of   a requirement with a limit
          figure_of    one without
          is_in_full   whether the facts behind it are shown; drawn_paths  those of them that have draws
          describe     a handbook formula by its name, its first line and its source
Not here  working it out (worked.py); the shape of a finding (finding.py)
"""

from __future__ import annotations

import re
from functools import cache
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation import held_back, unusual
from trialfit.evaluation.finding import FactUse, Figure, Finding, Formula, LimitUse, StateUse
from trialfit.evaluation.intervals import interval, middle, middle_of_margin
from trialfit.evaluation.requirement import AtLeast, AtMost, Between, SourceKind, Stake
from trialfit.evaluation.thresholds import clear
from trialfit.evaluation.verdict import FAILS_TO, HOLDS_FROM, Verdict
from trialfit.facts.provenance import Provenance
from trialfit.facts.showing import interval_text
from trialfit.facts.units import display_unit, find_unit
from trialfit.parts.fact_refs import CurveRef, FactRef

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Mapping
    from typing import Any

    from trialfit.evaluation.finding import Interval
    from trialfit.evaluation.intervals import Middle
    from trialfit.evaluation.limits import Held, HeldIn
    from trialfit.evaluation.requirement import Requirement
    from trialfit.evaluation.worked import Worked
    from trialfit.facts.units import Unit

_SOURCE = re.compile(r"Sources?:\s*(.+?)(?:\n\s*\n|\Z)", re.DOTALL)
_SIDES = {AtMost: "at most", AtLeast: "at least", Between: "between"}
_SAYS = {Verdict.fails: "fails", Verdict.unsettled: "is unsettled", Verdict.holds: "holds"}
_WEAK = {
    SourceKind.common_practice: "the limit is common practice, without a source",
    SourceKind.from_memory: "the limit is from memory, not seen in print",
}


def is_in_full(one: Worked, *, all_facts: bool) -> bool:
    """Whether the facts and states behind it are shown: without `all_facts` those of a finding that holds are left out."""
    return all_facts or not one.held or one.held[0].verdict is not Verdict.holds


def drawn_paths(one: Worked) -> list[str]:
    """The facts that were read and have draws: they are written or typical."""
    return [path for path, ref in one.readings.items() if _was_drawn(ref)]


def _was_drawn(ref: FactRef | CurveRef) -> bool:
    return ref.written is not None or (isinstance(ref, FactRef) and ref.known is not None)


def finding_of(one: Worked, shares: Mapping[str, float] | None) -> Finding:
    """The finding, with the facts behind it and their shares; without these, facts and states are left out."""
    unit, value = _unit(one.requirement), middle(one.value)
    limits = (_limit_use(one.held[0], unit, value), *(_limit_use(held, unit) for held in one.held[1:]))
    decides, in_full = limits[0], shares is not None
    return Finding(
        **_common(one, shares),
        verdict=one.held[0].verdict,
        stake=one.requirement.stake,
        side=decides.side,
        value=interval(value, unit),
        limit=decides.limit,
        margin=decides.margin,
        share_ok=decides.share_ok,
        share_spread=one.held[0].count.spread if one.held[0].count else None,
        draws=decides.draws,
        is_astride=_is_open(one.held[0], one.requirement.stake),
        state=decides.state,
        states=tuple(_state_uses(one.held[0], unit, decides, value)) if in_full and decides.state else (),
        source=decides.source,
        source_kind=decides.source_kind,
        parts=_parts(one),
        limits=limits,
        held_back=(*one.held[0].held_back, *_laxer(limits, one.held[0])),
        cure=one.requirement.cure,
    )


def _is_open(held: Held, stake: Stake) -> bool:
    return held.count is not None and clear(held.count, stake) is None


def _laxer(limits: tuple[LimitUse, ...], own: Held) -> Iterator[str]:
    """What to do about a limit of the builder's own that is laxer than the one it replaces, with what each says."""
    for one in limits:
        if own.laxer_than and one.id == own.laxer_than:
            asks = f"{one.side} {_text(one.limit)}" if one.limit else "not known yet"
            verdict = "it is not known" if one.verdict is Verdict.unknown else f"it {_SAYS[one.verdict]}"
            yield (
                f"Keep to our limit, {asks} ({one.source}), by which {verdict}, or write the manual behind your own: "
                f"{_text(limits[0].limit)} is kept, but at stake safety only a maker's manual makes a laxer limit hold."
            )


def _text(shown: Interval | None) -> str:
    return interval_text(shown.nominal, shown.low, shown.high, shown.unit) if shown else "a limit that is not known"


def _parts(one: Worked) -> tuple[str, ...]:
    """The parts whose facts it read or misses."""
    return tuple(dict.fromkeys(path.partition(".")[0] for path in (*one.readings, *one.missing)))


def _limit_use(held: Held, unit: Unit, value: Middle | None = None) -> LimitUse:
    row, shown = held.limit, held.shown
    return LimitUse(
        id=row.id,
        side=_SIDES[type(row.side)],
        limit=interval(middle(shown.bound), unit) if shown else None,
        margin=_margin(held, shown, unit, value or middle(shown.value)) if shown else None,
        share_ok=held.count.share if held.count else None,
        draws=held.count.drawn if held.count else None,
        verdict=held.alone,
        load_state=row.load_state,
        source=row.source.text,
        clause=row.clause,
        edition=row.edition,
        source_kind=row.source.kind,
        replaced_by=row.replaced_by,
        state=shown.state if shown else "",
    )


def _margin(held: Held, state: HeldIn, unit: Unit, value: Middle | None) -> Interval | None:
    return interval(middle_of_margin(state.margin, value, state.bound, held.limit.side), unit, difference=True)


def _state_uses(held: Held, unit: Unit, decides: LimitUse, value: Middle | None) -> Iterator[StateUse]:
    """What came out in each state; of the first, the one that is shown, limit and margin are known."""
    for number, one in enumerate(held.states):
        here = middle(one.value) if number else value
        yield StateUse(
            state=one.state,
            value=interval(here, unit),
            limit=interval(middle(one.bound), unit) if number else decides.limit,
            margin=_margin(held, one, unit, here) if number else decides.margin,
            share_ok=one.share,
        )


def figure_of(one: Worked, shares: Mapping[str, float] | None) -> Figure:
    """The figure, in the state that it is shown in."""
    return Figure(
        **_common(one, shares),
        value=interval(middle(one.value), _unit(one.requirement)),
        state=one.state,
        headline=one.shown if one.requirement.leads else "",
    )


def _common(one: Worked, shares: Mapping[str, float] | None) -> dict[str, Any]:
    requirement = one.requirement
    facts = [_fact_use(path, one.readings[path], share) for path, share in (shares or {}).items()]
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


def _remarks(one: Worked, facts: Iterable[FactUse]) -> Iterable[str]:
    at_safety = one.held and one.requirement.stake is Stake.safety
    yield from (held_back.remarks if at_safety else unusual.remarks)(one.readings)
    if one.shown:
        yield one.shown
    if one.held and one.held[0].limit.source.kind in _WEAK:
        yield _WEAK[one.held[0].limit.source.kind]
    typical = [fact.path for fact in facts if fact.provenance == Provenance.typical]
    if typical:
        yield f"typical values used for {', '.join(typical)}"
    if one.held and _is_open(one.held[0], one.requirement.stake):
        yield _near(one.held[0], one.requirement.stake)
    judged = one.judged
    if judged is not None:
        outside = np.count_nonzero(~np.isfinite(judged)) / judged.size
        if outside:
            yield f"{100 * max(outside, 0.001):.1f} % of the draws are outside the range of the formula and count as failed"


def _near(held: Held, stake: Stake) -> str:
    """How near the share is to the threshold that it cannot be told from."""
    if held.count is None:
        return ""
    share, half = held.count.share, held.count.spread
    if share - FAILS_TO < HOLDS_FROM[stake] - share:
        threshold = f"at most {100 * FAILS_TO:.1f} % fails"
    else:
        threshold = f"{100 * HOLDS_FROM[stake]:.1f} % holds"
    kept = f"kept by {100 * share:.1f} ± {100 * half:.1f} % of {held.count.drawn:,} draws"
    return f"{kept}, too near to the threshold: {threshold}".replace("%", " %").replace("  %", " %")


def _fact_use(path: str, ref: FactRef | CurveRef, share: float) -> FactUse:
    if isinstance(ref, CurveRef):
        curve = ref.written
        text = f"curve of {len(curve.x)} points" if curve else ""
        return FactUse(path=path, text=text, provenance=curve.provenance if curve else "", share=share)
    fact = ref.known
    if fact is None:  # not drawn: filtered out before
        raise AssertionError(path)
    return FactUse(path=path, text=fact.plain, provenance=fact.provenance, share=share)


@cache  # a formula is named by hundreds of findings
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
