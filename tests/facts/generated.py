"""Generated facts and curves over all quantities, units, spreads, provenances, dates and notes."""

from __future__ import annotations

from hypothesis import strategies as st

from trialfit.facts.curve import Curve
from trialfit.facts.fact import Fact
from trialfit.facts.provenance import Provenance, measured_by
from trialfit.facts.quantity import QUANTITIES, Quantity
from trialfit.facts.spread import WrittenSpread
from trialfit.facts.units import Unit, find_unit, to_si

SIZES = st.one_of(
    st.floats(min_value=1e-6, max_value=1e14),
    st.integers(min_value=1, max_value=100_000).map(float),
    st.builds(
        lambda count, parts: count / parts, st.integers(1, 4000), st.sampled_from([2, 3, 7, 11, 16, 41, 64, 100])
    ),
)
HALVES = st.one_of(st.just(0.0), st.floats(min_value=1e-9, max_value=1e6), st.sampled_from([0.1, 0.2, 1.5]))
NOTES = st.text(st.characters(exclude_categories=["Cs"]), max_size=40).map(str.strip)
quantities = st.sampled_from(list(QUANTITIES.values()))


def unit_of(quantity: Quantity) -> st.SearchStrategy[Unit]:
    """Any unit of the quantity."""
    return st.sampled_from([find_unit(quantity, spelling) for spelling in quantity.spellings])


def value_in(quantity: Quantity, unit: Unit) -> st.SearchStrategy[float]:
    """Values that a fact in that unit may have."""
    if quantity.name == "count":
        return st.integers(min_value=0, max_value=10_000).map(float)
    if unit.is_tangent:
        return st.floats(min_value=-40, max_value=40)
    if not unit.canonical and quantity.name in {"share", "slope"}:
        return st.floats(min_value=-1, max_value=1)
    signed = st.one_of(st.just(0.0), SIZES, SIZES.map(lambda size: -size))
    return signed.filter(lambda value: quantity.name != "temperature" or to_si(value, unit) >= 0)


@st.composite
def spreads(draw: st.DrawFn, quantity: Quantity, unit: Unit, value: float) -> WrittenSpread | None:
    """None, even or uneven, in the unit or in percent where that is allowed."""
    if draw(st.booleans()):
        return None
    percent = value != 0 and unit.canonical != "%" and quantity.name not in {"temperature", "share", "slope"}
    is_relative = percent and draw(st.booleans())
    halves = HALVES if not unit.is_tangent else st.floats(min_value=1e-6, max_value=10)
    if draw(st.booleans()):
        half = draw(halves)
        return WrittenSpread(half, half, is_relative)
    return WrittenSpread(draw(halves), draw(halves), is_relative)


@st.composite
def facts(draw: st.DrawFn) -> Fact:
    """Any fact that can be written down."""
    quantity = draw(quantities)
    unit = draw(unit_of(quantity))
    value = draw(value_in(quantity, unit))
    spread = draw(spreads(quantity, unit, value))
    known = [*measured_by(quantity), Provenance.unstated]
    provenance = draw(st.sampled_from([*known, Provenance.typical] if spread else known))
    return Fact(quantity, value, unit, spread, provenance, draw(st.none() | st.dates()), draw(NOTES))


@st.composite
def curves(draw: st.DrawFn) -> Curve:
    """Any curve that can be written down."""
    x_quantity, y_quantity = draw(quantities), draw(quantities)
    x_unit, y_unit = draw(unit_of(x_quantity)), draw(unit_of(y_quantity))
    apart = draw(st.lists(value_in(x_quantity, x_unit), min_size=2, max_size=20, unique_by=lambda x: to_si(x, x_unit)))
    xs = tuple(sorted(apart))
    ys = tuple(draw(st.lists(value_in(y_quantity, y_unit), min_size=len(xs), max_size=len(xs))))
    spread = draw(spreads(y_quantity, y_unit, max(map(abs, ys))))
    provenance = draw(st.sampled_from([*measured_by(y_quantity), Provenance.unstated]))
    note = " ".join(draw(NOTES).split())
    return Curve(x_quantity, y_quantity, xs, ys, x_unit, y_unit, spread, provenance, draw(st.none() | st.dates()), note)
