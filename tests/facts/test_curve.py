"""Curves as points with the units in the header."""

from __future__ import annotations

import datetime as dt

import pytest

from trialfit.facts.curve import Curve, read_curve
from trialfit.facts.provenance import Provenance
from trialfit.facts.quantity import LENGTH, RATIO, ROTATIONAL_SPEED, TORQUE
from trialfit.facts.reading import Unreadable
from trialfit.facts.spread import Shape, WrittenSpread

WANTED = 'expected a curve of torque over rotational speed, for example "rpm : N·m | 1000 : 180 | 3500 : 265"'


def read(text: str) -> Curve:
    """A torque curve."""
    return read_curve(text, ROTATIONAL_SPEED, TORQUE)


def test_a_torque_curve_as_a_builder_writes_it() -> None:
    """Header with units, spread, provenance and note; then one point a line, decimal comma allowed."""
    curve = read(
        """
        rpm : lbf·ft ± 3 %, catalogue 2024-05-18; off a printed curve | with a ruler

        1000 : 130
        2500,5 : 182,5
        6000 : 1.6e2
        """
    )

    assert curve.written_x == (1000.0, 2500.5, 6000.0)
    assert curve.y == pytest.approx((176.2563, 247.4368, 216.9309), abs=1e-4)
    assert curve.x[0] == pytest.approx(104.7198, abs=1e-4)
    assert curve.relative_spread.plus == 0.03
    assert curve.relative_spread.shape is Shape.rectangular
    assert (curve.provenance, curve.date) == (Provenance.catalogue, dt.date(2024, 5, 18))
    assert str(curve) == (
        "rpm : lbf·ft ± 3 %, catalogue 2024-05-18; off a printed curve | with a ruler\n1000 : 130\n2500.5 : 182.5\n6000 : 160"
    )


@pytest.mark.parametrize("halves", ["+3/-2", "-2/+3"])
def test_a_curve_of_plain_numbers_has_its_spread_at_the_head_of_their_place(halves: str) -> None:
    """Nothing stands between the colon and the spread."""
    curve = read_curve(f"rpm : {halves} | 1000 : 180 | 2000 : 200", ROTATIONAL_SPEED, RATIO)

    assert curve.written_spread == WrittenSpread(2.0, 3.0)


def test_a_curve_on_one_line() -> None:
    """Upright strokes part the points where there are no lines."""
    assert read("rpm : N·m | 1000 : 180 | 2000 : 200") == read("rpm : N·m\n1000 : 180\n2000 : 200\n")


@pytest.mark.parametrize(
    ("header", "minus", "plus", "shape"),
    [
        ("rpm : N·m ± 4 %", 0.04, 0.04, Shape.normal),
        ("rpm : N·m ± 10 N·m", 0.05, 0.05, Shape.normal),
        ("rpm : N·m ± 10", 0.05, 0.05, Shape.normal),
        ("rpm : N·m +5/-0 %", 0.0, 0.05, Shape.rectangular),
        ("rpm : N·m, catalogue", 0.02, 0.02, Shape.rectangular),
        ("rpm : N·m, guess", 0.2, 0.2, Shape.normal),
        ("rpm : N·m", 0.2, 0.2, Shape.normal),
        ("rpm : N·m, manual", 0.0, 0.0, Shape.rectangular),
    ],
)
def test_the_spread_scales_the_whole_curve(header: str, minus: float, plus: float, shape: Shape) -> None:
    """One in N·m counts as its share of the highest point, here 200 N·m."""
    spread = read(f"{header} | 1000 : 180 | 3000 : 200").relative_spread

    assert (spread.minus, spread.plus) == pytest.approx((minus, plus))
    assert spread.shape is shape


def test_a_curve_of_what_has_no_unit() -> None:
    """The header then names the quantity, or nothing."""
    curve = read_curve("mm : ratio ± 2 % | 0 : 1,5 | 100 : 1,7", LENGTH, RATIO)

    assert str(curve) == "mm : ratio ± 2 %\n0 : 1.5\n100 : 1.7"
    assert read_curve("mm : ± 2 % | 0 : 1.5 | 100 : 1.7", LENGTH, RATIO) == curve


