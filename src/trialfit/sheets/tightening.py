"""The sheet for tightening: one joint after the other, with its pattern, its stages, and a box for each bolt and stage.

Answers   tightening_sheet   of every bolted joint of a build
Not here  the figures themselves (advice/how_to_tighten.py), the picture of the pattern (drawing/bolt_pattern.py)
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.advice.how_to_tighten import tightening
from trialfit.book.problems import BadInput
from trialfit.drawing.bolt_pattern import bolt_pattern
from trialfit.facts.quantity import TORQUE
from trialfit.facts.showing import interval_text, show
from trialfit.facts.units import display_unit, find_unit
from trialfit.parts import BoltedJoint
from trialfit.sheets.amounts import NOT_KNOWN, UnitSystem, amount
from trialfit.sheets.cautions import LOOK_FIRST, MANUAL_FIRST
from trialfit.sheets.sheet import (
    Beside,
    Blank,
    Caution,
    Cell,
    Column,
    Drawing,
    Fields,
    Heading,
    Line,
    Missing,
    Paragraph,
    Sheet,
    Table,
    Tick,
)
from trialfit.subjects.fastening.joints import CAUTION

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from trialfit.advice.how_to_tighten import StageLine, TighteningSheet
    from trialfit.sheets.known import Known
    from trialfit.sheets.sheet import Block

_NAME, _TITLE = "tightening", "Tightening"
_METRES, _FEET = display_unit(TORQUE), find_unit(TORQUE, "lbf·ft")
_ACROSS = 8  # boxes for stages that fit beside one another
_EMPTY_ROWS = 8
_SMALL = 24  # bolts that are legible beside the fields
_BESIDE, _WIDE = (76.0, 66.0), (175.0, 110.0)  # mm
_NO_JOINT = (
    "No bolted joint is in the build yet. Fill in by hand, from the maker's manual, then write it into the build."
)


def tightening_sheet(known: Known) -> Sheet:
    """The sheet of every bolted joint, each on a page of its own; an empty one without joints."""
    blocks: list[Block] = []
    for number, joint in enumerate(known.build.all(BoltedJoint)):
        try:
            sheet = tightening(known.build, joint.name, known.draws, known.report)
        except BadInput as wrong:  # one impossible joint must not keep the others from being printed
            blocks += _refused(joint, wrong, new_page=number > 0)
        else:
            blocks += _joint(known, joint, sheet, new_page=number > 0)
    return Sheet(name=_NAME, title=_TITLE, build=known.build.name, blocks=tuple(blocks or _by_hand()))


def _refused(joint: BoltedJoint, wrong: BadInput, *, new_page: bool) -> Iterator[Block]:
    yield Heading(text=joint.name, new_page=new_page)
    yield Caution(texts=(f"{CAUTION}.", LOOK_FIRST))
    yield from (Paragraph(text=sentence, strong=True) for sentence in wrong.sentences())


def _joint(known: Known, joint: BoltedJoint, sheet: TighteningSheet, *, new_page: bool) -> Iterator[Block]:
    yield Heading(text=sheet.joint, new_page=new_page)
    if sheet.note:
        yield Paragraph(text=sheet.note)
    yield Caution(texts=(f"{sheet.caution}.", LOOK_FIRST))
    if sheet.warnings:
        yield Table(
            columns=(Column(title="does not hold"), Column(title="finding", share=2), Column(title="remark", share=3)),
            rows=tuple((str(one.verdict), f"{one.finding}: {one.says}", one.remark) for one in sheet.warnings),
        )
    yield from _pattern_and_fields(sheet, tuple(_short(joint, sheet)))
    yield from (Fields(lines=lines) for lines in [tuple(_long(known, sheet))] if lines)
    if sheet.missing:
        yield Missing(facts=sheet.missing)
    yield from _stages(sheet)
    yield from _boxes(sheet)
    yield Fields(lines=(Line(label="tightened by"), Line(label="date, wrench and its last calibration")))


def _pattern_and_fields(sheet: TighteningSheet, lines: tuple[Line, ...]) -> Iterator[Block]:
    if not sheet.places:
        yield Fields(lines=lines)
        return
    is_small = len(sheet.places) <= _SMALL
    drawing = Drawing(
        svg=bolt_pattern(sheet.places, *(_BESIDE if is_small else _WIDE), title=sheet.joint).svg(),
        alt=f"the bolts of {sheet.joint} as they sit on the flange, each with its turn",
        caption="On this sheet a bolt has the number of its turn: 1 is tightened first.",
        width=0.45 if is_small else 1.0,
    )
    if is_small:
        yield Beside(drawing=drawing, lines=lines)
    else:
        yield from (drawing, Fields(lines=lines))


def _short(joint: BoltedJoint, sheet: TighteningSheet) -> Iterator[Line]:
    """The lines beside the picture of the pattern."""
    yield Line(label="bolt", value=sheet.bolt)
    yield Line(label="threads", value=joint.thread_state or "")
    yield Line(label="lubricant")
    yield Line(label="order", value=_in_turn(sheet, sheet.order) or "none can be made yet")
    yield Line(label="loosen", value=_in_turn(sheet, sheet.loosening) or "by hand, in small steps")
    yield Line(label="torque is", value=sheet.figure)
    if sheet.maker_torque is not None:
        yield Line(label="maker's", value=_both(sheet.maker_torque))


def _in_turn(sheet: TighteningSheet, bolts: Sequence[int]) -> str:
    """Bolts by their numbers in the figure, which are their turns; a second numbering on one sheet would mislead."""
    if not sheet.places:
        return "-".join(map(str, bolts))
    turns = [sheet.order.index(bolt) + 1 for bolt in bolts]
    if turns and turns in (sorted(turns), sorted(turns, reverse=True)):
        return f"{turns[0]} first, {turns[-1]} last" if len(turns) > 1 else str(turns[0])
    return "-".join(map(str, turns))


def _long(known: Known, sheet: TighteningSheet) -> Iterator[Line]:
    if sheet.order_source:
        yield Line(label="order is", value=sheet.order_source)
    if sheet.computed_torque:
        yield Line(label="worked out", value=amount(sheet.computed_torque, UnitSystem.both))
    if sheet.preload:
        yield Line(label="preload of a bolt", value=amount(sheet.preload, known.units))
    if sheet.why:
        yield Line(label="compare", value=sheet.why)


def _stages(sheet: TighteningSheet) -> Iterator[Block]:
    if not sheet.stages:
        return
    titles = ("stage", "at the bolt", "the same", "set on the wrench")
    columns = (*(Column(title=title, right=True) for title in titles), Column(title="how", share=1))
    yield Table(
        columns=columns,
        rows=tuple(_stage(stage) for stage in sheet.stages),
        caption=f"Stages: {sheet.stages_source}. Each goes through the whole order. "
        "The setting includes adapter and running torque.",
    )


def _stage(stage: StageLine) -> tuple[Cell, ...]:
    says = stage.says
    if stage.in_range is False:
        says += "; outside this wrench's range: use another"
    if stage.angle is not None:
        turn = interval_text(stage.angle, stage.angle, stage.angle, "°")
        return str(stage.number), turn, "", "angle gauge", says
    if stage.torque is None:
        return str(stage.number), "by hand", "", "", says
    return str(stage.number), show(stage.torque, _METRES), show(stage.torque, _FEET), _setting(stage), says


def _setting(stage: StageLine) -> str:
    if stage.setting is None:
        return NOT_KNOWN
    return interval_text(stage.setting, stage.setting, stage.setting, stage.setting_unit)


def _boxes(sheet: TighteningSheet) -> Iterator[Block]:
    """A row for each bolt in the order, with a box for each stage; stages that do not fit go into a further table."""
    if not sheet.order or not sheet.stages:
        return
    for first in range(0, len(sheet.stages), _ACROSS):
        stages = sheet.stages[first : first + _ACROSS]
        columns = [Column(title="bolt", right=True)]
        columns += [Column(title=f"stage {stage.number}") for stage in stages]
        numbers = range(1, len(sheet.order) + 1) if sheet.places else sheet.order
        rows = [_row(number, len(stages)) for number in numbers]
        yield Table(columns=(*columns, Column(title="remark", share=1)), rows=tuple(rows))


def _row(number: int, boxes: int) -> tuple[Cell, ...]:
    return (str(number), *(Tick() for _ in range(boxes)), "")


def _both(torque: float) -> str:
    return f"{show(torque, _METRES)} ({show(torque, _FEET)})"


def _by_hand() -> Iterator[Block]:
    yield Caution(texts=(LOOK_FIRST, MANUAL_FIRST))
    yield Paragraph(text=_NO_JOINT, strong=True)
    labels = (
        "joint",
        "thread and class",
        "thread condition, lubricant",
        "order, by bolt numbers",
        "maker's torque",
        "by",
    )
    yield Fields(lines=tuple(Line(label=label) for label in labels))
    columns = (Column(title="stage"), Column(title="torque or angle", share=1), Column(title="done, by bolt", share=2))
    yield Table(columns=columns, rows=tuple((str(row), Blank(), Blank()) for row in range(1, _EMPTY_ROWS + 1)))
