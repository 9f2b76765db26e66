"""The sheet for cutting and welding: cut members, their reinforcement, each weld with its size and its boxes.

Answers   cut_and_weld_sheet   of cut members, brackets and welds, with their jobs in order
Not here  stiffness, stress and leg sizes (subjects/structure)
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.evaluation.verdict import Verdict
from trialfit.facts.quantity import LENGTH
from trialfit.parts import Bracket, CutMember, Frame, Part, Reinforcement, Weld
from trialfit.parts.declaring import FactSpec
from trialfit.parts.lists_and_curves import ListSpec
from trialfit.sheets.cautions import LOOK_FIRST, MANUAL_FIRST
from trialfit.sheets.judged import NOT_SO, about, jobs_to_tick, missing_of, shown, text_of, unit_for, verdicts
from trialfit.sheets.sheet import Blank, Caution, Column, Fields, Heading, Line, Missing, Paragraph, Sheet, Table, Tick
from trialfit.subjects.structure.margins import WELDING

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.parts.fact_refs import FactRef
    from trialfit.parts.structure.members import Sectioned
    from trialfit.sheets.known import Known
    from trialfit.sheets.sheet import Block, Cell

_NAME, _TITLE = "cut-and-weld", "Cut and weld"
_JOBS = ("CU", "MT")
_NO_CUT = "The build has no cut member yet. Measure a member before you cut it: afterwards it is too late."
_NO_WELD = 'No weld is in the build yet. Fill in by hand, then add each as a part with kind = "weld".'
_GIVEN = "reinforcement"
_CHECKS = ("tacked", "coupon kept", "leg, smallest", "no undercut, crater, pore", "dye", "painted, waxed")
_SECTION = (
    "shape",
    "diameter",
    "width",
    "height",
    "wall_thickness",
    "corner_y",
    "corner_z",
    "walls",
    "wall_thicknesses",
    "length",
    "end_support",
)
_EMPTY_ROWS, _SPARE_ROWS = 8, 3


def cut_and_weld_sheet(known: Known) -> Sheet:
    """Members, brackets and frames with their findings, then the welds, then the jobs in their order."""
    cut, welds = known.build.all(CutMember), known.build.all(Weld)
    blocks: list[Block] = [Caution(texts=(WELDING, LOOK_FIRST, MANUAL_FIRST))]
    blocks += _order(known)
    if not cut:
        blocks += [Heading(text="What is cut"), Paragraph(text=_NO_CUT, strong=True), _members_by_hand(known)]
    for member in cut:
        blocks += _member(known, member)
    blocks += _others(known)
    blocks.append(Heading(text="Welds"))
    if welds:
        blocks += [block for number, weld in enumerate(welds, 1) for block in _weld(known, number, weld)]
    else:
        blocks.append(Paragraph(text=_NO_WELD, strong=True))
    blocks.append(_boxes(known, [weld.name for weld in welds]))
    blocks.append(
        Fields(
            lines=tuple(
                Line(label=label)
                for label in ("welded by, on", "inspected by, on", "diagonals before", "diagonals after")
            )
        )
    )
    missing = missing_of(one for one in known.report.findings if one.subject == "structure")
    if missing:
        blocks.append(Missing(facts=missing))
    return Sheet(name=_NAME, title=_TITLE, build=known.build.name, blocks=tuple(blocks))


def _order(known: Known) -> Iterator[Block]:
    """The jobs of this work in the order of the network: brace, cut, tack, look again, weld out, inspect, paint."""
    yield Heading(text="The order of the work")
    yield from jobs_to_tick(known, (job for job in known.site.network.jobs.values() if job.id[:2] in _JOBS))


def _member(known: Known, cut: CutMember) -> Iterator[Block]:
    new = next((one for one in known.build.all(Reinforcement) if one.replaces == cut.name), None)
    yield Heading(text=f"Cut: {cut.name}")
    yield Fields(lines=(*_described(known, cut, "was"), *(_described(known, new, _GIVEN) if new else _nothing_yet())))
    yield from verdicts(known, about(known, "structure", cut.name, *((new.name,) if new else ())))


def _described(known: Known, member: Sectioned, role: str) -> Iterator[Line]:
    note = known.build.document.parts[member.name].note
    yield Line(label=role, value=f"{member.name}; {note}" if note else member.name)
    yield Line(label="its section", value=_section(known, member))


def _section(known: Known, member: Sectioned) -> str:
    return "; ".join(f"{name.replace('_', ' ')} {text}" for name, text in _entries(known, member) if text)


def _entries(known: Known, member: Sectioned) -> Iterator[tuple[str, str]]:
    for name, spec in member.specs().items():
        if name not in _SECTION or name not in member.values:
            continue
        value = getattr(member, name)
        if isinstance(spec, FactSpec):
            yield name, text_of(known, value)
        elif isinstance(spec, ListSpec):
            yield name, " / ".join(text_of(known, ref) for ref in value)
        else:
            yield name, str(value)


def _nothing_yet() -> tuple[Line, ...]:
    return Line(label=_GIVEN, value="nothing yet"), Line(label="its section")


def _others(known: Known) -> Iterator[Block]:
    """New members that replace nothing, brackets and frames."""
    new = [one for one in known.build.all(Reinforcement) if one.replaces is None]
    for part in (*new, *known.build.all(Bracket), *known.build.all(Frame)):
        note = known.build.document.parts[part.name].note
        yield Heading(text=f"{part.kind.replace('_', ' ').capitalize()}: {part.name}")
        if note:
            yield Paragraph(text=note)
        yield Fields(lines=tuple(_facts_of(known, part)))
        yield from verdicts(known, about(known, "structure", part.name))


def _facts_of(known: Known, part: Part) -> Iterator[Line]:
    if isinstance(part, Reinforcement):
        yield Line(label="its section", value=_section(known, part))
    if isinstance(part, Bracket):
        yield Line(label="carries", value=part.carries or "")
        for ref in (part.reach, part.depth, part.thickness, part.plates, part.bolt_hole, part.bolt_edge):
            yield _line(known, ref)


def _line(known: Known, ref: FactRef) -> Line:
    return Line(label=ref.path.rpartition(".")[2].replace("_", " "), value=text_of(known, ref))


def _weld(known: Known, number: int, weld: Weld) -> Iterator[Block]:
    note = known.build.document.parts[weld.name].note
    yield Heading(text=f"Weld {number}: {weld.name}")
    if note:
        yield Paragraph(text=note)
    needed = shown(known, f"structure.weld_leg_needed.{weld.name}")
    lines = [Line(label="holds", value=weld.carries or ""), Line(label="pattern", value=weld.pattern or "")]
    lines += [
        _line(known, ref) for ref in (weld.leg, weld.width, weld.depth, weld.thicker, weld.thinner, weld.run_length)
    ]
    lines += [_line(known, ref) for ref in _under(weld) if ref.written]
    lines.append(Line(label="smallest leg for the load", value=needed))
    yield Fields(lines=tuple(lines))
    yield from verdicts(known, about(known, "structure", weld.name))


def _under(weld: Weld) -> tuple[FactRef, ...]:
    """What it is welded to, and the doubler plate."""
    doubler = (weld.doubler_thickness, weld.doubler_width, weld.doubler_depth)
    return (weld.base_thickness, weld.base_width, weld.edge_distance, *doubler)


def _boxes(known: Known, names: list[str]) -> Table:
    """A row for each weld: the verdict first, then a box for each inspection, none if anything fails; and rows to fill in."""
    unit = unit_for(LENGTH, known.units)
    columns = (
        Column(title="weld", share=2.2),
        Column(title="verdict", share=1.4),
        *(Column(title=check, share=1) for check in _CHECKS),
    )
    checks = tuple(Blank(unit=unit) if check.startswith("leg") else Tick() for check in _CHECKS)
    rows: list[tuple[Cell, ...]] = []
    for name in names:
        verdict = _verdict_of(known, name)
        rows.append((name, verdict, *(("",) * len(checks) if verdict == NOT_SO else checks)))
    rows += [(Blank(), "", *checks) for _ in range(_SPARE_ROWS if names else _EMPTY_ROWS)]
    return Table(columns=columns, rows=tuple(rows))


def _verdict_of(known: Known, name: str) -> str:
    """The worst verdict on a weld; NOT SO where one fails, so that nobody tacks it."""
    found = about(known, "structure", name)
    if not found:
        return ""
    return NOT_SO if found[0].verdict is Verdict.fails else str(found[0].verdict)


def _members_by_hand(known: Known) -> Table:
    unit = unit_for(LENGTH, known.units)
    titles = ("member", "shape", "width", "height", "wall", "length cut", _GIVEN)
    columns = tuple(Column(title=title, share=1) for title in titles)
    row = (Blank(), Blank(), *(Blank(unit=unit) for _ in range(4)), Blank())
    return Table(columns=columns, rows=(row,) * (_EMPTY_ROWS // 2))
