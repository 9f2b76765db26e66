"""The build record for a certifier: the present state of the car, each requirement with its evidence, and what is open.

Answers   build_record_sheet   of the whole build
Not here  the figures (evaluation/), photos and their previews (book/), the layout of photos (evidence.py)

It shows what was written down and calculated, and gives no approval: the certifier decides. What does not hold
or is not known is printed as open, before everything else.
"""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING

from trialfit.evaluation.verdict import Verdict
from trialfit.facts.provenance import Provenance
from trialfit.parts.fact_refs import FactRef
from trialfit.planning.reports import gate_report, loose_report
from trialfit.planning.states import State
from trialfit.planning.work_readings import readings_of
from trialfit.sheets.evidence import evidence_of, known_by, photos
from trialfit.sheets.judged import value_and_limit
from trialfit.sheets.sheet import Blank, Caution, Column, Fields, Heading, Line, Paragraph, Sheet, Table, Tick

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.evaluation.finding import Finding
    from trialfit.sheets.known import Known
    from trialfit.sheets.sheet import Block, Cell

_NAME, _TITLE = "build-record", "Build record"
_WHAT_IT_IS = (
    "This record shows the written facts of the build and the figures calculated from them. It gives no approval: the licensed certifier and "
    "local codes decide what may be driven on a road, and the maker's manual outranks every figure here."
)
_HOW_TO_READ = (
    "A value is shown with its 95 % interval. A requirement holds if its margin stays positive over "
    "that interval; else it is open: it fails, it is unsettled (the limit is within the interval) or unknown (a fact is missing). A limit "
    "names its source; common practice and figures from memory are weak sources, and the code for this car may require another limit. "
    "Facts known by: measured with tape, caliper, gauge or scales, or a guess, a catalogue figure or a typical value."
)
_NONE_OPEN = "No requirement of this build is open. Facts that were not written down are not listed."
_NOT_IN = "not in the book"
_SIGNED = ("builder", "signature", "date", "certifier", "signature", "date", "code and version that was used")


def build_record_sheet(known: Known) -> Sheet:
    """Open points first, then parts, requirements by subject, readings, work, photos and papers, signatures."""
    blocks: list[Block] = [Caution(texts=(_WHAT_IT_IS,)), *_identity(known), *_open_points(known)]
    blocks += [Heading(text="What is on the car"), _parts(known)] if known.build.parts else []
    blocks += _requirements(known)
    blocks += _readings(known)
    blocks += _work(known)
    blocks += photos(known)
    blocks += [Heading(text="Signatures"), Fields(lines=tuple(Line(label=label) for label in _SIGNED))]
    return Sheet(name=_NAME, title=_TITLE, build=known.build.name, blocks=tuple(blocks))


def _identity(known: Known) -> Iterator[Block]:
    document = known.build.document
    yield Fields(
        lines=(
            Line(label="build", value=known.build.name),
            Line(label="what was done", value=document.story),
            Line(label="build as of", value=f"{known.dated:%Y-%m-%d %H:%M}"),
            Line(label="change of the journal", value=known.journal),
            Line(label="vehicle identification number"),
            Line(label="registered as"),
        )
    )


def _open_points(known: Known) -> Iterator[Block]:
    """Every requirement that does not hold, every loose end, every gate that lies ahead."""
    yield Heading(text="Open points")
    rows = [
        (str(one.verdict), one.id, str(one.stake), _open(known, one))
        for one in known.report.findings
        if one.verdict is not Verdict.holds
    ]
    rows += [("loose", end.says, end.gate, f"{end.where}; {end.because}") for end in loose_report(known.site).ends]
    for gate in known.site.network.gates:
        report = gate_report(known.site, gate)
        if not report.is_passed:
            rows.append(("gate ahead", gate, "", f"{report.title}: {len(report.blocks)} things block it"))
    if rows:
        columns = (
            Column(title="open"),
            Column(title="what", share=2.6),
            Column(title="stake", share=1.6),
            Column(title="why", share=4.4),
        )
        yield Table(columns=columns, rows=tuple(rows))
    else:
        yield Paragraph(text=_NONE_OPEN)


