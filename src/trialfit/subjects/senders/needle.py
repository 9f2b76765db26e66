"""What the needle of a gauge shows for the value at its sender.

Answers   requirements         reading_at_limit, over_range; shown_at_limit
          errors_over_range    over the places that sender and gauge both know, for any pair of resistors
          error_at_limit       where the driver must act
          fitted               the resistors that are fitted
          shared_places        those places; covered: their share of the scale; swing: how far the needle moves over them
Not here  which resistors would be best (resistors.py); lamps (switches.py)
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.requirement import COMMON_PRACTICE, AtLeast, AtMost, Requirement
from trialfit.facts.quantity import SHARE
from trialfit.facts.showing import show
from trialfit.facts.units import display_unit
from trialfit.handbook.senders.sender_curves import AT_AN_END, is_on_scale, resistance_at, shown_at
from trialfit.handbook.senders.sender_resistors import corrected_resistance, reading_errors
from trialfit.subjects.senders.media import earth_return, medium_of, sender_of

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import Gauge
    from trialfit.subjects.senders.media import Medium


LARGEST_ERROR = 0.1
"""Largest error of a needle anywhere, as a share of its scale: common practice, no source."""

LEAST_COVERED = 0.5
"""Share of the scale that the sender's curve must reach over before the needle can be judged: common practice, no source."""

LEAST_SWING = 0.3
"""Share of its way below which a needle stands still for whoever reads it: common practice, no source."""

TWO = 2
"""Points of a curve that leave open how it bends between them."""

_PLACES = 81
_CURE = (
    "Fit the sender that the gauge was made for, the usual sender whose curve the figure other_sender names, or, where the figure "
    "best_over_range says that a pair of resistors helps, that pair."
)
_CAUTION = (
    "Use a thermometer or a mechanical gauge beside it on the first runs. Hot coolant scalds: keep the cap closed."
)


@dataclass(frozen=True)
class Resistors:
    """What is between sender and gauge, each a number or an array of draws [Ω]."""

    series: Array | float = 0.0
    parallel: Array | float = np.inf


def requirements(gauge: Gauge, what_helps: Callable[[Evaluation, Gauge], str]) -> Iterator[Requirement]:
    """Two findings and a figure for a gauge with a needle; `what_helps` says what to do about a needle that is wrong."""
    medium = medium_of(gauge)
    tolerance = show(medium.tolerance, display_unit(medium.difference))
    side = "below" if medium.danger_above else "above"
    yield Requirement(
        id=f"senders.{gauge.name}.reading_at_limit",
        about=gauge.name,
        says=f"at the {medium.word} at which the driver must act, the needle is off its stops and no more than {tolerance} {side} "
        "it; the value is shown minus true; a needle on a stop, or one that hardly moves, counts as wrong by the whole scale",
        value=partial(error_at_fitted, gauge=gauge),
        quantity=medium.difference,
        stake=medium.stake,
        limit=AtLeast(-medium.tolerance) if medium.danger_above else AtMost(medium.tolerance),
        source=COMMON_PRACTICE,
        formulas=(resistance_at, corrected_resistance, shown_at),
        shows=lambda ev: _and(what_it_shows(ev, gauge), _if_wrong(ev, gauge, what_helps)),
        caution=_CAUTION if medium.word != "level" else "",
        cure=_CURE,
    )
    yield Requirement(
        id=f"senders.{gauge.name}.shown_at_limit",
        about=gauge.name,
        says=f"reading of the needle at the {medium.word} at which the driver must act",
        value=partial(shown_fitted, gauge=gauge),
        quantity=medium.quantity,
        stake=medium.stake,
        formulas=(shown_at,),
        turned_by=AtLeast if medium.danger_above else AtMost,
    )
    yield Requirement(
        id=f"senders.{gauge.name}.over_range",
        about=gauge.name,
        says=f"the needle's error stays within {LARGEST_ERROR:.0%}".replace("%", " %")
        + " of the scale; the value is the largest error",
        value=partial(largest_fitted, gauge=gauge),
        quantity=SHARE,
        stake=medium.stake,
        limit=AtMost(LARGEST_ERROR),
        source=COMMON_PRACTICE,
        formulas=(reading_errors,),
        shows=lambda ev: _and(where_it_is_worst(ev, gauge), _if_wrong(ev, gauge, what_helps)),
        cure=_CURE,
    )