def test_a_curve_of_nothing_has_no_spread() -> None:
    """There is not a highest point to take a share of."""
    assert read("rpm : N·m, guess | 1000 : 0 | 3000 : 0").relative_spread.is_zero


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", f"is empty: {WANTED}"),
        (" | | ", f"is empty: {WANTED}"),
        (
            "1000 : 180\n2000 : 190",
            f'line 1 of the curve, "1000 : 180", has no units for the numbers below it: {WANTED}',
        ),
        ("torque\n1 : 2", f'line 1 of the curve, "torque", has no units for the numbers below it: {WANTED}'),
        ("rpm :\n1 : 2", f'line 1 of the curve, "rpm :", has no unit of torque: {WANTED}'),
        ("rpm : kg\n1 : 2", f'line 1 of the curve, "rpm : kg", is in "kg", a unit of mass: {WANTED}'),
        (
            "rpm : nm\n1 : 2",
            'line 1 of the curve, "rpm : nm", has the unknown unit "nm": did you mean "N·m"?',
        ),
        (
            "rpm : N·m, taped\n1 : 2",
            (
                'line 1 of the curve, "rpm : N·m, taped", says taped: '
                "a torque cannot be taped: write guess, catalogue, manual, gauged or computed"
            ),
        ),
        (
            "rpm : N·m, typical\n1 : 2",
            f'line 1 of the curve, "rpm : N·m, typical", is a typical curve without an uncertainty: {WANTED}',
        ),
        (
            "rpm : N·m\n1000 : 180",
            'the curve has 1 points: expected at least 2: write a line such as "1000 : 180" for each',
        ),
        (
            "rpm : N·m\n\n2000 : 180\n1500 : 190",
            'line 4 of the curve, "1500 : 190", is not above 2000: the rotational speed must rise from line to line',
        ),
        (
            "rpm : N·m\n2000 : 180\n2000 : 190",
            'line 3 of the curve, "2000 : 190", is not above 2000: the rotational speed must rise from line to line',
        ),
        (
            "rpm : N·m\n2000 180",
            (
                'line 2 of the curve, "2000 180", is not a point: expected two numbers with a colon between them, '
                'for example "1000 : 180"'
            ),
        ),
        (
            "rpm : N·m\n1000 rpm : 180",
            (
                'line 2 of the curve, "1000 rpm : 180", has "rpm" after a number: write the units in the first line only, '
                'for example "1000 : 180"'
            ),
        ),
        (
            "rpm : N·m\n1,250 : 180",
            'line 2 of the curve, "1,250 : 180", can be 1.250 or 1250: write 1.250 or 1250, without a comma',
        ),
        ("rpm : N·m\n1000 : nan", f'line 2 of the curve, "1000 : nan", is not a finite number: {WANTED}'),
        ("rpm : N·m\n1000 :", f'line 2 of the curve, "1000 :", has no number: {WANTED}'),
        ("x" * 30_000, "the curve is 30000 characters long: expected at most 20000"),
    ],
)
def test_a_curve_is_refused_in_one_sentence_that_names_the_line(text: str, says: str) -> None:
    """The line within the curve, the text on it, and what to write."""
    with pytest.raises(Unreadable) as refused:
        read(text)

    assert str(refused.value) == says
    assert refused.value.expected == "expected a curve of torque over rotational speed"
    assert read(refused.value.example)


def test_points_without_a_header_are_told_from_a_header_also_where_they_begin_with_a_decimal() -> None:
    """The first point would else be taken for an unknown unit."""
    with pytest.raises(Unreadable, match=r'"0\.5 : 100", has no units for the numbers below it'):
        read_curve("0.5 : 100 | 1 : 120", LENGTH, TORQUE)


def test_a_curve_may_be_as_long_as_is_said_and_no_longer() -> None:
    """The bound itself is still read."""
    text = "rpm : N·m | 1000 : 180 | 2000 : 200"

    assert read(text.ljust(20_000)).written_y == (180.0, 200.0)
    with pytest.raises(Unreadable, match="the curve is 20001 characters long: expected at most 20000"):
        read(text.ljust(20_001))
