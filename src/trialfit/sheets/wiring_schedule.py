"""The wiring schedule: every circuit with its ends, colour, size and fuse; every gauge with its sender and wire.

Answers   wiring_schedule_sheet   of the circuits, senders and gauges in the build
Not here  whether a gauge fits its sender (subjects/senders)

The program has no formula for the size of a wire or its fuse: the builder writes them or fills them in by hand. High voltage
is separate, with a caution of its own.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.evaluation.verdict import Verdict
from trialfit.facts.quantity import AREA, CURRENT, LENGTH, VOLTAGE
from trialfit.parts import Circuit, Engine, Gauge, Sender
from trialfit.sheets.cautions import MANUAL_FIRST
from trialfit.sheets.judged import missing_of, text_of, unit_for, verdicts
from trialfit.sheets.sheet import Blank, Caution, Column, Fields, Heading, Line, Missing, Paragraph, Sheet, Table, Tick

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.parts.fact_refs import FactRef
    from trialfit.sheets.known import Known
    from trialfit.sheets.sheet import Block, Cell

_NAME, _TITLE = "wiring-schedule", "Wiring schedule"
_HIGH = "high voltage"
LOW_CARE = (
    "Battery off before a wire is touched. Fuse near the source. Airbag plugs are never probed. A warm wire, or a fuse that "
    "blows twice, means a fault: find it; never fit a larger fuse."
)
HIGH_CARE = (
    "High voltage kills. Only a person qualified for it works on the high-voltage side, dead, locked out and measured dead; cells "
    "are always live. The lines about it here are for that person only."
)
_BY_HAND = (
    "Nothing here was calculated: wire sizes and fuses were not checked against their current. Printed entries are the builder's; "
    "fill in the rest from the maker's figures, or ask a qualified person."
)
_NO_CIRCUIT = 'No circuit is in the build yet. Fill in by hand, then add each as a part with kind = "circuit".'
_OF_WIRES = "mm²"  # square metres, the usual unit of an area, would not be of use here
_EMPTY_ROWS, _SPARE_ROWS = 12, 3


def wiring_schedule_sheet(known: Known) -> Sheet:
    """Circuits of the low-voltage side, gauges and senders, then the high-voltage side."""
    circuits = known.build.all(Circuit)
    low = tuple(one for one in circuits if one.side != _HIGH)
    high = tuple(one for one in circuits if one.side == _HIGH)
    engine = known.build.first(Engine)
    is_electric = bool(high) or (engine is not None and engine.runs_on == "electricity")
    cautions = (LOW_CARE, *((HIGH_CARE,) if is_electric else ()), MANUAL_FIRST)
    blocks: list[Block] = [Caution(texts=cautions), Paragraph(text=_BY_HAND)]
    blocks.append(Heading(text="Circuits"))
    if not low:
        blocks.append(Paragraph(text=_NO_CIRCUIT, strong=True))
    blocks += _circuits(known, low, "", spare=_SPARE_ROWS if low else _EMPTY_ROWS)
    blocks += _gauges(known)
    if is_electric:
        blocks += [Heading(text="High-voltage side"), Paragraph(text=HIGH_CARE, strong=True)]
        blocks += _circuits(known, high, "H", spare=_SPARE_ROWS)
    blocks += _readings(known)
    return Sheet(name=_NAME, title=_TITLE, build=known.build.name, blocks=tuple(blocks))


def _circuits(known: Known, circuits: tuple[Circuit, ...], mark: str, *, spare: int) -> Iterator[Table]:
    """Two tables, because one would be too narrow for large print: the ends of each circuit, and its wire and fuse.

    The rows of both carry one number, with `mark` before it.
    """
    numbers = [f"{mark}{number}" for number in range(1, len(circuits) + spare + 1)]
    where = (
        Column(title="", right=True),
        Column(title="circuit", share=2),
        Column(title="from", share=2),
        Column(title="to", share=2),
        Column(title="connector", share=1.6),
        Column(title="done"),
    )
    empty: tuple[Cell, ...] = (Blank(), Blank(), Blank(), Blank(), Tick())
    routes = (*(_route(known, one) for one in circuits), *(empty for _ in range(spare)))
    yield Table(columns=where, rows=_numbered(numbers, routes))
    made_of = (
        Column(title="", right=True),
        Column(title="circuit", share=1.8),
        *(Column(title=title, share=1.2) for title in ("colour", "size", "length", "current", "fuse")),
        Column(title="where", share=1.4),
    )
    length, current = (Blank(unit=unit_for(one, known.units)) for one in (LENGTH, CURRENT))
    unsized: tuple[Cell, ...] = (Blank(), Blank(), Blank(unit=_OF_WIRES), length, current, current, Blank())
    sizes = (*(_size(known, one) for one in circuits), *(unsized for _ in range(spare)))
    yield Table(columns=made_of, rows=_numbered(numbers, sizes))


def _numbered(numbers: list[str], rows: tuple[tuple[Cell, ...], ...]) -> tuple[tuple[Cell, ...], ...]:
    return tuple((number, *row) for number, row in zip(numbers, rows, strict=True))


def _route(known: Known, one: Circuit) -> tuple[Cell, ...]:
    note = known.build.document.parts[one.name].note
    serves = f"for {one.serves}" if one.serves else ""
    return (
        "; ".join(filter(None, (one.name, serves, note))),
        one.start or Blank(),
        one.end or Blank(),
        one.connector or Blank(),
        Tick(),
    )


def _size(known: Known, one: Circuit) -> tuple[Cell, ...]:
    return (
        one.name,
        one.colour or Blank(),
        *(_or_blank(known, ref) for ref in (one.conductor_area, one.length, one.current, one.fuse)),
        one.fused_at or Blank(),
    )


def _or_blank(known: Known, ref: FactRef) -> Cell:
    unit = _OF_WIRES if ref.spec.quantity is AREA else unit_for(ref.spec.quantity, known.units)
    return ref.written.plain if ref.written else Blank(unit=unit)  # wires are sold by mm² everywhere


def _gauges(known: Known) -> Iterator[Block]:
    """Gauges and lamps with their senders and wires, and what is wrong with them."""
    wires = {one.serves: one for one in known.build.all(Circuit) if one.serves}
    rows = [_gauge(known, gauge, wires) for gauge in known.build.all(Gauge)]
    moved = {gauge.sender for gauge in known.build.all(Gauge)}
    rows += [
        ("no gauge", sender.name, _works(sender), sender.end or Blank(), _wire(wires.get(sender.name)), Tick())
        for sender in known.build.all(Sender)
        if sender.name not in moved
    ]
    if not rows:
        return
    yield Heading(text="Gauges, lamps and their senders")
    columns = (
        Column(title="gauge or lamp", share=2.4),
        Column(title="sender", share=2),
        Column(title="how it works", share=2),
        Column(title="screwed in", share=1.8),
        Column(title="its wire", share=2.4),
        Column(title="done"),
    )
    yield Table(columns=columns, rows=tuple(rows))
    found = [one for one in known.report.findings if one.subject == "senders"]
    yield from verdicts(known, [one for one in found if one.verdict is not Verdict.holds])
    if missing_of(found):
        yield Missing(facts=missing_of(found))


def _gauge(known: Known, gauge: Gauge, wires: dict[str, Circuit]) -> tuple[Cell, ...]:
    named = known.build.named(gauge.sender)
    sender = named if isinstance(named, Sender) else None
    resistors = [
        f"{text_of(known, ref)} {how}"
        for ref, how in ((gauge.series_resistor, "in line"), (gauge.parallel_resistor, "across"))
        if ref.written
    ]
    return (
        f"{gauge.name}: {', '.join([gauge.measures or '', *resistors])}",
        gauge.sender or Blank(),
        _works(sender) if sender else "not known",
        (sender.end if sender else None) or Blank(),
        _wire(wires.get(gauge.name) or wires.get(gauge.sender or "")),
        Tick(),
    )


def _works(sender: Sender) -> str:
    if sender.is_switch:
        return f"switch, {sender.contact or 'contact not known'}"
    return "resistance, by its curve"


def _wire(wire: Circuit | None) -> Cell:
    return f"{wire.name}: {wire.colour or 'colour missing'}" if wire else Blank()


def _readings(known: Known) -> Iterator[Block]:
    yield Heading(text="Before the battery goes on, and after")
    volts = unit_for(VOLTAGE, known.units)
    columns = (Column(title="done"), Column(title="what", share=4), Column(title="read", share=2))
    rows: tuple[tuple[Cell, ...], ...] = (
        (Tick(), "continuity of each wire from end to end", Blank()),
        (Tick(), "no wire shorted to the body or to its neighbour", Blank()),
        (Tick(), "main feed on a small fuse: everything off, current", Blank(unit="A")),
        (Tick(), "drop of the starter or converter cable while it carries its current", Blank(unit=volts)),
        (Tick(), "drop of the earth side, the same", Blank(unit=volts)),
        (Tick(), "small fuse out, the right one in", Blank(unit="A")),
    )
    yield Table(columns=columns, rows=rows)
    yield Fields(lines=(Line(label="wired by, on"), Line(label="inspected by, on")))
