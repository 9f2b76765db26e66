"""The book: a build with its whole history in one file, and the one way to change it.

Answers   Book.create, Book.open    make a new book; open an existing one
          Book.write                one durable change; refused if the old value is not as expected
          Book.undo                 a new change that takes an earlier one back
          Book.take_in              the changes that make the build equal to a document
          Book.keep_new_names       stores the build under the present names
          Book.attach, Book.forget  stores a photo or paper once by its content; the only deletion in a book
Not here  reading (history.py), the file (store/), the effect of a change (changes.py), what may be written (checking.py)

A Book belongs to the thread that opened it. Many may be open at once, in many processes, on one file.
"""

from __future__ import annotations

from contextlib import contextmanager
from copy import deepcopy
from datetime import UTC, datetime
from typing import TYPE_CHECKING

from trialfit.book.changes import (
    Change,
    NoSuchPlace,
    Recorded,
    differences,
    held_by,
    in_names_of_today,
    put,
    state_of,
    value_at,
)
from trialfit.book.checking import check_shape, check_text
from trialfit.book.disk import unfinished
from trialfit.book.history import UNSURE, History
from trialfit.book.problems import BadInput
from trialfit.book.refusals import Refused, Stale, Unusable
from trialfit.book.renaming import spellings
from trialfit.book.saving import check_free
from trialfit.book.store import Store
from trialfit.book.store.store import give_name

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator
    from pathlib import Path

    from trialfit.book.checking import Check
    from trialfit.book.document import AttachmentText, Document
    from trialfit.book.media import Paper
    from trialfit.book.renaming import Renamed

_FEWEST_BETWEEN_SNAPSHOTS = 200
_BYTES_OF_A_CHANGE = (
    150  # one snapshot per this many bytes of state: all snapshots together stay smaller than the journal
)


def _now() -> datetime:
    return datetime.now(UTC)


