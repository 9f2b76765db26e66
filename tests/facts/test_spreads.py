"""How uncertain a fact is: as written, or by where it came from."""

from __future__ import annotations

import csv

import pytest
from hypothesis import given

from trialfit.facts.fact import Fact
from trialfit.facts.provenance import Provenance, default_spread, measured_by, source_of_default
from trialfit.facts.quantity import (
    ANGLE,
    COEFFICIENT,
    COUNT,
    LENGTH,
    MASS,
    POWER,
    QUANTITIES,
    RATIO,
    SLOPE,
    TEMPERATURE,
    TORQUE,
    Quantity,
)
from trialfit.facts.reading import read_fact
from trialfit.facts.spread import Shape, Spread, WrittenSpread
from trialfit.facts.unit_table import FOLDER
from trialfit.facts.units import find_unit, to_si

from .generated import facts


def test_a_typical_value_is_found_anywhere_in_its_range() -> None:
    """Its spread is a pair of limits; the same figure guessed is likelier in the middle."""
    typical, guess = (read_fact(f"0.9 ± 0.1, {one}; a source", COEFFICIENT).spread for one in ("typical", "guess"))

    assert (typical.plus, typical.shape, guess.shape) == (pytest.approx(0.1), Shape.rectangular, Shape.normal)


@pytest.mark.parametrize(
    ("text", "quantity", "half", "shape"),
    [
        ("2402 mm, taped", LENGTH, 2e-3, Shape.normal),
        ("76.2 mm, calipered", LENGTH, 5e-5, Shape.normal),
        ("3.4°, gauged", ANGLE, 0.2 * 0.0174532925, Shape.normal),
        ("1000 kg, weighed", MASS, 5.0, Shape.normal),
        ("200 mm, guess", LENGTH, 0.04, Shape.normal),
        ("-200 mm, guess", LENGTH, 0.04, Shape.normal),
        ("0 mm, guess", LENGTH, 0.02, Shape.normal),
        ("3°, guess", ANGLE, 3 * 0.0174532925, Shape.normal),
        ("200 N·m, catalogue", TORQUE, 4.0, Shape.rectangular),
        ("100 kW, catalogue", POWER, 2000.0, Shape.rectangular),
        ("1000 kg, catalogue", MASS, 20.0, Shape.rectangular),
        ("3.73, catalogue", RATIO, 0.0, Shape.rectangular),
        ("4, guess", COUNT, 0.0, Shape.normal),
        ("90 N·m, manual", TORQUE, 0.0, Shape.rectangular),
        ("3.73", RATIO, 0.0, Shape.normal),
        ("4", COUNT, 0.0, Shape.normal),
        ("0.9", COEFFICIENT, 0.18, Shape.normal),
        ("0.9, guess", COEFFICIENT, 0.18, Shape.normal),
        ("0.9, catalogue", COEFFICIENT, 0.018, Shape.rectangular),
        ("0.9, manual", COEFFICIENT, 0.0, Shape.rectangular),
        ("0.9, gauged", COEFFICIENT, 0.09, Shape.normal),
        ("0.9, computed", COEFFICIENT, 0.045, Shape.normal),
        ("200 mm", LENGTH, 0.04, Shape.normal),
        ("22 %, gauged", SLOPE, 0.0034907, Shape.normal),
        ("85 °C, gauged", TEMPERATURE, 2.0, Shape.normal),
    ],
)
def test_what_nobody_wrote_comes_from_the_provenance(text: str, quantity: Quantity, half: float, shape: Shape) -> None:
    """A tape 2 mm, a caliper 0.05 mm, a gauge 0.2°, scales 0.5 %, a guess 20 %; what is unstated counts as a guess."""
    fact = read_fact(text, quantity)

    assert not fact.spread_is_written
    assert fact.spread.plus == fact.spread.minus == pytest.approx(half, rel=1e-5)
    assert fact.spread.shape is shape


@pytest.mark.parametrize(
    ("text", "quantity", "minus", "plus", "shape"),
    [
        ("76.2 ± 0.1 mm, calipered", LENGTH, 1e-4, 1e-4, Shape.normal),
        ("76.2 ± 0.1 mm", LENGTH, 1e-4, 1e-4, Shape.normal),
        ("76.2 ± 0.1 mm, manual", LENGTH, 1e-4, 1e-4, Shape.rectangular),
        ("200 N·m ± 5 %, catalogue", TORQUE, 10.0, 10.0, Shape.rectangular),
        ("-200 mm ± 1 %, taped", LENGTH, 2e-3, 2e-3, Shape.normal),
        ("25 +0.2/-0 mm, calipered", LENGTH, 0.0, 2e-4, Shape.rectangular),
        ("25 mm +2/-1 %", LENGTH, 2.5e-4, 5e-4, Shape.rectangular),
        ("195 ± 9 °F", TEMPERATURE, 5.0, 5.0, Shape.normal),
        ("1.4 m ± 0 m, taped", LENGTH, 0.0, 0.0, Shape.normal),
    ],
)
def test_what_is_written_is_taken(text: str, quantity: Quantity, minus: float, plus: float, shape: Shape) -> None:
    """Expanded uncertainty, but limits for a manual, a catalogue, and wherever the sides differ."""
    fact = read_fact(text, quantity)

    assert fact.spread_is_written
    assert (fact.spread.minus, fact.spread.plus) == pytest.approx((minus, plus))
    assert fact.spread.shape is shape


