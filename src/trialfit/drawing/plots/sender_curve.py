"""Resistance of a sender and what its gauge expects, over the temperature, pressure or level.

Answers   sender_curve    of one gauge
Not here  the error of the needle (subjects/senders)
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.drawing.pen import Stroke
from trialfit.drawing.plot import Axis, Limit, Plot, Series, Spot
from trialfit.drawing.plots.from_draws import band, numbers, points, report_of, value_words, verdict_words
from trialfit.evaluation.evaluation import MissingFact
from trialfit.evaluation.finding import Finding
from trialfit.facts.quantity import RESISTANCE
from trialfit.facts.showing import show
from trialfit.facts.units import display_unit
from trialfit.handbook.senders.sender_curves import resistance_at
from trialfit.subjects.senders import needle
from trialfit.subjects.senders.media import medium_of, sender_of

if TYPE_CHECKING:
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.parts import Gauge
    from trialfit.subjects.senders.media import Medium


_POINTS = 49


def sender_curve(ev: Evaluation, gauge: Gauge) -> Plot:
    """Resistance of the sender as its gauge sees it, and as the gauge expects it. Raises MissingFact."""
    medium = medium_of(gauge)
    ohms, across = display_unit(RESISTANCE), display_unit(medium.quantity)
    sender = sender_of(ev, gauge)
    curve = ev.curve(medium.curve(sender))
    at = points(curve.x[0], curve.x[-1], _POINTS)
    seen = (
        needle.seen(ev, gauge, at[None, :], needle.fitted(ev, gauge))
        if _has_scale(medium, gauge)
        else needle.sender_ohms(ev, gauge, at[None, :])
    )
    nominal, low, high = band(seen, ohms)
    says = f"{sender.name}, with its earth path" + (" and the resistors fitted" if _has_resistors(gauge) else "")
    series = [
        Series(says=says, short="sender", x=numbers(at, across), y=nominal, low=low, high=high, stroke=Stroke.thin)
    ]
    missing: dict[str, str] = {}
    try:
        series.append(_expected(ev, gauge, medium))
    except MissingFact as lacking:
        missing |= lacking.wanted
    limits, spots = [], []
    limit = medium.limit(gauge)
    if limit.known is not None:
        (place,) = numbers(np.array([limit.known.si]), across)
        side = "at most" if medium.danger_above else "at least"
        limits.append(
            Limit(says=f"the driver must act, {show(limit.known.si, across)}", value=place, along="x", side=side)
        )
        spots += _shown(ev, gauge, medium, place)
    return Plot(
        build=ev.build.name,
        name=f"sender.{gauge.name}",
        title=f"{sender.name} on {gauge.name}".replace("_", " "),
        x=Axis(says=medium.word, unit=across.canonical),
        y=Axis(says="resistance", unit=ohms.canonical, low=0.0),
        series=tuple(series),
        limits=tuple(limits),
        spots=tuple(spots),
        notes=("where the two lines differ, the needle is wrong; tinted: 95 % of the draws",),
        missing=missing,
        draws=ev.draws,
    )


def _has_scale(medium: Medium, gauge: Gauge) -> bool:
    return medium.curve(gauge).written is not None


def _has_resistors(gauge: Gauge) -> bool:
    return gauge.series_resistor.written is not None or gauge.parallel_resistor.written is not None


def _expected(ev: Evaluation, gauge: Gauge, medium: Medium) -> Series:
    scale = ev.curve(medium.curve(gauge))
    at = points(scale.x[0], scale.x[-1], _POINTS)
    wanted = np.asarray(resistance_at(at, scale.x, scale.y, by_temperature=medium.is_temperature))
    nominal, _, _ = band(wanted[None, :], display_unit(RESISTANCE))
    says = f"expected by {gauge.name}"
    return Series(
        says=says, short="gauge", x=numbers(at, display_unit(medium.quantity)), y=nominal, stroke=Stroke.thick_dashed
    )


def _shown(ev: Evaluation, gauge: Gauge, medium: Medium, place: float) -> list[Spot]:
    """What the needle shows at the value at which the driver must act."""
    report = report_of(ev, "senders")
    found, judged = (report.result(f"senders.{gauge.name}.{what}") for what in ("shown_at_limit", "reading_at_limit"))
    limit = medium.limit(gauge)
    if found is None or found.value is None or limit.known is None or not _has_scale(medium, gauge):
        return []
    seen = needle.seen(ev, gauge, np.array([[limit.known.si]]), needle.fitted(ev, gauge))
    (height,), _, _ = band(seen[:1], display_unit(RESISTANCE))
    if height is None:
        return []
    verdict = judged.verdict if isinstance(judged, Finding) else None
    says = f"{verdict_words(judged) if judged else ''}the gauge shows {value_words(found.value)}"
    return [Spot(says=says, x=place, y=height, verdict=verdict, finding=judged.id if judged else found.id)]