def _open(known: Known, one: Finding) -> str:
    if one.missing:
        return f"{one.says}; missing: {', '.join(one.missing)}"
    return f"{one.says}; {value_and_limit(known, one)}"


def _parts(known: Known) -> Table:
    """Each part with its note and the provenance of its facts."""
    columns = (
        Column(title="part", share=2),
        Column(title="kind", share=1.4),
        Column(title="as written", share=3),
        Column(title="facts known as", share=2.6),
    )
    return Table(columns=columns, rows=tuple(_part(known, name) for name in known.build.parts))


def _part(known: Known, name: str) -> tuple[Cell, ...]:
    part, text = known.build.parts[name], known.build.document.parts[name]
    refs = [value for key in part.values for value in [getattr(part, key)]]
    facts = [ref for value in refs for ref in (value if isinstance(value, tuple) else (value,))]
    words = [str(ref.written.provenance) for ref in facts if isinstance(ref, FactRef) and ref.written]
    counts = {word: words.count(word) for word in dict.fromkeys(words) if word != Provenance.unstated}
    return name, text.kind.replace("_", " "), text.note, ", ".join(f"{count} {word}" for word, count in counts.items())


def _requirements(known: Known) -> Iterator[Block]:
    yield Heading(text="Requirements, by subject")
    yield Paragraph(text=_HOW_TO_READ)
    columns = (
        Column(title="requirement", share=3.2),
        Column(title="value, and limit", share=2),
        Column(title="stands", share=1.5),
        Column(title="where the limit comes from", share=2.6),
        Column(title="facts known by, and evidence", share=1.9),
    )
    for subject, findings in groupby(known.report.findings, key=lambda one: one.subject):
        yield Heading(text=subject.replace("_", " "))
        yield Table(columns=columns, rows=tuple(_requirement(known, one) for one in findings))
    if not known.report.findings:
        yield Paragraph(text="No requirement applies to the written facts.")


def _requirement(known: Known, one: Finding) -> tuple[Cell, ...]:
    stands = "holds" if one.verdict is Verdict.holds else f"OPEN: {one.verdict}"
    evidence = "; ".join(filter(None, (known_by(one), *evidence_of(known, one))))
    return (
        f"{one.id}: {one.says}",
        value_and_limit(known, one),
        stands,
        f"{one.source} ({one.source_kind})" if str(one.source_kind) not in one.source else one.source,
        evidence or Blank(),
    )


def _readings(known: Known) -> Iterator[Block]:
    """Readings taken while working: those in the book, and as open those that are not."""
    columns = (
        Column(title="reading", share=3),
        Column(title="read", share=1.6),
        Column(title="stands", share=2.6),
        Column(title="source of the limit", share=2),
    )
    wanted = {name for job in known.site.network.jobs.values() for name in job.readings}
    taken = [one for one in readings_of(known.build).values() if one.is_taken or one.name in wanted]
    rows = tuple(
        (
            one.about,
            one.text or Blank(),
            "in the book" if one.does else f"OPEN: {one.says if one.is_taken else _NOT_IN}",
            one.source,
        )
        for one in taken
    )
    if rows:
        yield Heading(text="Readings taken while working")
        yield Table(columns=columns, rows=rows)


def _work(known: Known) -> Iterator[Block]:
    """Jobs that are done, with their day and hours."""
    yield Heading(text="Work done")
    done = [(job, known.site.status.job(job.id)) for job in known.site.network.jobs.values()]
    rows = [
        (Tick(), f"{job.id}: {job.title}", f"{status.since:%Y-%m-%d}" if status.since else "", f"{status.hours:g} h")
        for job, status in done
        if status.state is State.done
    ]
    if rows:
        columns = (
            Column(title="seen"),
            Column(title="job", share=5),
            Column(title="on", share=1.2),
            Column(title="hours", share=1),
        )
        yield Table(columns=columns, rows=tuple(rows))
    else:
        yield Paragraph(text="No job is recorded as done.")
