"""Cooling limit: heat that the engine gives to its coolant, and what the radiator can reject, over road speed.

Answers   cooling
Not here  the heat flows (subjects/cooling/radiator.py); findings about cooling

The capacity is that with the top hose as hot as the boiling margin allows, so its line is a limit.
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
from trialfit.handbook.gearing.ratios import road_speed
from trialfit.parts import Engine
from trialfit.subjects import full_load, line
from trialfit.subjects.cooling import radiator

if TYPE_CHECKING:
    from collections.abc import Callable
    from typing import Concatenate

    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array


Args = ParamSpec("Args")
_POINTS = 61
_CAUTION = (
    "a hot cooling system is under pressure and scalds: never open its cap before it is cold, and keep hands off a fan "
    "that can start by itself"
)
_LIGHT = (
    "the share of heat is that of full load: at light load more of the fuel goes into the coolant, so the line of the level road "
    "is too low"
)
_HOW = (
    "steady state, thermostat open, clean fins, no wind; the fan is counted where it moves more air than the speed of the car; tinted and "
    "hatched: 95 % of the draws. Nothing was measured: watch the gauge on the first drives. The maker's figures outrank these"
)


def cooling(ev: Evaluation) -> Plot:
    """Heat to reject, and capacity of the radiator. Raises MissingFact if neither can be worked out."""
    missing: dict[str, str] = {}
    reach = _known(ev, missing, _speeds)
    speeds = points(0.0, 1.0, 2) if reach is None else reach
    takes = _known(ev, missing, radiator.heat_taken, speeds)
    full = _known(ev, missing, radiator.heat_at_full_throttle, speeds)
    cruising = _known(ev, missing, radiator.heat_at_steady_speed, speeds)
    if reach is None or (takes is None and full is None and cruising is None):
        raise MissingFact(missing)
    share = _known(ev, missing, radiator.heat_rejection_ratio)
    hottest, air_in = (None, None) if takes is None else (ev.of(radiator.hottest_hose), ev.of(radiator.air_temperature))
    words = in_words(ev, Heats(speeds, takes, full, cruising, share, hottest, air_in))
    rows = (
        ("radiator capacity, top hose at its limit", "radiator", takes, Stroke.thick, False),
        ("rejected at full throttle, best gear", "full throttle", full, Stroke.thin, True),
        ("rejected on a level road at a steady speed", "level road", cruising, Stroke.hidden, False),
    )
    unit = display_unit(SPEED)
    return Plot(
        build=ev.build.name,
        name="cooling",
        title="Cooling limit: heat rejected over road speed",
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
    """The value; if it cannot be worked out, None, and the missing facts are added to the list."""
    try:
        return work(ev, *args, **kwargs)
    except MissingFact as lacking:
        missing |= lacking.wanted
        return None


def _speeds(ev: Evaluation) -> Array:
    """Road speeds up to the highest that the gears allow, or to top speed if that is known and lower, m/s."""
    engine = ev.part(Engine)
    limit, curve = float(ev(engine.max_speed)[0]), ev.of(full_load.torque_curve)
    radius, final = float(ev.of(line.rolling_radius)[0]), float(ev.of(line.final_ratio)[0])
    tallest = float(ev.of(line.drive_ratios)[0].min())
    end = float(np.asarray(road_speed(min(limit, curve.x[-1]), radius, tallest, final)))
    try:
        top = float(ev.of(line.top_speed)[0])
    except MissingFact:
        top = np.nan
    return points(0.0, min(end, top) if top > 0 else end, _POINTS)
