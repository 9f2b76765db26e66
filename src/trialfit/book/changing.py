"""One entry of a build file changed, with its old value.

Answers   change_entry   writes a fact, a word, a list or one value of it, the pick of a choice, a limit
          change_entries several of them at once
          Change         what was changed, in the shape that `set --json` prints
          target_of      the entry that a path leads to, with its new text
          entry_shown, reads_as   an entry as text, and as it is understood; question_about  what to ask about it
Not here  the same in a book (editing.py); how the text is changed while comments stay (rewriting.py)
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from pydantic import Field

from trialfit.book.problems import BadInput, Located
from trialfit.book.renaming import as_written, document_now, entry_now, kinds_of, path_now
from trialfit.book.rewriting import change_file, with_entry
from trialfit.book.toml_text import document_of
from trialfit.book.work_text import GROUPS, entry_keys
from trialfit.facts.curve import Curve
from trialfit.facts.fact import Fact
from trialfit.facts.frozen import Frozen
from trialfit.facts.showing_spread import curve_spread, spread_in_use
from trialfit.parts import KINDS
from trialfit.parts.asking import asked, written_refs
from trialfit.parts.lists_and_curves import ListSpec
from trialfit.parts.reading import nearest, not_a_fact

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from pathlib import Path

    from trialfit.book.build import Build
    from trialfit.book.document import Document, PartText
    from trialfit.parts.declaring import Spec

    Entry = str | tuple[str, ...]

_SEPARATOR = "|"
_FREE_KEYS = ("kind", "note")


class Change(Frozen):
    """One entry before and after; a list is shown with | between its values."""

    file: str
    path: str
    before: str | None = Field(description="the old text; null if there was none")
    after: str
    reads_as: str = Field(
        description="how the program reads the entry: value, uncertainty and unit; empty for words and names"
    )
    question: str = Field(default="", description="question about an unusual value; empty otherwise")
    number: int | None = Field(default=None, description="number of the change in the journal; null in a TOML file")
    faults_left: int = Field(
        default=0, description="number of faults left in a TOML file; until they are mended, no command judges it"
    )


def change_entry(file: Path, path: str, text: str, check: Callable[[Build], None] | None = None) -> Change:
    """Writes one entry of a build file. Raises BadInput with the reason if the build would have a new problem with it, or if
    it has problems and the entry mends none.

    `path` is "part.fact", "part.list" (values separated by |), "part.list.2", "choice.name.picked" or "limit.finding".
    `check` may raise BadInput to refuse the changed build before it is written.
    """
    where = str(file)
    seen: list[tuple[str, str, Entry | None]] = []

    def made(as_it_stands: str) -> str:
        changed, now, target, before = _with_change(as_it_stands, path, text, where)
        seen.append((now, target, before))
        return changed

    build, left = change_file(file, made, check)
    path, target, before = seen[-1]
    return Change(
        file=where,
        path=path,
        before=entry_shown(before, path, target),
        after=entry_shown(_entry_at(build.document, target), path, target) or "",
        reads_as=reads_as(build, path),
        question=question_about(build, path),
        faults_left=left,
    )


def change_entries(file: Path, entries: Mapping[str, str], check: Callable[[Build], None] | None = None) -> None:
    """Writes several entries of a build file, by their paths, at once: all of them, or none where the build would have a new fault.

    Raises BadInput, and whatever `check` raises, which is given the changed build before it is written. In their order: of a
    part that is not there the kind comes first.
    """

    def made(text: str) -> str:
        for path, entry in entries.items():
            text, *_ = _with_change(text, path, entry, str(file))
        return text

    change_file(file, made, check)


def _with_change(text: str, path: str, entry: str, where: str) -> tuple[str, str, str, Entry | None]:
    """The text with one entry changed; the path as it is called now, where it leads to, and what stood there. Raises BadInput."""
    written, _ = document_of(text, where)
    document, _ = document_now(written)
    kind_of = kinds_of(document)
    now = path_now(kind_of, path)
    target, typed = target_of(document, now, entry.strip("\r\n"), where)
    changed = with_entry(text, as_written(written, target), entry_now(kind_of, target, typed), where)
    return changed, now, target, _entry_at(document, target)


def target_of(document: Document, path: str, text: str, where: str) -> tuple[str, Entry]:
    """The entry to write as a whole, and its new text. Raises BadInput."""
    if path in ("name", "story"):
        return path, text
    steps = path.split(".")
    if not all(steps) or len(steps) == 1:
        says = f'"{path}" is not a path to a fact: write it as part.fact, for example engine.max_speed'
        raise BadInput(where, [Located("", says)])
    if steps[0] == "limit":
        return path, text
    if steps[0] in GROUPS.values():
        return path, _work_entry(path, text, where)
    if steps[0] == "choice":
        return path, _items(text) if steps[-1] == "options" else text
    name, key, *rest = steps
    spec = _spec(document, name, key, where)
    target = f"{name}.{key}"
    if isinstance(spec, ListSpec):
        part = document.parts.get(name)
        return target, _list_with(part, target, rest, text, where) if rest else _items(text)
    if rest:
        raise BadInput(where, [Located("", f'"{path}" is too long: {target} is one entry')])
    return target, text


def _work_entry(path: str, text: str, where: str) -> Entry:
    """The entry of a job, an order, the workshop or a reading; | separates list values. Commands write the work log."""
    first, *names = path.split(".")
    known = entry_keys(path)
    depth = 1 if first in ("workshop", "reading") else 2
    if first == "work":
        says = f'"{path}" is written only by `trialfit start`, `finish`, `loose` and `gate`'
        raise BadInput(where, [Located("", says)])
    if len(names) != depth:
        example = {"job": "job.tray.hours", "order": "order.hose.price", "reading": "reading.pickup_gap"}
        says = f'"{path}" is not an entry: write it as in {example.get(first, "workshop.people")}'
        raise BadInput(where, [Located("", says)])
    if known is not None and names[-1] not in known:
        raise BadInput(where, [Located(path, f"is an unknown entry: {nearest(names[-1], known)}")])
    return _items(text) if _SEPARATOR in text else text


def _spec(document: Document, name: str, key: str, where: str) -> Spec | None:
    part = document.parts.get(name)
    if key == "kind":
        return None  # a part begins with its kind; a wrong one is mended
    kind = part.kind if part else name
    if kind not in KINDS:
        known = [*document.parts, *KINDS]
        raise BadInput(where, [Located("", f'unknown part "{name}": {nearest(name, known)}')])
    specs = KINDS[kind].specs()
    if key not in specs and key not in _FREE_KEYS:
        raise BadInput(where, [Located(f"{name}.{key}", not_a_fact(key, kind, specs))])
    return specs.get(key)


def _items(text: str) -> tuple[str, ...]:
    return tuple(item for item in (piece.strip() for piece in text.strip("[]").split(_SEPARATOR)) if item)


def _list_with(part: PartText | None, target: str, rest: list[str], text: str, where: str) -> tuple[str, ...]:
    """The list with one value changed or one value added at its end."""
    old = part.entries.get(target.rpartition(".")[2], ()) if part else ()
    items = list(old) if isinstance(old, tuple) else [old]
    number = int(rest[0]) if len(rest) == 1 and rest[0].isascii() and rest[0].isdigit() else 0
    if not 1 <= number <= len(items) + 1:
        says = f"has {len(items)} values: expected a number from 1 to {len(items) + 1}, not {'.'.join(rest)}"
        raise BadInput(where, [Located(target, says)])
    items[number - 1 : number] = [text]
    return tuple(items)


def _entry_at(document: Document, target: str) -> Entry | None:
    name, _, key = target.partition(".")
    if not key:
        return str(getattr(document, name)) or None
    if name == "limit":
        return document.limits.get(key)
    if name in GROUPS.values():
        return value_of(document, name, key)
    if name == "choice":
        choice = document.choices.get(key.rpartition(".")[0])
        return getattr(choice, key.rpartition(".")[2], None) if choice else None
    part = document.parts.get(name)
    if part is None:
        return None
    return getattr(part, key) if key in _FREE_KEYS else part.entries.get(key)


def value_of(document: Document, table: str, key: str) -> Entry | None:
    """An entry of a job, an order, the workshop or a reading."""
    fields = {table: field for field, table in GROUPS.items()}
    group = getattr(document, fields[table])
    name, _, inner = key.partition(".")
    found = group.get(name, {}) if inner else group
    entry = found.get(inner or name)
    return entry if isinstance(entry, str | tuple) else None


def entry_shown(entry: Entry | None, path: str, target: str) -> str | None:
    """An entry as text; one value of it if the path is longer than the target."""
    if isinstance(entry, tuple):
        number = path.removeprefix(target).removeprefix(".")
        if number:
            place = int(number) - 1
            return entry[place] if place < len(entry) else None
        return f" {_SEPARATOR} ".join(entry)
    return entry


def reads_as(build: Build, path: str) -> str:
    """How the program reads an entry: value, uncertainty and unit; "" for words and names."""
    name, _, rest = path.partition(".")
    key, _, number = rest.partition(".")
    part = build.parts.get(name) or build.spare.get(name)
    value = part.values.get(key) if part else None
    if isinstance(value, Curve):
        return f"{len(value.x)} points, {curve_spread(value)}"
    if isinstance(value, Fact):
        return _in_words(value)
    if isinstance(value, tuple):
        items = [_in_words(fact) for fact in value]
        return items[int(number) - 1] if number else f" {_SEPARATOR} ".join(items)
    return ""


def question_about(build: Build, path: str) -> str:
    """The question about the unusual values of an entry; "" if all are usual, and for words."""
    name, _, rest = path.partition(".")
    part = build.parts.get(name) or build.spare.get(name)
    refs = written_refs(part) if part else ()
    meant = (ref for ref in refs if ref.path == path or ref.path.rpartition(".")[0] == f"{name}.{rest}")
    return "; ".join(f"{ref.path} {asked(ref)}" for ref in meant if ref.unusual)


def _in_words(fact: Fact) -> str:
    return fact.plain if fact.spread_is_written else f"{fact.plain}, {spread_in_use(fact)}"
