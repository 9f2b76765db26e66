"""Accelerations in corners, in braking and in pulling away at which the oil leaves the pickup.

Answers   oil_pickup    the envelope round the car, seen from above: to the right a right-hand bend, upwards pulling away
Not here  formulas (handbook/oil/oil_pan.py); baffles, trap doors, oil pressure

Accelerations up to 2 g are worked out; the frame ends before that.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from trialfit.drawing.pen import Stroke
from trialfit.drawing.plot import Axis, Plot, Series, Spot
from trialfit.drawing.plots.from_draws import rounded
from trialfit.facts.quantity import ACCELERATION, LENGTH
from trialfit.facts.showing import interval_text, show
from trialfit.facts.units import display_unit, find_unit
from trialfit.handbook.constants import STANDARD_GRAVITY
from trialfit.handbook.oil.oil_pan import HARDEST, mouth_gap, slosh_frequency, uncovered_at
from trialfit.handbook.sources import NO_SOURCE
from trialfit.parts import OilPan
from trialfit.subjects.placed import pan_inclination

if TYPE_CHECKING:
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array


_DIRECTIONS = 72
_RIGHT, _DOWN, _UP = 1.6, -1.2, 0.8  # g; the corners of the frame lie at 2 g
_BRAKING, _CORNERING, _PULLING = 0.9, 0.9, 0.5  # g, road tyres: common practice, no source
_TIMES = 3.0  # gap under the mouth over the area of the bore: common practice, no source
_MIDDLE = (0.025, 0.975)
_BOTH = 0.38  # beyond this sine of its angle from an axis, a direction is named after both axes
_SWING = (
    "oil surface at a steady acceleration: a sudden one makes the oil swing up to twice as far without baffles. "
    "Baffles and trap doors are left out, the pan is taken as closed above; a pressure gauge on the road decides"
)
_FRAME = "tinted: 95 % of the draws. Worked out up to 2 g: a point at 2 g means that the limit lies beyond"


@dataclass(frozen=True)
class _Envelope:
    """Headings of the car's acceleration (directions,), 0 forwards and π/2 left; the acceleration at which the pickup is uncovered, g, (draws, directions)."""

    headings: Array
    ends: Array

    @property
    def across(self) -> Array:
        """The part of each heading to the right."""
        return -np.sin(self.headings)

    @property
    def up(self) -> Array:
        """The part of each heading forwards."""
        return np.cos(self.headings)


def oil_pickup(ev: Evaluation) -> Plot:
    """The accelerations at which the pickup draws air. Raises MissingFact."""
    pan = ev.part(OilPan)
    unit = find_unit(ACCELERATION, "g")
    found = ev.of(_envelope, pan)
    kept = show(float(ev(pan.minimum_submergence)[0]), display_unit(LENGTH))
    says = f"less than {kept} of oil is left above the rim of the mouth"
    return Plot(
        build=ev.build.name,
        name="oil_pickup",
        title="Oil pickup: accelerations at which it begins to draw air",
        x=Axis(says="cornering, right-hand bends to the right", unit=unit.canonical, low=-_RIGHT, high=_RIGHT),
        y=Axis(says="pulling away upwards, braking downwards", unit=unit.canonical, low=_DOWN, high=_UP),
        series=(_line(found, says), _design(found)),
        spots=_first(found),
        notes=(*_words(found), *_slosh(ev, pan), *_gap(ev, pan), _SWING, _FRAME),
        draws=ev.draws,
    )


def _envelope(ev: Evaluation, pan: OilPan) -> _Envelope:
    refs = (pan.length, pan.width, pan.depth, pan.oil_fill, pan.oil_in_circulation, pan.pickup_x, pan.pickup_y)
    more = (pan.pickup_height, pan.pickup_diameter, pan.minimum_submergence)
    drawn = [values[:, None] for values in (*ev.each(*refs, *more), ev.of(pan_inclination, pan))]
    length, width, depth, fill, up, x, y, height, diameter, kept, inclination = drawn
    headings = np.linspace(0.0, 2 * np.pi, _DIRECTIONS, endpoint=False)[None, :]
    ends = uncovered_at(
        fill * (1 - up),
        (length, width, depth),
        (x, y, height, diameter),
        headings,
        inclination=inclination,
        cover=kept,
    )
    return _Envelope(headings[0], np.asarray(ends) / STANDARD_GRAVITY)


def _line(found: _Envelope, says: str) -> Series:
    """The envelope, closed; without a band if the nominal pickup is uncovered at rest or a draw is outside the range of the formula."""
    looked = HARDEST / STANDARD_GRAVITY
    ends = np.minimum(found.ends, looked)
    drawn = ends[1:] if len(ends) > 1 else ends
    low = high = np.empty(0)
    if np.isfinite(drawn).all() and np.ptp(drawn, axis=0).any() and ends[0].all():
        low, high = np.quantile(drawn, _MIDDLE, axis=0)
    return Series(
        says=says,
        short="draws air",
        x=_closed(ends[0] * found.across),
        y=_closed(ends[0] * found.up),
        low=_closed(low),
        high=_closed(high),
        ring=True,
        stroke=Stroke.thick,
    )


