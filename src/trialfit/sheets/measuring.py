"""The sheet for measuring: where, with which instrument, how well and for which limit, and room for readings.

Answers   measuring_sheet   of what to measure next, and of the readings that gates need
Not here  the choice of what to measure (advice/what_to_measure.py); the figure (drawing/where_to_measure.py)
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.advice.supposing import fact_at
from trialfit.drawing.where_to_measure import where_to_measure
from trialfit.evaluation.finding import Finding
from trialfit.facts.fact import Fact
from trialfit.facts.units import display_unit
from trialfit.planning.templates import usual_readings
from trialfit.planning.work_readings import limits_wanted, readings_of
from trialfit.sheets.amounts import limit_text
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
    Paragraph,
    Sheet,
    Table,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.advice.what_to_measure import Measurement, Settling
    from trialfit.sheets.known import Known
    from trialfit.sheets.sheet import Block

_NAME, _TITLE = "measuring", "Measuring"
_HOW = (
    "Take each reading three times, lifting the tool off in between, and write down what it shows: do not round, do not "
    "leave any out. Check an outlier; do not strike it out."
)
_NOTHING = "Nothing to measure: no finding is unsettled or unknown."
_LIMITS_SHOWN = 3
_READINGS = ("1st", "2nd", "3rd")
_SPARE_ROWS = 6


def measuring_sheet(known: Known) -> Sheet:
    """What to measure next, numbered as `trialfit measure` numbers it."""
    blocks: list[Block] = [Caution(texts=tuple(_cautions(known))), Paragraph(text=_HOW)]
    blocks.append(Fields(lines=(Line(label="measured by, on"), Line(label="tools, and when they were last checked"))))
    measured = [(number, one) for number, one in enumerate(known.measurements, 1) if one.instrument]
    blocks += _figure(known, [number for number, _ in measured])
    blocks.append(_table(known, measured) if measured else Paragraph(text=_NOTHING if not known.measurements else ""))
    blocks += _asked(known)
    blocks += _for_gates(known)
    blocks += _spare()
    shown = tuple(block for block in blocks if not (isinstance(block, Paragraph) and not block.text))
    return Sheet(name=_NAME, title=_TITLE, build=known.build.name, blocks=shown)


def _cautions(known: Known) -> Iterator[str]:
    yield LOOK_FIRST
    yield from dict.fromkeys(one.caution for one in known.measurements if one.caution)
    yield MANUAL_FIRST


def _figure(known: Known, numbers: list[int]) -> Iterator[Block]:
    paths = [one.path if number in numbers else "" for number, one in enumerate(known.measurements, 1)]
    picture, without = where_to_measure(known.build, paths)
    if picture is None:
        return
    unplaced = ", ".join(str(number) for number in without if number in numbers)
    told = f" Place missing: {unplaced}." if unplaced else ""
    yield Drawing(
        svg=picture.svg(),
        alt="the car from the side and from above, with the numbers of the list where each thing sits",
        caption=f"Numbers are those of the list, at the part they belong to.{told}",
    )


def _table(known: Known, measured: list[tuple[int, Measurement]]) -> Table:
    columns = (
        Column(title="", right=True),
        Column(title="what", share=3.2),
        Column(title="with, and how well", share=2.6),
        Column(title="for which limit", share=3.2),
        *(Column(title=reading, share=1.15) for reading in _READINGS),
    )
    return Table(columns=columns, rows=tuple(_row(known, number, one) for number, one in measured))


def _row(known: Known, number: int, one: Measurement) -> tuple[Cell, ...]:
    now = f"; now {one.now}" if one.now else "; not known yet"
    unit = _unit(known, one.path)
    return (
        str(number),
        f"{one.path}: {one.meaning}{now}{f'. Later: {one.later}' if one.later else ''}",
        f"{'ask its maker' if one.is_asked else one.instrument}, {one.spread}",
        "; ".join(_limits(known, one)),
        *(Blank(unit=unit) for _ in _READINGS),
    )


def _limits(known: Known, one: Measurement) -> Iterator[str]:
    for settling in one.findings[:_LIMITS_SHOWN]:
        yield _limit(known, settling)
    rest = one.findings[_LIMITS_SHOWN:]
    if rest:
        yield f"and {len(rest)} more"


def _limit(known: Known, settling: Settling) -> str:
    finding = known.report.result(settling.finding)
    text = settling.finding
    if isinstance(finding, Finding) and finding.limit:
        text += f" {limit_text(finding, known.units)}"
    return f"{text}, to {settling.spread_needed}" if settling.spread_needed else text


def _unit(known: Known, path: str) -> str:
    """The unit in which a fact was written, else its usual unit."""
    at = fact_at(known.build, path)
    if at is None:
        return ""
    return (at.known.unit if isinstance(at.known, Fact) else display_unit(at.quantity)).canonical


def _asked(known: Known) -> Iterator[Block]:
    """Facts that no instrument can measure, and missing parts."""
    others = {one.path: one for one in known.measurements if not one.instrument}
    if others:
        yield Missing(
            facts={path: "; ".join(filter(None, (one.meaning, one.helps))) for path, one in others.items()},
            says="These cannot be measured: look them up, ask, or fill in by hand.",
        )


def _for_gates(known: Known) -> Iterator[Block]:
    """Readings that a gate needs and that are not in the book yet."""
    wanted = usual_readings()
    open_ones = [one for one in readings_of(known.build).values() if not one.is_taken and one.name in wanted]
    if not open_ones:
        return
    rows: list[tuple[Cell, ...]] = []
    for one in open_ones:
        usual = wanted[one.name]
        limits = limits_wanted(known.build, one.name)
        rows.append((one.name, one.about, usual.gate, limits, Blank(unit=usual.unit)))
    yield Heading(text="Readings that a gate needs")
    columns = (
        Column(title="reading", share=2),
        Column(title="what is read", share=3),
        Column(title="before", share=1.2),
        Column(title="limit; the maker's comes first", share=2.6),
        Column(title="read", share=1.4),
    )
    yield Table(columns=columns, rows=tuple(rows))


def _spare() -> Iterator[Block]:
    yield Heading(text="Anything else that was measured")
    columns = (Column(title="what", share=3), Column(title="with", share=2), Column(title="read", share=2))
    yield Table(columns=columns, rows=tuple((Blank(), Blank(), Blank()) for _ in range(_SPARE_ROWS)))
