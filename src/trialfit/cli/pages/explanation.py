"""One finding with everything that it depends on, as a page."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from trialfit.advice.next_step import percent
from trialfit.cli.screen import CAUTION, bar, clean, interval, kept_by, limit_of, line, mark_of, source_of
from trialfit.evaluation.finding import Finding

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from rich.console import RenderableType

    from trialfit.advice.explaining import Explanation
    from trialfit.evaluation.finding import FactUse, Figure, Formula, LimitUse

_WORTH_SAYING = 0.02
_STATES_SHOWN = 8


def page(explanation: Explanation) -> Iterator[RenderableType]:
    """The explanation as a page."""
    result = explanation.result
    yield _title(result)
    yield line(result.says)
    yield Text()
    yield _values(explanation)
    if isinstance(result, Finding) and len(result.states) > 1:
        yield Text()
        yield line("states of the car, the worst first; a draw must keep the limit in all of them", "bold")
        yield _states(result)
    if isinstance(result, Finding) and len(result.limits) > 1:
        yield Text()
        yield line("other limits", "bold")
        yield _other_limits(result)
    if result.facts:
        yield Text()
        yield line("facts, by the share of the uncertainty that comes from each", "bold")
        yield _facts(result.facts, explanation.acting_together)
    if result.formulas:
        yield Text()
        yield line("formulas", "bold")
        yield from _formulas(result.formulas)
    yield Text()
    if result.caution:
        yield line(f"beware: {result.caution}", "bold")
    yield line(CAUTION)


def _title(result: Finding | Figure) -> Text:
    title = line(result.id, "bold")
    if isinstance(result, Finding):
        title.append(f"  {mark_of(result.verdict)} {result.verdict}, stake: {result.stake}")
    return title


def _values(explanation: Explanation) -> Table:
    result = explanation.result
    rows = {"about": result.about, "value": interval(result.value)}
    if isinstance(result, Finding):
        rows["worst in"] = result.state
        rows["limit"] = f"{limit_of(result)}; {source_of(result)}"
        rows["margin"] = interval(result.margin)
        rows["kept by"] = "" if result.share_ok is None else f"{kept_by(result)} of {result.draws} draws"
    rows["missing"] = "; ".join(f"{path}, {meaning}" for path, meaning in result.missing.items())
    rows["remark"] = result.remark
    rows["next"] = explanation.next_step
    table = Table.grid(padding=(0, 2, 0, 0), expand=True)
    table.add_column(no_wrap=True)
    table.add_column(ratio=1)
    for label, text in rows.items():
        if text:
            table.add_row(f"  {label}", line(text))
    return table


def _states(finding: Finding) -> Table:
    """Value, margin and share in each of the worst states; the others are counted."""
    table = Table.grid(padding=(0, 2, 0, 0), expand=True)
    table.add_column()
    table.add_column(no_wrap=True, justify="right")
    table.add_column(ratio=1)
    for one in finding.states[:_STATES_SHOWN]:
        numbers = f"{interval(one.value)}: margin {interval(one.margin)}"
        table.add_row(line(f"  {one.state}"), percent(one.share_ok), line(numbers))
    more = len(finding.states) - _STATES_SHOWN
    if more > 0:
        table.add_row(line(f"  and {more} more (--json)"), "", "")
    return table


def _other_limits(finding: Finding) -> Table:
    """The verdict against each of the other limits, and their sources."""
    table = Table.grid(padding=(0, 2, 0, 0), expand=True)
    table.add_column(no_wrap=True)
    table.add_column(ratio=1)
    for one in finding.limits[1:]:
        state = f" ({one.state})" if one.state else ""
        text = f"{limit_of(one)}; {source_of(one)}: margin {interval(one.margin)}{state}"
        table.add_row(f"  {mark_of(one.verdict)} {one.verdict}", line(f"{text}{_replaced(finding, one)}"))
    return table


def _replaced(finding: Finding, one: LimitUse) -> str:
    by = next((other for other in finding.limits if other.id == one.replaced_by), None)
    return f"; replaced by: {by.source}" if by else ""


def _facts(facts: Iterable[FactUse], acting_together: float) -> Table:
    table = Table.grid(padding=(0, 2, 0, 0), expand=True)
    table.add_column(no_wrap=True)
    table.add_column(no_wrap=True, justify="right")
    table.add_column(no_wrap=True)
    table.add_column(ratio=1, overflow="fold")
    table.add_column(no_wrap=True)
    for fact in facts:
        table.add_row(f"  {bar(fact.share)}", percent(fact.share), clean(fact.path), clean(fact.text), fact.provenance)
    if acting_together >= _WORTH_SAYING:
        table.add_row(f"  {bar(acting_together)}", percent(acting_together), "facts acting on each other", "", "")
    return table


def _formulas(formulas: Iterable[Formula]) -> Iterator[Padding]:
    for formula in formulas:
        yield Padding(line(f"{formula.name}: {formula.says}"), (0, 0, 0, 2))
        if formula.source:
            yield Padding(line(f"source: {formula.source}"), (0, 0, 0, 6))
