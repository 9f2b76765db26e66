"""The findings of a build as a page: by subject, the worst first.

Answers   page      the whole report
          summary   one line that counts
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.text import Text

from trialfit.advice.next_step import get, next_step
from trialfit.cli.rows import Rows
from trialfit.cli.screen import CAUTION, clean, interval, kept_by, limit_of, line, mark_of, source_of
from trialfit.evaluation.verdict import Verdict

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from rich.console import RenderableType

    from trialfit.book.build import Build
    from trialfit.cli.rows import Row
    from trialfit.evaluation.finding import Figure, Finding, Report

_NOUNS = {Verdict.fails: "fail", Verdict.unsettled: "unsettled", Verdict.unknown: "unknown", Verdict.holds: "hold"}


def page(build: Build, report: Report, *, with_figures: bool = False) -> Iterator[RenderableType]:
    """The report of a build as a page."""
    yield line(f"{report.build or 'a build without a name'}, {report.draws} draws", "bold")
    for subject in dict.fromkeys(result.subject for result in (*report.findings, *report.figures)):
        figures = [one for one in report.figures if one.subject == subject]
        rows = [*_finding_rows(build, report, subject), *(_figure_rows(figures) if with_figures else [])]
        headlines = [one.headline for one in figures if one.headline]
        if rows or headlines:
            yield Text()
            yield line(subject, "bold underline")
            yield from (line(headline) for headline in headlines)
            yield Rows(rows)
    if report.questions:
        yield Text()
        yield line("unusual values", "bold underline")
        yield from (line(f"{one.path} {one.says}") for one in report.questions)
    yield Text()
    yield line(summary(report, with_figures=with_figures))
    yield from (line(f"{remark.path} {remark.says}", "bold") for remark in report.remarks)
    yield line(CAUTION)


def summary(report: Report, *, with_figures: bool) -> str:
    """One line that counts."""
    verdicts = [finding.verdict for finding in report.findings]
    counts = ", ".join(f"{verdicts.count(verdict)} {noun}" for verdict, noun in _NOUNS.items() if verdict in verdicts)
    figures = len(report.figures) + report.figures_left_out
    hint = "" if with_figures or not figures else f"; {figures} figures without a limit (--figures)"
    far = f"; {report.findings_left_out} wide gaps not listed" if report.findings_left_out else ""
    return f"{len(report.findings)} findings: {counts or 'none'}{far}{hint}."


def _finding_rows(build: Build, report: Report, subject: str) -> Iterator[Row]:
    """A row for each finding; those that wait for the same facts share one."""
    findings = [one for one in report.findings if one.subject == subject]
    waiting = [one for one in findings if one.verdict is Verdict.unknown and one.missing]
    for finding in findings:
        alike = [one for one in waiting if finding in waiting and one.missing == finding.missing]
        if not alike or alike[0] is finding:
            heavy = "" if finding.verdict is Verdict.holds else "bold"
            body = _together(alike) if len(alike) > 1 else _body(build, finding)
            yield Text(mark_of(finding.verdict), heavy), Text(finding.verdict, heavy), body


def _figure_rows(figures: Iterable[Figure]) -> Iterator[Row]:
    return ((Text(), Text("figure"), _figure(figure)) for figure in figures)


def _body(build: Build, finding: Finding) -> Text:
    if finding.verdict is Verdict.holds:
        return line(f"{finding.id}  {_in_state(finding, f'{interval(finding.value)}, {limit_of(finding)}')}")
    text = line(finding.id, "bold")
    text.append(f"  stake: {finding.stake}\n{clean(finding.says)}\n")
    if finding.value or finding.limit:
        text.append(f"{_numbers(finding)}\n")
    if finding.is_astride:
        text.append(f"kept by {kept_by(finding)} of {finding.draws} draws, too near to the threshold of its verdict\n")
    text.append(f"limit: {source_of(finding)}\n")
    text.append(f"next: {clean(next_step(build, finding))}\n")
    return text


def _together(findings: Sequence[Finding]) -> Text:
    """Findings that wait for the same facts, by stake, and these facts once."""
    text = Text()
    for stake in dict.fromkeys(finding.stake for finding in findings):
        text.append(", ".join(one.id for one in findings if one.stake is stake), "bold")
        text.append(f"  stake: {stake}\n")
    text.append(f"next: {clean(get(findings[0].missing))}\n")
    return text


def _numbers(finding: Finding) -> str:
    numbers = f"{interval(finding.value)}, {limit_of(finding)}"
    return _in_state(finding, f"{numbers}: margin {interval(finding.margin)}" if finding.margin else numbers)


def _in_state(finding: Finding, numbers: str) -> str:
    return f"{numbers} ({finding.state})" if finding.state else numbers


def _figure(figure: Figure) -> Text:
    if figure.value is None:
        missing = ", ".join(figure.missing) or "a value inside the range of its formula"
        return line(f"{figure.id}  not known: {missing} is missing")
    return line(f"{figure.id}  {interval(figure.value)}  {figure.says}")
