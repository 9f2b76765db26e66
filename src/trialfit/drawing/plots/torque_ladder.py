"""The torque path as a ladder: the load of each element as a share of its capacity.

Answers   torque_ladder
Not here  torques and capacities (subjects/torque_path)
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.drawing.pen import Fill
from trialfit.drawing.plot import Axis, Bar, Limit, Plot
from trialfit.drawing.plots.from_draws import band, value_words
from trialfit.evaluation.evaluation import MissingFact
from trialfit.evaluation.finding import Finding, side_words
from trialfit.evaluation.verdict import Verdict
from trialfit.evaluation.working import work_out
from trialfit.facts.quantity import SHARE
from trialfit.facts.units import display_unit
from trialfit.subjects import torque_path

if TYPE_CHECKING:
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.evaluation.finding import Figure
    from trialfit.subjects.torque_path.element import Element

_FILLS = {Verdict.holds: Fill.light, Verdict.unsettled: Fill.grey, Verdict.fails: Fill.grey, Verdict.unknown: Fill.none}


def torque_ladder(ev: Evaluation) -> Plot:
    """Load over capacity, from the clutch to the studs. Raises MissingFact if no element can be worked out."""
    elements = torque_path.elements(ev.build)
    report = work_out(ev, [element.requirement for element in elements])
    bars, rows = [], []
    missing: dict[str, str] = {}
    for element in elements:
        found = report.result(element.requirement.id)
        missing |= found.missing if found else {}
        rows.append(element.title.removeprefix("the ").replace("_", " "))
        bar = _bar(ev, element, found, len(rows) - 1)
        if bar is not None:
            bars.append(bar)
    if not bars:
        raise MissingFact(missing or {"gearbox": "no part of the driveline is in the build"})
    unit = display_unit(SHARE)
    (whole,), _, _ = band(np.ones((1, 1)), unit)
    return Plot(
        build=ev.build.name,
        name="torque_path",
        title="Torque path: load as a share of capacity",
        x=Axis(says="load over capacity, where it is largest", unit=unit.canonical, low=0.0),
        y=Axis(says="element", rows=tuple(rows)),
        bars=tuple(bars),
        limits=(Limit(says="capacity of the element", value=whole or 1.0, along="x", side="at most"),),
        notes=(
            "the line at a bar's end: 95 % of the draws; grey: unsettled; hatched: fails",
            "each torque is the one at its own element: torque at a wheel is not torque at the gearbox",
        ),
        missing=missing,
        draws=ev.draws,
    )


def _bar(ev: Evaluation, element: Element, found: Finding | Figure | None, row: int) -> Bar | None:
    if not isinstance(found, Finding) or found.value is None or found.limit is None or element.lacks:
        return None
    reserve = element.reserve(ev)
    (nominal,), low, high = band((1 / reserve)[:, None], display_unit(SHARE))
    if nominal is None:
        return None
    return Bar(
        row=row,
        start=0.0,
        end=nominal,
        low=low[0] if low else None,
        high=high[0] if high else None,
        says=f"{found.verdict}: {value_words(found.value)}, {side_words(found.side)} {value_words(found.limit)}",
        fill=_FILLS[found.verdict],
        hatched=found.verdict is Verdict.fails,
        finding=found.id,
    )
