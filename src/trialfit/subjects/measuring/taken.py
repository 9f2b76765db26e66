"""The readings of one measurement, corrected, as one value with its spread.

Answers   Taken, taken        mean, scatter and expanded uncertainty, corrections included
          reading_refs        the readings as facts
          quantity_of         what the method reads
Not here  the statistics (handbook/measuring/readings.py), the corrections (handbook/measuring/corrections.py)
Sources   JCGM 100, 5.1.2: variances add; the sensitivity of each correction by moving it by its own standard uncertainty
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.facts.provenance import Provenance
from trialfit.facts.quantity import QUANTITIES, Quantity
from trialfit.handbook.measuring import corrections
from trialfit.handbook.measuring.readings import Combined, combine
from trialfit.parts.measuring.measurements import LISTS

if TYPE_CHECKING:
    from collections.abc import Mapping

    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.measuring.corrections import Method
    from trialfit.parts import FactRef, Measurement


@dataclass(frozen=True)
class Taken:
    """What came out, SI: `value` is corrected, `combined` holds the readings as they were read, `instrument` is standard."""

    value: float
    readings: tuple[float, ...]
    combined: Combined
    instrument: float

    @property
    def expanded(self) -> float:
        """Expanded uncertainty of the corrected value, SI."""
        return self.combined.expanded


def method_of(measurement: Measurement) -> Method:
    """The method it was taken with."""
    return measurement.way


def quantity_of(measurement: Measurement) -> Quantity:
    """What the method reads."""
    return QUANTITIES[method_of(measurement).quantity]


def reading_refs(measurement: Measurement) -> tuple[FactRef, ...]:
    """The readings as facts, in the order written."""
    refs: tuple[FactRef, ...] = getattr(measurement, LISTS[method_of(measurement).quantity])
    return refs


def taken(ev: Evaluation, measurement: Measurement) -> Taken:
    """The readings as one value. Raises MissingFact."""
    refs = reading_refs(measurement)
    name = f"{measurement.name}.{LISTS[method_of(measurement).quantity]}"
    if not refs:
        raise MissingFact({name: "readings, as they were read"})
    readings = tuple(float(ev(ref)[0]) for ref in refs)
    used = _corrections(measurement)
    for ref in used.values():
        ev(ref)
    nominal = {key: float(ev(ref)[0]) for key, ref in used.items()}
    mean = float(np.mean(readings))
    value = corrected(mean, measurement, nominal)
    others = []
    for key, ref in used.items():
        if ref.known is not None:
            moved = {**nominal, key: nominal[key] + ref.known.spread.standard_uncertainty}
            others.append(abs(corrected(mean, measurement, moved) - value))
    instrument = _instrument(measurement, refs, mean) / 2
    return Taken(value, readings, combine(readings, instrument, others), instrument)


def corrected(reading: float, measurement: Measurement, facts: Mapping[str, float]) -> float:
    """One reading with the corrections that are written, `facts` in SI by their name."""
    value = reading
    if "floor_slope" in facts:
        value = float(corrections.from_datum(value, facts["floor_slope"]))
    if "part_temperature" in facts:
        value = float(
            corrections.at_temperature(
                value,
                facts["part_temperature"],
                corrections.expansion(measurement.material or ""),
                facts["tool_temperature"],
                corrections.expansion(measurement.tool_material or "steel"),
                facts["reference_temperature"],
            )
        )
    if "gasket_thickness" in facts:
        thickness = corrections.crushed_thickness(facts["gasket_thickness"], facts["gasket_crush"])
        value = float(corrections.through_gasket(value, thickness, 1 if measurement.gasket == "opens it" else -1))
    return value


def _corrections(measurement: Measurement) -> dict[str, FactRef]:
    """The facts that correct it, by their name. Raises MissingFact where half of a correction is written."""
    wanted: list[FactRef] = []
    if measurement.floor_slope.written:
        wanted.append(measurement.floor_slope)
    if measurement.part_temperature.written or measurement.material:
        _need(measurement, "material")
        wanted += [measurement.part_temperature, measurement.tool_temperature, measurement.reference_temperature]
    if measurement.gasket_thickness.written or measurement.gasket:
        _need(measurement, "gasket")
        wanted += [measurement.gasket_thickness, measurement.gasket_crush]
    return {ref.path.rpartition(".")[2]: ref for ref in wanted}


def _need(measurement: Measurement, word: str) -> None:
    """Raises MissingFact where a word is not written that a correction needs."""
    if getattr(measurement, word) is None:
        raise MissingFact({f"{measurement.name}.{word}": type(measurement).specs()[word].says})


def _instrument(measurement: Measurement, refs: tuple[FactRef, ...], mean: float) -> float:
    """Expanded uncertainty of the instrument: the widest that stands behind a reading, else that of the method."""
    said = [
        2 * ref.written.spread.standard_uncertainty
        for ref in refs
        if ref.written and (ref.written.spread_is_written or ref.written.provenance is not Provenance.unstated)
    ]
    return max(said) if said else method_of(measurement).expanded(mean)
