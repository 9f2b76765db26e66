"""What was done, one thing after the other, as the book keeps it.

Answers   Do        what can be done
          Event     one thing that was done
          events_of those of a build, in order
          as_entries, left_text   an event as the entries of [work.NUMBER]; a loose end in it
Not here  its effect on jobs and loose ends (states.py), when it may be done (doing.py)
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from typing import TYPE_CHECKING

from trialfit.book.problems import BadInput, Located
from trialfit.planning.job import LooseEnd

if TYPE_CHECKING:
    from trialfit.book.document import Document

    Entries = dict[str, str | tuple[str, ...]]

_LEFT = re.compile(r"(?P<id>[\w-]+)@(?P<gate>[\w-]*); (?P<says>.*)")


class Do(StrEnum):
    """What can be done to a job, a loose end or a gate."""

    start = "start"
    finish = "finish"
    reopen = "take up again"
    put_down = "put down"
    wait_over = "wait over"
    leave = "leave"
    close = "close"
    go = "pass"


@dataclass(frozen=True)
class Event:
    """One thing that was done. Only the fields that belong to it are filled in.

    leaves    the loose ends that it opened
    relied    the findings and readings that held when a job was finished: "driveline.whirl.shaft"
    by        the reading or finding that closed a loose end
    although  why it was done although something stood against it
    """

    number: int
    what: Do
    when: datetime
    job: str = ""
    end: str = ""
    gate: str = ""
    hours: float | None = None
    leaves: tuple[LooseEnd, ...] = ()
    relied: tuple[str, ...] = ()
    by: str = ""
    because: str = ""
    although: str = ""


def events_of(document: Document, where: str = "") -> tuple[Event, ...]:
    """What was done, in order. Raises BadInput for what cannot be read."""
    events, problems = [], []
    for number, entries in sorted(document.work.items(), key=lambda item: (len(item[0]), item[0])):
        try:
            events.append(_event(number, entries))
        except (ValueError, KeyError, TypeError) as wrong:
            problems.append(Located(f"work.{number}", f"cannot be read: {wrong}"))
    if problems:
        raise BadInput(where or document.name or "the build", problems)
    return tuple(events)


def as_entries(event: Event) -> Entries:
    """The event as it is kept, without its number."""
    entries: Entries = {"what": str(event.what), "when": event.when.isoformat(timespec="seconds")}
    for key in ("job", "end", "gate", "by", "because", "although"):
        if text := getattr(event, key):
            entries[key] = text
    if event.hours is not None:
        entries["hours"] = f"{event.hours:g}"
    if event.leaves:
        entries["leaves"] = tuple(map(left_text, event.leaves))
    if event.relied:
        entries["relied"] = event.relied
    return entries


def left_text(end: LooseEnd) -> str:
    """A loose end as text that can be read without the table that it comes from."""
    return f"{end.id}@{end.gate}; {end.says}"


def _event(number: str, entries: Entries) -> Event:
    left = entries.get("leaves", ())
    job = str(entries.get("job", ""))
    when = datetime.fromisoformat(str(entries["when"]))
    return Event(
        number=int(number),
        what=Do(str(entries["what"])),
        when=when if when.tzinfo else when.astimezone(),
        job=job,
        end=str(entries.get("end", "")),
        gate=str(entries.get("gate", "")),
        hours=float(str(entries["hours"])) if "hours" in entries else None,
        leaves=tuple(_left(text, job) for text in ((left,) if isinstance(left, str) else left)),
        relied=_texts(entries.get("relied", ())),
        by=str(entries.get("by", "")),
        because=str(entries.get("because", "")),
        although=str(entries.get("although", "")),
    )


def _left(text: str, job: str) -> LooseEnd:
    found = _LEFT.fullmatch(text)
    if not found:
        raise ValueError(f'"{text}" is not a loose end: expected NAME@GATE; WORDS')
    return LooseEnd(found["id"], found["says"], job, found["gate"])


def _texts(entry: str | tuple[str, ...]) -> tuple[str, ...]:
    return (entry,) if isinstance(entry, str) else entry
