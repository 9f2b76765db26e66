"""The sheet of ports and lines: every threaded hole, by number: what goes there, how it seals, what closes it.

Answers   ports_and_lines_sheet   of every port and every line, also of unused ones
Not here  whether threads fit (subjects/ports), a run of fittings (trialfit join)
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.evaluation.finding import Finding
from trialfit.evaluation.verdict import Verdict
from trialfit.handbook.ports.sealing import Fit, join_ends, sealant_for
from trialfit.parts import Fitting, Port
from trialfit.parts import Line as Hose
from trialfit.sheets.amounts import amount, fact_text, limit_text
from trialfit.sheets.cautions import MANUAL_FIRST
from trialfit.sheets.sheet import (
    Blank,
    Caution,
    Cell,
    Column,
    Fields,
    Heading,
    Line,
    Missing,
    Paragraph,
    Sheet,
    Table,
    Tick,
)
from trialfit.subjects.ports.runs import caution_of, run_from

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.parts.fact_refs import FactRef
    from trialfit.sheets.known import Known
    from trialfit.sheets.sheet import Block

_NAME, _TITLE = "ports-and-lines", "Ports and lines"
_OPEN_RULE = "Find each opening without a plug, sender or line here, before the first start."
_NONE = "No port is in the build yet. Number every threaded hole on engine, gearbox, radiator and tank, the unused ones too."
_EMPTY_ROWS = 12
_NEVER = "do not fit"
_CLEAN = "Before anything is screwed in: thread clean, washer new, sealing face inspected. Sealant only where the sheet says so."


def ports_and_lines_sheet(known: Known) -> Sheet:
    """A row for each port, a row for each joint and for each line; empty rows if the build has none."""
    ports = known.build.all(Port)
    blocks: list[Block] = [Caution(texts=tuple(_cautions(ports))), Paragraph(text=_CLEAN), Paragraph(text=_OPEN_RULE)]
    if ports:
        blocks += [_ports(known, ports), *_joints(known, ports), *_wrong(known)]
    else:
        blocks += [Paragraph(text=_NONE, strong=True), _empty_table()]
    blocks += _lines(known)
    missing = {
        path: says for one in known.report.findings if one.subject == "ports" for path, says in one.missing.items()
    }
    if missing:
        blocks.append(Missing(facts=missing))
    blocks.append(Fields(lines=(Line(label="inspected by, on"),)))
    return Sheet(name=_NAME, title=_TITLE, build=known.build.name, blocks=tuple(blocks))


def _cautions(ports: tuple[Port, ...]) -> Iterator[str]:
    yield from dict.fromkeys(text for port in ports for text in [caution_of(port)] if text)
    yield MANUAL_FIRST


def _ports(known: Known, ports: tuple[Port, ...]) -> Table:
    columns = (
        Column(title="", right=True),
        Column(title="port", share=2.6),
        Column(title="thread, seal", share=2),
        Column(title="behind it", share=1.6),
        Column(title="what goes there", share=3),
        Column(title="closed?", share=2.6),
        Column(title="torque", share=1.3),
        Column(title="done"),
    )
    return Table(columns=columns, rows=tuple(_port(known, number, port) for number, port in enumerate(ports, 1)))


def _port(known: Known, number: int, port: Port) -> tuple[Cell, ...]:
    note = known.build.document.parts[port.name].note
    thread = ", ".join(filter(None, (port.gender if port.gender != "female" else "", port.thread, port.sealing)))
    behind = ", ".join(filter(None, (port.medium, _fact(known, port.pressure), _fact(known, port.temperature))))
    torque = _fact(known, port.torque) or _fact(known, port.specified_torque)
    return (
        str(number),
        f"{port.name}; {note}" if note else port.name,
        thread or "not known",
        behind or "not known",
        _what_goes_there(known, port),
        _closed(known, port),
        _torque(known, port, torque) or Blank(unit="N·m"),
        Tick() if _may_be_done(known, port) else _NEVER,
    )


def _torque(known: Known, port: Port, written: str) -> str:
    """A torque as it is written; one that fails is not to be used, one that is unsettled is to be looked up."""
    found = known.report.result(f"ports.{port.name}.torque")
    if not isinstance(found, Finding) or found.verdict is Verdict.holds or not written:
        return written
    if found.verdict is Verdict.fails:
        return f"NOT {written}: {limit_text(found, known.units)}"
    return f"{written}, to be looked up: {limit_text(found, known.units)}"


def _may_be_done(known: Known, port: Port) -> bool:
    """Whether no finding says that these threads must not be screwed together."""
    found = [known.report.result(f"ports.{port.name}.{what}") for what in ("mates", "sealing", "torque")]
    return not any(isinstance(one, Finding) and one.verdict is Verdict.fails for one in found)


def _what_goes_there(known: Known, port: Port) -> str:
    run = run_from(known.build, port)
    names = [piece.name for piece in run.pieces]
    holders: list[Port | Fitting] = [port, *(piece for piece in run.pieces if isinstance(piece, Fitting))]
    plugs = [f"plug {holder.plug}" for holder in holders if holder.plug]
    covers = [f"{port.cover} for now"] if port.cover not in (None, "nothing") else []
    ends = [f"to {piece.far_port}" for piece in run.pieces if isinstance(piece, Hose) and piece.far_port]
    return ", then ".join([*names, *plugs, *ends, *covers]) or "nothing yet"


def _closed(known: Known, port: Port) -> str:
    found = known.report.result(f"ports.{port.name}.plugged")
    if not isinstance(found, Finding):
        return "not known"
    says = found.remark.partition("; the limit is")[0]
    return f"{'yes' if found.verdict is Verdict.holds else 'NO'}: {says}"


def _joints(known: Known, ports: tuple[Port, ...]) -> Iterator[Block]:
    """How each joint seals, and the sealant on its thread."""
    rows: list[tuple[Cell, ...]] = []
    for number, port in enumerate(ports, 1):
        for one in run_from(known.build, port).offered:
            joint = join_ends(one.end, one.other_end)
            belongs = joint.sealing if joint.fit is Fit.fits else f"{joint.fit}: {joint.why}"
            done: Cell = Tick() if joint.fit is Fit.fits else _NEVER
            suits = sealant_for(port.medium or "", one.sealant or "")
            if joint.fit is Fit.fits and suits.answer != "yes":
                belongs, done = f"{belongs}. With {port.medium} behind it: {suits.why}", _NEVER
            rows.append((str(number), f"{one.other} on {one.holder}", belongs, one.sealant or "missing", done))
    if rows:
        yield Heading(text="Joints: how each seals")
        columns = (
            Column(title="port", right=True),
            Column(title="joint", share=2.6),
            Column(title="how it seals, or why not", share=4),
            Column(title="on its thread", share=1.2),
            Column(title="done"),
        )
        yield Table(columns=columns, rows=tuple(rows))


def _wrong(known: Known) -> Iterator[Block]:
    """Findings about ports that do not hold, without openings: these are in the first table."""
    open_or_bad = (Verdict.fails, Verdict.unsettled)
    rows = [
        (str(one.verdict), one.id, _why(known, one))
        for one in known.report.findings
        if one.subject == "ports" and one.verdict in open_or_bad and not one.id.endswith(".plugged")
    ]
    if rows:
        yield Heading(text="What does not hold")
        columns = (Column(title=""), Column(title="finding", share=2), Column(title="why, and what to do", share=5))
        yield Table(columns=columns, rows=tuple(rows))


def _why(known: Known, finding: Finding) -> str:
    judged = f"{amount(finding.value, known.units)}, {limit_text(finding, known.units)}"
    cure = finding.cure if finding.verdict is Verdict.fails else ""
    return "; ".join(filter(None, (judged, finding.remark, cure)))


def _lines(known: Known) -> Iterator[Block]:
    lines = known.build.all(Hose)
    if not lines:
        return
    yield Heading(text="Lines")
    columns = (
        Column(title="line", share=2),
        Column(title="from, its end there", share=2.4),
        Column(title="to, its end there", share=2.4),
        Column(title="length, bore", share=2),
        Column(title="rated for", share=2),
        Column(title="done"),
    )
    yield Table(columns=columns, rows=tuple(_line(known, line) for line in lines))


def _line(known: Known, line: Hose) -> tuple[Cell, ...]:
    holder = next(
        (
            part.name
            for part in known.build.parts.values()
            if isinstance(part, Port | Fitting) and part.fitted == line.name
        ),
        "nowhere yet",
    )
    sizes = ", ".join(filter(None, (_fact(known, line.length), _fact(known, line.bore))))
    rated = ", ".join(filter(None, (_fact(known, line.rated_pressure), _fact(known, line.rated_temperature))))
    return (
        line.name,
        f"{holder}: {line.end or 'end not known'}",
        f"{line.far_port or 'nowhere yet'}: {line.other_end or 'end not known'}",
        sizes or Blank(unit="mm"),
        rated or Blank(unit="bar"),
        Tick(),
    )


def _fact(known: Known, ref: FactRef) -> str:
    return fact_text(ref.written, known.units) if ref.written else ""


def _empty_table() -> Table:
    titles = ("port", "thread, seal", "behind it", "what goes there", "closed?")
    columns = (Column(title="", right=True), *(Column(title=title, share=1) for title in titles))
    return Table(columns=columns, rows=tuple(_empty_row(row, len(titles)) for row in range(1, _EMPTY_ROWS + 1)))


def _empty_row(number: int, blanks: int) -> tuple[Cell, ...]:
    return (str(number), *(Blank() for _ in range(blanks)))
