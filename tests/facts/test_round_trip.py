"""What is shown reads back to the same fact, and any text whatever is a fact or is refused."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from trialfit.facts.curve import Curve, read_curve
from trialfit.facts.fact import Fact
from trialfit.facts.quantity import LENGTH, QUANTITIES, ROTATIONAL_SPEED, TORQUE, Quantity
from trialfit.facts.reading import Unreadable, read_fact

from .generated import curves, facts, quantities

SIGNS = st.text(st.sampled_from("0123456789.,/-+±%°'\"½ eE:;mkNlbft·in²|\n"), max_size=40)
PIECES = st.lists(
    st.one_of(
        st.sampled_from(["±", "+", "-", "/", ",", ";", " ", "%", "in", "mm", "N·m", "°", "'", "taped", "guess", "1:1"]),
        st.sampled_from(["1", "0.5", "3/8", "1,5", "½", "1e3", "2024-05-18"]),
    ),
    max_size=12,
).map("".join)


@given(facts())
def test_what_is_shown_reads_back_to_the_same_fact(fact: Fact) -> None:
    """Over all quantities, units, spreads, provenances, dates and notes."""
    again = read_fact(str(fact), fact.quantity)

    assert again == fact
    assert str(again) == str(fact)
    assert again.spread == fact.spread


@given(curves())
def test_a_shown_curve_reads_back_to_the_same_curve(curve: Curve) -> None:
    """Header, points, note and all."""
    again = read_curve(str(curve), curve.x_quantity, curve.y_quantity)

    assert again == curve
    assert again.relative_spread == curve.relative_spread


@given(st.one_of(st.text(), SIGNS, PIECES), quantities)
def test_any_text_is_a_fact_or_is_refused(text: str, quantity: Quantity) -> None:
    """No text whatever ends in anything but a fact or a sentence."""
    try:
        fact = read_fact(text, quantity)
    except Unreadable as refused:
        assert str(refused)
        assert "\n" not in str(refused)
    else:
        assert read_fact(str(fact), quantity) == fact


@given(st.one_of(st.text(), SIGNS, PIECES), quantities, quantities)
def test_any_text_is_a_curve_or_is_refused(text: str, x_quantity: Quantity, y_quantity: Quantity) -> None:
    """The same for curves, with and without a sound header."""
    for whole in (text, f"rpm : N·m{text}", f"rpm : N·m\n{text}"):
        sides = (x_quantity, y_quantity) if whole == text else (ROTATIONAL_SPEED, TORQUE)
        try:
            curve = read_curve(whole, *sides)
        except Unreadable as refused:
            assert str(refused)
            assert "\n" not in str(refused)
        else:
            assert read_curve(str(curve), *sides) == curve


def test_the_nastiest_long_texts_are_refused_at_once() -> None:
    """Texts that would send a careless pattern round in circles: it would hang here."""
    for piece in ("1", "1 ", "1/", "1-", "+1", "+1-", "±", " ", "+1 %", "°", "1'", ",", "½", "1e", "N·m", "+1/-1 "):
        for text in (piece * 250, piece * 100_000):
            for quantity in QUANTITIES.values():
                try:
                    read_fact(text, quantity)
                except Unreadable:
                    continue


def test_a_long_curve_reads() -> None:
    """Thousands of points are not a trouble."""
    text = "mm : N·m\n" + "\n".join(f"{x}:1" for x in range(2500))

    assert len(read_curve(text, LENGTH, TORQUE).x) == 2500
