"""Spreads of measurements as a builder reads them, and what to write down afterwards."""

from __future__ import annotations

import pytest

from trialfit.advice.instruments import instruments
from trialfit.advice.supposing import fact_at
from trialfit.advice.writing_down import half_width, needed, spread_of, what_to_write
from trialfit.book import read_text
from trialfit.facts.quantity import LENGTH
from trialfit.facts.reading import read_fact

CAR = read_text(
    """
[car]
wheelbase = "94.5 in, guess"
mass = "960 kg, guess"
[gearbox]
ratios = ["3.6", "2.1"]
[engine]
torque_curve = "rpm : N·m, guess | 1000 : 200 | 5000 : 220"
[prop_shaft]
length = "1190 mm, guess"
"""
)


def tool(name, quantity="length"):
    return next(one for one in instruments() if one.name == name and one.quantity.name == quantity)


def at(path):
    found = fact_at(CAR, path)
    assert found is not None
    return found


def test_a_half_width_is_shown_in_the_unit_of_the_fact():
    assert half_width(at("prop_shaft.length"), 2e-3) == "± 2 mm"
    assert half_width(at("car.wheelbase"), 0.0254) == "± 1 in"
    assert half_width(at("prop_shaft.slip_gap"), 2e-3) == "± 2 mm"  # nothing is written: the usual unit


@pytest.mark.parametrize(
    ("half", "text"), [(10.29e-3, "± 10 mm"), (0.999e-3, "± 0.99 mm"), (2e-3, "± 2 mm"), (0.0, ""), (-1.0, "")]
)
def test_the_widest_spread_that_does_is_rounded_down_so_that_it_is_enough(half, text):
    assert needed(at("prop_shaft.length"), half) == text


def test_what_an_instrument_reaches_for_a_value_and_for_none():
    tape = tool("steel tape")

    assert spread_of(at("prop_shaft.length"), tape) == "± 2 mm"
    assert spread_of(at("prop_shaft.slip_gap"), tape) == "± 2 mm"
    relative = next(one for one in instruments() if one.relative and not one.absolute)
    assert "% of the value" in spread_of(at("prop_shaft.slip_gap"), relative)


def test_what_to_write_is_read_again_once_the_number_stands_in_it():
    """Path and value as `set` takes them: the tape's word has the tape's spread, the rule's 0.5 mm must be said."""
    taped = what_to_write(CAR, at("prop_shaft.length"), tool("steel tape"))
    ruled = what_to_write(CAR, at("prop_shaft.length"), tool("steel rule"))

    assert taped == 'prop_shaft.length "… mm, taped"'
    for line, half in ((taped, 2e-3), (ruled, 0.5e-3)):
        path, _, value = line.partition(" ")
        fact = read_fact(value.strip('"').replace("…", "1190"), LENGTH)
        assert path == "prop_shaft.length"
        assert (fact.si, fact.spread.plus) == (pytest.approx(1.19), pytest.approx(half))


def test_the_unit_is_that_of_the_fact_or_else_of_the_instrument():
    assert what_to_write(CAR, at("car.wheelbase"), tool("steel tape")) == 'car.wheelbase "… in, taped"'
    assert what_to_write(CAR, at("prop_shaft.slip_gap"), tool("steel tape")) == 'prop_shaft.slip_gap "… mm, taped"'


def test_a_place_in_a_list_counts_from_one_and_a_curve_takes_the_word_in_its_first_line():
    asked = next(one for one in instruments() if one.is_asked)

    assert what_to_write(CAR, at("gearbox.ratios.2"), asked).startswith('gearbox.ratios.2 "')
    assert what_to_write(CAR, at("engine.torque_curve"), asked) == "engine.torque_curve with manual in its first line"
