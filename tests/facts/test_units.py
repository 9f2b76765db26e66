"""The closed table of units: whole look-up, one meaning per spelling, conversions both ways."""

from __future__ import annotations

import subprocess
import sys
from collections import Counter

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from trialfit.facts.factors import factor_lines
from trialfit.facts.quantity import LENGTH, QUANTITIES, SLOPE, STRESS, TEMPERATURE, TORQUE, VOLUME, Quantity
from trialfit.facts.reading import read_fact
from trialfit.facts.unit_table import FOLDER
from trialfit.facts.units import (
    customary_unit,
    display_unit,
    find_unit,
    from_si,
    from_si_difference,
    quantities_of,
    to_si,
    to_si_difference,
)

from .generated import quantities


def test_the_factors_are_those_that_pint_works_out() -> None:
    """After a change to units.csv or units.txt: python -m trialfit.facts.factors."""
    written = (FOLDER / "unit_factors.csv").read_text(encoding="utf-8").splitlines()

    assert written == list(factor_lines())


def test_each_spelling_has_one_meaning_within_a_quantity() -> None:
    """Otherwise the later line of the table would win unseen."""
    for quantity in QUANTITIES.values():
        from trialfit.facts.unit_table import unit_rows

        counted = Counter(spelling for row in unit_rows(quantity.name) for spelling in set(row.spellings))
        assert [spelling for spelling, count in counted.items() if count > 1] == []


@pytest.mark.parametrize("quantity", QUANTITIES.values(), ids=QUANTITIES)
def test_each_quantity_knows_its_si_unit_its_display_unit_and_its_example(quantity: Quantity) -> None:
    """The SI unit is worth 1, the units shown read back, and the example is a fact."""
    assert to_si(1.0, find_unit(quantity, quantity.si)) == 1.0
    for unit in (display_unit(quantity), customary_unit(quantity)):
        assert unit is None or find_unit(quantity, unit.canonical) == unit
    assert read_fact(quantity.example, quantity).quantity is quantity
    for spelling in quantity.spellings:
        assert find_unit(quantity, find_unit(quantity, spelling).canonical) == find_unit(quantity, spelling)


@pytest.mark.parametrize(
    ("name", "shown"),
    [
        *(("length", "mm"), ("angle", "°"), ("mass", "kg"), ("torque", "N·m"), ("speed", "km/h"), ("power", "kW")),
        *(("rotational speed", "rpm"), ("stress", "MPa"), ("time", "s"), ("temperature", "°C"), ("ratio", "")),
        *(("count", ""), ("share", "%"), ("slope", "%"), ("area", "m²"), ("volume", "l"), ("inertia", "kg·m²")),
    ],
)
def test_units_in_which_computed_values_are_shown(name: str, shown: str) -> None:
    """What the trade reads off its instruments."""
    assert display_unit(QUANTITIES[name]).canonical == shown


def test_units_are_looked_up_whole_and_with_their_case() -> None:
    """No prefix is invented, no case is folded."""
    assert find_unit(STRESS, "MPa").canonical == "MPa"
    for quantity, spelling in [
        (STRESS, "mPa"),
        (LENGTH, "Mm"),
        (LENGTH, "mmm"),
        (TORQUE, "NM"),
        (VOLUME, "gal"),
        (LENGTH, "mil"),
    ]:
        with pytest.raises(LookupError, match=f'^"{spelling}" is not a unit of a {quantity.name}$'):
            find_unit(quantity, spelling)


def test_a_spelling_is_kept_and_makes_no_difference() -> None:
    """The unit shown is the canonical one."""
    unit = find_unit(TORQUE, "ft-lb")

    assert (unit.spelling, unit.canonical) == ("ft-lb", "lbf·ft")
    assert unit == find_unit(TORQUE, "lb·ft")
    assert unit != find_unit(TORQUE, "Nm")


def test_the_quantities_of_a_spelling() -> None:
    """Pounds may be a mass or a force, and a stranger is nothing."""
    assert quantities_of("lb") == ("mass", "force")
    assert quantities_of("parsec") == ()


@given(quantities, st.floats(min_value=-1e6, max_value=1e6), st.data())
def test_there_and_back(quantity: Quantity, value: float, data: st.DataObject) -> None:
    """Values and differences, in every unit."""
    unit = find_unit(quantity, data.draw(st.sampled_from(quantity.spellings)))
    value = value / 1e5 if unit.is_tangent else value

    assert from_si(to_si(value, unit), unit) == pytest.approx(value, rel=1e-9, abs=1e-9)
    assert from_si_difference(to_si_difference(value, unit), unit) == pytest.approx(value, rel=1e-9, abs=1e-9)


def test_a_difference_of_temperatures_has_no_zero_point() -> None:
    """9 °F more are 5 K more."""
    fahrenheit = find_unit(TEMPERATURE, "°F")

    assert to_si_difference(9.0, fahrenheit) == pytest.approx(5.0)
    assert from_si_difference(5.0, fahrenheit) == pytest.approx(9.0)


@pytest.mark.parametrize(
    ("quantity", "spelling"), [(LENGTH, "in"), (TEMPERATURE, "°F"), (SLOPE, "deg"), (TORQUE, "lbf·ft")]
)
@pytest.mark.parametrize("convert", [to_si, from_si, to_si_difference, from_si_difference])
def test_arrays_convert_as_floats_do(quantity: Quantity, spelling: str, convert: object) -> None:
    """Shape kept, each value as if alone."""
    unit = find_unit(quantity, spelling)
    values = np.array([[0.0, 0.5, 12.0], [-3.0, 1e-3, 40.0]])
    converted = convert(values, unit)

    assert converted.shape == values.shape
    np.testing.assert_allclose(converted, [[convert(float(value), unit) for value in row] for row in values])


def test_facts_import_neither_numpy_nor_pint() -> None:
    """A command that only reads starts fast."""
    code = (
        f"import sys; sys.path[:] = {sys.path}; import trialfit.facts as facts\n"
        "fact = facts.read_fact('38 ft-lb, manual', facts.TORQUE)\n"
        "fact.spread, facts.show(fact.si, fact.unit), facts.read_curve('rpm : N·m|1:2|2:3', facts.ROTATIONAL_SPEED, facts.TORQUE)\n"
        "print([name for name in ('numpy', 'pint') if name in sys.modules])\n"
    )
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)  # noqa: S603 - our own

    assert ran.stdout.strip() == "[]"


def test_names_are_offered_at_the_door() -> None:
    """Every promised name is there, and a stranger is refused."""
    import trialfit.facts

    for name in trialfit.facts.__all__:
        assert getattr(trialfit.facts, name) is not None
    assert trialfit.facts.LENGTH is LENGTH
    with pytest.raises(AttributeError, match="no attribute 'LENGHT'"):
        trialfit.facts.LENGHT  # noqa: B018
