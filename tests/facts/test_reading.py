"""The many ways people write one fact, and what it then is."""

from __future__ import annotations

import datetime as dt
import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trialfit.facts.provenance import Provenance
from trialfit.facts.quantity import (
    ACCELERATION,
    ANGLE,
    COUNT,
    LENGTH,
    POWER,
    RATIO,
    ROTATIONAL_SPEED,
    SHARE,
    SLOPE,
    STRESS,
    TEMPERATURE,
    TORQUE,
    TORSIONAL_STIFFNESS,
    VOLUME,
    Quantity,
)
from trialfit.facts.reading import Unreadable, read_fact


def reads(text: str, quantity: Quantity) -> str:
    """What a text is shown as after it was read."""
    return str(read_fact(text, quantity))


@pytest.mark.parametrize(
    ("text", "millimetres"),
    [
        ("1 3/8 in", 34.925),
        ("1-3/8 in", 34.925),
        ('1-3/8"', 34.925),
        ("1 3/8″", 34.925),
        ("1⅜ in", 34.925),
        ("1 ⅜ in", 34.925),
        ('3/4"', 19.05),
        ("3/4''", 19.05),
        ("½ in", 12.7),
        ("½in", 12.7),
        ("5 ft 3 1/2 in", 1612.9),
        ("5' 3 1/2\"", 1612.9),
        ("5′3½″", 1612.9),
        ("-5' 3\"", -1600.2),
        ("12,5 mm", 12.5),
        ("12.5mm", 12.5),
        ("12,5\u202fmm", 12.5),
        ("\u00a012.5 \u00a0 mm ", 12.5),
        ("−915 mm", -915),
        ("–915 mm", -915),
        ("- 915 mm", -915),
        ("+5 mm", 5),
        ("0,125 m", 125),
        ("1234,567 mm", 1234.567),
        (".5 in", 12.7),
        ("2.4e3 mm", 2400),
        ("40 thou", 1.016),
        ("240 cm", 2400),
    ],
)
def test_lengths_as_people_write_them(text: str, millimetres: float) -> None:
    """Fractions, primes, decimal commas, narrow spaces, real minus signs."""
    assert read_fact(text, LENGTH).si == pytest.approx(millimetres / 1000, rel=1e-12)


@given(
    count=st.integers(min_value=1, max_value=64 * 100),
    parts=st.sampled_from([2, 4, 8, 16, 32, 64]),
    form=st.sampled_from(" -"),
)
def test_every_fraction_of_an_inch_reads_exactly(count: int, parts: int, form: str) -> None:
    """n/64 as written on a rule, with its whole inches in front."""
    whole, above = divmod(count, parts)
    text = f"{whole}{form}{above}/{parts} in" if whole and above else f"{count}/{parts} in"

    assert read_fact(text, LENGTH).value == count / parts
    assert read_fact(text, LENGTH).si == pytest.approx(count / parts * 0.0254, rel=1e-12)


@pytest.mark.parametrize("text", ["25 ± 2 % mm", "25 ± 2 %mm", "25 mm ± 2 %"])
def test_percent_in_front_of_the_unit_is_of_the_value(text: str) -> None:
    """With or without a space between them."""
    fact = read_fact(text, LENGTH)

    assert (fact.si, fact.spread.plus) == pytest.approx((0.025, 0.0005))


@pytest.mark.parametrize("sign", "½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞⅐⅑⅒")
def test_every_sign_for_a_fraction_reads_as_what_it_shows(sign: str) -> None:
    """Against the table of signs that comes with Python; alone and behind whole inches."""
    part = unicodedata.numeric(sign)

    assert read_fact(f"{sign} in", LENGTH).value == pytest.approx(part, rel=1e-15)
    assert read_fact(f"3{sign} in", LENGTH).value == pytest.approx(3 + part, rel=1e-15)
    assert read_fact(f"3 {sign} in", LENGTH).value == pytest.approx(3 + part, rel=1e-15)


