"""A curve: one quantity over another, as points with the units in the header.

    rpm : N·m ± 4 %, catalogue; read off a printed curve
    1000 : 175
    1500 : 205

Answers   read_curve      the text into a Curve; its lines may also be joined by |
          Curve           the points in SI, with their common uncertainty
          curve_example   a short example as a builder would write it
Not here  values between the points (handbook/gearing/torque_curve.py)
"""

from __future__ import annotations

from contextlib import contextmanager
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING

from trialfit.facts.measure import Measure, halves_text, own_spread, refuse_senseless, split_spread
from trialfit.facts.numbers import number_text, scan_number
from trialfit.facts.plain_text import excerpt, plain
from trialfit.facts.provenance import Provenance, default_spread
from trialfit.facts.reading import read_provenance, split_provenance
from trialfit.facts.spread import Shape, Spread, WithSpread, WrittenSpread
from trialfit.facts.unit_words import unit_of
from trialfit.facts.units import Unit, display_unit, is_spelling, to_si, to_si_difference
from trialfit.facts.unreadable import Fault, Unreadable

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Iterator

    from trialfit.facts.quantity import Quantity

LONGEST = 20_000
_FEWEST = 2
_EXAMPLES = {
    "rotational speed": "1000 : 180 | 3500 : 265",
    "temperature": "40 : 800 | 100 : 90",
    "pressure": "0 : 10 | 5 : 180",
    "share": "0 : 3 | 100 : 110",
}
_EXACT = Spread(0.0, 0.0, Shape.normal)


@dataclass(frozen=True)
class Curve(WithSpread):
    """At least two points with rising x. `written_x` and `written_y` are as written, in `x_unit` and `y_unit`."""

    x_quantity: Quantity
    y_quantity: Quantity
    written_x: tuple[float, ...]
    written_y: tuple[float, ...]
    x_unit: Unit
    y_unit: Unit
    written_spread: WrittenSpread | None = None
    provenance: Provenance = Provenance.unstated
    date: dt.date | None = None
    note: str = ""

    @cached_property
    def x(self) -> tuple[float, ...]:
        """The x values of the points, SI."""
        return tuple(to_si(value, self.x_unit) for value in self.written_x)

    @cached_property
    def y(self) -> tuple[float, ...]:
        """The y values of the points, SI."""
        return tuple(to_si(value, self.y_unit) for value in self.written_y)

    @cached_property
    def relative_spread(self) -> Spread:
        """The spread of one factor around 1 that scales all values together.

        A spread in the unit of the values counts as its share of the largest value.
        """
        peak = max(map(abs, self.y))
        if peak == 0:
            return _EXACT
        written = self.written_spread
        if written is None:
            whole = default_spread(self.y_quantity, self.provenance, peak)
            return Spread(whole.minus / peak, whole.plus / peak, whole.shape)
        if written.is_relative:
            minus, plus = written.minus / 100, written.plus / 100
        else:
            minus, plus = (to_si_difference(half, self.y_unit) / peak for half in (written.minus, written.plus))
        limits = self.provenance.gives_limits or not written.is_even
        return Spread(minus, plus, Shape.rectangular if limits else Shape.normal)

    def __str__(self) -> str:
        points = zip(self.written_x, self.written_y, strict=True)
        return "\n".join([self._header(), *(f"{number_text(x)} : {number_text(y)}" for x, y in points)])

    def _header(self) -> str:
        text = f"{_word(self.x_unit)} : {_word(self.y_unit)}"
        spread = self.written_spread
        if spread:
            text += f" {halves_text(spread)} {'%' if spread.is_relative else self.y_unit.canonical}".rstrip()
        if self.provenance is not Provenance.unstated or self.date:
            text += f", {self.provenance}"
        if self.date:
            text += f" {self.date.isoformat()}"
        return f"{text}; {self.note}" if self.note else text


def read_curve(text: str, x_quantity: Quantity, y_quantity: Quantity) -> Curve:
    """The curve in the text. Raises Unreadable, which names the line of the text.

    >>> from trialfit.facts.quantity import ROTATIONAL_SPEED, TORQUE
    >>> curve = read_curve("rpm : N·m ± 3 %, catalogue | 1000 : 180 | 3500 : 265", ROTATIONAL_SPEED, TORQUE)
    >>> curve.y
    (180.0, 265.0)
    """
    wanted = f"expected a curve of {y_quantity.name} over {x_quantity.name}"
    example = curve_example(x_quantity, y_quantity)
    try:
        return _read(text, x_quantity, y_quantity)
    except Fault as fault:
        cure = fault.cure or f'{wanted}, for example "{example}"'
        raise Unreadable(f"{fault}: {cure}", read=text, expected=wanted, example=example) from None


