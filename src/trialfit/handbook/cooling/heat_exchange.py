"""Cooling: heat from the engine into the coolant, and from the radiator into the air.

Answers   heat_to_coolant            from brake power
          capacity_rate              of a stream
          crossflow_effectiveness    from the number of transfer units; crossflow_transfer_units its inverse
          conductance_of_rating      from the heat on a data sheet
          conductance_at             at another speed of the air
          duty_per_kelvin            what a radiator takes for each kelvin between top hose and air
          duty, top_hose_temperature
          air_density                at an outside temperature
Not here  what coolant carries and when it boils (coolant.py)
Symbols   Q heat flow, P brake power, r coolant share over brake share, C capacity rate, C_r the smaller over the larger,
          UA conductance, NTU = UA/C_min, ε effectiveness, T temperature, v speed of the air at the face
Sources   [1] heat-transfer textbooks, effectiveness and number of transfer units, both streams unmixed: from memory
          [2] Internal Combustion Engine Fundamentals, table 12.1, from memory: at full load, spark ignition, coolant 17 to 26 %
          of the fuel, brake 25 to 28 %   [3] ideal gas
"""

from __future__ import annotations

import numpy as np

from trialfit.handbook.arrays import Array, Numbers, as_floats, where

AIR_HEAT_CAPACITY = 1007.0
"""c [J/(kg·K)] of air from 0 to 80 °C, from memory."""

GAS_CONSTANT_OF_AIR = 287.05
"""R [J/(kg·K)], dry air: ISO 2533, from memory."""

MOST_TRANSFER_UNITS = 8.0
"""NTU up to which the series is summed: no radiator has more."""

FAR_FROM_RATING = 4.0
"""How many times slower or faster than at its rating the air may be: common practice, no source."""

_TERMS = 44  # up to NTU 8 the next one is below 1e-15
_HALVINGS, _STEPS = 10, 3
_LEAST = 1e-6  # C_r·NTU below which the series would be a difference of equal numbers


def heat_to_coolant(power: Numbers, share: Numbers) -> Numbers:
    """Heat that goes into the coolant while an engine gives a steady power.

        Q = r·P

    power    P at the flywheel                                W    ≥ 0
    share    r, coolant share over brake share of the fuel    1    ≥ 0
    returns  Q                                                W    nan outside that range

    r is 0.6 to 1.04 at full load with spark ignition, 0.45 to 1.0 for a diesel. At idle and light load the share of the
    coolant is larger, and the formula reads low. Source: Internal Combustion Engine Fundamentals,
    table 12.1, from memory.

    >>> f"{heat_to_coolant(90e3, 0.8) / 1000:.0f} kW"
    '72 kW'
    """
    power, share = as_floats(power, share)
    return where((power >= 0) & (share >= 0), share * power)


def capacity_rate(density: Numbers, volume_flow: Numbers, heat_capacity: Numbers) -> Numbers:
    """Heat that a stream takes up for each kelvin that it warms.

        C = ρ·V̇·c

    density        ρ    kg/m³       > 0
    volume_flow    V̇    m³/s        ≥ 0
    heat_capacity  c    J/(kg·K)    > 0
    returns        C    W/K         nan outside that range

    Source: definition of the heat capacity.

    >>> f"{capacity_rate(1.125, 0.252 * 6, 1007.0):.0f} W/K"
    '1713 W/K'
    """
    density, flow, heat_capacity = as_floats(density, volume_flow, heat_capacity)
    return where((density > 0) & (flow >= 0) & (heat_capacity > 0), density * flow * heat_capacity)


def crossflow_effectiveness(transfer_units: Numbers, ratio: Numbers) -> Numbers:
    """Effectiveness of a cross-flow radiator, both streams unmixed.

        ε = Σ P(n, NTU)·P(n, C_r·NTU)/(C_r·NTU),   P(n, x) = 1 − exp(−x)·Σ x^k/k! over k < n,   n from 1

    transfer_units  NTU            1    0 ≤ NTU ≤ 8
    ratio           C_min/C_max    1    0 ≤ C_r ≤ 1
    returns         ε              1    nan outside that range

    The exact series: the short formula of the textbooks is up to 4 % below it. Source: heat-transfer textbooks, from memory.

    >>> f"{crossflow_effectiveness(1.1, 0.2987):.4f}"
    '0.6099'
    """
    units, ratio = as_floats(transfer_units, ratio)
    sound = (units >= 0) & (units <= MOST_TRANSFER_UNITS) & (ratio >= 0) & (ratio <= 1)
    units, ratio = np.where(sound, units, 1.0), np.where(sound, ratio, 1.0)
    return where(sound, _series(units, ratio)[0])


