"""Where a point is by tape: distances from datum points and heights, by least squares, in draws.

Answers   requirements    readings.POINT: whether the readings of each taped point agree with each other
          place_of        the point in draws, (draws, 3)
Not here  the fit (placement/taping.py); what sits there (shapes.py)
The point is fitted to the readings as written; each draw moves it by what its readings differ from these, to first order:
p = p₀ + (JᵀWJ)⁻¹JᵀW·δ, so that `why` and `measure` can name every reading.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.evaluation.requirement import AtMost, Requirement, Source, SourceKind, Stake
from trialfit.facts.quantity import COEFFICIENT
from trialfit.parts import TapedPoint
from trialfit.placement.taping import BEYOND, BadReadings, Reading, Taped, position_from, slopes_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import FactRef


SOURCE = Source("test for one gross error among readings, 1 in 1000, from memory", SourceKind.from_memory)
_LEAST_SIGMA = 1e-4


def requirements(build: Build) -> Iterator[Requirement]:
    """Whether readings agree; a point without a spare reading has no check."""
    for point in build.all(TapedPoint):
        yield Requirement(
            id=f"clearance.readings.{point.name}",
            about=point.name,
            says=f"the readings of {point.name.replace('_', ' ')} agree with each other: the largest misfit over its uncertainty",
            value=partial(_disagreement, point=point),
            quantity=COEFFICIENT,
            stake=Stake.durability,
            limit=AtMost(BEYOND),
            source=SOURCE,
            formulas=(position_from,),
            shows=partial(_in_words, point=point),
            cure="tape the named reading again, or from another datum",
        )


def place_of(ev: Evaluation, point: TapedPoint) -> Array:
    """Where the point is, (draws, 3), m. Raises MissingFact."""
    found, readings, drawn = ev.of(_fitted, point)
    slopes, spread = slopes_of(readings, found.position)
    weighted = slopes / spread[:, None] ** 2
    gain = np.linalg.solve(slopes.T @ weighted, weighted.T)
    return np.asarray(found.position + (drawn - drawn[0]) @ gain.T)


def _disagreement(ev: Evaluation, point: TapedPoint) -> float:
    found = ev.of(_fitted, point)[0]
    if not found.checked:
        raise MissingFact({f"{point.name}.distances": "one more reading: without a spare reading there is no check"})
    return found.largest


def _in_words(ev: Evaluation, point: TapedPoint) -> str:
    found = ev.of(_fitted, point)[0]
    if found.disagrees and found.without is not None:
        off = float(np.linalg.norm(found.without - found.position)) * 1000
        return f"{found.disagrees} does not fit the others; without it the point moves by {off:.0f} mm"
    worst = max(found.residuals, key=lambda name: abs(found.residuals[name]))
    return f"{worst} has the largest misfit, {abs(found.residuals[worst]) * 1000:.1f} mm"


def _fitted(ev: Evaluation, point: TapedPoint) -> tuple[Taped, list[Reading], Array]:
    """The fit of the readings as written, the readings, and their draws (draws, n) with what their datums do to them."""
    datums = (
        [ev.rows(refs, f"{point.name}.from_{axis}") for refs, axis in _datum_refs(point)] if point.distances else []
    )
    readings, columns = [], []
    for number, ref in enumerate(point.distances):
        drawn = ev(ref)
        datum = np.stack([each[:, number] for each in datums], axis=-1)
        readings.append(_reading(ref, drawn, f"distance {number + 1}", "distance", datum[0]))
        columns.append((drawn, datum))
    for ref, sort in ((point.x, "x"), (point.y, "y"), (point.z, "z")):
        if ref.written is not None:
            drawn = ev(ref)
            readings.append(_reading(ref, drawn, sort, sort, np.zeros(3)))
            columns.append((drawn, np.zeros((ev.draws, 3))))
    near = [_nominal(ev, ref) for ref in (point.roughly_x, point.roughly_y, point.roughly_z)]
    try:
        found = position_from(readings, near)
    except BadReadings as wrong:
        raise MissingFact({f"{point.name}.distances": str(wrong)}) from None
    slopes, _ = slopes_of(readings, found.position)
    moved = [drawn + (datum - datum[0]) @ slope for (drawn, datum), slope in zip(columns, slopes, strict=True)]
    return found, readings, np.stack(moved, axis=-1)


def _datum_refs(point: TapedPoint) -> tuple[tuple[tuple[FactRef, ...], str], ...]:
    return (point.from_x, "x"), (point.from_y, "y"), (point.from_z, "z")


def _nominal(ev: Evaluation, ref: FactRef) -> float:
    return float(ev(ref)[0]) if ref.known is not None else 0.0


def _reading(ref: FactRef, drawn: Array, name: str, sort: str, datum: Array) -> Reading:
    sigma = max(ref.known.spread.standard_uncertainty if ref.known else 0.0, _LEAST_SIGMA)
    x, y, z = datum.tolist()
    return Reading(name, sort, float(drawn[0]), sigma, (x, y, z))  # type: ignore[arg-type]
