"""Cooling limit: heat that the engine gives to its coolant, against what the radiator takes, over road speed.

Answers   cooling
Not here  formulas (handbook/cooling.py, handbook/coolant.py); findings: nothing judges the cooling yet

The radiator takes what it can with its top hose as hot as the boiling margin allows, so the line is a limit. The fan counts
where it moves more air than the road does; the two are not added.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, ParamSpec

import numpy as np

from trialfit.drawing.pen import Stroke
from trialfit.drawing.plot import Axis, Plot, Series
from trialfit.drawing.plots.cooling_words import Heats, in_words
from trialfit.drawing.plots.from_draws import band, numbers, points
from trialfit.evaluation.evaluation import MissingFact
from trialfit.facts.quantity import POWER, SPEED
from trialfit.facts.units import display_unit
from trialfit.handbook import coolant
from trialfit.handbook import cooling as heat
from trialfit.handbook.constants import AIR_DENSITY
from trialfit.handbook.gearing import engine_speed, road_speed
from trialfit.handbook.road_load import road_load
from trialfit.handbook.torque_curve import torque_at
from trialfit.parts import Car, Engine, Radiator
from trialfit.subjects import line

if TYPE_CHECKING:
    from collections.abc import Callable
    from typing import Concatenate

    from numpy.typing import NDArray

    from trialfit.evaluation.evaluation import Evaluation

    Array = NDArray[np.float64]

Args = ParamSpec("Args")
_POINTS = 61
_CAUTION = (
    "a hot cooling system stands under pressure and scalds: never open its cap before it is cold, and keep hands off a fan "
    "that can start by itself"
)
_LIGHT = (
    "the share of heat is that of full load: at light load more of the fuel goes into the coolant, so the line of the level road "
    "reads low"
)
_HOW = (
    "steady state, thermostat open, clean fins, no wind; the fan counts where it moves more air than the road does; tinted and "
    "hatched: 95 % of the draws. Nothing was measured: watch the gauge on the first drives. The maker's figures stand above these"
)


def cooling(ev: Evaluation) -> Plot:
    """Heat to be got rid of and heat that the radiator takes. Raises MissingFact where neither can be worked out."""
    missing: dict[str, str] = {}
    reach = _known(ev, missing, _speeds)
    speeds = points(0.0, 1.0, 2) if reach is None else reach
    takes = _known(ev, missing, _takes, speeds)
    full = _known(ev, missing, _full_throttle, speeds)
    cruising = _known(ev, missing, _cruising, speeds)
    if reach is None or (takes is None and full is None and cruising is None):
        raise MissingFact(missing)
    share = _known(ev, missing, _share)
    hottest, air_in = (None, None) if takes is None else (ev.of(_hottest), ev.of(_air_in))
    words = in_words(ev, Heats(speeds, takes, full, cruising, share, hottest, air_in))
    rows = (
        ("the radiator takes at most, top hose at its limit", "radiator", takes, Stroke.thick, False),
        ("to be got rid of at full throttle, best gear", "full throttle", full, Stroke.thin, True),
        ("to be got rid of on a level road at a steady speed", "level road", cruising, Stroke.hidden, False),
    )
    unit = display_unit(SPEED)
    return Plot(
        build=ev.build.name,
        name="cooling",
        title="Cooling limit: heat to be got rid of over road speed",
        x=Axis(says="road speed", unit=unit.canonical, low=0.0),
        y=Axis(says="heat", unit=display_unit(POWER).canonical, low=0.0),
        series=tuple(_series(speeds, *row) for row in rows if row[2] is not None),
        notes=(*words, _LIGHT, _HOW, _CAUTION),
        missing=missing,
        draws=ev.draws,
    )


def _series(speeds: Array, says: str, short: str, heats: Array | None, stroke: Stroke, hatched: bool) -> Series:  # noqa: FBT001 - a row of the table above
    nominal, low, high = band(np.asarray(heats), display_unit(POWER))
    x = numbers(speeds, display_unit(SPEED))
    return Series(says=says, short=short, x=x, y=nominal, low=low, high=high, stroke=stroke, hatched=hatched)


def _known(
    ev: Evaluation,
    missing: dict[str, str],
    work: Callable[Concatenate[Evaluation, Args], Array],
    *args: Args.args,
    **kwargs: Args.kwargs,
) -> Array | None:
    """What can be worked out; None, and what is missing added to the list, where it cannot."""
    try:
        return work(ev, *args, **kwargs)
    except MissingFact as lacking:
        missing |= lacking.wanted
        return None


def _speeds(ev: Evaluation) -> Array:
    """Road speeds up to the highest that the gears allow, or to top speed where that is known and less, m/s."""
    engine = ev.part(Engine)
    limit, curve = float(ev(engine.max_speed)[0]), ev.curve(engine.torque_curve)
    radius, final = float(ev.of(line.rolling_radius)[0]), float(ev.of(line.final_ratio)[0])
    tallest = float(ev.of(line.ratios)[0].min())
    end = float(np.asarray(road_speed(min(limit, curve.x[-1]), radius, tallest, final)))
    try:
        top = float(ev.of(line.top_speed)[0])
    except MissingFact:
        top = np.nan
    return points(0.0, min(end, top) if top > 0 else end, _POINTS)


def _share(ev: Evaluation) -> Array:
    """Coolant share over brake share: the typical one is that of an engine that runs on petrol."""
    radiator, engine = ev.part(Radiator), ev.part(Engine)
    if radiator.heat_share.written is None and engine.runs_on != "petrol":
        raise MissingFact({radiator.heat_share.path: f"{radiator.heat_share.spec.says}; the typical one is for petrol"})
    return ev(radiator.heat_share)[:, None]


def _full_throttle(ev: Evaluation, speeds: Array) -> Array:
    """Heat at full throttle in the gear with the most power, W, (draws, speeds); nan where no gear turns within the curve."""
    engine = ev.part(Engine)
    curve, limit = ev.curve(engine.torque_curve), ev(engine.max_speed)[:, None, None]
    radius, final = (ev.of(one)[:, None, None] for one in (line.rolling_radius, line.final_ratio))
    turning = np.asarray(engine_speed(speeds[None, :, None], radius, ev.of(line.ratios)[:, None, :], final))
    torque = np.asarray(torque_at(turning, curve.x, curve.y)) * curve.scale[:, None, None]
    power = np.where(np.isfinite(torque) & (turning <= limit), torque * turning, -np.inf).max(axis=-1)
    return np.asarray(heat.heat_to_coolant(np.where(np.isfinite(power), power, np.nan), _share(ev)))


def _cruising(ev: Evaluation, speeds: Array) -> Array:
    """Heat at a steady speed on the level, W, (draws, speeds)."""
    car = ev.part(Car)
    mass, rolling, area, air = (
        one[:, None] for one in ev.each(car.mass, car.rolling_coefficient, car.drag_area, car.air_density)
    )
    power = np.asarray(road_load(speeds[None, :], mass, rolling, area, air)) * speeds / ev.of(line.efficiency)[:, None]
    return np.asarray(heat.heat_to_coolant(power, _share(ev)))


def _takes(ev: Evaluation, speeds: Array) -> Array:
    """Heat that the radiator takes with its top hose at the limit, W, (draws, speeds); nan far from its rated air speed."""
    _look_over(ev.part(Radiator), ev)
    hottest, air_in = ev.of(_hottest), ev.of(_air_in)
    return np.asarray(heat.duty(_per_kelvin(ev, speeds), hottest[:, None], air_in[:, None]))


def _look_over(radiator: Radiator, ev: Evaluation) -> None:
    """Reads what is needed. Raises MissingFact naming all that is not there."""
    rating = (radiator.rated_heat, radiator.rated_difference, radiator.rated_coolant_flow)
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
        radiator.air_share,
        radiator.coolant_flow,
        radiator.rated_air_speed,
        radiator.air_exponent,
    )
    wind = share[:, None] * speeds
    if radiator.fan_flow.written is not None:
        wind = np.maximum(wind, (ev(radiator.fan_flow) / area)[:, None])
    density = np.asarray(heat.air_density(ev.of(_pressure), ev.of(_air_in)))[:, None]
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
        radiator.rated_difference,
        radiator.rated_air_speed,
        radiator.rated_coolant_flow,
        radiator.face_area,
    )
    air = heat.capacity_rate(AIR_DENSITY, speed * area, heat.AIR_HEAT_CAPACITY)
    found = np.asarray(heat.conductance_of_rating(taken, difference, air, _coolant_rate(ev, flow)))
    if np.isnan(found[0]):
        raise MissingFact({radiator.rated_heat.path: "more than air and coolant at the rating can carry: look again"})
    return found


def _coolant_rate(ev: Evaluation, flow: Array) -> Array:
    mass = coolant.glycol_mass_fraction(ev(ev.part(Radiator).glycol_share))
    return np.asarray(heat.capacity_rate(coolant.coolant_density(mass), flow, coolant.coolant_heat_capacity(mass)))


def _pressure(ev: Evaluation) -> Array:
    return np.asarray(coolant.air_pressure(ev(ev.part(Radiator).altitude)))


def _air_in(ev: Evaluation) -> Array:
    radiator = ev.part(Radiator)
    return ev(radiator.ambient) + ev(radiator.preheat)


def _hottest(ev: Evaluation) -> Array:
    """Hottest that the top hose may get, K: the boiling point, less its error, less the margin."""
    radiator = ev.part(Radiator)
    glycol, cap, margin = ev.each(radiator.glycol_share, radiator.cap_pressure, radiator.boiling_margin)
    return np.asarray(coolant.boiling_point(glycol, ev.of(_pressure), cap)) - coolant.READS_HIGH - margin