@pytest.mark.parametrize(
    "text",
    [
        *("38 ft-lb", "38 lb·ft", "38 lbf.ft", "38 lbf·ft", "38 ft lb", "38 lb-ft", "38 ft.lb", "38 ftlb", "38ft-lbs"),
        *("38 foot-pounds", "38 lb⋅ft", "38 lbf ft", "38 pound-feet"),
    ],
)
def test_foot_pounds_in_each_spelling_are_a_torque(text: str) -> None:
    """A pound in a torque is a force."""
    assert reads(text, TORQUE) == "38 lbf·ft"
    assert read_fact(text, TORQUE).si == pytest.approx(51.5211, abs=5e-5)


@pytest.mark.parametrize(
    "text", ["38 Nm", "38 N.m", "38 N·m", "38 N m", "38 N-m", "38 N*m", "38Nm", "38 newton metres"]
)
def test_newton_metres_in_each_spelling(text: str) -> None:
    """The dot, the point, the space, or nothing."""
    assert reads(text, TORQUE) == "38 N·m"


@pytest.mark.parametrize(
    ("text", "degrees"),
    [
        ("2.5 deg", 2.5),
        ("2.5°", 2.5),
        ("2,5 °", 2.5),
        ("2°30'", 2.5),
        ("2° 30′", 2.5),
        ("2° 30' 15\"", 2 + 30 / 60 + 15 / 3600),
        ("-0°51'", -0.85),
        ("51'", 0.85),
        ("2 degrees", 2),
    ],
)
def test_angles_with_minutes_and_seconds(text: str, degrees: float) -> None:
    """The sign in front counts for the minutes too, also in front of 0°."""
    assert read_fact(text, ANGLE).si == pytest.approx(degrees * 0.017453292519943295, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "shown", "kelvin"),
    [
        ("85 C", "85 °C", 358.15),
        ("85 °C", "85 °C", 358.15),
        ("85℃", "85 °C", 358.15),
        ("195 °F", "195 °F", 363.7056),
        ("195F", "195 °F", 363.7056),
        ("-10 °C", "-10 °C", 263.15),
    ],
)
def test_temperatures(text: str, shown: str, kelvin: float) -> None:
    """Degrees Celsius and Fahrenheit, with and without their sign."""
    assert reads(text, TEMPERATURE) == shown
    assert read_fact(text, TEMPERATURE).si == pytest.approx(kelvin, abs=1e-4)


@pytest.mark.parametrize(
    ("text", "quantity", "shown", "si"),
    [
        ("3.73", RATIO, "3.73", 3.73),
        ("3,73", RATIO, "3.73", 3.73),
        ("3.73:1", RATIO, "3.73", 3.73),
        ("3.73 : 1", RATIO, "3.73", 3.73),
        ("41/11", RATIO, "41/11", 41 / 11),
        ("6", COUNT, "6", 6),
        ("60 %", SHARE, "60 %", 0.6),
        ("0.6", SHARE, "0.6", 0.6),
        ("12 %", SLOPE, "12 %", 0.12),
        ("7 deg", SLOPE, "7°", 0.12278456),
        ("6500 rpm", ROTATIONAL_SPEED, "6500 rpm", 680.67841),
        ("6500 1/min", ROTATIONAL_SPEED, "6500 1/min", 680.67841),
        ("6500/min", ROTATIONAL_SPEED, "6500 1/min", 680.67841),
        ("6500 r/min", ROTATIONAL_SPEED, "6500 r/min", 680.67841),
        ("150 PS", POWER, "150 PS", 110324.8125),
        ("300 MPa", STRESS, "300 MPa", 300e6),
        ("300 N/mm2", STRESS, "300 N/mm²", 300e6),
        ("2.06e11 Pa", STRESS, "206000000000 Pa", 2.06e11),
        ("4 US qt", VOLUME, "4 US qt", 3.785411784e-3),
        ("2900 cc", VOLUME, "2900 cc", 2.9e-3),
        ("0.5 g", ACCELERATION, "0.5 g", 4.903325),
        ("100 lbf·ft/deg", TORSIONAL_STIFFNESS, "100 lbf·ft/°", 7768.2646),
    ],
)
def test_other_quantities(text: str, quantity: Quantity, shown: str, si: float) -> None:
    """Ratios as gear teeth, shares and slopes in percent, rotational speeds, metric horsepower, quarts."""
    assert reads(text, quantity) == shown
    assert read_fact(text, quantity).si == pytest.approx(si, rel=1e-7)


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("25.4mm±0.1", "25.4 ± 0.1 mm"),
        ("25.4 ± 0.1 mm", "25.4 ± 0.1 mm"),
        ("25.4 mm +/- 0.1 mm", "25.4 ± 0.1 mm"),
        ("25.4 +- 0.1 mm", "25.4 ± 0.1 mm"),
        ("25,4 ± 0,1 mm", "25.4 ± 0.1 mm"),
        ("2.40 m ± 10 mm", "2.4 ± 0.01 m"),
        ("3 ± 1/16 in", "3 ± 0.0625 in"),
        ("25 mm ± 1 %", "25 mm ± 1 %"),
        ("25 ± 1 % mm", "25 mm ± 1 %"),
        ("25 mm +0.2/-0", "25 +0.2/-0 mm"),
        ("25 +0.2/-0 mm", "25 +0.2/-0 mm"),
        ("25 +0.2 −0.1 mm", "25 +0.2/-0.1 mm"),
        ("25 mm -0.1/+0.2", "25 +0.2/-0.1 mm"),
        ("25 mm +0.1/-0.1", "25 ± 0.1 mm"),
        ("25 mm +2/-1 %", "25 mm +2/-1 %"),
        ("25 mm +2 %/-1 %", "25 mm +2/-1 %"),
    ],
)
def test_spreads_as_people_write_them(text: str, shown: str) -> None:
    """In front of the unit, behind it, in another unit, in percent, uneven."""
    assert reads(text, LENGTH) == shown


