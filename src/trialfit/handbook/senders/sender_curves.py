"""Senders and gauges: what a resistance means, and what another gauge shows for it.

Answers   steinhart_hart, thermistor_temperature, thermistor_resistance   a thermistor through three known points
          beta_constant, resistance_by_beta, temperature_by_beta          the same through two
          divider_voltage      voltage at a control unit with a pull-up
          resistance_at        of a sender, between the points of its curve
          shown_at             what a gauge shows for a resistance, its needle stopped at the ends of the scale
          is_on_scale          whether the needle is off its stops
          level_resistance     of an even sender
Not here  resistors that bring a sender closer to a gauge (sender_resistors.py)
Symbols   R resistance, T temperature, x what is measured: temperature, pressure or level
Sources   [1] I. S. Steinhart and S. R. Hart 1968, calibration curves for thermistors, from memory
          [2] thermistor makers' notes on the beta constant, from memory   [3] Ohm's law
"""

from __future__ import annotations

from typing import TYPE_CHECKING, cast

import numpy as np

from trialfit.handbook.arrays import Array, Numbers, as_floats, where

if TYPE_CHECKING:
    from numpy.typing import NDArray


_FEWEST = 2

AT_AN_END = 1e-9
"""Share of a curve's span by which a place or a resistance may lie beyond its end and still be at it: "230 °F" is 110 °C but for
rounding."""


def steinhart_hart(temperatures: Numbers, resistances: Numbers) -> tuple[float, float, float]:
    """Constants of a thermistor through three points.

        1/T = A + B·ln R + C·(ln R)³, solved for A, B, C

    temperatures  T of the three points, all different    K           (3,), > 0
    resistances   R of the three points, all different    Ω           (3,), > 0
    returns       A, B, C                                 1/K each    nan outside that range

    Good to some hundredths of a kelvin between the points, worse beyond them.
    Source: Steinhart and Hart 1968, from memory.

    >>> a, b, c = steinhart_hart([253.15, 313.15, 373.15], [15971.0, 1152.0, 175.7])
    >>> f"{a:.4e}, {b:.4e}, {c:.3e}"
    '1.3353e-03, 2.5613e-04, 1.500e-07'
    """
    kelvins, ohms = as_floats(temperatures, resistances)
    sound = kelvins.shape == ohms.shape == (3,) and bool((kelvins > 0).all() and (ohms > 0).all())
    if not sound or len(set(ohms)) < ohms.size or len(set(kelvins)) < kelvins.size:
        return float("nan"), float("nan"), float("nan")
    logs = np.log(ohms)
    a, b, c = np.linalg.solve(np.stack([np.ones(3), logs, logs**3], axis=-1), 1 / kelvins)
    return float(a), float(b), float(c)


def thermistor_temperature(resistance: Numbers, a: float, b: float, c: float) -> Numbers:
    """Temperature of a thermistor.

        T = 1/(A + B·ln R + C·(ln R)³)

    resistance  R          Ω           > 0
    a, b, c     A, B, C    1/K each    as steinhart_hart gives them
    returns     T          K           nan outside that range

    Valid between the points the constants come from. Source: Steinhart and Hart 1968, from memory.

    >>> a, b, c = steinhart_hart([253.15, 313.15, 373.15], [15971.0, 1152.0, 175.7])
    >>> f"{thermistor_temperature(308.6, a, b, c) - 273.15:.2f} °C"
    '80.00 °C'
    """
    (ohms,) = as_floats(resistance)
    sound = ohms > 0
    logs = np.log(np.where(sound, ohms, 1.0))
    inverse = a + b * logs + c * logs**3
    sound = sound & (inverse > 0)
    return where(sound, 1 / np.where(sound, inverse, 1.0))


def thermistor_resistance(temperature: Numbers, a: float, b: float, c: float) -> Numbers:
    """Resistance of a thermistor: the inverse of thermistor_temperature.

        x = (A − 1/T)/C, y = √((B/(3·C))³ + x²/4), R = exp(∛(y − x/2) − ∛(y + x/2))

    temperature  T          K           > 0
    a, b, c      A, B, C    1/K each    C > 0, B > 0
    returns      R          Ω           nan outside that range

    The real root of the cubic in ln R. Source: Steinhart and Hart 1968, from memory.

    >>> a, b, c = steinhart_hart([253.15, 313.15, 373.15], [15971.0, 1152.0, 175.7])
    >>> f"{thermistor_resistance(313.15, a, b, c):.1f} Ω"
    '1152.0 Ω'
    """
    (kelvins,) = as_floats(temperature)
    sound = (kelvins > 0) & (c > 0) & (b > 0)
    safe, slope, cubic = np.where(sound, kelvins, 1.0), (b if b > 0 else 1.0), (c if c > 0 else 1.0)
    x = (a - 1 / safe) / cubic
    y = np.sqrt((slope / (3 * cubic)) ** 3 + x**2 / 4)
    return where(sound, np.exp(np.cbrt(y - x / 2) - np.cbrt(y + x / 2)))


