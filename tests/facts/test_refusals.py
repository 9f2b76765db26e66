"""What is ambiguous, of the wrong dimension, or no number is refused in one sentence with what was read and an example."""

from __future__ import annotations

import pytest

from trialfit.facts.quantity import (
    ANGLE,
    COUNT,
    LENGTH,
    MASS,
    RATIO,
    ROTATIONAL_SPEED,
    SHARE,
    SLOPE,
    STRESS,
    TEMPERATURE,
    TORQUE,
    VOLUME,
    Quantity,
)
from trialfit.facts.reading import Unreadable, read_fact

A_LENGTH = 'expected a length, for example "76.2 ± 0.1 mm, calipered"'


def refusal(text: str, quantity: Quantity) -> str:
    """The sentence with which a text is refused."""
    with pytest.raises(Unreadable) as refused:
        read_fact(text, quantity)
    assert refused.value.read == text
    assert refused.value.expected == f"expected {quantity.with_article}"
    assert read_fact(refused.value.example, quantity)
    return str(refused.value)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", f"is empty: {A_LENGTH}"),
        ("   ", f"is empty: {A_LENGTH}"),
        ("; only a note", f'"; only a note" has no value: {A_LENGTH}'),
        (", taped", f'", taped" has no value: {A_LENGTH}'),
        ("long", f'"long" does not begin with a number: {A_LENGTH}'),
        ("± 1 mm", f'"± 1 mm" has no number: {A_LENGTH}'),
        ("nan mm", f'"nan mm" is not a finite number: {A_LENGTH}'),
        ("-inf mm", f'"-inf mm" is not a finite number: {A_LENGTH}'),
        ("∞ mm", f'"∞ mm" is not a finite number: {A_LENGTH}'),
        ("1e400 mm", '"1e400 mm" is a number too large: write a number below 1e+15'),
        ("2e15 mm", '"2e15 mm" is a number too large: write a number below 1e+15'),
        ("9999999999999999/2 in", '"9999999999999999/2 in" is a number too large: write a number below 1e+15'),
        ("1e-400 mm", '"1e-400 mm" is a number too close to zero: write 0, or a number that can be measured'),
        ("1,234 mm", '"1,234 mm" can be 1.234 or 1234: write 1.234 or 1234, without a comma'),
        ("-1,234 mm, taped", '"-1,234 mm, taped" can be 1.234 or 1234: write 1.234 or 1234, without a comma'),
        ("3/0 in", '"3/0 in" divides by zero: write for example "3/4"'),
        ("1/2/3 in", '"1/2/3 in" is not a single fraction: write for example "1 3/8"'),
        ("3 4 mm", f'"3 4 mm" has more than one number: {A_LENGTH}'),
        ("1 m 20 cm", f'"1 m 20 cm" has more than one number: {A_LENGTH}'),
        ("5 - 3 mm", f'"5 - 3 mm" has more than one number: {A_LENGTH}'),
        ("5 ft 13 in", '"5 ft 13 in" has 13 in after a larger unit: expected less than 12 in'),
        ("5.5 ft 3 in", f'"5.5 ft 3 in" has a fraction before a smaller unit, 5.5 ft: {A_LENGTH}'),
        ("38 N·m", f'"38 N·m" is in "N·m", a unit of torque: {A_LENGTH}'),
        (
            "3mm measured",
            (
                '"3mm measured" has "measured" after its unit: write how it was measured after a comma: '
                "guess, catalogue, manual, taped, calipered, gauged or computed; write anything else after a semicolon"
            ),
        ),
        (
            "25 ± 0.1 mm by tape",
            (
                '"25 ± 0.1 mm by tape" has "by tape" after its unit: write how it was measured after a comma: '
                "guess, catalogue, manual, taped, calipered, gauged or computed; write anything else after a semicolon"
            ),
        ),
        ("25 ± 0.1 kg", f'"25 ± 0.1 kg" is in "kg", a unit of mass: {A_LENGTH}'),
        ("25 mm ± 0.1 kg", f'"25 mm ± 0.1 kg" is in "kg", a unit of mass: {A_LENGTH}'),
        (
            "25 ± -0.1 mm",
            '"25 ± -0.1 mm" has a negative uncertainty: expected an uncertainty of at least 0, for example "25.4 ± 0.1 mm"',
        ),
        ("25 ± mm", f'"25 ± mm" has no number after the ±: {A_LENGTH}'),
        (
            "25 ± 1,250 mm",
            '"25 ± 1,250 mm" has an uncertainty that can be 1.250 or 1250: write 1.250 or 1250, without a comma',
        ),
        ("25 ± 1 ± 2 mm", '"25 ± 1 ± 2 mm" has more than one ±: write one uncertainty, for example "25.4 ± 0.1 mm"'),
        (
            "0 mm ± 5 %",
            '"0 mm ± 5 %" has an uncertainty in percent of zero: write the uncertainty in the unit of the value',
        ),
        (
            "25 +1 %/-2 mm",
            '"25 +1 %/-2 mm" has an uncertainty with only one side in %: write both sides in the same unit, for example "+2/-1 %"',
        ),
        ("25 Mm", '"25 Mm" has the unknown unit "Mm": did you mean "mm" or "m" or "µm"?'),
        (
            "25 §§",
            (
                '"25 §§" has the unknown unit "§§": a length takes mm, cm, m, km, µm, in, ft, yd, mi, thou, '
                'for example "76.2 ± 0.1 mm, calipered"'
            ),
        ),
        (
            "25 mm, callipered",
            '"25 mm, callipered" has "callipered" after the comma, which is not a provenance: did you mean "calipered"?',
        ),
        (
            "25 mm, bought",
            (
                '"25 mm, bought" has "bought" after the comma, which is not a provenance: expected guess, catalogue, manual, '
                "taped, calipered, gauged or computed; write anything else after a semicolon"
            ),
        ),
        (
            "25 mm,",
            (
                '"25 mm," ends with a comma: expected guess, catalogue, manual, taped, calipered, gauged or computed; '
                "write anything else after a semicolon"
            ),
        ),
        (
            "25 mm, manual page 12",
            (
                '"25 mm, manual page 12" has "page 12" after the provenance, which is not a date: write it as in '
                '"76.2 mm, calipered 2024-05-18"; write anything else after a semicolon'
            ),
        ),
        ("25 mm, typical", f'"25 mm, typical" is a typical value without an uncertainty: {A_LENGTH}'),
    ],
)
def test_a_length_is_refused_in_one_sentence(text: str, says: str) -> None:
    """Word for word: what was read, what is wrong with it, what to write."""
    assert refusal(text, LENGTH) == says


