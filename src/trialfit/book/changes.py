"""Changes to a build, and the build after them: apply `put` change by change. No file, no clock, no database.

Answers   Change      one change as requested: path, the expected old value, the new value
          Recorded    the same with its number, time and device, as recorded in the journal
          value_at    the value at a path of a state
          put         a state with the value at a path replaced
          in_names_of_today   a change with old names, given the present names
          differences the changes that lead from one state to another
          shape_at    the shape that a value at a path must have
          held_by     what refers to a part that is to be removed
          empty, state_of, document   an empty state; a Document as a state, and back
Not here  where changes are kept (store/store.py), when a change is allowed (journal.py)

A state is a plain tree of dictionaries: name, story, and a group for each field of the document. Paths:

    name, story                    text
    PART                           a whole part {kind, note, entries}, or None if the part does not exist
    PART.FACT                      one entry of it, text or list of texts; PART.kind and PART.note likewise
    choice.NAME                    a whole choice {options, picked, note}; choice.NAME.picked and so on
    limit.FINDING                  text
    attachment.NAME                {about, file, sha256, media_type, size, note}
    job.NAME, order.NAME           a whole {key: text or list of texts}; job.NAME.KEY and so on
    workshop.KEY, reading.NAME     text or list of texts; text
    work.NUMBER                    one entry of the work log {key: text or list of texts}
"""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING, Any, TypeVar

from pydantic import JsonValue

from trialfit.book.document import AttachmentText, ChoiceText, Document, PartText
from trialfit.book.renaming import change_now
from trialfit.book.work_text import GROUPS as WORK_GROUPS
from trialfit.facts.frozen import Frozen
from trialfit.parts import KINDS
from trialfit.parts.declaring import RefSpec

if TYPE_CHECKING:
    from types import UnionType

    from trialfit.book.renaming import Renamed

    State = dict[str, Any]

_GROUPS = {
    "choice": "choices",
    "limit": "limits",
    "attachment": "attachments",
    **{table: field for field, table in WORK_GROUPS.items()},
}
_PREFIXES = {"": "parts", **{f"{table}.": field for table, field in _GROUPS.items()}}
_FLAT = ("limit", "attachment", "workshop", "reading", "work")  # a member is one value
_HEAD = ("name", "story")
_ENTRY = str | tuple[str, ...]
_ENTRIES = dict[str, _ENTRY]
_MEMBERS: dict[str, Any] = {
    "limit": str,
    "attachment": AttachmentText,
    "job": _ENTRIES,
    "order": _ENTRIES,
    "workshop": _ENTRY,
    "reading": str,
    "work": _ENTRIES,
}


class Change(Frozen):
    """One change as requested. `before` is the expected old value, None if no value is expected."""

    path: str
    before: JsonValue
    after: JsonValue
    note: str = ""
    key: str = ""


class Recorded(Change):
    """One change as recorded in the journal."""

    number: int
    time: datetime
    device: str


Written = TypeVar("Written", bound=Change)


class NoSuchPlace(LookupError):
    """A path with no place in the build; the message is one sentence."""


def empty() -> State:
    """The state of an empty build."""
    return {"name": "", "story": "", **{group: {} for group in _PREFIXES.values()}}


def state_of(document: Document) -> State:
    """A document as a state."""
    state = document.model_dump(mode="json")
    del state["format"]
    return state


def document(state: State) -> Document:
    """A state as a document."""
    return Document.model_validate(state)


def value_at(state: State, path: str) -> JsonValue:
    """The value at a path, by its old or present name; None if there is no value."""
    table, key = _place(state, change_now(state, path, None)[0])
    return table.get(key) if table is not None else None


def put(state: State, path: str, value: JsonValue) -> tuple[Renamed, ...]:
    """Replaces the value at a path of the state, in place; None removes it. Raises NoSuchPlace.

    A state has the present names. Returns the old names found in the change.
    """
    path, value, renamed = change_now(state, path, value)
    table, key = _place(state, path)
    if table is None:
        raise NoSuchPlace(f"{path} has no place: {path.rpartition('.')[0]} does not exist")
    if value is None:
        table.pop(key, None)
    else:
        table[key] = value
    return renamed


