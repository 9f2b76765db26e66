"""The fact that readings belong to: named by its path, or by the finding that depends on it.

Answers   place_of    the fact, with its quantity and bounds; BadInput if it is not clear
Not here  what is done with the readings (recording.py)
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from trialfit.advice.next_step import percent
from trialfit.book.problems import BadInput, Located
from trialfit.facts.reading import Unreadable, read_fact
from trialfit.parts import KINDS
from trialfit.parts.declaring import FactSpec
from trialfit.parts.lists_and_curves import ListSpec
from trialfit.parts.reading import nearest

if TYPE_CHECKING:
    from collections.abc import Sequence

    from trialfit.book.build import Build
    from trialfit.evaluation.finding import Figure, Finding, Report
    from trialfit.facts.quantity import Quantity
    from trialfit.parts.declaring import Bounds

_WHERE = "trialfit record"
_SHOWN = 4


@dataclass(frozen=True)
class FactPlace:
    """One fact that can be written: its path and its declaration."""

    path: str
    spec: FactSpec

    @property
    def quantity(self) -> Quantity:
        """The quantity that is read."""
        return self.spec.quantity

    @property
    def bounds(self) -> Bounds:
        """The bounds of its value."""
        return self.spec.bounds

    @property
    def says(self) -> str:
        """Its meaning."""
        return self.spec.says


def place_of(build: Build, report: Report, named: str, wanted: str, readings: Sequence[str]) -> FactPlace:
    """The fact that was read: `named` is its path, or the id of a finding in which only one fact fits the readings.

    Raises BadInput if it is neither, or if several facts fit.
    """
    place = _fact(build, named)
    if place is not None:
        if named != wanted and report.result(wanted) is None and _fact(build, wanted) is None:
            raise _unknown(build, report, wanted)
        return place
    result = report.result(named)
    if result is None:
        raise _unknown(build, report, named)
    return _of_finding(build, result, readings)


def _fact(build: Build, path: str) -> FactPlace | None:
    name, _, rest = path.partition(".")
    key, _, number = rest.partition(".")
    part = build.parts.get(name) or build.spare.get(name)
    kind = type(part) if part else KINDS.get(name)
    spec = kind.specs().get(key) if kind else None
    if isinstance(spec, FactSpec) and not number:
        return FactPlace(path, spec)
    if isinstance(spec, ListSpec) and number.isascii() and number.isdigit():
        return FactPlace(path, spec.item)
    return None


def _of_finding(build: Build, result: Finding | Figure, readings: Sequence[str]) -> FactPlace:
    missing = [place for path in result.missing if (place := _fact(build, path))]
    read = [place for use in result.facts if (place := _fact(build, use.path))]
    fitting = [place for place in missing if _reads(place, readings)] or [
        place for place in read if _reads(place, readings)
    ]
    if len(fitting) == 1:
        return fitting[0]
    share = {use.path: f" ({percent(use.share)} of the uncertainty)" for use in result.facts if use.share}
    named = [f"{place.path}{share.get(place.path, '')}" for place in fitting or missing or read]
    listed = ", ".join(named[:_SHOWN]) + (" ..." if len(named) > _SHOWN else "")
    if not fitting:
        says = f'depends on no fact that "{readings[0] if readings else ""}" could be a reading of; it depends on {listed or "no fact"}'
    else:
        says = f"depends on {len(fitting)} facts that the readings could belong to: name one with --fact: {listed}"
    raise BadInput(_WHERE, [Located(result.id, says)])


def _reads(place: FactPlace, readings: Sequence[str]) -> bool:
    try:
        return bool(readings) and place.bounds.admit(read_fact(readings[0], place.quantity).si)
    except Unreadable:
        return False


def _unknown(build: Build, report: Report, named: str) -> BadInput:
    name = named.partition(".")[0]
    part = build.parts.get(name)
    if part is not None:
        known = [f"{name}.{key}" for key, spec in type(part).specs().items() if isinstance(spec, FactSpec | ListSpec)]
    else:
        known = [one.id for one in (*report.findings, *report.figures)]
    says = f'"{named}" is neither a finding of this build nor a fact of one of its parts: {nearest(named, known)}'
    return BadInput(_WHERE, [Located("", says)])
