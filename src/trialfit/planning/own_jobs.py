"""The builder's own jobs, and his changes to usual ones: [job.NAME] in the build.

Answers   with_own     a job with the builder's entries
          ends_of      the loose ends that the entries name
Not here  which jobs there are (network.py); the small languages of hours, waits and needs (templates.py)
"""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

from trialfit.book.problems import Located
from trialfit.planning.job import Hours, Job, LooseEnd
from trialfit.planning.templates import hours_of, needs_of, waits_of

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    Entry = str | tuple[str, ...]

_END = re.compile(r"(?P<says>[^@>]+?)\s*@\s*(?P<gate>[\w-]+)(?:\s*>\s*(?P<by>.+))?")
_UNKNOWN_HOURS = Hours(1.0, 2.0, 5.0)
_SLUG = re.compile(r"[^a-z0-9]+")
MOST_PEOPLE = 20


def with_own(job: Job | None, name: str, entries: Mapping[str, Entry], problems: list[Located]) -> Job:
    """A job with the builder's entries in place of the usual ones; a new one where `job` is None."""
    made = job or Job(name, name.replace("_", " "), _UNKNOWN_HOURS, is_own=True)
    changes: dict[str, object] = {}
    for key, entry in entries.items():
        try:
            changes |= _read(key, entry)
        except ValueError as wrong:
            problems.append(Located(f"job.{name}.{key}", str(wrong)))
    if "leaves" in entries:
        changes["leaves"] = tuple(end.id for end in ends_of(name, entries, []))
    return replace(made, **changes)  # type: ignore[arg-type]


def ends_of(name: str, entries: Mapping[str, Entry], problems: list[Located]) -> list[LooseEnd]:
    """The loose ends in the entries: "tray held by one bolt @ road > CE11", behind > the jobs that close it."""
    ends = []
    for text in _several(entries.get("leaves", ()), ";"):
        end = read_end(text, name)
        if end is None:
            says = f'has "{text}": write it as in "tray on one bolt @ road > CE11"'
            problems.append(Located(f"job.{name}.leaves", says))
        else:
            ends.append(end)
    return ends


def read_end(text: str, job: str) -> LooseEnd | None:
    """One loose end as typed; None if it cannot be read."""
    found = _END.fullmatch(text.strip())
    if not found:
        return None
    closers = (found["by"] or "").replace(",", " ").split()
    readings = [word[2:] for word in closers if word.startswith("r:")]
    slug = _SLUG.sub("_", found["says"].lower()).strip("_") or "end"
    jobs = tuple(word for word in closers if not word.startswith("r:"))
    return LooseEnd(
        f"{job}-{slug}" if job else slug, found["says"], job, found["gate"], jobs, readings[0] if readings else ""
    )


def _read(key: str, entry: Entry) -> dict[str, object]:
    if key not in _READERS:
        return {}
    return {"is_loud" if key == "loud" else key: _READERS[key](entry)}


def _text(entry: Entry) -> str:
    return entry if isinstance(entry, str) else ", ".join(entry)


def _people(entry: Entry) -> int:
    text = _text(entry)
    if not (text.isascii() and text.isdigit() and 1 <= int(text) <= MOST_PEOPLE):
        raise ValueError(f'is "{text}": expected a number of people from 1 to {MOST_PEOPLE}')
    return int(text)


def _is_loud(entry: Entry) -> bool:
    if entry not in ("yes", "no"):
        raise ValueError(f'is "{_text(entry)}": expected yes or no')
    return entry == "yes"


def _words(entry: Entry) -> tuple[str, ...]:
    return tuple(
        word for text in ((entry,) if isinstance(entry, str) else entry) for word in text.replace(",", " ").split()
    )


def _several(entry: Entry, sign: str) -> list[str]:
    texts = entry.split(sign) if isinstance(entry, str) else list(entry)
    return [text.strip() for text in texts if text.strip()]


_READERS: dict[str, Callable[[Entry], object]] = {
    "hours": lambda entry: hours_of(_text(entry)),
    "needs": lambda entry: needs_of(_words(entry)),
    "waits": lambda entry: waits_of(_text(entry)),
    "people": _people,
    "loud": _is_loud,
    **dict.fromkeys(("readings", "uses", "undone_by"), _words),
    **dict.fromkeys(("title", "gate", "tools", "sheets", "cautions"), _text),
}
