"""The tables of the page on facts say how facts are read; each row is read here."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from trialfit.facts.provenance import Provenance, default_spread
from trialfit.facts.quantity import QUANTITIES
from trialfit.facts.reading import Unreadable, read_fact
from trialfit.facts.units import display_unit, from_si, from_si_difference

PAGE = (Path(__file__).parents[2] / "docs" / "facts.md").read_text(encoding="utf-8")
_NUMBER = r"[0-9]+(?:\.[0-9]+)?"


def _rows(title: str) -> list[list[str]]:
    table = PAGE.split(title)[1].split("\n\n")[0]
    return [
        [cell.strip().strip("`") for cell in line.strip("|").split("|")] for line in table.splitlines() if "`" in line
    ]


READ = _rows("| read as |")
REFUSED = _rows("| refused because |")


@pytest.mark.parametrize(("quantity", "written", "read_as"), READ, ids=[row[1] for row in READ])
def test_each_fact_of_the_page_reads_as_the_page_says(quantity, written, read_as):
    fact = read_fact(written, QUANTITIES[quantity])
    unit = display_unit(fact.quantity)
    value, *more = [float(number) for number in re.findall(_NUMBER, read_as)]

    assert from_si(fact.si, unit) == pytest.approx(value, abs=5e-4)
    assert read_as.split(",")[0].endswith(unit.canonical)
    if "±" in read_as:
        assert from_si_difference(fact.spread.plus, unit) == pytest.approx(more[0])
    if ", from" in read_as:
        ends = fact.si - fact.spread.minus, fact.si + fact.spread.plus
        assert [from_si(end, unit) for end in ends] == pytest.approx(more)


@pytest.mark.parametrize(("quantity", "written", "_because"), REFUSED, ids=[row[1] for row in REFUSED])
def test_each_text_that_the_page_calls_refused_is_refused(quantity, written, _because):
    with pytest.raises(Unreadable):
        read_fact(written, QUANTITIES[quantity])


def test_the_page_names_every_word_for_where_a_fact_came_from():
    named = {line.split("|")[1].strip() for line in PAGE.split("| word | means |")[1].splitlines()[2:10]}

    assert named == {str(word) for word in Provenance} - {"unstated", "typical"}


@pytest.mark.parametrize(
    ("word", "quantity", "value", "half"),
    [
        ("guess", "mass", 100.0, 20.0),
        ("taped", "length", 2.0, 0.002),
        ("calipered", "length", 0.1, 0.00005),
        ("weighed", "mass", 200.0, 1.0),
    ],
)
def test_the_spreads_that_the_page_names_are_the_ones_in_use(word, quantity, value, half):
    assert default_spread(QUANTITIES[quantity], Provenance(word), value).plus == pytest.approx(half)