def _design(found: _Envelope) -> Series:
    """What road tyres can do: half an ellipse forwards and half an ellipse backwards."""
    asked = _asked(found)
    return Series(
        says=f"usual on road tyres: {_BRAKING:g} g braking, {_CORNERING:g} g cornering, {_PULLING:g} g pulling away ({NO_SOURCE})",
        x=_closed(asked * found.across),
        y=_closed(asked * found.up),
        stroke=Stroke.thick_dashed,
    )


def _asked(found: _Envelope) -> Array:
    along = np.where(found.up > 0, _PULLING, _BRAKING)
    return np.asarray(1 / np.hypot(found.across / _CORNERING, found.up / along))


def _closed(values: Array) -> tuple[float, ...]:
    return tuple(rounded(float(value)) + 0.0 for value in (*values, *values[:1]))


def _weakest(found: _Envelope) -> int | None:
    """The direction in which the nominal pickup is uncovered first; None if it is never uncovered, or is at rest already."""
    first = int(np.argmin(found.ends[0]))
    return first if 0 < found.ends[0, first] < np.inf else None


def _first(found: _Envelope) -> tuple[Spot, ...]:
    first = _weakest(found)
    if first is None:
        return ()
    end = float(found.ends[0, first])
    x, y = rounded(end * float(found.across[first])), rounded(end * float(found.up[first]))
    return (Spot(says=f"uncovered first {_named(found, first)}, at {_span(found.ends[:, first])}", x=x, y=y),)


def _words(found: _Envelope) -> tuple[str, ...]:
    nominal = found.ends[0]
    if not nominal.any():
        return (
            "the oil is too low over the pickup even at rest: check oil_fill, depth, pickup_height and minimum_submergence",
        )
    first = _weakest(found)
    said = "the pickup stays covered up to 2 g in every direction"
    if first is not None:
        said = f"uncovered first {_named(found, first)}, at {_span(found.ends[:, first])}"
    axes = [
        f"{_named(found, number)}: {_span(found.ends[:, number])}" for number in range(0, _DIRECTIONS, _DIRECTIONS // 4)
    ]
    drawn = found.ends[1:] if len(found.ends) > 1 else found.ends
    held = np.mean(np.all(drawn >= _asked(found), axis=1))
    return (
        f"{said}; {'; '.join(axes)}",
        f"covered everywhere inside the dashed line in {100 * held:.0f} % of the draws",
    )


def _span(ends: Array) -> str:
    """A value with its spread, with a note if it lies beyond 2 g."""
    drawn = ends[1:] if len(ends) > 1 else ends
    looked = HARDEST / STANDARD_GRAVITY
    if np.isnan(drawn).any():
        return interval_text(float(ends[0]), float(ends[0]), float(ends[0]), "g")
    low, high = (float(edge) for edge in np.quantile(np.minimum(drawn, looked), _MIDDLE))
    if not np.isfinite(ends[0]):
        return (
            f"covered up to {looked:g} g"
            if low >= looked
            else f"covered up to {looked:g} g (in some draws only to {low:.2f} g)"
        )
    if high >= looked:
        return f"{ends[0]:.2f} g (from {low:.2f} g to beyond {looked:g} g)"
    return interval_text(float(ends[0]), low, high, "g")


def _named(found: _Envelope, number: int) -> str:
    """A direction in words."""
    across, up = float(found.across[number]), float(found.up[number])
    bend = "in a right-hand bend" if across > 0 else "in a left-hand bend"
    pedal = "pulling away" if up > 0 else "braking"
    if abs(across) < _BOTH:
        return pedal
    return f"{pedal} {bend}" if abs(up) > _BOTH else bend


def _slosh(ev: Evaluation, pan: OilPan) -> tuple[str, ...]:
    length, width, fill, up = (
        float(values[0]) for values in ev.each(pan.length, pan.width, pan.oil_fill, pan.oil_in_circulation)
    )
    rest = fill * (1 - up) / (length * width)
    along, across = slosh_frequency(length, rest), slosh_frequency(width, rest)
    return (f"first slosh without baffles: {along:.1f} Hz along the car, {across:.1f} Hz across",)


def _gap(ev: Evaluation, pan: OilPan) -> tuple[str, ...]:
    if pan.suction_bore.written is None:
        return ()
    bore, mouth, height = (
        float(values[0]) for values in ev.each(pan.suction_bore, pan.pickup_diameter, pan.pickup_height)
    )
    unit = display_unit(LENGTH)
    least = show(float(mouth_gap(bore, mouth, _TIMES)), unit)
    return (
        f"gap under the mouth {show(height, unit)}; {_TIMES:g} times the area of its bore, which is common practice, needs {least}",
    )