def _series(units: Array, ratio: Array) -> tuple[Array, Array]:
    """ε and how fast it rises with NTU, arrays of one shape, within the range."""
    other = np.maximum(ratio * units, _LEAST)
    terms = np.exp(-units), np.exp(-other)  # exp(−x)·x^k/k!
    left = -np.expm1(-units), -np.expm1(-other)  # P(n, x)
    total, rise = left[0] * left[1], terms[0] * left[1] + ratio * left[0] * terms[1]
    for n in range(1, _TERMS):
        terms = terms[0] * units / n, terms[1] * other / n
        left = left[0] - terms[0], left[1] - terms[1]
        total = total + left[0] * left[1]
        rise = rise + terms[0] * left[1] + ratio * left[0] * terms[1]
    return total / other, (rise - ratio * total / other) / other


def crossflow_transfer_units(effectiveness: Numbers, ratio: Numbers) -> Numbers:
    """Number of transfer units of a cross-flow radiator: the inverse of crossflow_effectiveness, by halving and then Newton's steps.

        ε(NTU, C_r) = ε

    effectiveness  ε              1    0 ≤ ε ≤ ε(8, C_r)
    ratio          C_min/C_max    1    0 ≤ C_r ≤ 1
    returns        NTU            1    nan outside that range

    Source: heat-transfer textbooks, from memory.

    >>> f"{crossflow_transfer_units(0.6099, 0.2987):.2f}"
    '1.10'
    """
    wanted, ratio = np.broadcast_arrays(*as_floats(effectiveness, ratio))
    low, high = np.zeros(wanted.shape), np.full(wanted.shape, MOST_TRANSFER_UNITS)
    sound = (wanted >= 0) & (wanted <= np.asarray(crossflow_effectiveness(high, ratio)))
    wanted, ratio = np.where(sound, wanted, 0.5), np.where(sound, ratio, 0.0)
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        less = _series(middle, ratio)[0] < wanted
        low, high = np.where(less, middle, low), np.where(less, high, middle)
    found = low  # ε bends down as NTU grows: from below, Newton's steps never go past it
    for _ in range(_STEPS):
        reached, rise = _series(found, ratio)
        found = np.clip(found + (wanted - reached) / np.maximum(rise, _LEAST), 0.0, MOST_TRANSFER_UNITS)
    return where(sound, found)


def conductance_of_rating(heat: Numbers, difference: Numbers, air_rate: Numbers, coolant_rate: Numbers) -> Numbers:
    """Conductance of a radiator from the heat on its data sheet.

        UA = NTU(ε, C_r)·C_min, ε = Q/(C_min·ΔT)

    heat          Q                                W      ≥ 0
    difference    ΔT, coolant in less air in       K      > 0
    air_rate      C of the air at the rating       W/K    > 0
    coolant_rate  C of the coolant at the rating   W/K    > 0
    returns       UA                               W/K    nan outside that range, and where no radiator could take that heat

    Source: heat-transfer textbooks, from memory.

    >>> f"{conductance_of_rating(67.9e3, 65.0, 1713.0, 5735.0):.0f} W/K"
    '1884 W/K'
    """
    heat, difference, air, coolant = as_floats(heat, difference, air_rate, coolant_rate)
    sound = (heat >= 0) & (difference > 0) & (air > 0) & (coolant > 0)
    least, ratio = _least_and_ratio(air, coolant)
    effectiveness = heat / np.where(sound, least * difference, 1.0)
    return where(sound, np.asarray(crossflow_transfer_units(effectiveness, ratio)) * least)


def conductance_at(conductance: Numbers, rated_speed: Numbers, speed: Numbers, exponent: Numbers) -> Numbers:
    """Conductance of a radiator at another speed of the air.

        UA = UA₀·(v/v₀)^m

    conductance  UA₀ at the rating          W/K    ≥ 0
    rated_speed  v₀, of the air at the face m/s    > 0
    speed        v                          m/s    v₀/4 ≤ v ≤ 4·v₀
    exponent     m                          1      0 ≤ m ≤ 1
    returns      UA                         W/K    nan outside that range

    The air side decides; m is 0.5 along a smooth plate in laminar flow. The resistance on the side of the coolant is left out,
    so far above v₀ it reads high. Source: common practice, no source.

    >>> f"{conductance_at(1883.0, 6.0, 3.0, 0.5):.0f} W/K"
    '1331 W/K'
    """
    rated, start, speed, exponent = as_floats(conductance, rated_speed, speed, exponent)
    far = FAR_FROM_RATING
    sound = (rated >= 0) & (start > 0) & (exponent >= 0) & (exponent <= 1)
    sound = sound & (speed >= start / far) & (speed <= start * far)
    times = np.where(sound, speed, 1.0) / np.where(sound, start, 1.0)
    return where(sound, rated * times**exponent)