@pytest.mark.parametrize("text", ["12.5.3 mm", "1,234.5 mm", "1.234,5 mm", "1,234,567 mm"])
def test_marks_between_thousands_are_refused(text: str) -> None:
    """A second point or comma makes it a riddle."""
    assert refusal(text, LENGTH) == (
        f'"{text}" has more than one point or comma: write one number, without marks between thousands, for example 1234.5'
    )


@pytest.mark.parametrize(
    ("text", "quantity", "says"),
    [
        (
            "38",
            TORQUE,
            '"38" has no unit: expected a torque, for example "38 N·m" or "38 lbf·ft" (which is 52 N·m)',
        ),
        (
            "38 ± 2, manual",
            TORQUE,
            '"38 ± 2, manual" has no unit: expected a torque, for example "38 N·m" or "38 lbf·ft" (which is 52 N·m)',
        ),
        (
            "85",
            TEMPERATURE,
            '"85" has no unit: expected a temperature, for example "85 °C" or "85 °F" (which is 29 °C)',
        ),
        ("6500", ROTATIONAL_SPEED, '"6500" has no unit: expected a rotational speed, for example "6500 rpm"'),
        ("3", ANGLE, '"3" has no unit: expected an angle, for example "3°"'),
        ("1.5", SHARE, '"1.5" has no unit: expected a share, for example "1.5 %"'),
        ("96", SHARE, '"96" has no unit: expected a share, for example "96 %"'),
        ("20", SLOPE, '"20" has no unit: expected a slope, for example "20 %" or "20°" (which is 36 %)'),
    ],
)
def test_a_number_without_a_unit_is_shown_with_one(text: str, quantity: Quantity, says: str) -> None:
    """The number as typed in the usual unit, and in the other one that may have been meant."""
    assert refusal(text, quantity) == says


