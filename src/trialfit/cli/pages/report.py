"""The findings of a build as a page: by subject, the worst first.

Answers   page      the whole report
          summary   one line that counts
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.table import Table
from rich.text import Text

from trialfit.advice.next_step import next_step
from trialfit.cli.screen import CAUTION, clean, interval, limit_of, line, mark_of, source_of
from trialfit.evaluation.verdict import Verdict

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from rich.console import RenderableType

    from trialfit.evaluation.finding import Figure, Finding, Report

_NOUNS = {Verdict.fails: "fail", Verdict.unsettled: "unsettled", Verdict.unknown: "unknown", Verdict.holds: "hold"}


def page(report: Report, *, with_figures: bool = False) -> Iterator[RenderableType]:
    """The report as a page."""
    yield line(f"{report.build or 'a build without a name'}, {report.draws} draws", "bold")
    for subject in dict.fromkeys(result.subject for result in (*report.findings, *report.figures)):
        findings = [one for one in report.findings if one.subject == subject]
        shown = [one for one in report.figures if one.subject == subject] if with_figures else []
        if findings or shown:
            yield Text()
            yield line(subject, "bold underline")
            yield _table(findings, shown)
    yield Text()
    yield line(summary(report, with_figures=with_figures))
    yield line(CAUTION)


def summary(report: Report, *, with_figures: bool) -> str:
    """One line that counts."""
    verdicts = [finding.verdict for finding in report.findings]
    counts = ", ".join(f"{verdicts.count(verdict)} {noun}" for verdict, noun in _NOUNS.items() if verdict in verdicts)
    hint = "" if with_figures or not report.figures else f"; {len(report.figures)} figures without a limit (--figures)"
    return f"{len(report.findings)} findings: {counts or 'none'}{hint}."


def _table(findings: Iterable[Finding], figures: Iterable[Figure]) -> Table:
    table = Table.grid(padding=(0, 2, 0, 0), expand=True)
    table.add_column(no_wrap=True)
    table.add_column(no_wrap=True, min_width=9)
    table.add_column(ratio=1)
    for finding in findings:
        heavy = "" if finding.verdict is Verdict.holds else "bold"
        table.add_row(Text(mark_of(finding.verdict), heavy), Text(finding.verdict, heavy), _body(finding))
    for figure in figures:
        table.add_row("", "figure", _figure(figure))
    return table


def _body(finding: Finding) -> Text:
    if finding.verdict is Verdict.holds:
        return line(f"{finding.id}  {interval(finding.value)}, {limit_of(finding)}")
    text = line(finding.id, "bold")
    text.append(f"  stake: {finding.stake}\n{clean(finding.says)}\n")
    if finding.value or finding.limit:
        text.append(f"{_numbers(finding)}\n")
    text.append(f"limit: {source_of(finding)}\n")
    text.append(f"next: {clean(next_step(finding))}\n")
    return text


def _numbers(finding: Finding) -> str:
    numbers = f"{interval(finding.value)}, {limit_of(finding)}"
    return f"{numbers}: margin {interval(finding.margin)}" if finding.margin else numbers


def _figure(figure: Figure) -> Text:
    if figure.value is None:
        missing = ", ".join(figure.missing) or "a value inside the range of its formula"
        return line(f"{figure.id}  not known: {missing} is missing")
    return line(f"{figure.id}  {interval(figure.value)}  {figure.says}")
