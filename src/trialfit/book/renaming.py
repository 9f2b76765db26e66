"""Old names in a build, read under their present names.

Answers   document_now     a document with the present names, and the old names found
          state_now        the same for a state of a book, in place
          change_now       path and value of a change, with the names of the state it is made in
          path_now         a typed path under its present name; kinds_of   gives it the kind of a part
          entry_now        a typed entry under its present name
          spellings        every path, old or present, that a journal may have for a present path
          as_written       the path in a document as written, for a present path
          Renamed          one old name found; remark_on   the sentence about old names
Not here  the table (parts/old_names.py); rewriting a file (updating.py)

Documents and states have the present names once they are read. A TOML text and the journal of a book keep the old ones.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

from trialfit.book.document import PartText
from trialfit.parts import KINDS
from trialfit.parts.declaring import CodeSpec
from trialfit.parts.measuring.measurements import check_finding, check_path
from trialfit.parts.old_names import OLD_NAMES, fact_now, finding_now, kind_now, may_be_old, old_facts, word_now

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from pydantic import JsonValue

    from trialfit.book.changes import State
    from trialfit.book.document import Document

    KindOf = Callable[[str], str | None]

_FREE = ("kind", "note")
_RELIED = "relied"
_RENAMED_FINDINGS = tuple((one.old, one.new) for one in OLD_NAMES if one.what == "finding")


class Renamed(NamedTuple):
    """One old name found: its path as written, the old name, and the present name."""

    path: str
    old: str
    new: str


def remark_on(renamed: Sequence[Renamed], file: str = "FILE") -> str:
    """One sentence about the old names in a build; empty where there are none."""
    if not renamed:
        return ""
    first = renamed[0]
    where = first.path if first.path.endswith(first.old) else f'{first.path} = "{first.old}"'
    others = len(renamed) - 1
    more = f", and {others} more {'name is' if others == 1 else 'names are'} old" if others else ""
    said = f'{where} is now called "{first.new}"{more}'
    return f"{said}: `trialfit update-names {file}` rewrites {'them' if more else 'it'}"


def document_now(document: Document) -> tuple[Document, tuple[Renamed, ...]]:
    """The document with the present names, and the old names found; an old name beside its present one stays."""
    kinds = {name: part.kind for name, part in document.parts.items()}
    met: list[Renamed] = []
    parts = {}
    for name, part in document.parts.items():
        if not _may_be_old(part):
            parts[name] = part
            continue
        entries = _entries_now(name, part.kind, part.entries, kinds.get, met)
        parts[name] = PartText(
            kind=_met(met, f"{name}.kind", part.kind, kind_now(part.kind)), note=part.note, entries=entries
        )
    limits = _limits_now(document.limits, met)
    work = {number: _work_now(f"work.{number}", done, met) for number, done in document.work.items()}
    if not met:
        return document, ()
    return document.model_copy(update={"parts": parts, "limits": limits, "work": work}), tuple(met)


def state_now(state: State) -> tuple[Renamed, ...]:
    """Gives a state of a book the present names, in place, and returns the old names found."""
    met: list[Renamed] = []
    for name, part in state["parts"].items():
        state["parts"][name] = _part_now(name, part, _kinds(state), met)
    state["limits"] = _limits_now(state.get("limits", {}), met)
    for number, done in state.get("work", {}).items():
        state["work"][number] = _work_now(f"work.{number}", done, met)
    return tuple(met)


def change_now(state: State, path: str, value: JsonValue) -> tuple[str, JsonValue, tuple[Renamed, ...]]:
    """Path and value of a change under the present names, and its old names; the state has the present names."""
    met: list[Renamed] = []
    first, _, rest = path.partition(".")
    if first == "limit" and rest:
        return f"limit.{_met(met, path, rest, finding_now(rest))}", value, tuple(met)
    if first == "work" and isinstance(value, dict):
        return path, _work_now(path, value, met), tuple(met)
    kind_of = _kinds(state)
    if not rest and isinstance(value, dict) and "entries" in value:
        return path, _part_now(first, value, kind_of, met), tuple(met)
    if rest == "kind" and isinstance(value, str):
        return path, _met(met, path, value, kind_now(value)), tuple(met)
    kind = kind_of(first)
    if kind and rest and rest not in _FREE:
        fact = _met(met, path, rest, fact_now(kind, rest))
        return f"{first}.{fact}", _value_now(path, kind, fact, value, kind_of, met), tuple(met)
    return path, value, ()


def path_now(kind_of: KindOf, path: str) -> str:
    """A typed path under its present name; `kind_of` gives the kind of a part.

    >>> path_now({"v6": "engine"}.get, "v6.shock_factor"), path_now({}.get, "limit.structure.weld_room.arm")
    ('v6.application_factor', 'limit.structure.torch_access.arm')
    """
    first, dot, rest = path.partition(".")
    if first == "limit":
        return f"limit.{finding_now(rest)}" if dot else path
    kind = kind_of(first)
    if kind is None:
        first = kind = kind_now(first)
    fact, deeper, number = rest.partition(".")
    return f"{first}{dot}{fact_now(kind, fact)}{deeper}{number}"


def kinds_of(document: Document) -> KindOf:
    """A function that gives the kind of a part by its name, None if there is no such part."""
    return lambda name: document.parts[name].kind if name in document.parts else None


def entry_now(kind_of: KindOf, path: str, entry: str | tuple[str, ...]) -> str | tuple[str, ...]:
    """A typed entry at a present path, under its present name if it is a kind, a word or a path."""
    name, _, fact = path.partition(".")
    if not isinstance(entry, str):
        return entry
    if fact == "kind":
        return kind_now(entry)
    now = _value_now(path, kind_of(name) or name, fact, entry, kind_of, [])
    return str(now)


def spellings(state: State, path: str) -> tuple[str, ...]:
    """The paths that a journal may have for a present path, the present path first."""
    first, _, rest = path.partition(".")
    if first == "limit":
        olds = [
            f"limit.{old}{rest.removeprefix(new)}"
            for old, new in _RENAMED_FINDINGS
            if finding_now(old + rest.removeprefix(new)) == rest
        ]
        return (path, *olds)
    kind = _kinds(state)(first) or ""
    return (path, *(f"{first}.{old}" for old, new in old_facts(kind).items() if new == rest))


def as_written(document: Document, path: str) -> str:
    """The path in a document as written, for a present path; the same path if the document does not have it."""
    first, _, rest = path.partition(".")
    if first == "limit":
        held: Mapping[str, Any] = document.limits
        olds = [old for old in held if finding_now(old) == rest]
    else:
        part = document.parts.get(first)
        held = part.entries if part else {}
        olds = [old for old in held if part and fact_now(part.kind, old) == rest]
    return f"{first}.{olds[0]}" if olds and rest not in held else path


# --- inside ---


def _kinds(state: State) -> KindOf:
    def kind_of(name: str) -> str | None:
        part = state["parts"].get(name)
        return str(part["kind"]) if part else None

    return kind_of


def _may_be_old(part: PartText) -> bool:
    entries = part.entries.items()
    return may_be_old(part.kind) or any(
        may_be_old(fact) or (isinstance(value, str) and may_be_old(value)) for fact, value in entries
    )


def _met(met: list[Renamed], path: str, old: str, new: str) -> str:
    if new != old:
        met.append(Renamed(path, old, new))
    return new


def _part_now(name: str, part: Mapping[str, Any], kind_of: KindOf, met: list[Renamed]) -> dict[str, Any]:
    kind = str(part["kind"])
    entries = _entries_now(name, kind, part["entries"], kind_of, met)
    return {**part, "kind": _met(met, f"{name}.kind", kind, kind_now(kind)), "entries": entries}


def _entries_now(
    name: str, kind: str, entries: Mapping[str, Any], kind_of: KindOf, met: list[Renamed]
) -> dict[str, Any]:
    renamed = {}
    for fact, value in entries.items():
        now = fact_now(kind, fact)
        if now != fact and now in entries:
            renamed[fact] = value  # both names are written: the reader reports it
            continue
        path = f"{name}.{fact}"
        renamed[_met(met, path, fact, now)] = _value_now(path, kind, now, value, kind_of, met)
    return renamed


def _value_now(
    path: str,
    kind: str,
    fact: str,
    value: Any,  # noqa: ANN401 - text, or a list of texts
    kind_of: KindOf,
    met: list[Renamed],
) -> Any:  # noqa: ANN401
    """The value of an entry under present names: a word, the path of a fact or the id of a finding."""
    if not isinstance(value, str):
        return value
    now = word_now(kind, fact, value)
    part = KINDS.get(kind_now(kind))
    spec = part.specs().get(fact) if part else None
    if isinstance(spec, CodeSpec) and spec.check is check_path:
        now = path_now(kind_of, value)
    elif isinstance(spec, CodeSpec) and spec.check is check_finding:
        now = finding_now(value)
    return _met(met, path, value, now)


def _limits_now(limits: Mapping[str, Any], met: list[Renamed]) -> dict[str, Any]:
    renamed = {}
    for identifier, limit in limits.items():
        now = finding_now(identifier)
        both = now != identifier and now in limits
        renamed[identifier if both else _met(met, f"limit.{identifier}", identifier, now)] = limit
    return renamed


def _work_now(path: str, done: Mapping[str, Any], met: list[Renamed]) -> dict[str, Any]:
    relied = done.get(_RELIED)
    if isinstance(relied, str):
        return {**done, _RELIED: _met(met, path, relied, finding_now(relied))}
    if not relied:
        return dict(done)
    return {**done, _RELIED: type(relied)(_met(met, path, one, finding_now(one)) for one in relied)}