def curve_example(x_quantity: Quantity, y_quantity: Quantity) -> str:
    """A short curve as a builder would write it.

    >>> from trialfit.facts.quantity import RESISTANCE, TEMPERATURE
    >>> curve_example(TEMPERATURE, RESISTANCE)
    '°C : Ω | 40 : 800 | 100 : 90'
    """
    points = _EXAMPLES.get(x_quantity.name, _EXAMPLES["rotational speed"])
    return f"{_word(display_unit(x_quantity))} : {_word(display_unit(y_quantity))} | {points}"


def _read(text: str, x_quantity: Quantity, y_quantity: Quantity) -> Curve:
    if len(text) > LONGEST:
        raise Fault(f"the curve is {len(text)} characters long", cure=f"expected at most {LONGEST}")
    lines = _lines(text)
    if not lines:
        raise Fault("is empty")
    with _line(*lines[0]):
        empty = _read_header(lines[0][1], x_quantity, y_quantity)
    xs: list[float] = []
    ys: list[float] = []
    for number, line in lines[1:]:
        with _line(number, line):
            x, y = _point(line)
            refuse_senseless(Measure(x, empty.x_unit, None), x_quantity)
            refuse_senseless(Measure(y, empty.y_unit, None), y_quantity)
            _refuse_fall(xs, x, empty)
            xs.append(x)
            ys.append(y)
    if len(xs) < _FEWEST:
        raise Fault(
            f"the curve has {len(xs)} points: expected at least {_FEWEST}",
            cure='write a line such as "1000 : 180" for each',
        )
    return replace(empty, written_x=tuple(xs), written_y=tuple(ys))


@contextmanager
def _line(number: int, line: str) -> Iterator[None]:
    """Gives a fault inside the block the number of its line."""
    try:
        yield
    except Fault as fault:
        raise Fault(f'line {number} of the curve, "{excerpt(line)}", {fault}', cure=fault.cure) from None


def _word(unit: Unit) -> str:
    """A unit as written in a header; without a unit the name of the quantity, such as "ratio"."""
    return unit.canonical or unit.quantity


def _lines(text: str) -> list[tuple[int, str]]:
    """The lines with text, each with its number; | separates them if there is no line break."""
    pieces = text.strip("\n").split("\n")
    if len(pieces) == 1:
        pieces = text.split("|")
    return [(number, piece.strip()) for number, piece in enumerate(pieces, 1) if piece.strip()]


def _read_header(line: str, x_quantity: Quantity, y_quantity: Quantity) -> Curve:
    """A curve without points. Raises Fault."""
    head, _, note = line.partition(";")
    units, came_from = split_provenance(plain(head))
    x_spelling, colon, y_text = (piece.strip() for piece in units.partition(":"))
    if not colon or (x_spelling[:1].isdigit() and not is_spelling(x_quantity, x_spelling)):
        raise Fault("has no units for the numbers below it")
    provenance, date = read_provenance(came_from, y_quantity)
    y_spelling, halves = split_spread(y_text, start=0)
    x_unit, y_unit = _unit(x_spelling, x_quantity), _unit(y_spelling, y_quantity)
    spread = own_spread(halves, y_unit, y_quantity) if halves else None
    refuse_senseless(Measure(0.0, y_unit, spread if spread and not spread.is_relative else None), y_quantity)
    if provenance is Provenance.typical and spread is None:
        raise Fault("is a typical curve without an uncertainty")
    return Curve(x_quantity, y_quantity, (), (), x_unit, y_unit, spread, provenance, date, note.strip())


def _unit(spelling: str, quantity: Quantity) -> Unit:
    has_none = is_spelling(quantity, "")
    if not spelling and not has_none:
        raise Fault(f"has no unit of {quantity.name}")
    return unit_of("" if has_none and spelling == quantity.name else spelling, quantity)


def _point(line: str) -> tuple[float, float]:
    x_text, colon, y_text = (piece.strip() for piece in plain(line).partition(":"))
    if not colon:
        raise Fault("is not a point", cure='expected two numbers with a colon between them, for example "1000 : 180"')
    (x, behind_x), (y, behind_y) = scan_number(x_text), scan_number(y_text)
    if behind_x or behind_y:
        raise Fault(
            f'has "{behind_x or behind_y}" after a number',
            cure='write the units in the first line only, for example "1000 : 180"',
        )
    return x, y


def _refuse_fall(before: list[float], x: float, curve: Curve) -> None:
    if before and not to_si(x, curve.x_unit) > to_si(before[-1], curve.x_unit):
        name = curve.x_quantity.name
        raise Fault(f"is not above {number_text(before[-1])}", cure=f"the {name} must rise from line to line")
