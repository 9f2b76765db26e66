"""The plan as a page."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.table import Table
from rich.text import Text

from trialfit.advice.next_step import percent
from trialfit.cli.screen import CAUTION, bar, clean, line
from trialfit.planning.money import sums_text

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from rich.console import RenderableType

    from trialfit.planning.plan_report import PlanReport

_DAY = "%a %Y-%m-%d"


def page(report: PlanReport, *, with_all: bool) -> Iterator[RenderableType]:
    """The plan."""
    yield line(f"{report.build or 'a build without a name'}: the plan up to {report.goal}", "bold")
    if report.end is None or report.end_early is None or report.end_middle is None or report.end_late is None:
        yield line("Nothing is left to do.")
    else:
        yield line(f"{report.hours_left:g} working hours are left; at likely times the end is {report.end:{_DAY}}.")
        spread = f"5 % of the draws end by {report.end_early:{_DAY}}, half by {report.end_middle:{_DAY}}"
        yield line(f"{spread}, 95 % by {report.end_late:{_DAY}}.")
        if report.end < report.end_early:
            yield line("That is later than with likely times alone: work that runs side by side waits for the slowest.")
        if report.is_proven:
            yield line("This is the shortest plan for these times.")
        else:
            yield line(
                f"A shorter plan may exist, by at most {percent(report.gap)} of its working time; none was found."
            )
        yield from _jobs(report, with_all=with_all)
    yield from _sections(report)
    yield from map(line, report.remarks)
    yield line("Pass a gate when the work is done, not because of the date.")
    yield line(CAUTION)


def _jobs(report: PlanReport, *, with_all: bool) -> Iterator[RenderableType]:
    yield Text()
    yield line(
        "the chain that sets the end" if not with_all else "every job; > is on the chain that sets the end", "bold"
    )
    rows = [
        (
            f"{job.begins:{_DAY} %H:%M}",
            f"{'> ' if job.is_on_chain and with_all else ''}{job.id}  {job.title}"
            + (f"; may slip {job.float_hours:g} h" if job.float_hours or (with_all and not job.is_on_chain) else ""),
        )
        for job in report.jobs
        if with_all or job.is_on_chain
    ]
    yield _rows(rows)


def _sections(report: PlanReport) -> Iterator[RenderableType]:
    if report.deliveries:
        yield Text()
        yield line("one day late costs, on average", "bold")
        yield _rows(
            (one.part, f"{one.day_late_costs:.2f} days; expected {one.expected:{_DAY}}, for {', '.join(one.jobs)}")
            for one in report.deliveries
        )
    if report.doubts:
        yield Text()
        yield line("where the uncertainty of the end comes from", "bold")
        yield _rows((one.about, f"{bar(one.share)} {percent(one.share)}") for one in report.doubts)
    yield Text()
    yield line("money", "bold")
    money = report.money
    rows = [(kind, sums_text(sums)) for kind, sums in money.totals.items() if sums]
    for choice, options in money.by_choice.items():
        rows += [(choice, f"{option}: {sums_text(sums)}") for option, sums in options.items() if sums]
    if money.without_price:
        rows.append(("without a price", ", ".join(money.without_price)))
    yield _rows(rows or [("", "no order is written down")])


def _rows(pairs: Iterable[tuple[str, str]]) -> Table:
    table = Table.grid(padding=(0, 2, 0, 0), expand=True)
    table.add_column(max_width=26)
    table.add_column(ratio=1)
    for label, text in pairs:
        table.add_row(Text(f"  {clean(label)}"), line(text))
    return table