def _and(said: str, more: str) -> str:
    return "; ".join(filter(None, (said, more)))


def _if_wrong(ev: Evaluation, gauge: Gauge, what_helps: Callable[[Evaluation, Gauge], str]) -> str:
    """What helps, where the needle is off by more than it may be anywhere."""
    errors = errors_over_range(ev, gauge, fitted(ev, gauge))[0]
    return what_helps(ev, gauge) if errors.size and np.abs(errors).max() > LARGEST_ERROR else ""


def fitted(ev: Evaluation, gauge: Gauge) -> Resistors:
    """The resistors that are written down as fitted."""
    return Resistors(
        ev(gauge.series_resistor) if gauge.series_resistor.written else 0.0,
        ev(gauge.parallel_resistor) if gauge.parallel_resistor.written else np.inf,
    )


def sender_ohms(ev: Evaluation, gauge: Gauge, places: Array) -> Array:
    """Resistance of the sender with its way to earth, Ω, (draws, places); nan beyond its curve. `places` (draws or 1, places)."""
    medium, sender = medium_of(gauge), sender_of(ev, gauge)
    curve = ev.curve(medium.curve(sender))
    own = np.asarray(resistance_at(places, curve.x, curve.y, by_temperature=medium.is_temperature))
    return own * curve.scale[:, None] * _bend(ev, gauge, curve.x, places) + earth_return(ev, sender)[:, None]


def _bend(ev: Evaluation, gauge: Gauge, known: Array, places: Array) -> Array:
    """Factor on the resistance between the two points of a temperature curve of two: nobody has measured how it bends.

    1 for more points, and for pressure and level, whose senders are made straight.
    """
    if len(known) != TWO or not medium_of(gauge).is_temperature:
        return np.ones((1, 1))
    sender = sender_of(ev, gauge)
    along = (places - known[0]) / (known[1] - known[0])
    return np.asarray(1 + ev(sender.between_points)[:, None] * 4 * along * (1 - along))


def seen(ev: Evaluation, gauge: Gauge, places: Array, resistors: Resistors) -> Array:
    """Resistance as the scale of the gauge has it, Ω, (draws, places): the spread of its curve is taken out."""
    ohms = sender_ohms(ev, gauge, places)
    series, parallel = (np.broadcast_to(one, ev.draws)[:, None] for one in (resistors.series, resistors.parallel))
    scale = ev.curve(medium_of(gauge).curve(gauge)).scale
    return np.asarray(corrected_resistance(ohms, series, parallel)) / scale[:, None]


def shown(ev: Evaluation, gauge: Gauge, resistors: Resistors) -> Array:
    """What the needle shows where the driver must act, (draws,)."""
    medium = medium_of(gauge)
    curve, places = ev.curve(medium.curve(gauge)), ev(medium.limit(gauge))[:, None]
    ohms = seen(ev, gauge, places, resistors)
    return np.asarray(shown_at(ohms, curve.x, curve.y, by_temperature=medium.is_temperature))[:, 0]


def error_at_limit(ev: Evaluation, gauge: Gauge, resistors: Resistors) -> Array:
    """Shown minus true there, (draws,); where the needle does not tell, yet stands near enough by luck, wrong by the whole scale."""
    medium = medium_of(gauge)
    limit, curve = ev(medium.limit(gauge)), ev.curve(medium.curve(gauge))
    ohms = seen(ev, gauge, limit[:, None], resistors)[:, 0]
    error = shown(ev, gauge, resistors) - limit
    tells = is_on_scale(ohms, curve.y) & ~(swing(ev, gauge, resistors) < LEAST_SWING)
    towards_calm = -1 if medium.danger_above else 1
    by_luck = ~tells & (error * towards_calm <= medium.tolerance)
    return np.asarray(np.where(by_luck, (curve.x[-1] - curve.x[0]) * towards_calm, error))


