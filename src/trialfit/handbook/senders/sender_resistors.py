"""Resistors between a sender and a gauge that expects another curve: how close they bring it, and how hot they get.

Answers   corrected_resistance   resistance at the gauge with a series and a parallel resistor
          ends_right             the pair that makes both ends of the scale right
          best_pair              the pair of preferred numbers that leaves the smallest error over the whole scale
          reading_errors         error of the needle, shown minus true, in shares of the scale
          resistor_powers        heat in each resistor
Not here  curves of senders and gauges (sender_curves.py); the preferred numbers (e_series.py)
Symbols   R_s sender, R_p resistor across it, R_r resistor in series with both, R_g the gauge's own, V supply
Sources   [1] Ohm's and Kirchhoff's laws
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from trialfit.handbook.arrays import Array, Numbers, as_floats, where
from trialfit.handbook.senders.e_series import e_series
from trialfit.handbook.senders.sender_curves import shown_at

_SMALLEST, _LARGEST = 1e-3, 1e2
"""Resistors are tried from this share of the gauge's largest resistance to this multiple of the sender's."""


MOST_LEFT = 0.15
"""Largest error, share of the scale, that a pair of resistors may leave anywhere: common practice, no source."""

LEAST_SWING = 0.7
"""Share of the way from end to end that a needle must still make with resistors: less is nearly frozen. Common practice, no source."""

GOOD_ENOUGH = 0.03
"""Largest error, share of the scale, up to which no resistor is worth fitting: the width of a needle and its mark. Common practice,
no source."""

WORTH_A_RESISTOR = 0.01
"""What each resistor must take off the largest weighted error, share of the scale: common practice, no source."""


@dataclass(frozen=True)
class Pair:
    """A series resistor [Ω], 0 for none, a parallel resistor [Ω], inf for none, and the largest error left [share of scale].

    `helps` is False where no pair is of any use: then it is without resistors, and the error that of the bare sender.
    """

    series: float
    parallel: float
    largest_error: float
    helps: bool = True


def corrected_resistance(sender: Numbers, series: Numbers, parallel: Numbers) -> Numbers:
    """Resistance at the gauge with a resistor across the sender and one in series with both.

        R' = R_r + R_s·R_p/(R_s + R_p)

    sender    R_s    Ω    ≥ 0
    series    R_r    Ω    ≥ 0; 0 for none
    parallel  R_p    Ω    > 0; inf for none
    returns   R'     Ω    nan outside that range

    Source: Ohm's and Kirchhoff's laws.

    >>> f"{corrected_resistance(180.0, 0.73, 126.4):.1f} Ω; {corrected_resistance(180.0, 0.0, np.inf):.0f} Ω without"
    '75.0 Ω; 180 Ω without'
    """
    ohms, above, across = as_floats(sender, series, parallel)
    sound = (ohms >= 0) & (above >= 0) & (across > 0)
    both = np.where(sound, 1.0 + ohms / np.where(sound, across, 1.0), 1.0)
    return where(sound, above + ohms / both)


def ends_right(sender_low: float, sender_high: float, gauge_low: float, gauge_high: float) -> tuple[float, float]:
    """Series and parallel resistor that make a gauge right at both ends of its scale.

        (ΔR − ΔG)·R_p² − ΔG·(R_E + R_F)·R_p − ΔG·R_E·R_F = 0,   R_r = G_E − R_E·R_p/(R_E + R_p)

    sender_low    R_E, at the low end           Ω    ≥ 0
    sender_high   R_F, at the high end          Ω    ≥ 0
    gauge_low     G_E, expected there           Ω    ≥ 0
    gauge_high    G_F, expected there           Ω    ≥ 0
    returns       R_r, R_p                      Ω    nan where no pair does it; R_p inf where none is needed

    ΔR = R_E − R_F, ΔG = G_E − G_F. Possible only if both run the same way, the gauge over less than the sender, and R_r
    comes out at 0 or more: otherwise another sender, or an active converter. Between the ends an error stays.
    Source: Ohm's and Kirchhoff's laws.

    >>> series, parallel = ends_right(180.0, 10.0, 75.0, 10.0)
    >>> f"{series:.2f} Ω in series, {parallel:.1f} Ω across the sender"
    '0.73 Ω in series, 126.4 Ω across the sender'
    """
    sender, gauge = sender_low - sender_high, gauge_low - gauge_high
    none = float("nan"), float("nan")
    if min(sender_low, sender_high, gauge_low, gauge_high) < 0 or sender * gauge <= 0 or abs(gauge) > abs(sender):
        return none
    if sender == gauge:
        series, parallel = gauge_low - sender_low, np.inf
    else:
        half = gauge * (sender_low + sender_high)
        root = np.sqrt(half**2 + 4 * (sender - gauge) * gauge * sender_low * sender_high)
        parallel = max((half + root) / (2 * (sender - gauge)), (half - root) / (2 * (sender - gauge)))
        series = gauge_low - float(corrected_resistance(sender_low, 0.0, parallel))
    return (float(series), float(parallel)) if series >= 0 else none


def reading_errors(
    true_places: Numbers,
    resistances: Numbers,
    scale_places: Numbers,
    scale_resistances: Numbers,
    *,
    by_temperature: bool,
) -> Numbers:
    """Error of the needle, shown minus true, as shares of the scale.

        e = (x̂ − x)/(x_K − x_1)

    true_places        x                                  unit of the scale    (N,)
    resistances        what the gauge sees at each x      Ω                    (..., N)
    scale_places       x_k of the gauge, rising           any; K               (K,)
    scale_resistances  R_k of the gauge                   Ω                    (K,)
    by_temperature     whether x is a temperature
    returns            e                                  1                    (..., N)

    Source: definition.

    >>> reading_errors([0.0, 1.0], [75.0, 10.0], [0.0, 1.0], [240.0, 33.0], by_temperature=False).round(3)
    array([0.797, 0.   ])
    """
    true, ohms, places = as_floats(true_places, resistances, scale_places)
    shown = np.asarray(shown_at(ohms, places, scale_resistances, by_temperature=by_temperature))
    return where(np.bool_(True), (shown - true) / (places[-1] - places[0]))  # noqa: FBT003 - everything is sound


def best_pair(
    true_places: Numbers,
    sender_resistances: Numbers,
    scale_places: Numbers,
    scale_resistances: Numbers,
    series_name: str,
    *,
    by_temperature: bool,
    weights: Numbers = 1.0,
) -> Pair:
    """The pair of preferred numbers that leaves the smallest of largest errors over the scale, where one is worth fitting.

        min over R_r, R_p of max over x of w·|e| + 0.01·(number of resistors)

    true_places         x at which it is judged            unit of the scale    (N,)
    sender_resistances  R_s at each x                      Ω                    (N,), ≥ 0
    scale_places        x_k of the gauge, rising           any; K               (K,)
    scale_resistances   R_k of the gauge                   Ω                    (K,)
    series_name         E12, E24, ...
    by_temperature      whether x is a temperature
    weights             w, how much an error counts at each x   1        (N,) or one for all, ≥ 0
    returns             the pair and the largest error it leaves, unweighted

    Every pair is tried; among equals the one without resistors, then the smaller series resistor. None is named where the bare
    sender is within GOOD_ENOUGH, and none helps where every pair leaves more than MOST_LEFT or less than LEAST_SWING of the
    needle's way: of two curves that run in opposite directions the best pair only freezes the needle.
    Source: Ohm's and Kirchhoff's laws; the four bounds are common practice, no source.

    >>> places = np.linspace(0, 1, 11)
    >>> best_pair(places, 300 - 200 * places, [0.0, 1.0], [200.0, 80.0], "E24", by_temperature=False).parallel
    560.0
    """
    true, ohms, scale = as_floats(true_places, sender_resistances, scale_resistances)
    above = np.concatenate([[0.0], e_series(series_name, _SMALLEST * scale.max(), scale.max())])
    most = max(float(ohms.max()), float(scale.max()))
    across = np.concatenate([[np.inf], e_series(series_name, _SMALLEST * most, _LARGEST * most)])
    weighted, left, swing = np.empty((3, above.size, across.size))
    for place, series in enumerate(above):  # one row at a time keeps the memory small with the fine series
        seen = corrected_resistance(ohms, series, across[:, None])
        errors = reading_errors(true, seen, scale_places, scale, by_temperature=by_temperature)
        left[place] = np.abs(errors).max(axis=-1)
        weighted[place] = (np.abs(errors) * weights).max(axis=-1)
        swing[place] = _swing(true, np.asarray(errors), scale_places)
    return _worth_fitting(above, across, weighted, left, swing)


def _swing(true: Array, errors: Array, scale_places: Numbers) -> Array:
    """The way of the needle between the lowest and the highest place over the way that it should make."""
    (places,) = as_floats(scale_places)
    low, high = int(np.argmin(true)), int(np.argmax(true))
    asked = (true[high] - true[low]) / (places[-1] - places[0])
    return 1 + (errors[..., high] - errors[..., low]) / asked if asked > 0 else np.zeros(errors.shape[:-1])


def _worth_fitting(above: Array, across: Array, weighted: Array, left: Array, swing: Array) -> Pair:
    bare = Pair(0.0, np.inf, float(left[0, 0]))
    if left[0, 0] <= GOOD_ENOUGH:
        return bare
    count = (above > 0).astype(float)[:, None] + np.isfinite(across)
    sound = (left <= MOST_LEFT) & (swing >= LEAST_SWING)
    cost = np.where(sound, np.round(weighted + WORTH_A_RESISTOR * count, 9), np.inf)
    row, column = np.unravel_index(int(np.argmin(cost)), cost.shape)
    if not sound[row, column]:
        return Pair(0.0, np.inf, float(left[0, 0]), helps=False)
    return Pair(float(above[row]), float(across[column]), float(left[row, column]))


def resistor_powers(
    supply: Numbers, own: Numbers, sender: Numbers, series: Numbers, parallel: Numbers
) -> tuple[Numbers, Numbers]:
    """Heat in the resistor in series and in the one across the sender.

        I = V/(R_g + R'),   P_r = I²·R_r,   P_p = (I·(R' − R_r))²/R_p

    supply    V                                   V    ≥ 0
    own       R_g, inside the gauge; 0 if unknown Ω    ≥ 0: the less, the more heat
    sender    R_s                                 Ω    ≥ 0
    series    R_r                                 Ω    ≥ 0; 0 for none
    parallel  R_p                                 Ω    > 0; inf for none
    returns   P_r, P_p                            W    nan outside that range, and for a short circuit

    Source: Ohm's and Kirchhoff's laws.

    >>> in_series, across = resistor_powers(12.0, 100.0, 100.0, 50.0, 100.0)
    >>> f"{in_series:.2f} W, {across:.2f} W: 60 mA through 50 Ω, 3 V across 100 Ω"
    '0.18 W, 0.09 W: 60 mA through 50 Ω, 3 V across 100 Ω'
    """
    volts, inside, above, across = as_floats(supply, own, series, parallel)
    seen = np.asarray(corrected_resistance(sender, above, across))
    sound = (volts >= 0) & (inside >= 0) & (inside + seen > 0)
    current = volts / np.where(sound, inside + seen, 1.0)
    return where(sound, current**2 * above), where(sound, (current * (seen - above)) ** 2 / across)