def test_a_slope_in_degrees_has_the_spread_of_its_tangent() -> None:
    """At 30° one degree is worth a third more slope than on the flat."""
    steep, flat = (read_fact(f"{degrees} ± 1 deg", SLOPE) for degrees in (30, 0))
    uneven = read_fact("30 +2/-0 deg", SLOPE)

    assert steep.spread.plus == steep.spread.minus
    assert steep.spread.plus / flat.spread.plus == pytest.approx(4 / 3, rel=1e-3)
    assert uneven.si + uneven.spread.plus == pytest.approx(to_si(32.0, find_unit(SLOPE, "deg")))
    assert uneven.spread.minus == 0


# JCGM 100 (GUM): 4.3.7, a/√3 between limits; 6.2, U = k·u with k = 2 (clauses from memory).
def test_standard_uncertainty_by_shape() -> None:
    """Half of an expanded uncertainty; the width over √12 between limits."""
    assert Spread(0.2, 0.2, Shape.normal).standard_uncertainty == 0.1
    assert Spread(0.1, 0.1, Shape.rectangular).standard_uncertainty == pytest.approx(0.1 / 3**0.5)
    assert Spread(0.0, 0.2, Shape.rectangular).standard_uncertainty == pytest.approx(0.1 / 3**0.5)


def test_a_spread_is_never_negative() -> None:
    """Nor without end."""
    for half in (-0.1, float("nan"), float("inf")):
        with pytest.raises(ValueError, match="expected two finite half-widths of at least 0"):
            Spread(half, 0.1, Shape.normal)


def test_a_pair_without_sense_is_refused() -> None:
    """Also where the spread is asked for directly."""
    with pytest.raises(
        ValueError, match="^a mass cannot be taped: write guess, catalogue, manual, weighed or computed$"
    ):
        default_spread(MASS, Provenance.taped, 12.0)
    with pytest.raises(ValueError, match="^a typical value needs a written uncertainty"):
        default_spread(MASS, Provenance.typical, 12.0)


def test_a_fact_made_by_hand_keeps_the_same_rules() -> None:
    """A unit of another quantity, no finite value, no spread for a typical one."""
    kilogram, millimetre = find_unit(MASS, "kg"), find_unit(LENGTH, "mm")
    with pytest.raises(ValueError, match='^"kg" is a unit of mass: expected a length$'):
        Fact(LENGTH, 1.0, kilogram)
    with pytest.raises(ValueError, match="expected a finite number"):
        Fact(LENGTH, float("nan"), millimetre)
    with pytest.raises(ValueError, match="a typical value needs a written uncertainty"):
        Fact(LENGTH, 1.0, millimetre, provenance=Provenance.typical)


def test_every_line_of_the_table_has_its_source_and_its_use() -> None:
    """Each line names a known provenance, a known quantity, a unit of that quantity, and a source."""
    lines = list(csv.DictReader((FOLDER / "default_spreads.csv").read_text(encoding="utf-8").splitlines()))
    for line in lines:
        assert line["source"]
        assert Provenance(line["provenance"]) is not Provenance.typical
        if line["quantity"] != "*":
            quantity = QUANTITIES[line["quantity"]]
            assert not line["unit"] or find_unit(quantity, line["unit"])
            assert source_of_default(quantity, Provenance(line["provenance"])) == line["source"]
    pairs = [(line["provenance"], line["quantity"]) for line in lines]
    assert len(pairs) == len(set(pairs))


def test_everything_can_be_guessed_and_looked_up() -> None:
    """Each quantity has a default for a guess, a catalogue, a manual and a computation."""
    wanted = {Provenance.guess, Provenance.catalogue, Provenance.manual, Provenance.computed}
    for quantity in QUANTITIES.values():
        assert wanted <= set(measured_by(quantity))


@given(facts())
def test_every_fact_has_a_spread(fact: Fact) -> None:
    """Finite, at least zero, and even where it is normal, which is what the draws rely on."""
    spread = fact.spread

    assert spread.minus >= 0
    assert spread.plus >= 0
    assert spread.shape is Shape.rectangular or spread.minus == spread.plus


def test_a_fact_made_by_hand_cannot_have_been_found_in_a_way_its_quantity_does_not_allow() -> None:
    """A mass is not taped."""
    with pytest.raises(ValueError, match="^a mass cannot be taped"):
        Fact(MASS, 12.0, find_unit(MASS, "kg"), provenance=Provenance.taped)


def test_what_the_builder_sets_is_exact_unless_he_writes_how_closely_he_sets_it() -> None:
    """A target is not a measurement: without a figure behind the ± there is nothing to draw."""
    unit = find_unit(LENGTH, "mm")
    target = Fact(LENGTH, 25.0, unit, is_set=True)
    within = Fact(LENGTH, 25.0, unit, WrittenSpread(0.5, 0.5), is_set=True)

    assert (target.spread.minus, target.spread.plus) == (0, 0)
    assert target.spread.is_zero
    assert (within.spread.minus, within.spread.plus) == pytest.approx((0.0005, 0.0005))
    assert not Fact(LENGTH, 25.0, unit).spread.is_zero