def beta_constant(
    first_temperature: Numbers, first_resistance: Numbers, second_temperature: Numbers, second_resistance: Numbers
) -> Numbers:
    """Beta constant of a thermistor from two points.

        B = ln(R₁/R₂)/(1/T₁ − 1/T₂)

    first_temperature    T₁    K    > 0
    first_resistance     R₁    Ω    > 0
    second_temperature   T₂    K    > 0, not T₁
    second_resistance    R₂    Ω    > 0
    returns              B     K    nan outside that range

    Valid between the two temperatures; 40 K beyond them it reads more than a kelvin wrong.
    Source: thermistor makers' notes on the beta constant, from memory.

    >>> f"{beta_constant(298.15, 2044.0, 353.15, 308.6):.0f} K"
    '3619 K'
    """
    first, first_ohms, second, second_ohms = as_floats(
        first_temperature, first_resistance, second_temperature, second_resistance
    )
    sound = (first > 0) & (second > 0) & (first_ohms > 0) & (second_ohms > 0) & (first != second)
    inverses = 1 / np.where(sound, first, 1.0) - 1 / np.where(sound, second, 2.0)
    return where(sound, np.log(np.where(sound, first_ohms, 1.0) / np.where(sound, second_ohms, 1.0)) / inverses)


def resistance_by_beta(temperature: Numbers, resistance_0: Numbers, temperature_0: Numbers, beta: Numbers) -> Numbers:
    """Resistance of a thermistor by its beta constant.

        R = R₀·exp(B·(1/T − 1/T₀))

    temperature    T     K    > 0
    resistance_0   R₀    Ω    > 0
    temperature_0  T₀    K    > 0
    beta           B     K
    returns        R     Ω    nan outside that range

    Valid between the temperatures the constant comes from.
    Source: thermistor makers' notes on the beta constant, from memory.

    >>> f"{resistance_by_beta(393.15, 2044.0, 298.15, 3619.0):.1f} Ω, where a table has 105.4"
    '108.8 Ω, where a table has 105.4'
    """
    kelvins, ohms, start, constant = as_floats(temperature, resistance_0, temperature_0, beta)
    sound = (kelvins > 0) & (ohms > 0) & (start > 0)
    inverses = 1 / np.where(sound, kelvins, 1.0) - 1 / np.where(sound, start, 1.0)
    return where(sound, ohms * np.exp(constant * inverses))


def temperature_by_beta(resistance: Numbers, resistance_0: Numbers, temperature_0: Numbers, beta: Numbers) -> Numbers:
    """Temperature of a thermistor by its beta constant: the inverse of resistance_by_beta.

        1/T = 1/T₀ + ln(R/R₀)/B

    resistance     R     Ω    > 0
    resistance_0   R₀    Ω    > 0
    temperature_0  T₀    K    > 0
    beta           B     K    not 0
    returns        T     K    nan outside that range

    Source: thermistor makers' notes on the beta constant, from memory.

    >>> f"{temperature_by_beta(105.4, 2044.0, 298.15, 3619.0) - 273.15:.2f} °C, where it is 120"
    '121.37 °C, where it is 120'
    """
    ohms, start_ohms, start, constant = as_floats(resistance, resistance_0, temperature_0, beta)
    sound = (ohms > 0) & (start_ohms > 0) & (start > 0) & (constant != 0)
    log = np.log(np.where(sound, ohms, 1.0) / np.where(sound, start_ohms, 1.0))
    inverse = 1 / np.where(sound, start, 1.0) + log / np.where(sound, constant, 1.0)
    sound = sound & (inverse > 0)
    return where(sound, 1 / np.where(sound, inverse, 1.0))


def divider_voltage(supply: Numbers, resistance: Numbers, pull_up: Numbers) -> Numbers:
    """Voltage across a sender that is fed through a pull-up.

        V = V_s·R/(R + R_pu)

    supply      V_s                     V    ≥ 0
    resistance  R, of the sender        Ω    ≥ 0
    pull_up     R_pu                    Ω    > 0
    returns     V                       V    nan outside that range

    Source: Ohm's law.

    >>> f"{divider_voltage(5.0, 308.6, 1000.0):.3f} V"
    '1.179 V'
    """
    supply, ohms, above = as_floats(supply, resistance, pull_up)
    sound = (supply >= 0) & (ohms >= 0) & (above > 0)
    return where(sound, supply * ohms / np.where(sound, ohms + above, 1.0))


