"""The sheet for setting the driveline with an angle gauge: three readings at each stage, targets, what to adjust, the shim.

Answers   driveline_setting_sheet   of a build; without a driveline, the rules and a form to fill in by hand
Not here  the angles (subjects/driveline/setting.py); the figure (drawing/angle_gauge.py)
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.drawing.angle_gauge import LETTERS, setting_figure
from trialfit.evaluation.finding import Finding
from trialfit.evaluation.verdict import Verdict
from trialfit.parts import AngleReadings, PropShaft
from trialfit.sheets.amounts import amount, fact_text, limit_text
from trialfit.sheets.cautions import LOOK_FIRST, MANUAL_FIRST
from trialfit.sheets.sheet import (
    Blank,
    Caution,
    Cell,
    Column,
    Drawing,
    Fields,
    Heading,
    Line,
    Missing,
    Sheet,
    Table,
    TickList,
)
from trialfit.subjects.driveline.setting import CARE, STAGES

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.evaluation.finding import Figure
    from trialfit.sheets.known import Known
    from trialfit.sheets.sheet import Block

_NAME, _TITLE = "driveline-setting", "Driveline setting"
_READINGS = ("gearbox", "front_shaft", "shaft", "final_drive", "floor_slope", "base_length")
_RULES = (
    "Lay the gauge on machined faces or the tube, always on the same side and the same way round.",
    "Read the tube twice, turned half a turn in between, and take the mean.",
    "Front joint: A minus B. Rear joint: B minus C. With two tubes: A minus F, F minus B, B minus C.",
    "Angles of equal size and opposite sign cancel if the yokes are in phase. Then leave everything as it is.",
    "After each change read all of them again: adjusting one moves the others.",
    "Take one set at trial fit, one after tacking, one after the last weld has cooled.",
)
_SHARED = ("setting", "drift", "working_angle", "residual")


def driveline_setting_sheet(known: Known) -> Sheet:
    """The rules and the figure once, then for each stage a set of readings and its results."""
    blocks: list[Block] = [Caution(texts=(CARE, LOOK_FIRST, MANUAL_FIRST))]
    two = len(known.build.all(PropShaft)) > 1
    blocks.append(
        Drawing(
            svg=setting_figure(two_tubes=two).svg(),
            alt="gearbox, tube and final drive from the side, with the places of the angle gauge A, B and C",
            caption="Diagram, not to scale.",
            width=0.9,
        )
    )
    blocks.append(TickList(lines=_RULES))
    sets = {readings.stage: readings for readings in known.build.all(AngleReadings)}
    for stage in STAGES:
        blocks += _stage(known, stage, sets.get(stage))
    blocks += _targets(known)
    blocks += _missing(known)
    blocks.append(Fields(lines=tuple(Line(label=label) for label in ("read by, on", "gauge, and when it was zeroed"))))
    return Sheet(name=_NAME, title=_TITLE, build=known.build.name, blocks=tuple(blocks))


def _stage(known: Known, stage: str, readings: AngleReadings | None) -> Iterator[Block]:
    yield Heading(text=f"Readings: {stage}")
    rows = tuple(_reading(known, name, readings) for name in _READINGS if name != "front_shaft" or _has_two(known))
    columns = (
        Column(title=""),
        Column(title="reading", share=4),
        Column(title="as written", share=2),
        Column(title="read", share=1.6),
        Column(title="after half a turn", share=1.6),
    )
    yield Table(columns=columns, rows=rows)
    results = list(
        _results(known, f"driveline.setting.{stage.replace(' ', '_')}.", f"driveline.drift.{stage.replace(' ', '_')}")
    )
    if results:
        yield _results_table(results)


def _has_two(known: Known) -> bool:
    return len(known.build.all(PropShaft)) > 1


def _reading(known: Known, name: str, readings: AngleReadings | None) -> tuple[Cell, ...]:
    written = getattr(readings, name).written if readings else None
    unit = "mm" if name == "base_length" else "°"
    turned: Cell = Blank(unit=unit) if name in ("shaft", "front_shaft") else ""
    text = fact_text(written, known.units) if written else ""
    return (LETTERS.get(name, ""), AngleReadings.specs()[name].says, text, Blank(unit=unit), turned)


def _results(known: Known, *beginnings: str) -> Iterator[tuple[Cell, ...]]:
    every: tuple[Finding | Figure, ...] = (*known.report.findings, *known.report.figures)
    for one in every:
        if not one.id.startswith(beginnings):
            continue
        limit = f"{limit_text(one, known.units)} ({one.source})" if isinstance(one, Finding) and one.limit else ""
        verdict = str(one.verdict) if isinstance(one, Finding) else ""
        yield (f"{one.id}: {one.says}", amount(one.value, known.units), limit, verdict)


def _results_table(rows: list[tuple[Cell, ...]]) -> Table:
    columns = (
        Column(title="what the readings show", share=4),
        Column(title="value", share=2.1),
        Column(title="target", share=2.4),
        Column(title="verdict"),
    )
    return Table(columns=columns, rows=tuple(rows))


def _targets(known: Known) -> Iterator[Block]:
    """Limits of the joints, independent of the readings."""
    rows = list(_results(known, "driveline.working_angle.", "driveline.residual", "driveline.equal"))
    if rows:
        yield Heading(text="Limits of the joints")
        yield _results_table(rows)


def _missing(known: Known) -> Iterator[Block]:
    facts: dict[str, str] = {}
    for finding in known.report.findings:
        if finding.verdict is Verdict.unknown and finding.id.startswith(tuple(f"driveline.{one}" for one in _SHARED)):
            facts.update(finding.missing)
    if facts:
        yield Missing(facts=facts)
