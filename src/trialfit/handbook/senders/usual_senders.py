"""Usual senders: the curves that are sold for gauges, and the one that suits a gauge best.

Answers   UsualSender      one curve, by what it measures
          usual_senders    those of the table that measure the same
          best_senders     by the largest error that each leaves on a gauge, the smallest first
Not here  resistors that bring the sender that is there closer (sender_resistors.py)
Symbols   R resistance, x what is measured: temperature, pressure or level
Sources   tables/usual_senders.csv, each line with its own; most are patterns of the trade that several makers share
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from trialfit.handbook.arrays import Array, Numbers, as_floats
from trialfit.handbook.senders.sender_curves import (
    beta_constant,
    level_resistance,
    resistance_at,
    resistance_by_beta,
    steinhart_hart,
    thermistor_resistance,
)
from trialfit.handbook.senders.sender_resistors import reading_errors
from trialfit.handbook.tables import rows

if TYPE_CHECKING:
    from collections.abc import Callable

_SI: dict[str, Callable[[float], float]] = {
    "temperature": lambda celsius: celsius + 273.15,
    "pressure": lambda bar: bar * 1e5,
    "level": lambda percent: percent / 100,
}
_BEYOND = 40.0
"""How far a thermistor's formula is followed beyond its points [K]: common practice, no source."""

_PLACES = 41
_TWO, _THREE = 2, 3


@dataclass(frozen=True)
class UsualSender:
    """One curve of the table: `places` in SI, rising, with their `resistances` [Ω]."""

    name: str
    measures: str
    places: tuple[float, ...]
    resistances: tuple[float, ...]
    source: str

    def resistance(self, place: Numbers) -> Numbers:
        """Its resistance [Ω] at any place; nan where its curve does not reach."""
        if self.measures == "temperature":
            return self._thermistor(place)
        if self.measures == "level" and len(self.places) == _TWO:
            return level_resistance(place, *self.resistances)
        return resistance_at(place, np.array(self.places), np.array(self.resistances))

    def _thermistor(self, place: Numbers) -> Numbers:
        (kelvins,) = as_floats(place)
        inside = (kelvins >= self.places[0] - _BEYOND) & (kelvins <= self.places[-1] + _BEYOND)
        ohms = np.full(kelvins.shape, np.nan)
        if len(self.places) == _THREE:
            ohms = np.asarray(
                thermistor_resistance(kelvins, *steinhart_hart(np.array(self.places), np.array(self.resistances)))
            )
        return np.where(inside, np.where(np.isnan(ohms), self._by_beta(kelvins), ohms), np.nan)

    def _by_beta(self, kelvins: Array) -> Array:
        """By the two points that are next to a place: a resistance that no constants of three points give."""
        ohms = np.empty(kelvins.shape)
        for number in range(len(self.places) - 1):
            pair = slice(number, number + 2)
            (low, high), (one, other) = self.places[pair], self.resistances[pair]
            here = kelvins >= low if number else np.full(kelvins.shape, fill_value=True)
            ohms = np.where(here, resistance_by_beta(kelvins, one, low, beta_constant(low, one, high, other)), ohms)
        return ohms


class Suited(NamedTuple):
    """A usual sender, and the largest error that it leaves on the gauge, share of the scale."""

    sender: UsualSender
    error: float


@cache
def usual_senders(measures: str) -> tuple[UsualSender, ...]:
    """The senders of the table that measure the same.

    measures   "temperature", "pressure" or "level"
    returns    senders in the order of the table, their places in K, Pa or 1

    Source: tables/usual_senders.csv, each line with its own.

    >>> usual_senders("level")[0].name
    '240 Ω empty, 33 Ω full, even'
    """
    return tuple(_sender(row) for row in rows("senders", "usual_senders") if row["measures"] == measures)


def _sender(row: dict[str, str]) -> UsualSender:
    points = [tuple(map(float, point.split(" : "))) for point in row["points"].split(" | ")]
    places = tuple(_SI[row["measures"]](place) for place, _ in points)
    return UsualSender(row["name"], row["measures"], places, tuple(ohms for _, ohms in points), row["source"])


def best_senders(measures: str, scale_places: Numbers, scale_resistances: Numbers) -> tuple[Suited, ...]:
    """The usual senders by the largest error that each leaves on a gauge, the smallest first; no resistors.

        max over x of |x̂(R(x)) − x|/(x_K − x_1)

    measures           "temperature", "pressure" or "level"
    scale_places       x_k of the gauge, rising                 K, Pa or 1    (K,)
    scale_resistances  R_k that the gauge needs at each         Ω             (K,), all rising or all falling
    returns            senders whose curve reaches over the whole scale; empty where there is none

    Source: Ohm's law; the curves of tables/usual_senders.csv.

    >>> suited = best_senders("level", [0.0, 1.0], [73.0, 10.0])[0]
    >>> f"{suited.sender.name}: {suited.error:.1%}"
    '75 Ω empty, 10 Ω full: 3.0%'
    """
    places, scale = as_floats(scale_places, scale_resistances)
    at = np.linspace(places[0], places[-1], _PLACES)
    by_temperature = measures == "temperature"

    def worst(sender: UsualSender) -> float:
        ohms: Array = np.asarray(sender.resistance(at))
        return float(np.abs(reading_errors(at, ohms, places, scale, by_temperature=by_temperature)).max())

    found = [Suited(sender, worst(sender)) for sender in usual_senders(measures)]
    return tuple(sorted((one for one in found if np.isfinite(one.error)), key=lambda one: one.error))