def level_resistance(level: Numbers, empty: Numbers, full: Numbers) -> Numbers:
    """Resistance of an even sender.

        R = R_E + x·(R_F − R_E)

    level    x            1    0 ≤ x ≤ 1
    empty    R_E          Ω    ≥ 0
    full     R_F          Ω    ≥ 0
    returns  R            Ω    nan outside that range

    Source: definition of an even sender.

    >>> f"{level_resistance(0.5, 240.0, 33.0):.1f} Ω"
    '136.5 Ω'
    """
    share, low, high = as_floats(level, empty, full)
    return where((share >= 0) & (share <= 1) & (low >= 0) & (high >= 0), low + share * (high - low))


def resistance_at(place: Numbers, places: Numbers, resistances: Numbers, *, by_temperature: bool = False) -> Numbers:
    """Resistance of a sender between the points of its curve.

        even: straight lines between the points; by temperature: ln R over 1/T in straight lines, as beta has it

    place           x, any shape                 unit of places
    places          x_k, rising                  any; K where by_temperature    (K,), K ≥ 2
    resistances     R_k                          Ω                              (K,); > 0 where by_temperature
    by_temperature  whether x is a temperature
    returns         R                            Ω                              nan beyond the ends of the curve
    errors          ValueError, one sentence, for a curve that does not rise in x or has one point

    Source: straight lines between points: common practice, no source; by temperature the beta constant, from memory.

    >>> resistance_at([0.5, 1.5], [0.0, 1.0], [240.0, 33.0])
    array([136.5,   nan])
    """
    (at,) = as_floats(place)
    xs, ohms = _curve(places, resistances)
    rounding = AT_AN_END * (xs[-1] - xs[0])
    inside = (at >= xs[0] - rounding) & (at <= xs[-1] + rounding)
    if by_temperature and (ohms > 0).all() and xs[0] > 0:
        safe = np.where(inside, at, xs[0])
        return where(inside, np.exp(np.interp(-1 / safe, -1 / xs, np.log(ohms))))
    return where(inside, np.interp(at, xs, ohms))


def shown_at(resistance: Numbers, places: Numbers, resistances: Numbers, *, by_temperature: bool = False) -> Numbers:
    """What a gauge shows for a resistance.

        x̂ = f⁻¹(R), f the curve the gauge expects; the needle rests on its stop beyond the ends of the scale

    resistance      R, any shape                 Ω    ≥ 0
    places          x_k of the scale, rising     any; K where by_temperature    (K,), K ≥ 2
    resistances     R_k that put it there        Ω    (K,), all rising or all falling
    by_temperature  whether x is a temperature
    returns         x̂                            as places    nan for a negative resistance
    errors          ValueError, one sentence, for a curve that does not rise in x, or turns in R

    The stop is what a needle does, not an estimate: is_on_scale tells whether it is there. Source: Ohm's law.

    >>> shown_at([136.5, 10.0], [0.0, 1.0], [240.0, 33.0])
    array([0.5, 1. ])
    """
    (ohms,) = as_floats(resistance)
    xs, scale = _curve(places, resistances)
    steps = np.diff(scale)
    if not ((steps > 0).all() or (steps < 0).all()):
        raise ValueError(
            "The resistances of a gauge must all rise or all fall from point to point, as in 240, 100, 33 Ω."
        )
    sound = ohms >= 0
    if by_temperature and (scale > 0).all() and xs[0] > 0:
        safe = np.maximum(np.where(sound, ohms, 1.0), scale.min() / 2)  # ln of a short circuit; the stop is the same
        return where(sound, -1 / _interpolated(np.log(safe), np.log(scale), -1 / xs))
    return where(sound, _interpolated(np.where(sound, ohms, 0.0), scale, xs))


def is_on_scale(resistance: Numbers, resistances: Numbers) -> NDArray[np.bool_] | np.bool_:
    """Whether a resistance lies within what a gauge expects, its needle off the stops.

    resistance   R      Ω    any shape
    resistances  R_k    Ω    (K,)
    returns      true or false for each R

    Source: definition.

    >>> is_on_scale([136.5, 10.0], [240.0, 33.0])
    array([ True, False])
    """
    ohms, scale = as_floats(resistance, resistances)
    rounding = AT_AN_END * (scale.max() - scale.min())
    return cast("NDArray[np.bool_]", ((ohms >= scale.min() - rounding) & (ohms <= scale.max() + rounding))[()])


def _interpolated(at: Array, falling_or_rising: Array, values: Array) -> Array:
    order = slice(None) if falling_or_rising[-1] > falling_or_rising[0] else slice(None, None, -1)
    return np.asarray(np.interp(at, falling_or_rising[order], values[order]))


def _curve(places: Numbers, resistances: Numbers) -> tuple[Array, Array]:
    xs, ohms = as_floats(places, resistances)
    if xs.ndim != 1 or xs.shape != ohms.shape or xs.size < _FEWEST or not (np.diff(xs) > 0).all():
        raise ValueError(
            "A curve of a sender needs two points or more that rise in what is measured, as in 0, 50, 100 %."
        )
    return xs, ohms
