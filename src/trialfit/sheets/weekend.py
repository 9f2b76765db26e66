"""The sheet for the weekend: the jobs that are ready, first those that most others wait for, with everything they need.

Answers   weekend_sheet   for the hours of the workshop on the next weekend
Not here  which jobs come first and what they need (advice/weekend.py)
"""

from __future__ import annotations

from itertools import zip_longest
from typing import TYPE_CHECKING

from trialfit.advice.weekend import weekend_hours, what_next
from trialfit.sheets.all_sheets import SHEETS
from trialfit.sheets.cautions import LOOK_FIRST, MANUAL_FIRST
from trialfit.sheets.sheet import Blank, Caution, Column, Fields, Heading, Line, Paragraph, Sheet, Table, Tick, TickList

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.advice.weekend import NextJob, NextList
    from trialfit.sheets.known import Known
    from trialfit.sheets.sheet import Block, Cell

_NAME, _TITLE = "weekend", "This weekend"
_NOTHING = "Nothing is ready: trialfit jobs shows what each job waits for."
_NO_ORDER = "where it is kept: missing"
_SPARE_ROWS = 5


def weekend_sheet(known: Known) -> Sheet:
    """What to do, what to set out first, what stays loose; room for other work done."""
    hours, whose = weekend_hours(known.site.workshop)
    listed = what_next(known.site, hours, known.site.workshop.people)
    people = "one person" if listed.people == 1 else f"{listed.people} people"
    blocks: list[Block] = [
        Caution(
            texts=(LOOK_FIRST, *(f"{job.id}: {job.cautions}" for job in listed.jobs if job.cautions), MANUAL_FIRST)
        ),
        Fields(lines=(Line(label="time", value=f"{listed.hours:g} hours, {people}: {whose}"),)),
    ]
    blocks += _put_out(listed)
    blocks += [block for number, job in enumerate(listed.jobs, 1) for block in _job(number, job)]
    if not listed.jobs:
        blocks.append(Paragraph(text=_NOTHING, strong=True))
    blocks += _besides(listed)
    blocks += _by_hand()
    return Sheet(name=_NAME, title=_TITLE, build=known.build.name, blocks=tuple(blocks))


def _put_out(listed: NextList) -> Iterator[Block]:
    """Parts, tools and sheets of all jobs, each once."""
    parts = (f"{one.part}; {one.lies or _NO_ORDER}" for job in listed.jobs for one in job.parts)
    tools = (tool.strip() for job in listed.jobs for tool in (*job.tools.split(";"), *job.uses))
    sheets = (_as_typed(job.sheets) for job in listed.jobs)
    columns = {
        title: [text for text in dict.fromkeys(texts) if text]
        for title, texts in (("parts, and where they lie", parts), ("tools", tools), ("sheets to print", sheets))
    }
    rows = tuple(
        tuple(Tick(text=text) if text else "" for text in row) for row in zip_longest(*columns.values(), fillvalue="")
    )
    if rows:
        yield Heading(text="Set out before you begin")
        yield Table(columns=tuple(Column(title=title, share=1) for title in columns), rows=rows)


def _as_typed(sheet: str) -> str:
    """A sheet as `trialfit sheet` takes its name: "driveline-setting" for "driveline setting"."""
    name = sheet.replace(" ", "-")
    return name if name in SHEETS else sheet


def _job(number: int, job: NextJob) -> Iterator[Block]:
    yield Heading(text=f"{number}. {job.title}")
    rows = {
        "job": f"{job.id}{', in hand already' if job.is_in_hand else ''}",
        "hours": job.hours_in_words(),
        "people": f"{job.people}" if job.people > 1 else "",
        "beware": job.cautions,
        "readings": ", ".join(job.readings),
        "frees": f"{', '.join(job.frees)}; {job.behind} jobs wait for it"
        if job.frees
        else f"{job.behind} jobs wait for it",
        "then waits": ", ".join(job.waits),
        "usually leaves": ", ".join(job.leaves),
    }
    yield Fields(lines=tuple(Line(label=label, value=text) for label, text in rows.items() if text))
    columns = (
        Column(title="done"),
        Column(title="hours taken", share=1),
        Column(title="left loose, capped, tacked or hand-tight", share=3),
    )
    yield Table(columns=columns, rows=((Tick(), Blank(unit="h"), Blank()),))


def _besides(listed: NextList) -> Iterator[Block]:
    if listed.loose_first:
        yield Heading(text=f"Loose before {listed.loose_first[0].gate}")
        yield TickList(
            lines=tuple(f"{end.says}: {end.where or 'place missing'}, {end.because}" for end in listed.loose_first)
        )
    more = {
        "ready too": ", ".join(listed.left_over),
        "needs more people": ", ".join(listed.needs_more_people),
        "check again": "; ".join(one.says for one in listed.look_again),
        "remarks": " ".join(listed.remarks),
    }
    lines = tuple(Line(label=label, value=text) for label, text in more.items() if text)
    if lines:
        yield Heading(text="Besides")
        yield Fields(lines=lines)


def _by_hand() -> Iterator[Block]:
    yield Heading(text="Also done: write it into the book")
    columns = (Column(title="what", share=3), Column(title="hours", share=1), Column(title="left loose", share=3))
    rows: tuple[tuple[Cell, ...], ...] = tuple((Blank(), Blank(unit="h"), Blank()) for _ in range(_SPARE_ROWS))
    yield Table(columns=columns, rows=rows)
