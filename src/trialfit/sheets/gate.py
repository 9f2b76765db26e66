"""The gate sheet: what blocks each gate ahead, to read aloud and sign.

Answers   gate_sheet   of every gate ahead, the next one first
Not here  what blocks a gate (planning/gates.py)

A gate comes after those before it, so what blocks an earlier one is printed there and not again.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.evaluation.finding import Finding
from trialfit.planning.reports import gate_report
from trialfit.planning.templates import usual_readings
from trialfit.planning.work_readings import limits_wanted, readings_of
from trialfit.sheets.cautions import LOOK_FIRST, MANUAL_FIRST
from trialfit.sheets.judged import value_and_limit
from trialfit.sheets.sheet import Blank, Caution, Column, Fields, Heading, Line, Paragraph, Sheet, Table, Tick, TickList

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.planning.reports import Against, GateReport
    from trialfit.sheets.known import Known
    from trialfit.sheets.sheet import Block, Cell

_NAME, _TITLE = "gate", "Gates"
_ALOUD = (
    "Read aloud with a second person. Look at each item on the car, then tick it; the car can differ from the written list. "
    "Jobs that were not written down are not on this list; what the program does not judge has boxes of its own."
)
_NOT_A_WORD = "An unblocked gate means that no written item is open; it does not mean that the car drives well."
_KINDS = (
    ("loose end", "Loose ends"),
    ("reading", "Readings"),
    ("finding", "Findings that do not hold"),
    ("gate", "Gates before it"),
    ("job", "Jobs not done"),
    ("wait", "Waits"),
)
_SEEN_BY_HAND = "Not judged, see by hand"
_SPARE_ROWS = 3


def gate_sheet(known: Known) -> Sheet:
    """Every gate ahead on a page of its own, with what blocks it and is not on an earlier page."""
    blocks: list[Block] = [Caution(texts=(LOOK_FIRST, MANUAL_FIRST)), Paragraph(text=_ALOUD)]
    printed: set[tuple[str, str]] = set()
    ahead = [gate for gate in known.site.network.gates if not known.site.status.gates[gate].is_passed]
    for number, gate in enumerate(ahead):
        report = gate_report(known.site, gate)
        blocks += _gate(known, report, printed, new_page=number > 0)
        printed |= {(one.kind, one.name) for one in report.blocks}
    if not ahead:
        blocks.append(Paragraph(text="Every gate is passed, and none is shut again.", strong=True))
    return Sheet(name=_NAME, title=_TITLE, build=known.build.name, blocks=tuple(blocks))


def _gate(known: Known, report: GateReport, printed: set[tuple[str, str]], *, new_page: bool) -> Iterator[Block]:
    yield Heading(text=report.title, new_page=new_page)
    new = [one for one in report.blocks if (one.kind, one.name) not in printed]
    yield Paragraph(text=_standing(report, new), strong=True)
    for kind, heading in _KINDS:
        these = [one for one in new if one.kind == kind]
        if these:
            yield Heading(text=f"{heading}: {report.gate}")
            yield _table(known, kind, these)
    yield from _by_hand(report)
    if report.remarks:
        yield Heading(text="Also note")
        yield TickList(lines=report.remarks)
    yield Heading(text="Found while reading aloud")
    columns = (Column(title="what", share=4), Column(title="closed by, on", share=2))
    yield Table(columns=columns, rows=tuple((Blank(), Blank()) for _ in range(_SPARE_ROWS)))
    yield Paragraph(text=_NOT_A_WORD)
    labels = ("read aloud by", "looked at on the car by", "passed on, at", "signature", "signature of the second")
    yield Fields(lines=tuple(Line(label=label) for label in labels))


def _by_hand(report: GateReport) -> Iterator[Block]:
    """What nothing judges, with a box each: before this gate, and on the last page what is looked at again later."""
    for when in dict.fromkeys(one.before for one in report.by_hand):
        these = [one for one in report.by_hand if one.before == when]
        yield Heading(text=f"{_SEEN_BY_HAND}: {when}")
        columns = (Column(title=""), Column(title="what can fail", share=3), Column(title="how to see it", share=4))
        yield Table(columns=columns, rows=tuple((Tick(), f"{one.about}: {one.fails}", one.by_hand) for one in these))


def _standing(report: GateReport, new: list[Against]) -> str:
    if not report.blocks:
        return "No written item blocks it."
    above = (
        "" if len(new) == len(report.blocks) else f", {len(new)} of them new here and the others on the pages before"
    )
    return f"Not to be passed: {len(report.blocks)} things block it{above}."


def _table(known: Known, kind: str, these: list[Against]) -> Table:
    if kind == "reading":
        return _readings(known, these)
    columns = (Column(title=""), Column(title=kind, share=2), Column(title="what blocks it", share=5))
    return Table(columns=columns, rows=tuple(_row(known, one) for one in these))


def _readings(known: Known, these: list[Against]) -> Table:
    columns = (
        Column(title=""),
        Column(title="reading", share=2),
        Column(title="what blocks it", share=3.4),
        Column(title="limit; the maker's comes first", share=2.6),
        Column(title="read", share=1.5),
    )
    units = _units(known)
    rows = tuple(
        (Tick(), one.name, one.says, limits_wanted(known.build, one.name), Blank(unit=units.get(one.name, "")))
        for one in these
    )
    return Table(columns=columns, rows=rows)


def _row(known: Known, one: Against) -> tuple[Cell, ...]:
    until = f", until {one.until:%a %Y-%m-%d %H:%M}" if one.until else ""
    found = known.report.result(one.name) if one.kind == "finding" else None
    value = f"; {found.says}: {value_and_limit(known, found)}" if isinstance(found, Finding) else ""
    where = ""
    if one.kind == "loose end":
        end = known.site.status.ends[one.name].end
        closers = ", ".join([*end.closed_by, *([end.closed_by_reading] if end.closed_by_reading else [])])
        where = f"; {end.where or 'place missing'}; closed by {closers or 'hand, with a reason'}"
    return Tick(), one.name, f"{one.says}{until}{value}{where}"


def _units(known: Known) -> dict[str, str]:
    usual = usual_readings()
    return {name: usual[name].unit for name in readings_of(known.build) if name in usual}
