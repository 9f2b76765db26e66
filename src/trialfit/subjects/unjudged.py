"""What nothing judges in a build: ways of failing without a finding, and parts without one.

Answers   modes_unjudged   the rows of the register that hold for a build and that nothing judges there, the worst stake first
          parts_unjudged   the parts that are written and that no finding is about
          counted          both as they stand on the report
Not here  the rows (register.py); before which gate each is looked at in a certain build (planning/hand_checks.py)

A row is judged for a part if a stated requirement with a limit is one of those that the row names, and is about that part, reads
a fact of it, or is about a part that names it: a fitting is judged at its port. Of a kind that a car has once, any requirement
that the row names is enough. A gap that is wide enough to be left out of the list was looked at: it counts as judged.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from trialfit.book.conditions import holds
from trialfit.evaluation.finding import NotJudged
from trialfit.evaluation.requirement import Stake
from trialfit.parts import KINDS
from trialfit.parts.declaring import RefSpec
from trialfit.subjects.register import EVERY_CAR_HAS, WHEN, matches, register

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from trialfit.book.build import Build
    from trialfit.evaluation.finding import Report
    from trialfit.evaluation.requirement import Requirement
    from trialfit.parts import Part
    from trialfit.subjects.register import FailureMode

_STAKES = list(Stake)


@dataclass(frozen=True)
class ModeUnjudged:
    """One row of the register that nothing judges, with the parts of the build that it is about; none where the part is not written."""

    mode: FailureMode
    parts: tuple[str, ...]


@dataclass(frozen=True)
class _Judging:
    """The requirements of a build that have a limit, with the parts that each of them is about."""

    build: Build
    concerns: Mapping[str, frozenset[str]]

    @cached_property
    def by_subject(self) -> Mapping[str, list[str]]:
        """The ids by their first step."""
        found: dict[str, list[str]] = defaultdict(list)
        for identifier in self.concerns:
            found[identifier.partition(".")[0]].append(identifier)
        return found

    @cached_property
    def named_by(self) -> Mapping[str, frozenset[str]]:
        """Of each part: those that name it, directly or through others, and those that it names itself."""
        names = {name: frozenset(_named(self.build, part)) for name, part in self.build.parts.items()}
        found = {}
        for name in self.build.parts:
            seen: set[str] = set()
            ahead = {name}
            while ahead:
                ahead = {one for one, others in names.items() if others & ahead} - seen
                seen |= ahead
            found[name] = frozenset(seen | names[name])
        return found

    @cached_property
    def _of(self) -> dict[str, frozenset[str] | None]:
        """A cache of `of` by the id of the row."""
        return {}

    def of(self, mode: FailureMode) -> frozenset[str] | None:
        """The parts that the stated requirements of a row are about; None where it names none that is stated."""
        if mode.id not in self._of:
            found = [
                identifier
                for pattern in mode.judged_by
                for identifier in self.by_subject.get(pattern.partition(".")[0], ())
                if matches(pattern, identifier)
            ]
            self._of[mode.id] = frozenset().union(*map(self.concerns.__getitem__, found)) if found else None
        return self._of[mode.id]

    def judges(self, mode: FailureMode, part: Part) -> bool:
        """Whether a row is judged for a part."""
        about = self.of(mode)
        if about is None or part.place is not None:
            return about is not None
        return part.name in about or bool(about & self.named_by[part.name])


def modes_unjudged(build: Build, stated: Iterable[Requirement], report: Report) -> tuple[ModeUnjudged, ...]:
    """The rows that nothing judges, the worst stake first, then by the gate before which to look."""
    return _modes(_judging(build, stated, report))


def _modes(judging: _Judging) -> tuple[ModeUnjudged, ...]:
    found = [one for mode in register() if (one := _unjudged(judging, mode)) is not None]
    return tuple(sorted(found, key=lambda one: (_STAKES.index(one.mode.stake), WHEN.index(one.mode.before))))


def parts_unjudged(build: Build, stated: Iterable[Requirement], report: Report) -> tuple[str, ...]:
    """The parts that are written, and that no finding is about or reads, in the order of the file."""
    return _parts(_judging(build, stated, report))


def _parts(judging: _Judging) -> tuple[str, ...]:
    touched = frozenset().union(*judging.concerns.values())
    by_kind: dict[str, list[FailureMode]] = defaultdict(list)
    for mode in register():
        by_kind[mode.kind].append(mode)
    return tuple(
        name
        for name, part in judging.build.parts.items()
        if name not in touched and not any(judging.judges(mode, part) for mode in by_kind[part.kind])
    )


def counted(build: Build, stated: Sequence[Requirement], report: Report) -> NotJudged:
    """How many ways of failing nothing judges, how many of them at stake safety, and the parts without a finding."""
    judging = _judging(build, stated, report)
    modes = _modes(judging)
    return NotJudged(
        ways=len(modes),
        at_safety=sum(one.mode.stake is Stake.safety for one in modes),
        parts=_parts(judging),
    )


def _unjudged(judging: _Judging, mode: FailureMode) -> ModeUnjudged | None:
    build = judging.build
    parts = [one for one in build.all(KINDS[mode.kind]) if type(one).kind == mode.kind]
    if not parts:
        wanted = mode.kind in EVERY_CAR_HAS and holds(build, mode.only_with) and judging.of(mode) is None
        return ModeUnjudged(mode, ()) if wanted else None
    left = [one.name for one in parts if holds(build, mode.only_with, one) and not judging.judges(mode, one)]
    return ModeUnjudged(mode, tuple(left)) if left else None


def _judging(build: Build, stated: Iterable[Requirement], report: Report) -> _Judging:
    read = {finding.id: finding.parts for finding in report.findings}
    with_limit = [one for one in stated if one.limit is not None or one.also or one.id in read]
    concerns = {
        one.id: frozenset(
            part.name for name in (one.about, *one.id.split("."), *read.get(one.id, ())) if (part := build.named(name))
        )
        for one in with_limit
    }
    return _Judging(build, concerns)


def _named(build: Build, part: Part) -> Iterable[str]:
    for key, spec in part.specs().items():
        target = part.values.get(key)
        if isinstance(spec, RefSpec) and isinstance(target, str) and (found := build.named(target)):
            yield found.name
