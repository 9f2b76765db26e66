"""What runs through a line against what line and fittings are rated for.

Answers   requirements   pressure and temperature, for each port that a line begins at
Not here  flow and pressure loss; whether the ends fit (joints.py)
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.requirement import AtMost, Requirement, Source, SourceKind
from trialfit.facts.quantity import PRESSURE, TEMPERATURE
from trialfit.parts import Fitting, Line, Port
from trialfit.subjects.ports.runs import caution_of, run_from, stake_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import Part


RATING = Source("rating of the line and its fittings as their maker states it", SourceKind.manual)
_UNDER_VACUUM = ("vacuum", "none")


def requirements(build: Build) -> Iterator[Requirement]:
    """Two findings for each port that a line begins at."""
    for port in build.all(Port):
        lines = [piece for piece in run_from(build, port).pieces if isinstance(piece, Line)]
        if not any(build.named(line.far_port) is not port for line in lines) or port.medium in _UNDER_VACUUM:
            continue
        yield Requirement(
            id=f"ports.{port.name}.pressure",
            about=port.name,
            says="the pressure behind it stays within the rating of the line and its fittings",
            value=partial(pressure, port=port),
            quantity=PRESSURE,
            stake=stake_of(port),
            limit=AtMost(partial(rated_pressure, port=port)),
            source=RATING,
            caution=caution_of(port),
        )
        yield Requirement(
            id=f"ports.{port.name}.temperature",
            about=port.name,
            says="the temperature there stays within the rating of the line and its fittings",
            value=partial(temperature, port=port),
            quantity=TEMPERATURE,
            stake=stake_of(port),
            limit=AtMost(partial(rated_temperature, port=port)),
            source=RATING,
            caution=caution_of(port),
        )


def pressure(ev: Evaluation, port: Port) -> Array:
    """Highest pressure behind a port, Pa."""
    return ev(port.pressure)


def temperature(ev: Evaluation, port: Port) -> Array:
    """Highest temperature at a port, K."""
    return ev(port.temperature)


def rated_pressure(ev: Evaluation, port: Port) -> Array:
    """Lowest rating of what is on a port, Pa: every line must have one, a fitting counts where it has one."""
    rated = [one.rated_pressure for one in _rated(ev, port) if isinstance(one, Line) or one.rated_pressure.written]
    return np.min(np.stack(ev.each(*rated)), axis=0)  # type: ignore[no-any-return]


def rated_temperature(ev: Evaluation, port: Port) -> Array:
    """Lowest rating of what is on a port, K, likewise."""
    rated = [
        one.rated_temperature for one in _rated(ev, port) if isinstance(one, Line) or one.rated_temperature.written
    ]
    return np.min(np.stack(ev.each(*rated)), axis=0)  # type: ignore[no-any-return]


def _rated(ev: Evaluation, port: Port) -> list[Fitting | Line]:
    pieces: tuple[Part, ...] = run_from(ev.build, port).pieces
    return [piece for piece in pieces if isinstance(piece, Fitting | Line)]
