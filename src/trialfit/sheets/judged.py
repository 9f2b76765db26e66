"""Rows that several sheets share: facts as cells, findings with their limits, jobs with a box.

Answers   cell               a fact as written, or room to write it in by hand
          unit_for           the unit that is printed at the end of such room
          box                a box to tick, or NOT SO if a finding fails
          verdicts           findings in a table: verdict, requirement, value, limit
          shown              a figure or the value of a finding, by its id
          cautions_of        the cautions of some findings, each once
          missing_of         the facts that some findings need
          jobs_to_tick       jobs of the network as rows with boxes
Not here  the figures (evaluation/, advice/)
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from trialfit.evaluation.verdict import Verdict
from trialfit.facts.provenance import Provenance
from trialfit.facts.units import customary_unit, display_unit
from trialfit.sheets.amounts import NOT_KNOWN, UnitSystem, amount, fact_text, limit_text
from trialfit.sheets.sheet import Blank, Column, Table, Tick

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from trialfit.evaluation.finding import Figure, Finding
    from trialfit.facts.quantity import Quantity
    from trialfit.parts.fact_refs import FactRef
    from trialfit.planning.job import Job
    from trialfit.sheets.known import Known
    from trialfit.sheets.sheet import Cell

NOT_SO = "NOT SO: it fails"
_TYPICAL = re.compile(r"typical values used for ([^;]+)")
WORST_FIRST = (Verdict.fails, Verdict.unsettled, Verdict.unknown, Verdict.holds)


def unit_for(quantity: Quantity, units: UnitSystem) -> str:
    """The unit in which to ask for a value: that of the requested system, metric for both."""
    usual = display_unit(quantity)
    wanted = customary_unit(quantity) if units is UnitSystem.us else None
    return (wanted or usual).canonical


def text_of(known: Known, ref: FactRef) -> str:
    """A fact as written, with its provenance; empty if it is missing."""
    written = ref.written
    if written is None:
        return ""
    text = fact_text(written, known.units)
    return text if written.provenance is Provenance.unstated else f"{text}, {written.provenance}"


def cell(known: Known, ref: FactRef) -> Cell:
    """A fact as written, or room for it with its unit."""
    return text_of(known, ref) or Blank(unit=unit_for(ref.spec.quantity, known.units))


def shown(known: Known, identifier: str) -> str:
    """The value of a finding or figure as on the screen; empty if the build has none with that id."""
    found = known.report.result(identifier)
    return amount(found.value, known.units) if found else ""


def about(known: Known, subject: str, *names: str) -> list[Finding]:
    """The findings of a subject about some parts, by the name that ends their id or that they are about; worst first."""
    found = [
        one
        for one in known.report.findings
        if one.subject == subject and (one.about in names or one.id.rpartition(".")[2] in names)
    ]
    return sorted(found, key=lambda one: WORST_FIRST.index(one.verdict))


def box(known: Known, subject: str, name: str) -> Cell:
    """A box to tick; NOT SO where a finding about the part fails: paper must not show it as done."""
    fails = any(one.verdict is Verdict.fails for one in about(known, subject, name))
    return NOT_SO if fails else Tick()


def verdicts(known: Known, findings: Iterable[Finding]) -> Iterator[Table]:
    """A row for each finding; nothing without findings."""
    rows = tuple(_verdict(known, one) for one in findings)
    if rows:
        columns = (
            Column(title="verdict"),
            Column(title="requirement", share=3.2),
            Column(title="value and limit", share=2),
            Column(title="remark", share=2.8),
        )
        yield Table(columns=columns, rows=rows)


def _verdict(known: Known, one: Finding) -> tuple[Cell, ...]:
    return str(one.verdict), f"{one.id}: {one.says}", value_and_limit(known, one), to_know(one)


def value_and_limit(known: Known, one: Finding) -> str:
    """Value with its spread and the limit with its side, as on the screen."""
    if one.value is None and one.limit is None:
        return NOT_KNOWN
    return f"{amount(one.value, known.units)}, {limit_text(one, known.units)}"


def to_know(one: Finding) -> str:
    """The missing facts, else the remark and the cure; typical values only by their number, `why` lists them."""
    if one.missing:
        return f"missing: {', '.join(one.missing)}"
    cure = one.cure if one.verdict is Verdict.fails else ""
    return "; ".join(filter(None, (_TYPICAL.sub(_counted, one.remark), cure)))


def _counted(found: re.Match[str]) -> str:
    return f"typical values used: {len(found[1].split(', '))}, list in why"


def cautions_of(results: Iterable[Finding | Figure]) -> tuple[str, ...]:
    """The cautions on findings and figures, each once."""
    return tuple(dict.fromkeys(one.caution for one in results if one.caution))


def missing_of(results: Iterable[Finding | Figure]) -> dict[str, str]:
    """The facts that findings and figures need, each once, with their meaning."""
    return {path: says for one in results for path, says in one.missing.items()}


def jobs_to_tick(known: Known, jobs: Iterable[Job]) -> Iterator[Table]:
    """A row for each job in the order of the network, with its state and its cautions; nothing without jobs."""
    rows = tuple(_job(known, job) for job in jobs)
    if rows:
        columns = (
            Column(title=""),
            Column(title="job", share=4),
            Column(title="now", share=1.1),
            Column(title="beware", share=3.2),
        )
        yield Table(columns=columns, rows=rows)


def _job(known: Known, job: Job) -> tuple[Cell, ...]:
    return Tick(), f"{job.id}: {job.title}", str(known.site.status.job(job.id).state), job.cautions
