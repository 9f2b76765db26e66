"""Pull at the wheels by gear, with the grip of the tyres and the road load; and engine speed over road speed.

Answers   pull     tractive effort of each gear over road speed
          gears    engine speed of each gear over road speed
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.drawing.pen import Stroke
from trialfit.drawing.plot import Axis, Limit, Plot, Series, Spot
from trialfit.drawing.plots.from_draws import band, numbers, points, report_of, value_words, verdict_words
from trialfit.evaluation.evaluation import MissingFact
from trialfit.facts.quantity import FORCE, ROTATIONAL_SPEED, SPEED
from trialfit.facts.showing import show
from trialfit.facts.units import display_unit, find_unit
from trialfit.handbook.gearing.ratios import engine_speed, road_speed, tractive_effort
from trialfit.handbook.gearing.road_load import road_load
from trialfit.parts import Car, Engine
from trialfit.subjects import full_load, line

if TYPE_CHECKING:
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.evaluation.finding import Report
    from trialfit.handbook.arrays import Array


_POINTS = 49
_JUST_INSIDE = 1e-9
_SPREAD = "tinted: 95 % of the draws; a band ends where the first draw leaves the torque curve"


def pull(ev: Evaluation) -> Plot:
    """Tractive effort by gear. Raises MissingFact if it cannot be worked out for any gear."""
    force, speed = display_unit(FORCE), display_unit(SPEED)
    gears = ev.of(line.drive_ratios).shape[1]
    places = [_speeds(ev, gear) for gear in range(gears)]
    series = []
    for gear, at in enumerate(places):
        nominal, low, high = band(_efforts(ev, gear, at), force)
        says = f"gear {gear + 1}, full throttle"
        series.append(
            Series(
                says=says, short=str(gear + 1), x=numbers(at, speed), y=nominal, low=low, high=high, stroke=Stroke.thick
            )
        )
    missing: dict[str, str] = {}
    limits, spots = [], []
    report = report_of(ev, "gearing")
    grip = report.figure("gearing.grip")
    missing |= grip.missing
    if grip.value is not None:
        one = grip.value
        says = f"grip of the driven tyres, {value_words(one)}"
        limits.append(Limit(says=says, value=one.nominal, low=one.low, high=one.high, side="at most", finding=grip.id))
    try:
        whole = points(0.0, max(float(at[-1]) for at in places), _POINTS)
        nominal, low, high = band(_road_load(ev, whole), force)
        says = "road load on the level"
        series.append(
            Series(
                says=says,
                short="road load",
                x=numbers(whole, speed),
                y=nominal,
                low=low,
                high=high,
                stroke=Stroke.hidden,
            )
        )
        spots += _top_speed(ev, report)
    except MissingFact as lacking:
        missing |= lacking.wanted
    return Plot(
        build=ev.build.name,
        name="pull",
        title="Pull at the wheels by gear",
        x=Axis(says="road speed", unit=speed.canonical, low=0.0),
        y=Axis(says="force at the road", unit=force.canonical, low=0.0),
        series=tuple(series),
        limits=tuple(limits),
        spots=tuple(spots),
        notes=(_SPREAD,),
        missing=missing,
        draws=ev.draws,
    )


def _top_speed(ev: Evaluation, report: Report) -> list[Spot]:
    found = report.result("gearing.top_speed")
    if found is None or found.value is None:
        return []
    one = found.value
    at = _road_load(ev, np.array([float(ev.of(line.top_speed)[0])]))[0, 0]
    says = f"top speed {verdict_words(found)}{value_words(one)}"
    (height,) = numbers(np.array([at]), display_unit(FORCE))
    return [Spot(says=says, x=one.nominal, y=height, low=one.low, high=one.high, finding=found.id)]


def gears(ev: Evaluation) -> Plot:
    """Engine speed over road speed, by gear. Raises MissingFact."""
    rpm, speed = find_unit(ROTATIONAL_SPEED, "rpm"), display_unit(SPEED)
    engine = ev.part(Engine)
    ratios, radius, final = ev.of(line.drive_ratios), ev.of(line.rolling_radius), ev.of(line.final_ratio)
    limit = float(ev(engine.max_speed)[0])
    series = []
    for gear in range(ratios.shape[1]):
        end = float(np.asarray(road_speed(limit, radius[0], ratios[0, gear], final[0])))
        at = points(0.0, end, 2)
        turning = engine_speed(at, radius[:, None], ratios[:, gear, None], final[:, None])
        nominal, low, high = band(np.asarray(turning), rpm)
        says = f"gear {gear + 1}"
        series.append(
            Series(
                says=says, short=str(gear + 1), x=numbers(at, speed), y=nominal, low=low, high=high, stroke=Stroke.thick
            )
        )
    (highest,) = numbers(np.array([limit]), rpm)
    says = f"highest engine speed, {show(limit, rpm)}"
    report = report_of(ev, "gearing")
    lacking = {
        path: words
        for finding in report.findings
        if finding.id.startswith("gearing.cruise.")
        for path, words in finding.missing.items()
    }
    return Plot(
        build=ev.build.name,
        name="gears",
        title="Engine speed over road speed, by gear",
        x=Axis(says="road speed", unit=speed.canonical, low=0.0),
        y=Axis(says="engine speed", unit=rpm.canonical, low=0.0),
        series=tuple(series),
        limits=(Limit(says=says, value=highest, side="at most"), *_pleasant(ev)),
        spots=tuple(_cruises(ev, report)),
        notes=("no slip; tinted: 95 % of the draws",),
        missing=lacking,
        draws=ev.draws,
    )


def _pleasant(ev: Evaluation) -> list[Limit]:
    """The lowest and the highest engine speed at cruise that the builder has set."""
    engine, rpm = ev.part(Engine), find_unit(ROTATIONAL_SPEED, "rpm")
    found = []
    for ref, says, side in (
        (engine.cruise_low, "lowest at cruise, pulls cleanly", "at least"),
        (engine.cruise_high, "highest comfortable at cruise", "at most"),
    ):
        if ref.known is not None:
            nominal, low, high = band(ev(ref)[:, None], rpm)
            words = f"{says}, {ref.known.plain}"
            (value,), edges = nominal, (low[0] if low else None, high[0] if high else None)
            found.append(Limit(says=words, value=value or 0.0, low=edges[0], high=edges[1], side=side))
    return found


def _cruises(ev: Evaluation, report: Report) -> list[Spot]:
    car, speed = ev.build.first(Car), display_unit(SPEED)
    spots = []
    for number, ref in enumerate(car.cruise_speeds if car else (), 1):
        found = report.result(f"gearing.cruise.{number}")
        if ref.written is None or found is None or found.value is None:
            continue
        one = found.value
        (at,) = numbers(np.array([ref.written.si]), speed)
        says = f"{show(ref.written.si, speed)}: {verdict_words(found)}{value_words(one)}"
        verdict = getattr(found, "verdict", None)
        spots.append(
            Spot(
                says=says, x=at, y=one.nominal, low=one.low, high=one.high, along="y", verdict=verdict, finding=found.id
            )
        )
    return spots


def _speeds(ev: Evaluation, gear: int) -> Array:
    """Road speeds in one gear at which the engine speed is on its torque curve and below its limit, m/s."""
    engine = ev.part(Engine)
    curve, limit = ev.of(full_load.torque_curve), float(ev(engine.max_speed)[0])
    radius, ratio, final = (
        float(one[0])
        for one in (ev.of(line.rolling_radius), ev.of(line.drive_ratios)[:, gear], ev.of(line.final_ratio))
    )
    low, high = curve.x[0], min(limit, curve.x[-1])
    first, last = (float(np.asarray(road_speed(turns, radius, ratio, final))) for turns in (low, high))
    return points(first * (1 + _JUST_INSIDE), last * (1 - _JUST_INSIDE), _POINTS)


def _efforts(ev: Evaluation, gear: int, speeds: Array) -> Array:
    """Pull at each speed, N, (draws, speeds); nan beyond the torque curve."""
    ratio, final = ev.of(line.drive_ratios)[:, gear, None], ev.of(line.final_ratio)[:, None]
    radius = ev.of(line.rolling_radius)[:, None]
    turning = np.asarray(engine_speed(speeds[None, :], radius, ratio, final))
    torque = line.torque_at(ev, turning)
    return np.asarray(tractive_effort(torque, ratio, final, ev.of(line.efficiency)[:, None], radius))


def _road_load(ev: Evaluation, speeds: Array) -> Array:
    car = ev.part(Car)
    mass, rolling, drag_area, air = ev.each(car.mass, car.rolling_coefficient, car.drag_area, car.air_density)
    return np.asarray(road_load(speeds[None, :], mass[:, None], rolling[:, None], drag_area[:, None], air[:, None]))
