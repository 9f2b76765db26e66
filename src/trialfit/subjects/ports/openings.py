"""Every opening there is: closed permanently, or a finding.

Answers   requirements   plugged, for each port
Not here  whether what closes it fits (joints.py)
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from trialfit.evaluation.requirement import COMMON_PRACTICE, AtMost, Requirement
from trialfit.facts.quantity import COUNT
from trialfit.parts import Port
from trialfit.subjects.ports.runs import caution_of, run_from, stake_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation


def requirements(build: Build) -> Iterator[Requirement]:
    """One finding for each port."""
    for port in build.all(Port):
        yield Requirement(
            id=f"ports.{port.name}.plugged",
            about=port.name,
            says="the port is closed by a plug, a sender or a complete line; the value counts open ends",
            value=partial(open_ends, port=port),
            quantity=COUNT,
            stake=stake_of(port),
            limit=AtMost(0),
            source=COMMON_PRACTICE,
            shows=partial(what_closes_it, port=port),
            caution=caution_of(port),
            cure=f"{_sentence(build, port)}: fit a plug, a sender or a complete line, and write it in the build.",
        )


def open_ends(ev: Evaluation, port: Port) -> float:
    """1 where the run that begins at a port ends open."""
    return float(bool(run_from(ev.build, port).open_at))


def what_closes_it(ev: Evaluation, port: Port) -> str:
    """What is there."""
    return _what_is_there(ev.build, port)


def _sentence(build: Build, port: Port) -> str:
    said = _what_is_there(build, port)
    return said[0].upper() + said[1:]


def _what_is_there(build: Build, port: Port) -> str:
    run = run_from(build, port)
    if not run.open_at:
        return f"{run.closed_by} closes it"
    if run.open_at != port.name:
        return f"{run.open_at} ends open"
    if port.cover and port.cover != "nothing":
        return f"only {port.cover if port.cover == 'tape' else 'a cap'} is on it: it keeps dirt out but does not seal"
    return "nothing is screwed into it"
