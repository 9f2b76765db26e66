"""Changes of a book, and what was carried in or out of one, as pages."""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.book.opening import local
from trialfit.cli.rows import Hanging
from trialfit.cli.screen import clean, line

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pydantic import JsonValue
    from rich.console import RenderableType

    from trialfit.book.changes import Recorded
    from trialfit.book.reports import Carried, JournalPage, Made, Verification

_WORDS = {"leaves": "left", "relied": "relied on"}


def made_page(made: Made) -> Iterator[RenderableType]:
    """One change that was written."""
    yield line(f"{made.file}:", "bold")
    yield Hanging(_change(made.change))
    yield from map(line, made.remarks)


def journal_page(journal: JournalPage) -> Iterator[RenderableType]:
    """Changes, the oldest first."""
    yield line(f"{journal.file}: {len(journal.changes)} changes, times as on this computer", "bold")
    yield Hanging(row for change in journal.changes for row in _change(change))


def carried_page(carried: Carried) -> Iterator[RenderableType]:
    """What went from one file into another."""
    way = f"{carried.source} -> {carried.target}" if carried.source else carried.target
    changes = f"{carried.changes} changes, " if carried.changes else ""
    yield line(f"{way}: {changes}{carried.attachments} attachments", "bold")
    yield from map(line, carried.remarks)


def verification_page(found: Verification) -> Iterator[RenderableType]:
    """What was found when a book was read from end to end."""
    read = f"{found.changes} changes and {found.attachments} attachments"
    if not found.damages:
        yield line(f"{found.file} is sound: {read}, each as it was written.", "bold")
        return
    yield line(f"{found.file} is damaged; {read} could be read.", "bold")
    for damage in found.damages:
        yield line(f"  {damage.where}  {damage.says}")
    hint = f"`trialfit write-out {found.file} NEW.toml --salvage` brings out what can be read"
    yield line(f"{hint}; the book is not touched.")


def _change(change: Recorded) -> Iterator[tuple[str, str, str]]:
    """The lines of a change: beginning, text, style."""
    time = f"{local(change.time):%Y-%m-%d %H:%M}"
    yield "", clean(f"{change.number:>6}  {time}  {change.device or 'no device named'}  {change.path}"), "bold"
    label = "        {:4}  " if change.note else "        {:3}  "
    yield label.format("was"), clean(in_words(change.before)), ""
    yield label.format("is"), clean(in_words(change.after)), ""
    if change.note:
        yield label.format("note"), clean(change.note), ""


def in_words(value: JsonValue) -> str:
    """A value of the journal in one line; of a curve its first and last line."""
    if value is None:
        return "nothing"
    if isinstance(value, list):
        return " | ".join(map(str, value)) or "an empty list"
    if not isinstance(value, dict):
        rows = str(value).strip("\n").split("\n")
        return rows[0] or "empty" if len(rows) == 1 else f"{rows[0]} ... {rows[-1]} ({len(rows)} lines)"
    return _table_in_words(value)


def _table_in_words(value: dict[str, JsonValue]) -> str:
    """A part, a choice, something that was done, or an attachment."""
    if "entries" in value:
        entries = value["entries"]
        count = len(entries) if isinstance(entries, dict) else 0
        return f"{value['kind'] or 'a part'}, {count} {'entry' if count == 1 else 'entries'}"
    if "options" in value:
        return f"{in_words(value['options'])}; {value['picked'] or 'nothing'} picked"
    if "what" in value:
        return _done_in_words(value)
    if "sha256" in value:
        return f"{value.get('file')} of {value.get('about')}, SHA-256 {str(value['sha256'])[:12]}"
    return "; ".join(f"{key} {in_words(entry)}" for key, entry in value.items()) or "an empty table"


def _done_in_words(entries: dict[str, JsonValue]) -> str:
    """Something that was done, with the moment that it is said to be done at, its reasons and what it left."""
    about = next((str(entries[key]) for key in ("job", "gate", "end") if key in entries), "")
    told = [f"{entries['what']} {about}".rstrip(), f"at {str(entries.get('when', ''))[:16].replace('T', ' ')}"]
    told += [f"{entries['hours']} h"] if "hours" in entries else []
    told += [f"{key} {entries[key]}" for key in ("by", "because", "although") if key in entries]
    for key in ("leaves", "relied"):
        if key in entries:
            told.append(f"{_WORDS[key]} {in_words(entries[key])}")
    return "; ".join(told)
