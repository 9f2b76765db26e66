"""The cooling of a build: heat that the engine gives to its coolant and heat that the radiator takes, derived and not judged.

Answers   heat_at_full_throttle, heat_at_steady_speed   rejected, over road speed
          heat_taken                                    by the radiator with its top hose as hot as the boiling margin allows
          heat_rejection_ratio, hottest_hose, air_temperature what these depend on
Not here  formulas (handbook/cooling/heat_exchange.py, handbook/cooling/coolant.py); the plot (drawing/plots/cooling_limit.py)

The fan counts where it moves more air than the road does; the two are not added.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.handbook.constants import AIR_DENSITY
from trialfit.handbook.cooling import coolant
from trialfit.handbook.cooling import heat_exchange as heat
from trialfit.handbook.gearing.ratios import engine_speed
from trialfit.handbook.gearing.road_load import road_load
from trialfit.parts import Car, Engine, Radiator
from trialfit.subjects import line

if TYPE_CHECKING:
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array


def heat_rejection_ratio(ev: Evaluation) -> Array:
    """Coolant share over brake share: the typical one is that of an engine that runs on petrol."""
    radiator, engine = ev.part(Radiator), ev.part(Engine)
    if radiator.heat_rejection_ratio.written is None and engine.runs_on != "petrol":
        raise MissingFact(
            {
                radiator.heat_rejection_ratio.path: f"{radiator.heat_rejection_ratio.spec.says}; the typical one is for petrol"
            }
        )
    return ev(radiator.heat_rejection_ratio)[:, None]


def heat_at_full_throttle(ev: Evaluation, speeds: Array) -> Array:
    """Heat at full throttle in the gear with the most power, W, (draws, speeds); nan where no gear turns within the curve."""
    engine = ev.part(Engine)
    limit = ev(engine.max_speed)[:, None, None]
    radius, final = (ev.of(one)[:, None, None] for one in (line.rolling_radius, line.final_ratio))
    turning = np.asarray(engine_speed(speeds[None, :, None], radius, ev.of(line.drive_ratios)[:, None, :], final))
    torque = line.torque_at(ev, turning)
    power = np.where(np.isfinite(torque) & (turning <= limit), torque * turning, -np.inf).max(axis=-1)
    return np.asarray(heat.heat_to_coolant(np.where(np.isfinite(power), power, np.nan), heat_rejection_ratio(ev)))


def heat_at_steady_speed(ev: Evaluation, speeds: Array) -> Array:
    """Heat at a steady speed on the level, W, (draws, speeds)."""
    car = ev.part(Car)
    mass, rolling, area, air = (
        one[:, None] for one in ev.each(car.mass, car.rolling_coefficient, car.drag_area, car.air_density)
    )
    power = np.asarray(road_load(speeds[None, :], mass, rolling, area, air)) * speeds / ev.of(line.efficiency)[:, None]
    return np.asarray(heat.heat_to_coolant(power, heat_rejection_ratio(ev)))


def heat_taken(ev: Evaluation, speeds: Array) -> Array:
    """Heat that the radiator takes with its top hose at the limit, W, (draws, speeds); nan far from its rated air speed."""
    _look_over(ev.part(Radiator), ev)
    hose, air = ev.of(hottest_hose), ev.of(air_temperature)
    return np.asarray(heat.duty(_per_kelvin(ev, speeds), hose[:, None], air[:, None]))


def _look_over(radiator: Radiator, ev: Evaluation) -> None:
    """Reads what is needed. Raises MissingFact naming all that is missing."""
    rating = (radiator.rated_heat, radiator.rated_temperature_difference, radiator.rated_coolant_flow)
    ev.each(
        *((radiator.conductance,) if radiator.conductance.written else rating),
        radiator.rated_air_speed,
        radiator.face_area,
        radiator.coolant_flow,
        radiator.cap_pressure,
    )


def _per_kelvin(ev: Evaluation, speeds: Array) -> Array:
    radiator = ev.part(Radiator)
    area, share, flow, rated, exponent = ev.each(
        radiator.face_area,
        radiator.air_speed_ratio,
        radiator.coolant_flow,
        radiator.rated_air_speed,
        radiator.air_exponent,
    )
    wind = share[:, None] * speeds
    if radiator.fan_flow.written is not None:
        wind = np.maximum(wind, (ev(radiator.fan_flow) / area)[:, None])
    density = np.asarray(heat.air_density(ev.of(_pressure), ev.of(air_temperature)))[:, None]
    air = heat.capacity_rate(density, wind * area[:, None], heat.AIR_HEAT_CAPACITY)
    grown = heat.conductance_at(ev.of(_conductance)[:, None], rated[:, None], wind, exponent[:, None])
    return np.asarray(heat.duty_per_kelvin(grown, air, _coolant_rate(ev, flow)[:, None]))


def _conductance(ev: Evaluation) -> Array:
    """As written, or from the rating, W/K. Raises MissingFact naming the rating where no radiator could have it."""
    radiator = ev.part(Radiator)
    if radiator.conductance.written is not None:
        return ev(radiator.conductance)
    taken, difference, speed, flow, area = ev.each(
        radiator.rated_heat,
        radiator.rated_temperature_difference,
        radiator.rated_air_speed,
        radiator.rated_coolant_flow,
        radiator.face_area,
    )
    air = heat.capacity_rate(AIR_DENSITY, speed * area, heat.AIR_HEAT_CAPACITY)
    found = np.asarray(heat.conductance_of_rating(taken, difference, air, _coolant_rate(ev, flow)))
    if np.isnan(found[0]):
        raise MissingFact(
            {radiator.rated_heat.path: "more than air and coolant at the rating can carry: check the rating"}
        )
    return found


def _coolant_rate(ev: Evaluation, flow: Array) -> Array:
    mass = coolant.glycol_mass_fraction(ev(ev.part(Radiator).glycol_share))
    return np.asarray(heat.capacity_rate(coolant.coolant_density(mass), flow, coolant.coolant_heat_capacity(mass)))


def _pressure(ev: Evaluation) -> Array:
    return np.asarray(coolant.air_pressure(ev(ev.part(Radiator).altitude)))


def air_temperature(ev: Evaluation) -> Array:
    """Of the air in front of the radiator, K, (draws,)."""
    radiator = ev.part(Radiator)
    return ev(radiator.ambient_temperature) + ev(radiator.preheat)


def hottest_hose(ev: Evaluation) -> Array:
    """Hottest that the top hose may get, K: the boiling point, less its error, less the margin."""
    radiator = ev.part(Radiator)
    glycol, cap, margin = ev.each(radiator.glycol_share, radiator.cap_pressure, radiator.boiling_margin)
    return np.asarray(coolant.boiling_point(glycol, ev.of(_pressure), cap)) - coolant.READS_HIGH - margin
