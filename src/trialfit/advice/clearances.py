"""Every pair that matters at the present pose of the drivetrain: gap, spread, required gap, margin, nearest points in words.

Answers   clearances    the answer for a build
Not here  the findings themselves (subjects/clearance); the best pose (placing.py)
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.advice.placement_shapes import Clearances, PairSeen
from trialfit.advice.placing import CAUTION
from trialfit.evaluation.evaluation import DRAWS, MissingFact
from trialfit.placement.binding import look
from trialfit.subjects.catalogue import evaluate
from trialfit.subjects.clearance.placing import placing_of
from trialfit.subjects.clearance.worst import AT_REST

if TYPE_CHECKING:
    from trialfit.book.build import Build
    from trialfit.evaluation.finding import Finding
    from trialfit.placement.binding import Seen

_PAIRS = ("clearance.gap.", "clearance.ground.", "clearance.removal.", "clearance.place.")


def clearances(build: Build, draws: int = DRAWS) -> Clearances:
    """The pairs of a build, the tightest first, and the missing facts."""
    report = evaluate(build, draws, ("clearance",))
    found = [finding for finding in report.findings if finding.id.startswith(_PAIRS)]
    try:
        placing = placing_of(build)
        seen = {one.name: one for one in look(placing.problem, placing.now)}
    except MissingFact:
        seen = {}
    pairs = sorted((_pair(finding, seen.get(finding.id)) for finding in found), key=_tightness)
    missing = {path: meaning for finding in found for path, meaning in finding.missing.items()}
    return Clearances(
        build=build.name,
        draws=draws,
        pairs=tuple(pairs),
        far=report.findings_left_out,
        missing=missing,
        caution=CAUTION,
    )


def _tightness(pair: PairSeen) -> float:
    return pair.margin.nominal if pair.margin else float("inf")


def _pair(finding: Finding, seen: Seen | None) -> PairSeen:
    return PairSeen(
        id=finding.id,
        verdict=finding.verdict,
        gap=finding.value,
        wanted=finding.limit,
        margin=finding.margin,
        where=seen.where.replace("_", " ") if seen else "",
        state=finding.state if finding.state and finding.state != AT_REST else "",
        source=finding.source,
    )
