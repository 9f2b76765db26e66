"""Do two ways of measuring agree, and does the build say what was read.

Answers   requirements   agrees.OTHER for each other measurement of the same fact; agrees.written
Not here  one measurement by itself (one_measurement.py)
Sources   ISO 13528, E_n, from memory
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from trialfit.evaluation.requirement import AtMost, Requirement, Source, SourceKind, Stake
from trialfit.facts.quantity import RATIO
from trialfit.facts.showing import show
from trialfit.facts.units import display_unit
from trialfit.handbook.measuring.readings import normalised_error
from trialfit.parts import Measurement
from trialfit.subjects.measuring.serving import fact_ref
from trialfit.subjects.measuring.taken import quantity_of, taken

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.parts import FactRef

_E_N = Source("ISO 13528, E_n of at most 1, from memory", SourceKind.from_memory)


def requirements(build: Build, measurement: Measurement) -> Iterator[Requirement]:
    """One finding for each other measurement of the same fact that stands before this one, and one for the fact itself."""
    if measurement.of is None:
        return
    for other in build.all(Measurement):
        if other is measurement:
            break
        if other.of == measurement.of and quantity_of(other) is quantity_of(measurement):
            yield _requirement(
                measurement,
                other.name,
                f"{measurement.name} and {other.name} agree within their uncertainties; the value is their difference over "
                "the combined uncertainty",
                partial(apart, one=measurement, other=other),
                partial(both_values, one=measurement, other=other),
            )
    ref = fact_ref(build, measurement.of)
    if ref is not None and ref.written is not None and ref.spec.quantity is quantity_of(measurement):
        yield _requirement(
            measurement,
            "written",
            f"{measurement.of} as it is written agrees with the readings; the value is their difference over "
            "the combined uncertainty",
            partial(from_written, measurement=measurement, ref=ref),
            partial(both_said, measurement=measurement, ref=ref),
        )


def _requirement(
    measurement: Measurement, other: str, says: str, value: partial[float], shows: partial[str]
) -> Requirement:
    return Requirement(
        id=f"measuring.{measurement.name}.agrees.{other}",
        about=measurement.name,
        says=says,
        value=value,
        quantity=RATIO,
        stake=Stake.durability,
        limit=AtMost(1.0),
        source=_E_N,
        formulas=(normalised_error,),
        shows=shows,
        cure="One of the two is wrong by more than its uncertainty: measure a third way before you rely on either.",
    )


def apart(ev: Evaluation, one: Measurement, other: Measurement) -> float:
    """Distance of two measurements over what their spreads allow."""
    first, second = ev.of(taken, one), ev.of(taken, other)
    return float(normalised_error(first.value, first.expanded, second.value, second.expanded))


def both_values(ev: Evaluation, one: Measurement, other: Measurement) -> str:
    """The two values side by side."""
    unit = display_unit(quantity_of(one))
    shown = [f"{part.name} {show(ev.of(taken, part).value, unit)}" for part in (one, other)]
    return ", ".join(shown)


def from_written(ev: Evaluation, measurement: Measurement, ref: FactRef) -> float:
    """Distance of a measurement from the fact as written over what both spreads allow."""
    result, written = ev.of(taken, measurement), float(ev(ref)[0])
    expanded = 2 * ref.known.spread.standard_uncertainty if ref.known else 0.0
    return float(normalised_error(result.value, result.expanded, written, expanded))


def both_said(ev: Evaluation, measurement: Measurement, ref: FactRef) -> str:
    """What was read and what is written."""
    unit = display_unit(quantity_of(measurement))
    return f"read {show(ev.of(taken, measurement).value, unit)}, written {show(float(ev(ref)[0]), unit)}"