def in_names_of_today(state: State, change: Written) -> Written:
    """A change with the present names, requested or recorded."""
    path, after, _ = change_now(state, change.path, change.after)
    before = change_now(state, change.path, change.before)[1]
    return change.model_copy(update={"path": path, "before": before, "after": after})


def shape_at(path: str) -> type | UnionType:
    """The shape that a value at a path must have: a model, text, or text or a list of texts. Does not cover None."""
    first, _, rest = path.partition(".")
    if not rest:
        return str if first in _HEAD else PartText
    if first in _GROUPS and first != "choice":
        member: type = _MEMBERS[first]
        return _ENTRY if member == _ENTRIES and "." in rest else member
    if first == "choice":
        return {"": ChoiceText, "options": tuple[str, ...]}.get(rest.partition(".")[2], str)
    return str if rest in ("kind", "note") else _ENTRY


def is_needed(path: str) -> bool:
    """Whether a path must always have a value: it can be changed but not removed."""
    last = path.rpartition(".")[2]
    first, _, rest = path.partition(".")
    if first in WORK_GROUPS.values() or first == "limit":
        return False
    return path in _HEAD or last in ("kind", "note") or (first == "choice" and "." in rest)


def differences(old: State, new: State, note: str = "") -> list[Change]:
    """The changes from one state to another: entry by entry if a part stays, else whole parts."""
    pairs = [(key, old[key], new[key]) for key in _HEAD]
    for prefix, group in _PREFIXES.items():
        was, becomes = old.get(group, {}), new.get(group, {})
        for name in {**was, **becomes}:
            pairs += _part_pairs(f"{prefix}{name}", was.get(name), becomes.get(name))
    return [
        Change(path=path, before=before, after=after, note=note) for path, before, after in pairs if before != after
    ]


def _part_pairs(path: str, before: JsonValue, after: JsonValue) -> list[tuple[str, JsonValue, JsonValue]]:
    """Path, before and after of one member of a group; of its entries if it is a part in both states."""
    if not (isinstance(before, dict) and isinstance(after, dict)):
        return [(path, before, after)]
    old, new = before.get("entries"), after.get("entries")
    if not (isinstance(old, dict) and isinstance(new, dict)):
        return [(path, before, after)]
    pairs = [(f"{path}.{key}", before[key], after[key]) for key in ("kind", "note")]
    return pairs + [(f"{path}.{name}", old.get(name), new.get(name)) for name in {**old, **new}]


def _place(state: State, path: str) -> tuple[State | None, str]:
    """The table that holds the value of a path (None if missing), and the key in it."""
    first, _, rest = path.partition(".")
    if not rest:
        return (state, first) if first in _HEAD else (state["parts"], first)
    if first in _FLAT:
        return state.setdefault(_GROUPS[first], {}), rest
    if first in _GROUPS:
        group = state.setdefault(_GROUPS[first], {})
        name, _, key = rest.partition(".")
        return (group.get(name), key) if key else (group, name)
    part = state["parts"].get(first)
    if part is None:
        return None, rest
    return (part, rest) if rest in ("kind", "note") else (part["entries"], rest)


def held_by(state: State, part: str) -> list[str]:
    """The paths that name a part or a choice: parts joined to it, choices that have it as an option, attachments."""
    joined = [
        f"{name}.{key}"
        for name, other in state["parts"].items()
        if name != part and other["kind"] in KINDS
        for key, spec in KINDS[other["kind"]].specs().items()
        if isinstance(spec, RefSpec) and other["entries"].get(key) == part
    ]
    choices = [f"choice.{name}" for name, choice in state["choices"].items() if part in choice["options"]]
    attachments = [f"attachment.{name}" for name, one in state["attachments"].items() if one["about"] == part]
    return [*joined, *choices, *attachments]
