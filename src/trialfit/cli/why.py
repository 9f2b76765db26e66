"""`trialfit why`: one finding with everything it stands on."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING, Annotated

from cyclopts import Parameter
from rich.table import Table
from rich.text import Text

from trialfit.advice.explaining import Explanation, explain
from trialfit.advice.next_step import percent
from trialfit.cli.options import BuildFile, Draws, Json, draws_wanted, read_build
from trialfit.cli.screen import CAUTION, bar, clean, interval, limit_of, line, mark_of, show, working
from trialfit.evaluation.finding import Finding

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from rich.console import RenderableType

    from trialfit.evaluation.finding import FactUse, Figure, Formula

FindingId = Annotated[str, Parameter(help="id of the finding or figure, as check prints it")]


def why(build: BuildFile, finding: FindingId, /, *, draws: Draws = 4096, json: Json = False) -> int:
    """Shows what a finding stands on.

    The value with its limit, the formula and its source, every fact that was read with where it came from, and the share
    of the doubt that each fact causes. The exit code is 1 when the finding fails, else 0.
    """
    read = read_build(build)
    with working(f"working out {draws} draws"):
        explanation = explain(read, finding, draws_wanted(draws))
    if json:
        from trialfit.cli.shapes import as_json

        sys.stdout.write(as_json(explanation))
    else:
        show(*page(explanation))
    return int(explanation.fails)


def page(explanation: Explanation) -> Iterator[RenderableType]:
    """The explanation as a page."""
    result = explanation.result
    yield _title(result)
    yield line(result.says)
    yield Text()
    yield _values(explanation)
    if result.facts:
        yield Text()
        yield line("facts, by the share of the doubt that each causes", "bold")
        yield _facts(result.facts)
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
        rows["limit"] = f"{limit_of(result)}; {result.source} ({result.source_kind})"
        rows["margin"] = interval(result.margin)
        rows["kept by"] = "" if result.share_ok is None else f"{percent(result.share_ok)} of {explanation.draws} draws"
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


def _facts(facts: Iterable[FactUse]) -> Table:
    table = Table.grid(padding=(0, 2, 0, 0), expand=True)
    table.add_column(no_wrap=True)
    table.add_column(no_wrap=True, justify="right")
    table.add_column(ratio=3, overflow="fold")
    table.add_column(ratio=3, overflow="fold")
    table.add_column(no_wrap=True)
    for fact in facts:
        table.add_row(f"  {bar(fact.share)}", percent(fact.share), clean(fact.path), clean(fact.text), fact.provenance)
    return table


def _formulas(formulas: Iterable[Formula]) -> Iterator[Text]:
    for formula in formulas:
        yield line(f"  {formula.name}: {formula.says}")
        if formula.source:
            yield line(f"    {formula.source}")
