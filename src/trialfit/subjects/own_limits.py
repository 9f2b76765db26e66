"""The limits that are written in a build: whether they can be read, and whether each names something.

Answers   refuse_unreadable    raises for a limit that cannot be read as one of its finding
          refuse_unknown       raises for a limit, about to be written, that names nothing
          remarks              a remark for each limit that names nothing
Not here  how such a limit is held against the others (evaluation/limits.py)
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.book.problems import BadInput, Located
from trialfit.evaluation.finding import Remark
from trialfit.evaluation.limits import with_own
from trialfit.parts.reading import nearest

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.requirement import Requirement


def refuse_unreadable(build: Build, stated: Iterable[Requirement]) -> None:
    """Raises BadInput where a limit that is written for one of these requirements cannot be read."""
    problems = []
    for requirement in stated:
        if requirement.id in build.limits:
            try:
                with_own(requirement, build.limits[requirement.id])
            except ValueError as wrong:
                problems.append(Located(f"limit.{requirement.id}", str(wrong)))
    if problems:
        raise BadInput(build.name or "the build", problems)


def refuse_unknown(build: Build, identifier: str, known: Collection[str]) -> None:
    """Raises BadInput where a limit would be written for what is no finding or figure of the build."""
    if identifier not in known:
        says = f"is not a finding of this build: {nearest(identifier, known)}"
        raise BadInput(build.name or "the build", [Located(f"limit.{identifier}", says)])


def remarks(build: Build, known: Collection[str]) -> Iterator[Remark]:
    """A remark for each limit that names no finding or figure: another part may have been picked since, or one taken out."""
    for identifier in build.limits:
        if identifier not in known:
            near = nearest(identifier, known).partition("known are")[
                0
            ]  # without a near one the list would fill the page
            says = f"has no effect: this build has no finding of that name; {near}".rstrip("; ")
            yield Remark(path=f"limit.{identifier}", says=says)
