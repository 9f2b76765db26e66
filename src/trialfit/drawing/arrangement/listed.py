"""The list beside the views: what does not hold, by balloon; what has moved; what is missing.

Answers   Balloon         a number, the part, its place, and what does not hold there
          balloons_of     one for each part with a finding that does not hold, the worst first
          entries_of      the list as entries of a column
          angle_words     the working angles, joint by joint
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from trialfit.drawing.arrangement.places import place_of, places_of
from trialfit.drawing.arrangement.sheet_frame import Entry
from trialfit.evaluation.finding import side_words
from trialfit.evaluation.verdict import Verdict
from trialfit.facts.showing import interval_text

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from trialfit.book.build import Build
    from trialfit.drawing.arrangement.movements import Movement
    from trialfit.drawing.arrangement.scene import Place, Scene
    from trialfit.evaluation.finding import Finding, Interval, Report

_ORDER = list(Verdict)


@dataclass(frozen=True)
class Balloon:
    """What does not hold at one place. Without a place it has no number and is only in the list."""

    number: int | None
    part: str
    at: Place | None
    findings: tuple[Finding, ...]


def balloons_of(build: Build, scene: Scene, report: Report) -> tuple[Balloon, ...]:
    """Parts in the order of their worst finding; those with a place come first and are numbered."""
    places = places_of(build, scene)
    open_ones: dict[tuple[str, Place | None], list[Finding]] = {}
    for finding in report.findings:
        if finding.verdict is not Verdict.holds:
            open_ones.setdefault((finding.about, place_of(finding, scene, places)), []).append(finding)
    groups = sorted(open_ones.items(), key=lambda item: (item[0][1] is None, _worst(item[1])))
    return tuple(
        Balloon(number if at is not None else None, part, at, tuple(sorted(found, key=_badness)))
        for number, ((part, at), found) in enumerate(groups, 1)
    )


def _badness(finding: Finding) -> tuple[int, str]:
    return _ORDER.index(finding.verdict), finding.id


def _worst(findings: Sequence[Finding]) -> int:
    return min(_ORDER.index(finding.verdict) for finding in findings)


def entries_of(
    balloons: Sequence[Balloon], movements: Sequence[Movement], missing: Mapping[str, str], against: str
) -> Iterator[Entry]:
    """The whole list."""
    if against:
        yield Entry(f"changed since {against}" if movements else f"nothing has moved since {against}", heading=True)
        yield from (Entry(movement.says) for movement in movements)
    if balloons:
        yield from _open_ones(balloons)
    elif not missing:
        yield Entry("every finding that can be worked out holds", heading=True)
    if missing:
        yield Entry("not drawn: missing", heading=True)
        yield from (Entry(f"{path}: {says}") for path, says in missing.items())


def _open_ones(balloons: Sequence[Balloon]) -> Iterator[Entry]:
    placed = [one for one in balloons if one.number is not None]
    without = [finding for one in balloons if one.number is None for finding in one.findings]
    if placed:
        yield Entry("does not hold", heading=True)
    for one in placed:
        yield Entry(one.part, one.number)
        yield from (Entry(finding_words(finding)) for finding in one.findings)
    if without:
        yield Entry("does not hold, and has no place on the drawing", heading=True)
        yield from (Entry(finding_words(finding)) for finding in without)


def finding_words(finding: Finding) -> str:
    """Verdict, id, value and limit, in the words and numbers of the screen."""
    if finding.value is None:
        lacking = ", ".join(finding.missing)
        return f"{finding.verdict}  {finding.id}" + (f": get {lacking}" if lacking else "")
    limit = f", {side_words(finding.side)} {_words(finding.limit)}" if finding.limit else ""
    return f"{finding.verdict}  {finding.id}: {_words(finding.value)}{limit}"


def _words(value: Interval | None) -> str:
    return interval_text(value.nominal, value.low, value.high, value.unit) if value else "not known"


def angle_words(scene: Scene, report: Report) -> list[tuple[str, Place, str]]:
    """For each joint: the id of its working angle, its place, and the angle in words."""
    found = []
    for joint in scene.joints:
        result = report.result(f"driveline.working_angle.{joint.name}")
        if result is not None and result.value is not None:
            verdict = getattr(result, "verdict", None)
            said = "" if verdict in (None, Verdict.holds) else f", {verdict}"
            found.append((result.id, joint.at, f"{joint.name.replace('_', ' ')} joint {_words(result.value)}{said}"))
    return found
