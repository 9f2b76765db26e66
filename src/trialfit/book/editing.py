"""A builder's changes to a book. The parts check each one before it is written.

Answers   set_entry          a fact, a word, a list or one value of it, a pick, a limit, a note; begins a part or a choice
          set_part           several entries of one part, which may be new
          remove             a part, a fact, a limit, a choice, an attachment
          move_item          a value of a list to another place in it
          attach             a photo or paper of a part or job
Not here  the same in a TOML file (changing.py), taking changes back (journal.py)

Each is one change with the old value from when the book was opened, so a change from another device is not lost.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from trialfit.book.build import Build
from trialfit.book.changes import Change, document, put, state_of, value_at
from trialfit.book.changing import Change as EntryChange
from trialfit.book.changing import entry_shown, question_about, reads_as, target_of
from trialfit.book.checking import check_sound
from trialfit.book.document import AttachmentText
from trialfit.book.problems import BadInput, Located
from trialfit.book.refusals import Refused
from trialfit.book.renaming import entry_now, kinds_of, path_now
from trialfit.book.work_text import GROUPS
from trialfit.parts.reading import nearest

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from pydantic import JsonValue

    from trialfit.book.changes import Recorded, State
    from trialfit.book.checking import Check
    from trialfit.book.document import Document
    from trialfit.book.journal import Book
    from trialfit.book.media import Paper

    Entry = str | tuple[str, ...]

_JOB = re.compile(r"job\.[^\W\d][\w-]*")
_CARD_SIGNS = re.compile(r"[^\w-]+")


def set_entry(
    book: Book, path: str, text: str, *, note: str = "", device: str = "", check: Callable[[Build], None] | None = None
) -> tuple[EntryChange, Recorded]:
    """Writes one entry. Raises BadInput with the reason if the build would have a problem with it.

    `path` is as in `changing.change_entry`, or name, or story. `check` may raise BadInput to refuse the changed build.
    """
    where = str(book.path)
    path = path_now(kinds_of(book.document), path)
    target, entry, begun = _read(book.document, path, text, where)
    change = begun or Change(path=target, before=book.value(target), after=_value(entry))
    made = book.write(change.model_copy(update={"note": note}), device, _all(check_sound(where), _of_build(check)))
    before = change.before if change.path == target else None
    shown = EntryChange(
        file=where,
        path=path,
        before=None if before is None else entry_shown(_entry(before), path, target),
        after=entry_shown(entry, path, target) or "",
        reads_as=reads_as(book.build(), path),
        question=question_about(book.build(), path),
        number=made.number,
    )
    return shown, made


def set_part(
    book: Book,
    name: str,
    entries: Mapping[str, str],
    *,
    note: str = "",
    device: str = "",
    check: Callable[[Build], None] | None = None,
) -> Recorded | None:
    """Writes entries of one part, by their paths, as one change: all of them, or none where the build would not be sound.

    A part that is not there begins with them, so its kind comes first. Gives None where all of them stand there already.
    `check` is given the changed build, and may raise to refuse it.
    """
    where = str(book.path)
    state = state_of(book.document)
    for path, text in entries.items():
        target, entry, begun = _read(document(state), path, text, where)
        if begun:
            put(state, begun.path, begun.after)
        else:
            put(state, target, _value(entry))
    before, after = book.value(name), value_at(state, name)
    if before == after:
        if check:
            check(book.build())
        return None
    change = Change(path=name, before=before, after=after, note=note)
    return book.write(change, device, _all(check_sound(where), _of_build(check)))


def remove(book: Book, path: str, *, note: str = "", device: str = "") -> Recorded:
    """Removes the value at a path. The journal keeps it. Raises Refused if other entries refer to it."""
    path = path_now(kinds_of(book.document), path)
    before = book.value(path)
    if path.startswith("work."):
        raise Refused(
            book.path, path, "is in the work log and cannot be removed: use `trialfit undo` to take a change back"
        )
    if before is None:
        written = book.document
        known = [*written.parts, *(f"{name}.{key}" for name, part in written.parts.items() for key in part.entries)]
        known += [f"limit.{name}" for name in written.limits] + [f"choice.{name}" for name in written.choices]
        known += [f"attachment.{name}" for name in written.attachments]
        known += [f"job.{name}" for name in written.jobs] + [f"order.{name}" for name in written.orders]
        known += [f"workshop.{name}" for name in written.workshop] + [f"reading.{name}" for name in written.readings]
        raise Refused(book.path, path, f"does not exist: {nearest(path, known)}" if known else "does not exist")
    return book.write(Change(path=path, before=before, after=None, note=note), device, check_sound(book.path))


def move_item(book: Book, path: str, to: int, *, note: str = "", device: str = "") -> Recorded:
    """Moves one value of a list, for example "gearbox.ratios.2" to place 4."""
    target, _, number = path_now(kinds_of(book.document), path).rpartition(".")
    before = book.value(target) if "." in target else None
    if not isinstance(before, list) or not (number.isascii() and number.isdigit()):
        raise Refused(
            book.path, path, "is not a value of a list: write it as part.list.number, for example gearbox.ratios.2"
        )
    count = len(before)
    for place in (int(number), to):
        if not 1 <= place <= count:
            raise Refused(book.path, target, f"has {count} values: expected a number from 1 to {count}, not {place}")
    after = list(before)
    after.insert(to - 1, after.pop(int(number) - 1))
    return book.write(Change(path=target, before=before, after=after, note=note), device, check_sound(book.path))


def attach(book: Book, about: str, paper: Paper, *, note: str = "", device: str = "") -> Recorded:
    """Attaches a photo or paper to a part, or to a job as job.NAME. Raises Refused if it is attached already."""
    from hashlib import sha256

    written = book.document
    if about not in written.parts and not _JOB.fullmatch(about):
        says = f"is not a part of this build: {nearest(about, written.parts)}; a job is written as job.NAME"
        raise Refused(book.path, about, says)
    digest = sha256(paper.whole).hexdigest()
    for name, card in written.attachments.items():
        if (card.sha256, card.about) == (digest, about):
            raise Refused(book.path, about, f"already has {paper.file}, as attachment.{name}")
    card = AttachmentText(
        about=about, file=paper.file, sha256=digest, media_type=paper.media_type, size=len(paper.whole), note=note
    )
    return book.attach(_free_name(paper.file, written), card, paper, device)


def _free_name(file: str, written: Document) -> str:
    """A name for an attachment: the file name in characters allowed in a path, with a number if the name is taken."""
    name = _CARD_SIGNS.sub("_", file.rpartition(".")[0]).strip("_") or "file"
    name = name if not name[0].isdigit() and name[0] != "-" else f"file_{name}"
    number = 1
    while (free := name if number == 1 else f"{name}_{number}") in written.attachments:
        number += 1
    return free


def _read(written: Document, path: str, text: str, where: str) -> tuple[str, Entry, Change | None]:
    """The entry that a path leads to, its new text, and the change that begins what it belongs to. Raises BadInput."""
    kind_of = kinds_of(written)
    target, typed = target_of(written, path_now(kind_of, path), text.strip("\r\n"), where)
    entry = entry_now(kind_of, target, typed)
    return target, entry, _beginning(written, target, _value(entry))


def _value(entry: Entry) -> JsonValue:
    return list(entry) if isinstance(entry, tuple) else entry


def _beginning(written: Document, target: str, value: JsonValue) -> Change | None:
    """The change that makes a part or a choice with its first entry; None if it exists already."""
    name, _, key = target.partition(".")
    if name == "choice":
        choice, _, key = key.rpartition(".")
        if choice in written.choices or key != "options" or not isinstance(value, list):
            return None
        picked = value[0] if value else ""
        return Change(path=f"choice.{choice}", before=None, after={"options": value, "picked": picked, "note": ""})
    if name in ("job", "order"):
        member, _, inner = key.partition(".")
        group = written.jobs if name == "job" else written.orders
        return None if member in group else Change(path=f"{name}.{member}", before=None, after={inner: value})
    if not key or name in ("limit", "attachment", *GROUPS.values()) or name in written.parts:
        return None
    part: dict[str, JsonValue] = {"kind": name, "note": "", "entries": {}}
    if key in part:
        part[key] = value
    else:
        part["entries"] = {key: value}
    return Change(path=name, before=None, after=part)


def _of_build(check: Callable[[Build], None] | None) -> Check:
    def checked(_: State, new: State) -> None:
        if check:
            check(Build.from_document(document(new))[0])

    return checked


def _all(*checks: Check) -> Check:
    def checked(old: State, new: State) -> None:
        for check in checks:
            check(old, new)

    return checked


def _entry(value: JsonValue) -> Entry:
    if isinstance(value, list):
        return tuple(map(str, value))
    if isinstance(value, str):
        return value
    raise BadInput("the book", [Located("", "has a value in the place of an entry")])