class Book(History):
    """A build with its whole history, open. Close it, or use it in a `with` statement."""

    def __init__(self, store: Store, clock: Callable[[], datetime] = _now) -> None:
        super().__init__(store)
        self._clock = clock

    @classmethod
    def create(cls, path: Path, start: Document | None = None, device: str = "", papers: Iterable[Paper] = ()) -> Book:
        """Makes a new book, with the build if one is given; written whole or not at all. Raises BadInput."""
        check_free(path)
        try:
            with unfinished(path) as folder:
                with cls(Store.create(folder / "unfinished.book")) as book:
                    if start is not None:
                        book.take_in(start, device, papers=papers)
                give_name(folder / "unfinished.book", path)
        except OSError as wrong:
            raise Unusable(path, f"cannot be made ({wrong.strerror}): expected a folder that can be written") from None
        except Unusable as wrong:
            raise Unusable(path, wrong.problems[0].says) from wrong
        except BadInput as wrong:
            raise BadInput(str(path), wrong.problems) from wrong
        return cls.open(path)

    @classmethod
    def open(cls, path: Path, *, read_only: bool = False, clock: Callable[[], datetime] = _now) -> Book:
        """Opens an existing book. Raises Unusable."""
        store = Store.open(path, read_only=read_only)
        try:
            return cls(store, clock)
        except BaseException:
            store.close()
            raise

    # --- writing ---

    def write(self, change: Change, device: str = "", check: Check | None = None) -> Recorded:
        """Makes one change, durable on return. For a key used before, returns the change made then.

        Raises Stale if the old value is not `before`, Refused for a change without effect or place, Unusable for the disk,
        and whatever `check` raises; `check` is given the build before and after the change.
        """
        check_shape(change, self.path)
        with self._turn(check):
            asked = in_names_of_today(self._state, change)
            return self._made(asked) or self._accept(asked, device)

    def take_in(
        self,
        start: Document,
        device: str = "",
        note: str = "",
        check: Check | None = None,
        papers: Iterable[Paper] = (),
    ) -> list[Recorded]:
        """Makes the build equal to a document, in as many changes as needed; all of them or none."""
        with self._turn(check):
            for paper in papers:
                self._store.files.put(paper.whole, paper.media_type, paper.preview)
            changes = differences(self._state, state_of(start), note)
            for change in changes:
                check_shape(change, self.path)
            return [self._accept(change, device, linked=False) for change in changes]

    def undo(self, number: int | None = None, device: str = "", key: str = "", check: Check | None = None) -> Recorded:
        """Takes a change back (by number, or the newest) with a new change. Refused if a later change touches the same path."""
        with self._turn(check):
            if key and (made := self._store.with_key(key)):
                return made
            number = self._number if number is None else number
            undone = next(self._store.since(number - 1, number), None)
            if undone is None:
                raise Refused(self.path, "", f"unknown change {number}: the last change is {self._number}")
            undone = in_names_of_today(self._state, undone)
            later = self._touching(undone.path, number)
            if later and value_at(self._state, undone.path) != undone.after:
                raise Refused(
                    self.path,
                    "",
                    f"change {number} of {undone.path} cannot be taken back: change {later.number} of {later.path} "
                    f"({later.device or 'no device named'}, {later.time:%Y-%m-%d %H:%M} UTC) came after it; take that one back first",
                )
            note = f"takes back change {number}"
            back = Change(path=undone.path, before=undone.after, after=undone.before, note=note, key=key)
            check_shape(back, self.path)
            return self._accept(back, device)

    def attach(
        self, name: str, card: AttachmentText, paper: Paper, device: str = "", check: Check | None = None
    ) -> Recorded:
        """Stores a photo or paper under a name, its bytes once. Raises as `write` does."""
        change = Change(path=f"attachment.{name}", before=None, after=card.model_dump(mode="json"), note=card.note)
        check_shape(change, self.path)
        with self._turn(check):
            self._store.files.put(paper.whole, paper.media_type, paper.preview)
            return self._accept(change, device)

    def forget(self, name: str, device: str = "", note: str = "") -> Recorded:
        """Removes an attachment with its bytes. The journal keeps the fact that it existed, and its SHA-256."""
        path = f"attachment.{name}"
        with self._turn():
            card = value_at(self._state, path)
            if not isinstance(card, dict):
                raise Refused(self.path, path, "does not exist: nothing to forget")
            digest = str(card["sha256"])
            others = [
                one for one, other in self._state["attachments"].items() if other["sha256"] == digest and one != name
            ]
            if others:
                raise Refused(self.path, path, f"is the same file as {', '.join(others)}: remove these first")
            self._store.files.drop(digest)
            said = "; ".join(filter(None, ["forgotten, with its bytes", note]))
            made = self._accept(Change(path=path, before=card, after=None, note=said), device)
        self._store.tidy()
        return made

    # --- inside ---

    @contextmanager
    def _turn(self, check: Check | None = None) -> Iterator[None]:
        """Allows one writer at a time, on the newest state; a failed change leaves no trace in memory."""
        try:
            with self._store.turn():
                self._refresh()
                old = deepcopy(self._state) if check else self._state
                yield
                if check:
                    check(old, self._state)
        except BaseException:
            self._number = UNSURE
            raise

    def _made(self, change: Change) -> Recorded | None:
        """The change already made with this key. Raises Refused if the key belongs to another change."""
        made = self._store.with_key(change.key) if change.key else None
        then = in_names_of_today(self._state, made) if made else change
        if made and (then.path, then.after) != (change.path, change.after):
            says = (
                f"has the key {change.key}, already used by change {made.number} of {made.path}: send it with a new key"
            )
            raise Refused(self.path, change.path, says)
        return made

    def _accept(self, change: Change, device: str, *, linked: bool = True) -> Recorded:
        """Appends a change and makes it, inside a turn. `linked`: refuse to remove a part that other entries refer to."""
        if (found := value_at(self._state, change.path)) != change.before:
            raise Stale(self.path, change, found, self._touching(change.path))
        goes = change.after is None and linked
        if goes and (holders := held_by(self._state, change.path.removeprefix("choice."))):
            raise Refused(
                self.path, change.path, f"cannot be removed: {', '.join(holders)} refer to it; change these first"
            )
        if change.path.startswith("attachment.") and isinstance(change.after, dict):
            self._check_bytes(change.path, str(change.after["sha256"]))
        try:
            put(self._state, change.path, deepcopy(change.after))
        except NoSuchPlace as wrong:
            raise Refused(self.path, "", str(wrong)) from None
        check_text(device, "the name of the device", self.path)
        self._time = max(self._clock(), self._time)  # the order stays right even if the clock was set back
        recorded = Recorded(**dict(change), number=self._number + 1, time=self._time, device=device)
        self._store.append(recorded)
        self._number = recorded.number
        if self._number - self._kept[0] >= max(_FEWEST_BETWEEN_SNAPSHOTS, self._kept[1] // _BYTES_OF_A_CHANGE):
            self._kept = (self._number, self._store.keep_snapshot(self._number, self._state))
        return recorded

    def _touching(self, path: str, after: int = 0) -> Recorded | None:
        """The newest change of a path after a number, by its present name or an old one."""
        found = (self._store.touching(one, after) for one in spellings(self._state, path))
        return max(filter(None, found), key=lambda change: change.number, default=None)

    def keep_new_names(self) -> tuple[Renamed, ...]:
        """Stores the build under the present names, as the new starting point for reading. Returns the old names found.

        The journal stays as it was written; the build does not change.
        """
        with self._turn():
            met = self.renamed
            if met:
                self._kept = (self._number, self._store.keep_snapshot(self._number, self._state))
                self._renamed.clear()
        return met

    def _check_bytes(self, path: str, digest: str) -> None:
        if not self._store.files.has(digest):
            raise Refused(self.path, path, "cannot be attached: the bytes of the file were forgotten, or never given")
