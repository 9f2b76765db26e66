"""A build as if a fact had been measured, at its present value.

Answers   supposed    the build with facts measured by the instruments given
          fact_at     the fact of a path: its part, its declaration, and its written or typical value
Not here  which instrument (instruments.py)
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from trialfit.facts.curve import Curve
from trialfit.facts.fact import Fact
from trialfit.facts.provenance import Provenance, check_pair
from trialfit.facts.spread import WrittenSpread
from trialfit.facts.units import from_si_difference
from trialfit.parts.declaring import FactSpec
from trialfit.parts.lists_and_curves import CurveSpec, ListSpec
from trialfit.parts.ranges import CONFIRMED

if TYPE_CHECKING:
    from collections.abc import Mapping

    from trialfit.advice.instruments import Instrument
    from trialfit.book.build import Build
    from trialfit.facts.quantity import Quantity
    from trialfit.parts.declaring import Part, Value


@dataclass(frozen=True)
class FactAt:
    """One fact of a build: `key` is its name on the part, `item` its place in a list (from 0), None outside of lists."""

    part: Part
    key: str
    item: int | None
    spec: FactSpec | CurveSpec
    known: Fact | Curve | None

    @property
    def quantity(self) -> Quantity:
        """What is measured: for a curve, the quantity of its values."""
        return self.spec.y_quantity if isinstance(self.spec, CurveSpec) else self.spec.quantity

    @property
    def value(self) -> float | None:
        """The value in SI, for a curve the largest; None if it is not known."""
        if isinstance(self.known, Curve):
            return max(map(abs, self.known.y))
        return None if self.known is None else self.known.si

    @property
    def half_width(self) -> float | None:
        """Twice the standard uncertainty, SI: to compare with the half-width of an instrument. None if it is not known."""
        if isinstance(self.known, Curve):
            return 2 * self.known.relative_spread.standard_uncertainty * (self.value or 0.0)
        return None if self.known is None else 2 * self.known.spread.standard_uncertainty


def fact_at(build: Build, path: str) -> FactAt | None:
    """The fact of a path such as "shaft.length" or "gearbox.ratios.2"; None if the part or its kind has no such fact."""
    name, _, rest = path.partition(".")
    key, _, number = rest.partition(".")
    part = build.parts.get(name)
    spec = part.specs_in_use().get(key) if part else None
    if part is None:
        return None
    if isinstance(spec, ListSpec):
        facts: tuple[Fact, ...] = part.values.get(key, ())  # type: ignore[assignment]
        item = int(number) - 1 if number.isdigit() else None
        known = facts[item] if item is not None and 0 <= item < len(facts) else None
        return FactAt(part, key, item, spec.item, known)
    if isinstance(spec, CurveSpec):
        return FactAt(part, key, None, spec, part.values.get(key))  # type: ignore[arg-type]
    if isinstance(spec, FactSpec):
        return FactAt(part, key, None, spec, part.values.get(key) or spec.typical_fact)  # type: ignore[arg-type]
    return None


def supposed(build: Build, measured: Mapping[str, Instrument]) -> Build:
    """The build with each fact of `measured` (by path) at its present value, with the spread of its instrument.

    A second measurement of an unusual value confirms it. Facts without a value yet are left as they are.
    """
    parts = dict(build.parts)
    for path, instrument in measured.items():
        at = fact_at(replace(build, parts=parts), path)
        if at is not None and at.known is not None:
            values = {**at.part.values, at.key: _changed(at, instrument)}
            parts[at.part.name] = type(at.part)(at.part.name, values)
    return replace(build, parts=parts)


def _changed(at: FactAt, instrument: Instrument) -> Value:
    if isinstance(at.known, Curve):
        half = instrument.half_width(at.value or 0.0) / (at.value or 1.0) * 100
        spread = WrittenSpread(half, half, is_relative=True)
        return replace(at.known, written_spread=spread, provenance=_word(instrument, at.quantity), note=CONFIRMED)
    fact = _measured(at, instrument)
    if at.item is None:
        return fact
    facts: tuple[Fact, ...] = at.part.values[at.key]  # type: ignore[assignment]
    return (*facts[: at.item], fact, *facts[at.item + 1 :])


def _measured(at: FactAt, instrument: Instrument) -> Fact:
    """The fact at its present value, with the spread of the instrument."""
    if not isinstance(at.known, Fact):
        raise TypeError(at.key)
    half = from_si_difference(instrument.half_width(at.known.si), at.known.unit)
    spread = WrittenSpread(half, half)
    return replace(
        at.known, written_spread=spread, provenance=_word(instrument, at.quantity), date=None, note=CONFIRMED
    )


def _word(instrument: Instrument, quantity: Quantity) -> Provenance:
    """The instrument's word, or `computed` if the fact is calculated from its reading."""
    try:
        check_pair(quantity, instrument.provenance)
    except ValueError:
        return Provenance.computed
    return instrument.provenance