@pytest.mark.parametrize(
    ("text", "quantity", "shown"),
    [
        ("2°30′ ± 12′", ANGLE, "2.5 ± 0.2°"),
        ("85 °C ± 9 °F", TEMPERATURE, "85 ± 5 °C"),
        ("3.73 ± 1 %", RATIO, "3.73 ± 1 %"),
        ("60 ± 15 %", SHARE, "60 ± 15 %"),
        ("60 % ± 15 %", SHARE, "60 ± 15 %"),
        ("0.5 % ± 0.2 %", SHARE, "0.5 % ± 0.2 %"),
        ("0.6 ± 0.15", SHARE, "0.6 ± 0.15"),
        ("7° ± 0.5°", SLOPE, "7 ± 0.5°"),
    ],
)
def test_spreads_of_other_quantities(text: str, quantity: Quantity, shown: str) -> None:
    """A spread of a temperature is a difference; points behind a share are points, not a share of it."""
    assert reads(text, quantity) == shown


def test_provenance_date_and_note() -> None:
    """All that a fact can carry, in one line."""
    fact = read_fact("76.2 ± 0.1 mm, calipered 2024-05-18; front end; twice, by two people", LENGTH)

    assert fact.provenance is Provenance.calipered
    assert fact.date == dt.date(2024, 5, 18)
    assert fact.note == "front end; twice, by two people"
    assert fact.plain == "76.2 ± 0.1 mm"
    assert str(fact) == "76.2 ± 0.1 mm, calipered 2024-05-18; front end; twice, by two people"


@pytest.mark.parametrize("text", ["12,5 mm,taped", "12,5 mm , Taped", "12.5 mm, taped;"])
def test_the_comma_in_front_of_the_provenance(text: str) -> None:
    """A comma between digits belongs to the number, any other parts the provenance."""
    assert reads(text, LENGTH) == "12.5 mm, taped"


def test_nothing_stated_is_unstated() -> None:
    """A bare value has no provenance, no date and no note."""
    fact = read_fact("12.5 mm", LENGTH)

    assert fact.provenance is Provenance.unstated
    assert not fact.spread_is_written
    assert (fact.date, fact.note) == (None, "")


def test_a_share_of_all_needs_no_unit_and_a_little_above_absolute_zero_is_a_temperature() -> None:
    """1 is all of it, and 1.2 without a unit can be 1.2 % as well; half a kelvin can be."""
    assert read_fact("1", SHARE).si == 1
    assert read_fact("-1", SLOPE).si == -1
    assert read_fact("-272.65 °C", TEMPERATURE).si == pytest.approx(0.5)
    with pytest.raises(Unreadable):
        read_fact("1.2", SHARE)
    with pytest.raises(Unreadable, match="below absolute zero"):
        read_fact("-273.65 °C", TEMPERATURE)
