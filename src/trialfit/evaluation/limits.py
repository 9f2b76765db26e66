"""A value compared with every limit of its requirement, and the limit that decides.

Answers   with_own      a requirement with the limit that is written for it in the build
          held_against  a value against each limit: bound, margin, share of the draws kept, verdict; the one that decides first
          decided       the same limits judged by another count of draws
          may_change    whether more draws could change what they say
          Held          one of these
          HeldIn        one of these in one state of the car
Not here  the rows (requirement.py); states (states.py); the rule of the verdict (verdict.py); the finding (working.py)
Rule      Of the limits that count, the one with the worst verdict decides, among equals the one kept by the smallest share of
          the draws, and then the one with the smallest margin. A limit that another one replaces is worked out and listed, but
          does not count. In several states of the car each draw is judged by its worst state; shown is the state that is kept
          by the smallest share, and then that with the smallest margin. A limit with a load state counts in the states of that
          name alone.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.evaluation.held_back import by_own_limit, reasons
from trialfit.evaluation.requirement import (
    BUILDER,
    WRITTEN,
    AtLeast,
    AtMost,
    Between,
    Limit,
    Source,
    SourceKind,
    Stake,
)
from trialfit.evaluation.states import as_states, is_in
from trialfit.evaluation.thresholds import HARDLY_WRONG, Kept, clear, verdict_of
from trialfit.evaluation.verdict import Verdict, share_kept
from trialfit.facts.provenance import Provenance
from trialfit.facts.reading import read_fact

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from numpy.typing import ArrayLike

    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.evaluation.requirement import Requirement, Side
    from trialfit.evaluation.states import InStates
    from trialfit.handbook.arrays import Array
    from trialfit.parts.fact_refs import CurveRef, FactRef


_VERDICTS = list(Verdict)


@dataclass(frozen=True)
class HeldIn:
    """A value against one limit in one state of the car; the arrays are (draws,)."""

    state: str
    value: Array
    bound: Array
    margin: Array
    share: float


@dataclass(frozen=True)
class Held:
    """One limit with what came out against it; `readings` are the facts that its bound depends on.

    `margin` is that of the worst state, draw by draw; `states` are all of them, the worst first: it is the one that is shown.
    `count` are the draws that keep it, None where nobody can say; `reasons` are those against holding on these facts,
    `turned_by` the typical values at whose other ends it would not fail (typical_ends.py).
    From `decided` come: the verdict, the verdict if this limit alone counted, what to do where the facts keep it from
    holding (`held_back`), and the limit of ours that does so where the builder's own is kept (`laxer_than`).
    """

    limit: Limit
    readings: dict[str, FactRef | CurveRef]
    missing: dict[str, str]
    states: tuple[HeldIn, ...] = ()
    margin: Array | None = None
    count: Kept | None = None
    reasons: tuple[str, ...] = ()
    turned_by: tuple[str, ...] = ()
    verdict: Verdict = Verdict.unknown
    alone: Verdict = Verdict.unknown
    held_back: tuple[str, ...] = ()
    laxer_than: str = ""

    @property
    def shown(self) -> HeldIn | None:
        """The worst state; None where a fact is missing."""
        return self.states[0] if self.states else None


def with_own(requirement: Requirement, text: str) -> Requirement:
    """The requirement with the limit that is written in the build. Raises Unreadable or ValueError with one sentence."""
    stated = requirement.limits
    side = type(stated[0].side) if stated else requirement.turned_by
    if side is Between:
        msg = f"{requirement.id} is between two limits that are facts of the build: set these facts instead"
        raise ValueError(msg)
    fact = read_fact(text, requirement.quantity)
    note = f": {fact.note}" if fact.note else ""
    if fact.provenance is Provenance.manual:
        source = Source(f"maker's manual{note}", SourceKind.manual)
    else:
        source = Source(f"{BUILDER.text}{note}", SourceKind.builder)
    return replace(requirement, own=Limit(WRITTEN, side(fact.si), source))  # type: ignore[call-arg]


def held_against(
    ev: Evaluation,
    requirement: Requirement,
    value: InStates | None,
    read: Mapping[str, FactRef | CurveRef] | None = None,
) -> tuple[Held, ...]:
    """A value (None if a fact is missing for it) with every limit of its requirement; the deciding one comes first.

    `read` are the facts that the value depends on: at stake safety some keep it from holding (held_back.py).
    """
    held = [_held(ev, requirement, limit, value, read or {}) for limit in requirement.limits]
    return decided(requirement, [one for one in held if one is not None])


def decided(requirement: Requirement, held: Sequence[Held]) -> tuple[Held, ...]:
    """The limits with their verdicts by what was counted, the one that decides first."""
    judged = [_judged(one, requirement.stake) for one in held]
    if requirement.stake is Stake.safety and requirement.own:
        judged = by_own_limit(judged)
    return tuple(sorted(judged, key=_worst_first)) if len(judged) > 1 else tuple(judged)


def may_change(requirement: Requirement, held: Sequence[Held]) -> bool:
    """Whether more draws could well change a verdict on the requirement; not where one limit fails for certain."""
    clears = [(one.limit, clear(one.count, requirement.stake, HARDLY_WRONG)) for one in held if one.count is not None]
    fails = any(verdict is Verdict.fails and not limit.replaced_by for limit, verdict in clears)
    return not fails and any(verdict is None for _, verdict in clears)


def _judged(one: Held, stake: Stake) -> Held:
    if one.count is None:
        return one
    alone = verdict_of(one.count, stake)
    if alone is Verdict.fails and one.turned_by:
        paths = " and ".join(one.turned_by)
        whose = "its usual value" if len(one.turned_by) == 1 else "their usual values"
        rest = f"Find out {paths}: by {whose} it fails, at the other end of what is usual it need not."
        return replace(one, verdict=Verdict.unsettled, alone=Verdict.unsettled, held_back=(rest,))
    held_back = one.reasons if alone is Verdict.holds else ()
    verdict = Verdict.unsettled if held_back else alone
    return replace(one, verdict=verdict, alone=verdict, held_back=held_back)


def _held(
    ev: Evaluation,
    requirement: Requirement,
    limit: Limit,
    value: InStates | None,
    read: Mapping[str, FactRef | CurveRef],
) -> Held | None:
    """One limit against the value; None where none of the states is one in which it counts."""
    if value is None:
        return Held(limit, {}, {})
    with ev.recording() as readings:
        try:
            names, values, bounds, margins = _against(ev, limit.side, value)
        except MissingFact as missing:
            return Held(limit, readings, missing.wanted)
    columns = _columns(limit, names)
    if not columns:
        return None
    shares = _shares(margins)
    states = [HeldIn(names[n], values[:, n], bounds[:, n], margins[:, n], shares[n]) for n in columns]
    states.sort(key=lambda one: (one.share, float(one.margin[0])))
    known = [one for one in states if np.isfinite(one.margin[0])]
    worst = _worst(known)
    count = Kept.of(worst) if worst is not None else None
    if count and (len(known) == len(states) or verdict_of(count, requirement.stake) is Verdict.fails):
        against = tuple(reasons({**read, **readings})) if requirement.stake is Stake.safety else ()
        return Held(limit, readings, {}, tuple(known), worst, count, against)
    beyond = [one for one in states if not np.isfinite(one.margin[0])]
    return Held(limit, readings, {}, (*beyond, *known), _worst(states))


def _columns(limit: Limit, names: tuple[str, ...]) -> list[int]:
    if not limit.load_state or names == ("",):
        return list(range(len(names)))
    return [n for n, name in enumerate(names) if is_in(name, limit.load_state)]


def _shares(margins: Array) -> list[float]:
    """The share of draws kept in each state."""
    return [share_kept(margins[:, n]) for n in range(margins.shape[1])]


def _worst(states: list[HeldIn]) -> Array | None:
    """The margin of the worst state, draw by draw; nan where one is nan."""
    if len(states) > 1:
        return np.asarray(np.minimum.reduce([one.margin for one in states]))
    return states[0].margin if states else None


def _worst_first(held: Held) -> tuple[bool, int, float, float]:
    margin = 0.0 if held.margin is None or not np.isfinite(held.margin[0]) else float(held.margin[0])
    share = held.count.share if held.count else 0.0
    return bool(held.limit.replaced_by), _VERDICTS.index(held.verdict), share, margin


def _against(ev: Evaluation, side: Side, value: InStates) -> tuple[tuple[str, ...], Array, Array, Array]:
    """Names of the states, and value, bound and margin in each of them, (draws, states)."""

    def in_states(bound: float | Callable[[Evaluation], ArrayLike | InStates]) -> InStates:
        return as_states(bound(ev) if callable(bound) else bound, ev.draws)

    bounds = [in_states(one) for one in ((side.low, side.high) if isinstance(side, Between) else (side.bound,))]
    names = _same_names(value, *bounds)
    values, *ends = (_in_each(one.values, (ev.draws, len(names))) for one in (value, *bounds))
    if isinstance(side, AtMost):
        return names, values, ends[0], ends[0] - values
    if isinstance(side, AtLeast):
        return names, values, ends[0], values - ends[0]
    low, high = ends
    is_low = values[0] - low[0] < high[0] - values[0]
    nearer = low if is_low.all() else np.where(is_low, low, high) if is_low.any() else high
    return names, values, nearer, np.minimum(values - low, high - values)


def _in_each(values: Array, shape: tuple[int, int]) -> Array:
    return values if values.shape == shape else np.broadcast_to(values, shape)


def _same_names(*values: InStates) -> tuple[str, ...]:
    names = {one.names for one in values if one.names != ("",)}
    if len(names) > 1:
        msg = f"a value and its bound are in different states: {' against '.join(map(str, sorted(names)))}"
        raise ValueError(msg)
    return names.pop() if names else ("",)
