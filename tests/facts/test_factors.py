"""The factors of units are worked out from the tables; what does not go together is said in one sentence, and nothing is written."""

from __future__ import annotations

from fractions import Fraction

import pytest

from trialfit.facts import factors
from trialfit.facts.quantity import QUANTITIES, Quantity
from trialfit.facts.unit_table import FOLDER, Row, all_rows

SI = Row("damping", "N·s/m", "newton * second / metre", "usual", ("N·s/m",))


@pytest.fixture
def tables(monkeypatch, tmp_path):
    """Another quantity with its units, in the place of the tables as they are; the folder that is written to."""
    (tmp_path / "units.txt").write_text((FOLDER / "units.txt").read_text(encoding="utf-8"), encoding="utf-8")
    (tmp_path / "unit_factors.csv").write_text("as before", encoding="utf-8")

    def put(*rows, quantities=None):
        table = (*all_rows(), *rows)
        monkeypatch.setattr(factors, "FOLDER", tmp_path)
        monkeypatch.setattr(factors, "all_rows", lambda: table)
        monkeypatch.setattr(factors, "unit_rows", lambda name: tuple(row for row in table if row.quantity == name))
        own = {"damping": Quantity("damping", "N·s/m", "1.8 kN·s/m")} if quantities is None else quantities
        monkeypatch.setattr(factors, "QUANTITIES", {**QUANTITIES, **own})
        return tmp_path / "unit_factors.csv"

    return put


def test_the_factors_of_a_new_quantity_are_written(tables):
    """A pound-force is 0.45359237 · 9.80665 N, a foot 0.3048 m: both by definition."""
    file = tables(SI, Row("damping", "lbf·s/ft", "pound_force * second / foot", "US", ("lbf·s/ft",)))

    assert factors.main() == 0
    si, customary = file.read_text(encoding="utf-8").splitlines()[-2:]
    assert si == "damping,N·s/m,1,0.0"
    assert Fraction(customary.split(",")[2]) == Fraction("0.45359237") * Fraction("9.80665") / Fraction("0.3048")


@pytest.mark.parametrize(
    ("definition", "says"),
    [
        ("newtn * second / metre", 'uses "newtn", which units.txt does not define'),
        ("newton *", 'cannot be read: write units of units.txt joined by *, / and **, for example "newton * metre"'),
        ("newton metre(", "cannot be read"),
        ("newton / 0", "cannot be read"),
        ("newton / metre", 'is not a damping: it cannot be converted to "newton * second / metre", the SI unit'),
        ("", "is not a damping"),
    ],
)
def test_a_definition_that_cannot_be_worked_out_is_named_and_nothing_is_written(tables, capsys, definition, says):
    file = tables(SI, Row("damping", "X", definition, "", ("X",)))

    assert factors.main() == 2
    said = capsys.readouterr().err
    assert said.startswith(f'units.csv, damping "X": the definition "{definition}" {says}')
    assert said.endswith("; unit_factors.csv was not changed\n")
    assert said.count("\n") == 1
    assert file.read_text(encoding="utf-8") == "as before"


def test_a_quantity_without_its_si_unit_is_named(tables, capsys):
    tables(Row("damping", "kN·s/m", "kilonewton * second / metre", "usual", ("kN·s/m",)))

    assert factors.main() == 2
    assert (
        'units.csv has no line for the SI unit of "damping", which is "N·s/m" in quantity.py' in capsys.readouterr().err
    )


def test_a_quantity_without_any_unit_is_named(tables, capsys):
    tables()

    assert factors.main() == 2
    assert 'units.csv has no line for the SI unit of "damping"' in capsys.readouterr().err


def test_units_of_a_quantity_that_is_not_known_are_named(tables, capsys):
    tables(SI, quantities={})

    assert factors.main() == 2
    assert 'units.csv has units of "damping", which is not in QUANTITIES of quantity.py' in capsys.readouterr().err