def shared_places(ev: Evaluation, gauge: Gauge) -> Array:
    """Places that both curves have, evenly spread and at their corners, (places,); empty where they have none in common."""
    medium = medium_of(gauge)
    scale, curve = ev.curve(medium.curve(gauge)).x, ev.curve(medium.curve(sender_of(ev, gauge))).x
    low, high = max(scale[0], curve[0]), min(scale[-1], curve[-1])
    if high <= low:
        return np.empty(0)
    corners = np.concatenate([scale, curve])
    return np.union1d(np.linspace(low, high, _PLACES), corners[(corners > low) & (corners < high)])


def errors_over_range(ev: Evaluation, gauge: Gauge, resistors: Resistors) -> Array:
    """Shown minus true over the scale, (draws, places)."""
    medium, places = medium_of(gauge), ev.of(shared_places, gauge)
    curve = ev.curve(medium.curve(gauge))
    ohms = seen(ev, gauge, places[None, :], resistors)
    return np.asarray(reading_errors(places, ohms, curve.x, curve.y, by_temperature=medium.is_temperature))


def swing(ev: Evaluation, gauge: Gauge, resistors: Resistors) -> Array:
    """Way of the needle from end to end of the shared places over the way that it should make, (draws,); nan without any."""
    errors, share = errors_over_range(ev, gauge, resistors), covered(ev, gauge)
    return 1 + (errors[:, -1] - errors[:, 0]) / share if share > 0 else np.full(ev.draws, np.nan)


def covered(ev: Evaluation, gauge: Gauge) -> float:
    """Share of the gauge's scale that the sender's curve reaches over."""
    places, scale = ev.of(shared_places, gauge), ev.curve(medium_of(gauge).curve(gauge)).x
    return float((places[-1] - places[0]) / (scale[-1] - scale[0])) if places.size else 0.0


def largest_error(ev: Evaluation, gauge: Gauge, resistors: Resistors) -> Array:
    """The largest error anywhere, share of the scale, (draws,); nan where the curves share too little of the scale to judge it."""
    errors = errors_over_range(ev, gauge, resistors)
    return np.abs(errors).max(axis=-1) if covered(ev, gauge) >= LEAST_COVERED else np.full(ev.draws, np.nan)


def error_at_fitted(ev: Evaluation, gauge: Gauge) -> Array:
    """Shown minus true where the driver must act, with the resistors that are fitted."""
    return error_at_limit(ev, gauge, fitted(ev, gauge))


def shown_fitted(ev: Evaluation, gauge: Gauge) -> Array:
    """What the needle shows there, with the resistors that are fitted."""
    return shown(ev, gauge, fitted(ev, gauge))


def largest_fitted(ev: Evaluation, gauge: Gauge) -> Array:
    """The largest error with the resistors that are fitted."""
    return largest_error(ev, gauge, fitted(ev, gauge))


def what_it_shows(ev: Evaluation, gauge: Gauge) -> str:
    """The reading itself, and whether the needle is on a stop."""
    medium = medium_of(gauge)
    unit = display_unit(medium.quantity)
    true = ev(medium.limit(gauge))
    ohms = seen(ev, gauge, true[:, None], fitted(ev, gauge))[0, 0]
    stop = "" if is_on_scale(ohms, ev.curve(medium.curve(gauge)).y) else ", its needle on the stop"
    reading = show(float(shown_fitted(ev, gauge)[0]), unit)
    way = float(swing(ev, gauge, fitted(ev, gauge))[0])
    if way < LEAST_SWING:
        stop += f"; from end to end it makes {max(way, 0):.0%} of its way".replace("%", " %")
    return f"at {show(float(true[0]), unit)} the gauge gets {ohms:.3g} Ω and shows {reading}{stop}"


def where_it_is_worst(ev: Evaluation, gauge: Gauge) -> str:
    """The place of the largest error."""
    medium: Medium = medium_of(gauge)
    errors = errors_over_range(ev, gauge, fitted(ev, gauge))[0]
    worst = int(np.argmax(np.abs(errors)))
    unit, places = display_unit(medium.quantity), ev.of(shared_places, gauge)
    scale = ev.curve(medium.curve(gauge)).x
    reading = places[worst] + errors[worst] * (scale[-1] - scale[0])
    said = f"it is worst at {show(float(places[worst]), unit)}, where it shows {show(float(reading), unit)}"
    if covered(ev, gauge) < 1 - AT_AN_END:
        said += f"; judged from {show(float(places[0]), unit)} to {show(float(places[-1]), unit)}, where both curves are known"
    return said
