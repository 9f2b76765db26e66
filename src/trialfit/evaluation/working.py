"""Requirements into a report: all of a build in one evaluation.

Answers   work_out    all requirements of a build in one evaluation, as a Report
          judged      the verdict on one requirement alone
          listed      those that are near enough to matter to be worked out
          margin_of   the margin of one requirement alone
Not here  the requirements (subjects/); one of them (worked.py); what is shown of it (as_findings.py)
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.as_findings import drawn_paths, figure_of, finding_of, is_in_full
from trialfit.evaluation.evaluation import MissingFact
from trialfit.evaluation.finding import Figure, Finding, Report
from trialfit.evaluation.keeping import Made
from trialfit.evaluation.limits import held_against, with_own
from trialfit.evaluation.more_draws import MOST, settled
from trialfit.evaluation.shares import Shares
from trialfit.evaluation.states import as_states
from trialfit.evaluation.unusual import questions
from trialfit.evaluation.worked import worked

if TYPE_CHECKING:
    from collections.abc import Sequence

    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.evaluation.requirement import Requirement
    from trialfit.evaluation.verdict import Verdict
    from trialfit.evaluation.worked import Worked
    from trialfit.handbook.arrays import Array


def work_out(
    ev: Evaluation,
    requirements: Sequence[Requirement],
    *,
    all_figures: bool = True,
    all_facts: bool = True,
    however_far: bool = False,
    most: int = MOST,
) -> Report:
    """All requirements of a build worked out in one evaluation. Raises Unreadable for an own limit that cannot be read.

    Without `all_figures`, of the figures only those that lead beside the findings are worked out. Without `all_facts`, the
    facts that a finding stands on, and the remark about them, are left out where it holds. What is too far from mattering to be
    listed is only counted, unless `however_far`; what the builder has written a limit for is always listed. Where a verdict is near
    its threshold more draws are taken for it, up to `most`.
    """
    stated = [_with_own(ev, one) for one in requirements]
    near, far = (stated, 0) if however_far else listed(ev, stated)
    wanted = [one for one in near if all_figures or one.limits or one.leads]
    results = _results(ev, wanted, all_facts=all_facts, most=most)
    return Report(
        build=ev.build.name,
        draws=ev.draws,
        findings=tuple(one for one in results if isinstance(one, Finding)),
        figures=tuple(one for one in results if isinstance(one, Figure)),
        figures_left_out=len(near) - len(wanted),
        findings_left_out=far,
        questions=tuple(questions(ev.build)),
    )


def judged(ev: Evaluation, requirement: Requirement, *, most: int = MOST) -> Verdict:
    """The verdict that `work_out` gives on one requirement with a limit, without all that a finding shows beside it."""
    (one,) = settled(ev, [worked(ev, _with_own(ev, requirement), with_words=False)], most)
    return one.held[0].verdict


def _with_own(ev: Evaluation, requirement: Requirement) -> Requirement:
    """The requirement with the limit that the builder has written for it, if there is one."""
    text = ev.build.limits.get(requirement.id)
    return requirement if text is None else with_own(requirement, text)


def _results(ev: Evaluation, wanted: Sequence[Requirement], *, all_facts: bool, most: int) -> list[Finding | Figure]:
    """The findings and figures: those that a change left as they were, the others worked out."""
    asked = (all_facts, most)
    results = {place: kept for place, one in enumerate(wanted) if (kept := ev.kept(one, asked))}
    left = [place for place in range(len(wanted)) if place not in results]
    done = settled(ev, [worked(ev, wanted[place]) for place in left], most)
    shares = _shares(ev, [one for one in done if is_in_full(one, all_facts=all_facts)])
    for place, one in zip(left, done, strict=True):
        of_facts = shares.get(one.requirement.id)
        results[place] = finding_of(one, of_facts) if one.held else figure_of(one, of_facts)
        ev.keep(Made(one.requirement, asked, one.seen, results[place]))
    return [results[place] for place in range(len(wanted))]


def _shares(ev: Evaluation, done: Sequence[Worked]) -> dict[str, dict[str, float]]:
    """The share that each fact has in the spread of each of these, by the id of the requirement."""
    paths = {one.requirement.id: drawn_paths(one) for one in done}
    shares = {name: dict.fromkeys(read, 0.0) for name, read in paths.items()}
    asked = {one.requirement.id: one.judged for one in done if one.judged is not None}
    of = Shares({path: ev.drawn(path) for path in sorted(set().union(*map(paths.__getitem__, asked)))})
    found = of.of_each([(margin, paths[name]) for name, margin in asked.items()])
    return shares | dict(zip(asked, found, strict=True))


def listed(ev: Evaluation, requirements: Sequence[Requirement]) -> tuple[list[Requirement], int]:
    """The requirements near enough to matter, in their order, except those with a distance: of these the nearest comes
    first. And the number of those too far away to be listed.
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
    stated = _with_own(ev, requirement)
    if not stated.limits:
        msg = f"{requirement.id} has no limit"
        raise ValueError(msg)
    decides = held_against(ev, stated, as_states(stated.value(ev), ev.draws))[0]
    if decides.margin is None:
        raise MissingFact(decides.missing)
    return decides.margin
