"""Jobs, what is next, loose ends, gates and what was done, as pages."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.table import Table
from rich.text import Text

from trialfit.cli.screen import CAUTION, clean, indented, line
from trialfit.planning.ready import Stand

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from rich.console import RenderableType

    from trialfit.advice.weekend import NextJob, NextList
    from trialfit.planning.reports import (
        Against,
        Done,
        EndView,
        GateReport,
        JobsReport,
        JobView,
        LookAgain,
        LooseReport,
    )
    from trialfit.planning.site import Site

_MOST_SHOWN = 4


def jobs_page(report: JobsReport, *, with_done: bool) -> Iterator[RenderableType]:
    """Every job with its present state."""
    counts = {stand: sum(job.stands is stand for job in report.jobs) for stand in Stand}
    told = ", ".join(f"{counts[stand]} {stand}" for stand in Stand)
    yield line(f"{report.build or 'a build without a name'}: {len(report.jobs)} jobs, {told}", "bold")
    for stand in (Stand.in_hand, Stand.ready, Stand.waiting, *((Stand.done,) if with_done else ())):
        listed = [job for job in report.jobs if job.stands is stand]
        if listed:
            yield Text()
            yield line(str(stand), "bold")
            yield _rows((job.id, _job_text(job)) for job in listed)
    yield from _again(report.look_again)
    yield from _by_hand(report)
    yield from map(line, report.remarks)
    yield Text()
    yield line(CAUTION)


def next_page(listed: NextList) -> Iterator[RenderableType]:
    """What to do in the hours available."""
    people = "one person" if listed.people == 1 else f"{listed.people} people"
    yield line(f"{listed.build or 'a build without a name'}: {listed.hours:g} hours, {people}", "bold")
    if not listed.jobs:
        yield line("Nothing is ready: trialfit jobs shows what each job waits for.")
    for number, job in enumerate(listed.jobs, 1):
        yield Text()
        yield _next(number, job)
    yield Text()
    for label, names in (("ready too", listed.left_over), ("needs more people", listed.needs_more_people)):
        if names:
            yield line(f"{label}: {', '.join(names)}")
    if listed.loose_first:
        yield line(f"loose before {listed.loose_first[0].gate}: {', '.join(end.says for end in listed.loose_first)}")
    yield from _again(listed.look_again)
    yield from map(line, listed.remarks)
    yield line(CAUTION)


def loose_page(report: LooseReport) -> Iterator[RenderableType]:
    """Every loose end."""
    count = sum(end.is_open for end in report.ends)
    yield line(
        f"{report.build or 'a build without a name'}: {count or 'no'} loose end{'s' * (count != 1)} open", "bold"
    )
    gate = None
    for end in report.ends:
        heading = f"must not pass {end.gate or 'any gate'}" if end.is_open else "closed"
        if heading != gate:
            yield Text()
            yield line(heading, "bold")
            gate = heading
        yield _rows([(end.says, _end_text(end))])
    yield Text()
    yield line("Only what was written down is in this list: look at the car.")


def gate_page(report: GateReport, file: str) -> Iterator[RenderableType]:
    """Whether a gate may be passed."""
    yield line(f"{report.gate}, {report.title}", "bold")
    if report.because:
        yield line(f"It was passed, and is shut again: {report.because}.")
    if report.is_passed:
        since = f" since {report.since:%Y-%m-%d %H:%M}" if report.since else ""
        yield line(f"It is passed{since}, and nothing has shut it again.")
        if report.although:
            yield line(f"It was blocked then, and passed anyway: {report.although}")
        if report.blocks:
            yield line(f"Open anyway, {len(report.blocks)}:", "bold")
            yield _rows((one.kind, _against_text(one)) for one in report.blocks)
    elif report.may_pass:
        yield line("Nothing that was written down blocks it.")
        yield line(f"trialfit gate {file} {report.gate} --pass records that it is passed.")
    else:
        yield line(f"Not to be passed: {len(report.blocks)} things block it.")
        yield _rows((one.kind, _against_text(one)) for one in report.blocks)
    if report.remarks:
        yield line("Also note:")
        yield from (indented(remark) for remark in report.remarks)
    if report.by_hand and not report.is_passed:
        yield line(f"Not judged, see by hand, {len(report.by_hand)}: the gate sheet has a box for each.", "bold")
        yield _rows((one.before, f"{one.about}: {one.fails}. {one.by_hand}") for one in report.by_hand)
    yield line("Read it aloud with a second person, and check each item on the car.")
    yield line(CAUTION)


def done_page(report: Done, after: Site) -> Iterator[RenderableType]:
    """One thing that was done, and its effects."""
    job = after.network.jobs.get(report.about)
    title = f", {job.title}" if job else ""
    yield line(f"{report.what} {report.about}{title}: change {report.number} of {report.file}", "bold")
    rows = [
        ("open now", "\n".join(f"{end.says} (must not pass {end.gate})" for end in report.opened)),
        ("closed", "\n".join(end.says for end in report.closed)),
        ("to do again", ", ".join(report.again)),
        ("shut again", ", ".join(report.shut)),
        ("ready now", ", ".join(report.ready)),
        ("beware", "\n".join(report.cautions)),
    ]
    yield _rows((label, text) for label, text in rows if text)
    yield from map(line, report.remarks)


def _by_hand(report: JobsReport) -> Iterator[RenderableType]:
    """Findings that jobs need and that cannot be worked out, with these jobs."""
    wanted: dict[str, list[str]] = {}
    for job in report.jobs:
        for name in job.by_hand if job.stands is not Stand.done else ():
            wanted.setdefault(name, []).append(job.id)
    if wanted:
        yield Text()
        yield line("the program cannot check this for this build: check it by hand", "bold")
        yield _rows((name, ", ".join(jobs)) for name, jobs in wanted.items())


def _next(number: int, job: NextJob) -> Table:
    table = Table.grid(padding=(0, 2, 0, 0), expand=True)
    table.add_column(no_wrap=True, justify="right", width=4)
    table.add_column(no_wrap=True)
    table.add_column(ratio=1)
    table.add_row(f"{number}.", job.id, line(job.title, "bold"))
    rows = {
        "hours": f"{job.hours_in_words()}{', in hand already' if job.is_in_hand else ''}",
        "people": f"{job.people}" if job.people > 1 else "",
        "frees": f"{', '.join(job.frees)}; {job.behind} jobs wait for it"
        if job.frees
        else f"{job.behind} jobs wait for it",
        "parts": ", ".join(f"{one.part} ({one.lies})" if one.lies else one.part for one in job.parts),
        "tools": "; ".join(filter(None, [job.tools, ", ".join(job.uses)])),
        "sheet": job.sheets,
        "read": ", ".join(job.readings),
        "by hand": f"{', '.join(job.by_hand)}: the program cannot check this for this build" if job.by_hand else "",
        "leaves": ", ".join(job.leaves),
        "then": ", ".join(job.waits),
        "beware": job.cautions,
    }
    for label, text in rows.items():
        if text:
            table.add_row("", label, line(text))
    return table


def _rows(pairs: Iterable[tuple[str, str]]) -> Table:
    table = Table.grid(padding=(0, 2, 0, 0), expand=True)
    table.add_column(max_width=26)
    table.add_column(ratio=1)
    for label, text in pairs:
        table.add_row(Text(f"  {clean(label)}"), Text("\n".join(clean(row) for row in text.split("\n"))))
    return table


def _job_text(job: JobView) -> str:
    told = [job.title]
    if job.because:
        told.append(f"to do again: {job.because}")
    if job.stands is Stand.done and job.since:
        told.append(f"since {job.since:%Y-%m-%d}, {job.spent:g} h")
    told += [_against_text(one) for one in job.against[:_MOST_SHOWN]]
    if len(job.against) > _MOST_SHOWN:
        told.append(f"and {len(job.against) - _MOST_SHOWN} more")
    return "\n".join(told)


def _against_text(one: Against) -> str:
    text = one.says if one.name in one.says else f"{one.name}: {one.says}"
    return f"{text}, until {one.until:%a %Y-%m-%d %H:%M}" if one.until else text


def _end_text(end: EndView) -> str:
    closers = [*end.closed_by, *([f"the reading {end.closed_by_reading}"] if end.closed_by_reading else [])]
    told = [f"{end.where or 'place missing'}; since {end.since:%Y-%m-%d}, {end.because}"]
    if end.is_open:
        told.append(f"closed by {' or '.join(closers)}" if closers else "closed by hand, with a reason")
    told.append(f"id {end.id}")
    return "\n".join(told)


def _again(turned: tuple[LookAgain, ...]) -> Iterator[RenderableType]:
    if turned:
        yield Text()
        yield line("to check again", "bold")
        yield _rows((one.job, one.says) for one in turned)
