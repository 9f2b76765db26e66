"""The two resistors that bring a sender closest to its gauge, and the heat in those that are fitted.

Answers   requirements   best_series, best_parallel, best_over_range, best_at_limit, best_power; resistor_power
Not here  what the needle shows with what is fitted (needle.py); another sender (another_sender.py)
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.requirement import COMMON_PRACTICE, AtMost, Requirement, Stake
from trialfit.facts.quantity import POWER, RESISTANCE, SHARE
from trialfit.handbook.senders.e_series import e_series
from trialfit.handbook.senders.sender_curves import AT_AN_END
from trialfit.handbook.senders.sender_resistors import MOST_LEFT, Pair, best_pair, corrected_resistance, resistor_powers
from trialfit.subjects.senders.media import medium_of, sender_of
from trialfit.subjects.senders.needle import (
    LARGEST_ERROR,
    Resistors,
    error_at_limit,
    fitted,
    largest_error,
    sender_ohms,
    shared_places,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import Gauge


USED_OF_RATING = 0.5
"""Share of its rated power that a resistor is used up to: common practice, no source."""

WEIGHT_AT_LIMIT = 4.0
"""How much more an error counts where the driver must act than elsewhere: common practice, no source."""

_EACH = 2  # every second place is enough to choose between values that are 5 or 10 % apart

_CAUTION = "A resistor gets hot: keep it in free air, off cloth, foam and fuel lines, behind a fuse."


def requirements(gauge: Gauge) -> Iterator[Requirement]:
    """Figures of the best pair; a finding on the heat where resistors are fitted."""
    medium = medium_of(gauge)
    series = gauge.resistor_series or "E24"
    yield Requirement(
        id=f"senders.{gauge.name}.best_series",
        about=gauge.name,
        says=f"resistor of {series} in the wire to the sender that brings the needle closest; 0 for none",
        value=lambda ev: ev.of(best, gauge).series,
        quantity=RESISTANCE,
        stake=medium.stake,
        formulas=(best_pair, e_series),
    )
    yield Requirement(
        id=f"senders.{gauge.name}.best_parallel",
        about=gauge.name,
        says=f"resistor of {series} across the sender that brings the needle closest; unknown where none is best",
        value=lambda ev: ev.of(best, gauge).parallel,
        quantity=RESISTANCE,
        stake=medium.stake,
        formulas=(best_pair, e_series),
    )
    yield Requirement(
        id=f"senders.{gauge.name}.best_over_range",
        about=gauge.name,
        says="the largest error that remains with the best pair, as a share of the scale; that of the bare sender where no pair helps",
        value=lambda ev: largest_error(ev, gauge, ev.of(chosen, gauge)),
        quantity=SHARE,
        stake=medium.stake,
        formulas=(best_pair, corrected_resistance),
        shows=partial(in_words, gauge=gauge),
    )
    yield Requirement(
        id=f"senders.{gauge.name}.best_at_limit",
        about=gauge.name,
        says=f"the error that remains with the best pair at the {medium.word} at which the driver must act: shown minus true",
        value=lambda ev: error_at_limit(ev, gauge, ev.of(chosen, gauge)),
        quantity=medium.difference,
        stake=medium.stake,
        formulas=(best_pair, corrected_resistance),
    )
    yield Requirement(
        id=f"senders.{gauge.name}.best_power",
        about=gauge.name,
        says="largest heat in either resistor of the best pair; use resistors rated for twice as much",
        value=lambda ev: hottest(ev, gauge, ev.of(chosen, gauge)),
        quantity=POWER,
        stake=Stake.durability,
        formulas=(resistor_powers,),
        unit="W",
        caution=_CAUTION,
    )
    if gauge.series_resistor.written or gauge.parallel_resistor.written:
        yield Requirement(
            id=f"senders.{gauge.name}.resistor_power",
            about=gauge.name,
            says="each fitted resistor works at half of its rated power or less",
            value=lambda ev: hottest(ev, gauge, fitted(ev, gauge)),
            quantity=POWER,
            stake=Stake.durability,
            limit=AtMost(lambda ev: USED_OF_RATING * ev(gauge.resistor_rating)),
            source=COMMON_PRACTICE,
            formulas=(resistor_powers,),
            unit="W",
            caution=_CAUTION,
            cure="Fit resistors of a higher rating, in free air.",
        )


def best(ev: Evaluation, gauge: Gauge) -> Pair:
    """The best pair for the curves as written; an error counts four times where the driver must act."""
    medium, places = medium_of(gauge), ev.of(shared_places, gauge)[::_EACH]
    scale, limit = ev.curve(medium.curve(gauge)), medium.limit(gauge)
    if not places.size:
        return Pair(np.nan, np.nan, np.nan)
    weights = np.ones(places.size)
    rounding = AT_AN_END * (places[-1] - places[0])
    if limit.written and places[0] - rounding <= limit.written.si <= places[-1] + rounding:
        places, weights = np.append(places, limit.written.si), np.append(weights, WEIGHT_AT_LIMIT)
    ohms = sender_ohms(ev, gauge, places[None, :])[0]
    series = gauge.resistor_series or "E24"
    return best_pair(places, ohms, scale.x, scale.y, series, by_temperature=medium.is_temperature, weights=weights)


def chosen(ev: Evaluation, gauge: Gauge) -> Resistors:
    """The best pair as resistors."""
    pair = ev.of(best, gauge)
    return Resistors(pair.series, pair.parallel)


def hottest(ev: Evaluation, gauge: Gauge, resistors: Resistors) -> Array:
    """The most heat in either resistor, over all that the sender can feel, W, (draws,)."""
    curve = ev.curve(medium_of(gauge).curve(sender_of(ev, gauge)))
    ohms = sender_ohms(ev, gauge, curve.x[None, :])
    supply, own = (one[:, None] for one in ev.each(gauge.supply_voltage, gauge.internal_resistance))
    series, parallel = (np.broadcast_to(one, ev.draws)[:, None] for one in (resistors.series, resistors.parallel))
    in_series, across = resistor_powers(supply, own, ohms, series, parallel)
    return np.asarray(np.maximum(np.asarray(in_series), np.asarray(across)).max(axis=-1))


def in_words(ev: Evaluation, gauge: Gauge) -> str:
    """The pair as one would ask for it over the counter."""
    pair = ev.of(best, gauge)
    if not pair.helps:
        return f"no pair of resistors leaves less than {MOST_LEFT:.0%} or lets the needle swing".replace("%", " %") + (
            ": fit the gauge's own sender, the one that other_sender names, or an active converter"
        )
    parts = [f"{pair.series:g} Ω in the wire"] if pair.series else []
    parts += [f"{pair.parallel:g} Ω across the sender"] if np.isfinite(pair.parallel) else []
    asked = " and ".join(parts) or "no resistor"
    if pair.largest_error > LARGEST_ERROR:
        return f"best is {asked}; no pair brings it within {LARGEST_ERROR:.0%}".replace("%", " %") + (
            ": fit the gauge's own sender, the one that other_sender names, or an active converter"
        )
    return f"best is {asked}"
