"""The readable part of a damaged book, and a list of its damage. The book itself is never changed.

Answers   salvage        the newest build that can be recovered, its attachments, and a list of losses
          verification   a book read from beginning to end
Not here  reading torn pages (store/pages.py)

A change is used only if its seal is right; the check needs the change before it. A change after a gap cannot be checked and
is used with a remark. The newest sound snapshot replaces all changes before it.
"""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass, field
from hashlib import sha256
from pathlib import Path
from shutil import copyfile
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, Any

from pydantic import ValidationError

from trialfit.book.changes import NoSuchPlace, document, empty, put
from trialfit.book.checking import adapter_of
from trialfit.book.disk import is_file, read_bytes
from trialfit.book.refusals import Unusable
from trialfit.book.renaming import state_now
from trialfit.book.reports import Verification
from trialfit.book.store import Damage, Store
from trialfit.book.store.pages import rows_by_asking, rows_in
from trialfit.book.store.rows import COLUMNS, Unreadable, change_of, is_sealed, unpack
from trialfit.book.store.schema import Newer
from trialfit.book.work_text import GROUPS
from trialfit.parts import KINDS

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from trialfit.book.changes import Recorded, State
    from trialfit.book.document import Document

    Row = tuple[Any, ...]

_CHANGE, _SNAPSHOT, _FILE = len(COLUMNS), 4, 5  # columns of the three tables
_MOST_SHOWN = 12


@dataclass
class _Found:
    """Rows that could be read, sound or not."""

    changes: dict[int, list[Row]] = field(default_factory=dict)
    snapshots: dict[int, State] = field(default_factory=dict)
    files: dict[str, bytes] = field(default_factory=dict)


@dataclass(frozen=True)
class Salvaged:
    """The recovered content: `remarks` list the losses, one sentence each."""

    document: Document
    bytes_of: Callable[[str], bytes | None]
    changes: int
    remarks: tuple[str, ...]


def salvage(file: str) -> Salvaged:
    """The newest build that can be recovered from a damaged book. Raises Unusable if nothing can be read."""
    found = _find(Path(file))
    accepted, unproved = _accepted(found.changes)
    begun = max(found.snapshots, default=0)
    if not accepted and not begun:
        raise Unusable(file, "has no readable part of a book; nothing was changed")
    remarks = [f"the newest readable change is number {max([begun, *accepted])}; later changes, if any, are lost"]
    if unproved:
        remarks.append(f"after a gap, used without a check of its seal: change {_listed(unproved)}")
    state = found.snapshots.get(begun, empty())
    state_now(state)
    reached = max([begun, *found.changes])
    lost = [number for number in range(begun + 1, reached + 1) if number not in accepted]
    if lost:
        remarks.append(f"lost: change {_listed(lost)}; the entries they changed may be missing or have their old value")
    for number in sorted(accepted):
        if number > begun:
            _make(state, accepted[number], remarks)
    for name, card in list(state["attachments"].items()):
        if card["sha256"] not in found.files:
            remarks.append(f"lost: the bytes of attachment.{name} ({card['file']}, about {card['about']})")
            del state["attachments"][name]
    return Salvaged(document(state), found.files.get, len(accepted), tuple(remarks))


def verification(file: str) -> Verification:
    """A book read from beginning to end, with all its damage. Raises Unusable if the file is not a book."""
    path = Path(file)
    try:
        store = Store.open(path, read_only=True)
    except Newer:
        raise
    except Unusable as wrong:
        return _unopened(path, wrong)
    try:
        damages = tuple(store.damages())
        try:
            changes, attachments = store.counts()
        except Unusable:
            changes, attachments = _counted(_find(path))
    finally:
        store.close()
    return Verification(file=file, changes=changes, attachments=attachments, damages=damages)


def _unopened(path: Path, wrong: Unusable) -> Verification:
    if not is_file(path):
        raise wrong
    changes, attachments = _counted(_find(path))
    if not changes:
        raise wrong
    says = wrong.problems[0].says.partition(";")[0]
    return Verification(
        file=str(path), changes=changes, attachments=attachments, damages=(Damage(where="file", says=says),)
    )


def _counted(found: _Found) -> tuple[int, int]:
    return len(_accepted(found.changes)[0]), len(found.files)


def _find(path: Path) -> _Found:
    """Rows from a copy of the book: through SQLite as far as possible, and from the pages directly."""
    found = _Found()
    try:
        book = read_bytes(path)
        waiting = path.with_name(f"{path.name}-wal")
        wal = read_bytes(waiting) if waiting.exists() else b""
        with TemporaryDirectory() as folder:
            copy = Path(folder) / "copy.book"
            copyfile(path, copy)
            if wal:
                copyfile(waiting, copy.with_name("copy.book-wal"))
            _take(found, rows_by_asking(copy))
    except OSError as wrong:
        raise Unusable(path, f"cannot be read ({wrong.strerror}): expected a book") from None
    except ValueError:
        raise Unusable(repr(str(path)), "is not a file name: expected a path to a book") from None
    _take(found, rows_in(book, wal))
    return found


def _take(found: _Found, rows: Iterable[Row]) -> None:
    for row in rows:
        if len(row) == _CHANGE and isinstance(row[0], int) and row[0] > 0:
            known = found.changes.setdefault(row[0], [])
            if row not in known:
                known.append(row)
        elif len(row) == _SNAPSHOT and row[0] not in found.snapshots:
            with suppress(Unreadable):
                found.snapshots[row[0]] = unpack(row[0], row[2], row[3])
        elif len(row) == _FILE and isinstance(row[3], bytes) and sha256(row[3]).hexdigest() == row[0]:
            found.files[row[0]] = row[3]


def _accepted(candidates: dict[int, list[Row]]) -> tuple[dict[int, Recorded], list[int]]:
    """The changes with a right seal and those that cannot be checked; and the numbers of the latter."""
    accepted: dict[int, Recorded] = {}
    unproved: list[int] = []
    before: bytes | None = b""  # the seal of the change before, None if it is missing or damaged
    previous = 0
    for number in sorted(candidates):
        if number != previous + 1:
            before = None
        row = _chosen(candidates[number], before)
        previous, previous_seal = number, before
        before = None
        if row is None:
            continue
        with suppress(Unreadable):
            accepted[number] = change_of(row)
            before = row[-1]
            if previous_seal is None:
                unproved.append(number)
    return accepted, unproved


def _chosen(rows: list[Row], before: bytes | None) -> Row | None:
    if before is None:
        return rows[0]
    return next((row for row in rows if is_sealed(before, row)), None)


def _make(state: State, change: Recorded, remarks: list[str]) -> None:
    """Makes a change; if its part was lost, the part is made new."""
    try:
        if change.after is not None:
            adapter_of(change.path).validate_python(change.after)
        name = change.path.partition(".")[0]
        if "." in change.path and name not in (*state["parts"], "limit", "choice", "attachment", *GROUPS.values()):
            state["parts"][name] = {"kind": name if name in KINDS else "", "note": "", "entries": {}}
            remarks.append(f"{name} was made by a change that is lost: check that it is complete")
        put(state, change.path, change.after)
    except (NoSuchPlace, ValidationError, TypeError, KeyError):
        remarks.append(f"lost: change {change.number} of {change.path}, because its place is lost too")


def _listed(numbers: list[int]) -> str:
    shown = ", ".join(map(str, numbers[:_MOST_SHOWN]))
    return shown if len(numbers) <= _MOST_SHOWN else f"{shown} and {len(numbers) - _MOST_SHOWN} more"