@pytest.mark.parametrize(
    ("text", "quantity", "says"),
    [
        (
            "38 mm",
            TORQUE,
            '"38 mm" is in "mm", a unit of length: expected a torque, for example "38 N·m, manual"',
        ),
        ("38 nm", TORQUE, '"38 nm" has the unknown unit "nm": did you mean "N·m"?'),
        ("300 mPa", STRESS, '"300 mPa" has the unknown unit "mPa": did you mean "MPa" or "Pa" or "kPa"?'),
        ("1 gal", VOLUME, '"1 gal" has the unknown unit "gal": did you mean "US gal" or "imp gal" or "l"?'),
        (
            "3.73 gauged",
            RATIO,
            (
                '"3.73 gauged" has "gauged" after its number: write how it was measured after a comma: '
                "guess, catalogue, manual, gauged or computed; write anything else after a semicolon"
            ),
        ),
        ("1.3 %", RATIO, '"1.3 %" is in "%", a unit of share or slope: expected a ratio, for example "3.73"'),
        (
            "4 bolts",
            COUNT,
            '"4 bolts" has the unknown unit "bolts": a count takes no unit, for example "4"',
        ),
        ("4.5", COUNT, '"4.5" is not a whole number: expected a count, for example "4"'),
        (
            "9 kg, taped",
            MASS,
            '"9 kg, taped" says taped: a mass cannot be taped: write guess, catalogue, manual, weighed or computed',
        ),
        ("2°75'", ANGLE, "\"2°75'\" has 75' after a larger unit: expected less than 60'"),
        ("2°30", ANGLE, '"2°30" has more than one number: expected an angle, for example "3.4°, gauged"'),
        (
            "-300 °C",
            TEMPERATURE,
            '"-300 °C" is below absolute zero: expected a temperature, for example "85 °C"',
        ),
        (
            "85 °C ± 1 %",
            TEMPERATURE,
            '"85 °C ± 1 %" has an uncertainty in percent, which does not work for a temperature: write for example "85 ± 2 °C"',
        ),
        (
            "0.96 ± 1 %",
            SHARE,
            '"0.96 ± 1 %" can be 0.96 % or 96 %: write "0.96 % ± 1 %" or "96 % ± 1 %"',
        ),
        ("95 deg", SLOPE, '"95 deg" is vertical: write a slope below 90°, for example "7°" or "12 %"'),
        ("7° +1/-98", SLOPE, '"7° +1/-98" is vertical: write a slope below 90°, for example "7°" or "12 %"'),
        (
            "7° ± 2 %",
            SLOPE,
            '"7° ± 2 %" has a value and an uncertainty in two units: write both in one unit, for example "7° ± 0.5°" or "12 ± 1 %"',
        ),
    ],
)
def test_other_quantities_are_refused_in_one_sentence(text: str, quantity: Quantity, says: str) -> None:
    """The quantity that was expected decides; case is kept; a gallon says which."""
    assert refusal(text, quantity) == says


@pytest.mark.parametrize(
    "text", ["9**9**9 m", "1_000 mm", "0x10 mm", "1e5e5 mm", "5e mm", "٣ mm", "+ +5 mm", "--5 mm", "2 x 3 mm"]
)
def test_what_only_a_program_would_read_is_refused(text: str) -> None:
    """Powers, underscores, other digits: nothing is evaluated."""
    assert refusal(text, LENGTH).startswith(f'"{text}" ')


def test_long_text_is_refused_by_its_length() -> None:
    """Nobody states one fact in a thousand characters."""
    says = refusal("1 mm; " + "x" * 1000, LENGTH)

    assert says.endswith(
        "… is 1006 characters long: expected at most 500: a value and a short note".replace("… ", '…" ')
    )
