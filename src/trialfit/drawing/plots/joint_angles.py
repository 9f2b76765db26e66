"""Joint angles over the travel of the suspension: the joints of the prop shaft on a live axle, else those of the half-shafts.

Answers   joint_angles
Not here  the limits of the angles (subjects/driveline)
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.drawing.pen import Stroke
from trialfit.drawing.plot import Axis, Limit, Plot, Series, Spot
from trialfit.drawing.plots.from_draws import band, numbers, points, report_of, value_words, verdict_words
from trialfit.evaluation.evaluation import MissingFact
from trialfit.evaluation.finding import Finding, side_words
from trialfit.facts.quantity import ANGLE, LENGTH
from trialfit.facts.units import display_unit
from trialfit.parts import Car, HalfShaft
from trialfit.subjects.driveline import directions, half_shaft_paths
from trialfit.subjects.shaft_line import is_live, joint_places, the_line

if TYPE_CHECKING:
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.evaluation.finding import Report
    from trialfit.handbook.arrays import Array


_POINTS = 25
_STROKES = (Stroke.thick, Stroke.hidden, Stroke.centre)
_WINDING = (Stroke.thin, Stroke.dotted, Stroke.before)


def joint_angles(ev: Evaluation) -> Plot:
    """Angle of each joint that the suspension moves. Raises MissingFact."""
    car = ev.build.first(Car)
    if is_live(ev.build) and not (car is not None and car.driven_axle == "front"):
        return _live_axle(ev)
    return _half_shafts(ev)


def _live_axle(ev: Evaluation) -> Plot:
    final_drive = ev.of(the_line).final_drive
    bump, droop, wind_up = ev.each(final_drive.bump_travel, final_drive.droop_travel, final_drive.wind_up)
    at = points(-float(droop[0]), float(bump[0]), _POINTS)
    rises = np.broadcast_to(at[:, None], (_POINTS, ev.draws))
    report = report_of(ev, "driveline")
    places = joint_places(ev.build)
    series, spots, limits = [], [], []
    for number, place in enumerate(places):
        for wound, strokes, words in ((False, _STROKES, ""), (True, _WINDING, ", axle wound up")):
            turned = np.broadcast_to(wind_up if wound else np.zeros(ev.draws), rises.shape)
            angles = directions.angle_over(ev, place, rises, turned).T
            says = f"{place} joint{words}".replace("_", " ")
            stroke = strokes[number % len(strokes)]
            if wound:  # without its band: six tints over each other cannot be told apart
                series.append(_series(says, at, angles, stroke).model_copy(update={"low": (), "high": ()}))
            else:
                series.append(_series(says, at, angles, stroke, short=place.replace("_", " ")))
        spots += _spot(report, f"driveline.working_angle.{place}", place)
        limits += _limit(report, f"driveline.largest_angle.{place}", f"{place} joint")
    plot = _plot(ev, "Joint angles over the travel of the axle", "rise of the axle", series, spots, limits)
    return plot.model_copy(
        update={"notes": (*plot.notes, "axle wound up: by full drive in the lowest gear, drawn without its spread")}
    )


def _half_shafts(ev: Evaluation) -> Plot:
    report = report_of(ev, "driveline")
    series, limits = [], []
    lacking: dict[str, str] = {}
    for number, side in enumerate(("left", "right")):
        try:
            one = _of_side(ev, side)
            bump, droop = ev.each(one.bump_travel, one.droop_travel)
            at = points(-float(droop[0]), float(bump[0]), _POINTS)
            rises = np.broadcast_to(at[:, None], (_POINTS, ev.draws))
            angles = half_shaft_paths.angle_over(ev, side, rises).T
        except MissingFact as missing:
            lacking |= missing.wanted
            continue
        series.append(_series(f"{side} half-shaft", at, angles, _STROKES[number], short=side))
        for end in ("inner", "outer"):
            limits += _limit(report, f"driveline.half_shaft_angle.{side}.{end}", f"{side} {end} joint")
    if not series:
        raise MissingFact(lacking)
    plot = _plot(
        ev, "Joint angles of the half-shafts over the travel of the wheels", "rise of the wheel", series, [], limits
    )
    return plot.model_copy(update={"missing": lacking})


def _of_side(ev: Evaluation, side: str) -> HalfShaft:
    for one in ev.build.all(HalfShaft):
        if one.side == side:
            return one
    raise MissingFact({"half_shaft": f'missing for the {side} side: kind = "half_shaft", side = "{side}"'})


def _series(says: str, at: Array, angles: Array, stroke: Stroke, short: str = "") -> Series:
    nominal, low, high = band(angles, display_unit(ANGLE))
    x = numbers(at, display_unit(LENGTH))
    return Series(says=says, short=short, x=x, y=nominal, low=low, high=high, stroke=stroke)


def _spot(report: Report, identifier: str, place: str) -> list[Spot]:
    found = report.result(identifier)
    if not isinstance(found, Finding) or found.value is None:
        return []
    one = found.value
    state = f", {found.state}" if found.state else ""  # a live axle is judged as its torque winds it up
    says = f"{place} at ride height{state}: {verdict_words(found)}{value_words(one)}".replace("_", " ")
    return [
        Spot(
            says=says,
            x=0.0,
            y=one.nominal,
            low=one.low,
            high=one.high,
            along="y",
            verdict=found.verdict,
            finding=found.id,
        )
    ]


def _limit(report: Report, identifier: str, what: str) -> list[Limit]:
    """The limit of a finding, with its verdict; none if the maker's limit is missing."""
    found = report.result(identifier)
    if not isinstance(found, Finding) or found.limit is None:
        return []
    one = found.limit
    says = f"{what}: {side_words(found.side)} {value_words(one)}, {found.verdict}, largest {value_words(found.value)}".replace(
        "_", " "
    )
    low, high = (one.low, one.high) if one.high > one.low else (None, None)
    return [Limit(says=says, value=one.nominal, low=low, high=high, side=found.side, finding=found.id)]


def _plot(ev: Evaluation, title: str, along: str, series: list[Series], spots: list[Spot], limits: list[Limit]) -> Plot:
    return Plot(
        build=ev.build.name,
        name="joint_angles",
        title=title,
        x=Axis(says=f"{along} above ride height", unit=display_unit(LENGTH).canonical),
        y=Axis(says="angle of the joint", unit=display_unit(ANGLE).canonical, low=0.0),
        series=tuple(series),
        spots=tuple(spots),
        limits=tuple(limits),
        notes=("from full droop to full bump; tinted: 95 % of the draws",),
        draws=ev.draws,
    )
