"""The shopping sheet: what to order, what is on its way, what is in stock and where it is kept; and the money.

Answers   shopping_sheet   orders by state, parts that jobs need, fittings, lines and fasteners
Not here  sums (planning/money.py), what stands in an order (planning/orders.py), the fittings that join two ends (trialfit join)
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.parts import BoltedJoint, Fitting, Port
from trialfit.parts import Line as Hose
from trialfit.planning.job import NeedKind
from trialfit.planning.money import COMMITTED, SPENT, TO_COME, kind_of, money_of, sums_text
from trialfit.sheets.cautions import MANUAL_FIRST
from trialfit.sheets.judged import cell, text_of
from trialfit.sheets.sheet import Blank, Caution, Column, Fields, Heading, Line, Paragraph, Sheet, Table, Tick

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.planning.money import Money
    from trialfit.planning.orders import Order
    from trialfit.sheets.known import Known
    from trialfit.sheets.sheet import Block, Cell

_NAME, _TITLE = "shopping", "Shopping"
_NO_ORDER = "No order is in the build yet. Fill in by hand, then write each as [order.NAME]."
_BEFORE = (
    "Inspect a used part before you pay. Brake, steering and lifting parts must carry their maker's name and rating. Get a "
    "promised date in writing."
)
_STANDS = {TO_COME: "To order", COMMITTED: "Ordered, on its way", SPENT: "In stock"}
_UNFIT = "Arrived, and cannot be used"
_SPARE_ROWS, _EMPTY_ROWS = 4, 12


def shopping_sheet(known: Known) -> Sheet:
    """Orders by state, parts not ordered yet, small parts, money."""
    orders = known.site.orders
    blocks: list[Block] = [Caution(texts=(_BEFORE, MANUAL_FIRST))]
    if not orders:
        blocks.append(Paragraph(text=_NO_ORDER, strong=True))
    blocks += _not_ordered(known)
    for heading in (*_STANDS.values(), _UNFIT):
        these = [order for order in orders.values() if _heading_of(order) == heading]
        if these:
            blocks += [Heading(text=heading), _orders(known, these)]
    blocks += _money(money_of(known.build, known.site.network, orders))
    blocks += _fittings(known)
    blocks += _fasteners(known)
    blocks += _by_hand(_SPARE_ROWS if orders else _EMPTY_ROWS)
    return Sheet(name=_NAME, title=_TITLE, build=known.build.name, blocks=tuple(blocks))


def _not_ordered(known: Known) -> Iterator[Block]:
    """Parts that a job needs and no order brings."""
    brought = {order.part for order in known.site.orders.values()}
    wanted: dict[str, list[str]] = {}
    for job in known.site.network.jobs.values():
        for part in job.needed(NeedKind.part):
            if part not in brought and not known.site.status.is_done(job.id):
                wanted.setdefault(part, []).append(f"{job.id} {job.title}")
    if wanted:
        yield Heading(text="Needed by a job, and not ordered")
        columns = (
            Column(title="have"),
            Column(title="part", share=1.4),
            Column(title="needed for", share=4),
            Column(title="price", share=1.2),
            Column(title="from whom", share=1.6),
        )
        rows = tuple((Tick(), part, "; ".join(jobs), Blank(), Blank()) for part, jobs in wanted.items())
        yield Table(columns=columns, rows=rows)


def _heading_of(order: Order) -> str:
    return _UNFIT if order.state else _STANDS[kind_of(order)]


def _orders(known: Known, orders: list[Order]) -> Table:
    columns = (
        Column(title=""),
        Column(title="what, for", share=2.4),
        Column(title="price", share=1.9),
        Column(title="ordered", share=1.9),
        Column(title="comes", share=2),
        Column(title="lies", share=2),
    )
    return Table(columns=columns, rows=tuple(_order(known, order) for order in orders))


def _order(known: Known, order: Order) -> tuple[Cell, ...]:
    spare = " (not picked)" if order.serves in known.build.spare else ""
    return (
        Tick(),
        ", ".join(dict.fromkeys((order.name, f"{order.serves}{spare}" if order.serves else order.part))),
        sums_text([order.price]) if order.price else Blank(),
        f"{order.ordered:%Y-%m-%d}" if order.ordered else Blank(),
        _comes(order),
        _lies(order),
    )


def _comes(order: Order) -> Cell:
    if order.arrived:
        return f"arrived {order.arrived:%Y-%m-%d}"
    if order.promised:
        return f"{order.promised:%Y-%m-%d} ± {order.promised_spread:g} days"
    return Blank()


def _lies(order: Order) -> Cell:
    return ", ".join(filter(None, (order.state.upper(), order.lies))) or Blank()


def _money(money: Money) -> Iterator[Block]:
    lines = [Line(label=kind, value=sums_text(sums) or "nothing") for kind, sums in money.totals.items()]
    for choice, options in money.by_choice.items():
        lines += [Line(label=f"{choice}: {name}", value=sums_text(sums)) for name, sums in options.items() if sums]
    if money.without_price:
        lines.append(Line(label="without a price", value=", ".join(money.without_price)))
    yield Heading(text="Money")
    yield Fields(lines=tuple(lines))
    yield Paragraph(
        text="Parts of options that were not picked are left out of these sums and listed with their choice."
    )


def _fittings(known: Known) -> Iterator[Block]:
    """Every fitting, plug and line by its ends, with the port it goes to."""
    rows = [*_of_ports(known), *(_of_fitting(known, one) for one in known.build.all(Fitting))]
    rows += [_of_line(known, one) for one in known.build.all(Hose)]
    if rows:
        yield Heading(text="Fittings, plugs and lines")
        columns = (
            Column(title="have"),
            Column(title="what", share=2),
            Column(title="its ends", share=3.4),
            Column(title="goes to", share=2),
            Column(title="size", share=1.8),
            Column(title="price", share=1),
        )
        yield Table(columns=columns, rows=tuple(rows))


def _of_ports(known: Known) -> Iterator[tuple[Cell, ...]]:
    for port in known.build.all(Port):
        if port.plug:
            yield Tick(), "plug", port.plug, port.name, "", Blank()
    wrong = [
        one
        for one in known.report.findings
        if one.subject == "ports" and one.id.endswith(".plugged") and one.verdict == "fails"
    ]
    for one in wrong:
        part = known.build.named(one.about)
        thread = part.thread if isinstance(part, Port) else ""
        yield Tick(), "to close it", f"for {thread}" if thread else "thread not known", one.about, Blank(), Blank()


def _of_fitting(known: Known, one: Fitting) -> tuple[Cell, ...]:
    ends = f"{one.end or 'end not known'}; {one.other_end or 'other end not known'}"
    size = ", ".join(filter(None, (text_of(known, one.length), text_of(known, one.bore))))
    return Tick(), one.name, ends, _goes_to(known, one.name), size, text_of(known, one.price) or Blank()


def _of_line(known: Known, one: Hose) -> tuple[Cell, ...]:
    ends = f"{one.end or 'end not known'}; {one.other_end or 'other end not known'}"
    goes = f"{_goes_to(known, one.name)} to {one.far_port or 'nowhere yet'}"
    return Tick(), one.name, ends, goes, cell(known, one.length), Blank()


def _goes_to(known: Known, name: str) -> str:
    holders = (part for part in known.build.parts.values() if isinstance(part, Port | Fitting) and part.fitted == name)
    holder = next(holders, None)
    return holder.name if holder else "on the shelf"


def _fasteners(known: Known) -> Iterator[Block]:
    joints = known.build.all(BoltedJoint)
    if not joints:
        return
    yield Heading(text="Bolts and nuts")
    columns = (
        Column(title="have"),
        Column(title="joint", share=2),
        Column(title="how many", share=1),
        Column(title="bolt", share=2.4),
        Column(title="nut, or hole", share=2),
        Column(title="new?", share=2),
        Column(title="price", share=1),
    )
    yield Table(columns=columns, rows=tuple(_joint(known, one) for one in joints))


def _joint(known: Known, one: BoltedJoint) -> tuple[Cell, ...]:
    bolt = ", ".join(filter(None, (one.thread, one.strength_class, one.thread_state)))
    nut = f"class {one.nut_class}" if one.nut_class else f"into {one.threaded_into}"
    new = "new: stretched once" if one.bolt_kind == "stretch" else "as the manual says"
    return Tick(), one.name, text_of(known, one.bolts) or Blank(), bolt or Blank(), nut, new, Blank()


def _by_hand(rows: int) -> Iterator[Block]:
    yield Heading(text="Also needed")
    columns = (Column(title="have"), *(Column(title=title, share=1) for title in ("what", "for", "price", "from whom")))
    yield Table(columns=columns, rows=tuple((Tick(), Blank(), Blank(), Blank(), Blank()) for _ in range(rows)))