def duty_per_kelvin(conductance: Numbers, air_rate: Numbers, coolant_rate: Numbers) -> Numbers:
    """Heat that a radiator takes for each kelvin between the coolant and the air that come in.

        Q/ΔT = ε·C_min, NTU = UA/C_min

    conductance   UA                 W/K    0 ≤ UA ≤ 8·C_min
    air_rate      C of the air       W/K    > 0
    coolant_rate  C of the coolant   W/K    > 0
    returns       Q/ΔT               W/K    nan outside that range

    Clean fins and full rows: dirt and bent fins take off more than that.
    Source: heat-transfer textbooks, from memory.

    >>> f"{duty_per_kelvin(1884.0, 1713.0, 5735.0):.0f} W/K"
    '1045 W/K'
    """
    conductance, air, coolant = as_floats(conductance, air_rate, coolant_rate)
    sound = (air > 0) & (coolant > 0)
    least, ratio = _least_and_ratio(air, coolant)
    effectiveness = crossflow_effectiveness(conductance / np.where(sound, least, 1.0), ratio)
    return where(sound, np.asarray(effectiveness) * least)


def _least_and_ratio(air: Numbers, coolant: Numbers) -> tuple[Numbers, Numbers]:
    least, most = np.minimum(air, coolant), np.maximum(air, coolant)
    return least, least / np.where(most > 0, most, 1.0)


def duty(per_kelvin: Numbers, coolant_in: Numbers, air_in: Numbers) -> Numbers:
    """Heat that a radiator takes.

        Q = ε·C_min·(T_c − T_a)

    per_kelvin  ε·C_min                   W/K    ≥ 0
    coolant_in  T_c, in the top hose      K      ≥ T_a
    air_in      T_a, in front of it       K      > 0
    returns     Q                         W      nan outside that range

    Source: heat-transfer textbooks, from memory.

    >>> f"{duty(1045.0, 378.15, 313.15) / 1000:.1f} kW"
    '67.9 kW'
    """
    per_kelvin, coolant, air = as_floats(per_kelvin, coolant_in, air_in)
    return where((per_kelvin >= 0) & (air > 0) & (coolant >= air), per_kelvin * (coolant - air))


def top_hose_temperature(heat: Numbers, per_kelvin: Numbers, air_in: Numbers) -> Numbers:
    """Temperature in the top hose at a steady load, the thermostat wide open.

        T_c = T_a + Q/(ε·C_min)

    heat        Q                     W      ≥ 0
    per_kelvin  ε·C_min               W/K    > 0
    air_in      T_a, in front of it   K      > 0
    returns     T_c                   K      nan outside that range

    Below its opening a thermostat keeps the coolant warmer than that. It says nothing of boiling. Source: as duty.

    >>> f"{top_hose_temperature(67.9e3, 1045.0, 313.15) - 273.15:.0f} °C"
    '105 °C'
    """
    heat, per_kelvin, air = as_floats(heat, per_kelvin, air_in)
    sound = (heat >= 0) & (per_kelvin > 0) & (air > 0)
    return where(sound, air + heat / np.where(sound, per_kelvin, 1.0))


def air_density(pressure: Numbers, temperature: Numbers) -> Numbers:
    """Density of dry air.

        ρ = p/(287.05·T)

    pressure     p    Pa       > 0
    temperature  T    K        > 0
    returns      ρ    kg/m³    nan outside that range

    Moist air is up to 2 % lighter. Source: ideal gas.

    >>> f"{air_density(101325.0, 308.15):.3f} kg/m³"
    '1.146 kg/m³'
    """
    pressure, kelvins = as_floats(pressure, temperature)
    sound = (pressure > 0) & (kelvins > 0)
    return where(sound, pressure / (GAS_CONSTANT_OF_AIR * np.where(sound, kelvins, 1.0)))
