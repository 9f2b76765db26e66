"""One measurement: its uncertainty, whether that is good enough, and whether a reading is an outlier.

Answers   requirements   value, spread, outlier
Not here  agreement with others (agreeing.py)
Sources   JCGM 100 (spread); F. E. Grubbs 1969, limits as in the NIST/SEMATECH e-Handbook, 1.3.5.17 (outlier)
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from trialfit.evaluation.requirement import AtMost, Requirement, Source, SourceKind, Stake
from trialfit.facts.quantity import RATIO
from trialfit.facts.showing import show
from trialfit.facts.spread import Shape, Spread
from trialfit.facts.units import display_unit
from trialfit.handbook.measuring.readings import combine, outlier_limit, outlier_statistic, student_factor, suspect
from trialfit.subjects.measuring.serving import allowed, what_it_serves
from trialfit.subjects.measuring.taken import quantity_of, reading_refs, taken

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import Measurement


FEWEST_FOR_TEST = 3
_GUARD = Source("ISO 14253-1:2017, from two summaries: the guard band", SourceKind.published)
_OUTLIER = Source(
    "Grubbs' test at 5 %: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.17", SourceKind.published
)


def requirements(measurement: Measurement) -> Iterator[Requirement]:
    """A figure and up to two findings for a measurement."""
    quantity, name = quantity_of(measurement), measurement.name
    yield Requirement(
        id=f"measuring.{name}.value",
        about=name,
        says="mean of the readings, corrected, with its spread",
        value=partial(value, measurement=measurement),
        quantity=quantity,
        stake=Stake.durability,
        formulas=(combine,),
        shows=partial(how_many, measurement=measurement),
    )
    serves = measurement.serves
    yield Requirement(
        id=f"measuring.{name}.spread",
        about=name,
        says=f"the readings are good enough to settle {serves}"
        if serves
        else "half-width that holds the value to 95 %",
        value=partial(spread, measurement=measurement),
        quantity=quantity,
        stake=Stake.durability,
        limit=AtMost(lambda ev: ev.of(allowed, measurement)) if serves else None,
        source=_GUARD if serves else None,
        formulas=(combine, student_factor),
        shows=partial(what_it_serves, measurement=measurement) if serves else None,
        cure="Take several more readings, or use a finer tool.",
    )
    if len(reading_refs(measurement)) >= FEWEST_FOR_TEST:
        yield Requirement(
            id=f"measuring.{name}.outlier",
            about=name,
            says="no reading is an outlier; the value is the largest distance from the mean in standard deviations",
            value=partial(distance, measurement=measurement),
            quantity=RATIO,
            stake=Stake.durability,
            limit=AtMost(outlier_limit(len(reading_refs(measurement)))),
            source=_OUTLIER,
            formulas=(outlier_statistic, outlier_limit),
            shows=partial(which_one, measurement=measurement),
            cure="Take that reading again. If it was misread, remove it and say so in the note. If it comes again, something moves.",
        )


def value(ev: Evaluation, measurement: Measurement) -> Array:
    """The corrected mean, drawn with its spread."""
    result = ev.of(taken, measurement)
    half = result.expanded
    return ev.spread_around(f"{measurement.name}.value", result.value, Spread(half, half, Shape.normal))


def spread(ev: Evaluation, measurement: Measurement) -> float:
    """Its expanded uncertainty."""
    return ev.of(taken, measurement).expanded


def distance(ev: Evaluation, measurement: Measurement) -> float:
    """How far out the farthest reading lies."""
    result = ev.of(taken, measurement)
    return outlier_statistic(result.readings, result.instrument)


def how_many(ev: Evaluation, measurement: Measurement) -> str:
    """Number of readings and coverage factor."""
    result = ev.of(taken, measurement)
    count, factor = len(result.readings), result.combined.coverage_factor
    return f"{count} reading{'s' if count > 1 else ''} with {measurement.way.name}, coverage factor {factor:.2f}"


def which_one(ev: Evaluation, measurement: Measurement) -> str:
    """The reading that is out of line, if one is."""
    result = ev.of(taken, measurement)
    readings = result.readings
    place = suspect(readings, result.instrument)
    if place is None:
        return "no outlier"
    shown = show(readings[place], display_unit(quantity_of(measurement)))
    return f"reading {place + 1}, {shown}, is an outlier: check it before you rely on it; it counts until you remove it"
