"""Reading a book: the build now and earlier, every change, every attachment. This module never writes.

Answers   History        an open book, read
Not here  changing it (journal.py), the file (store/)
"""

from __future__ import annotations

from copy import deepcopy
from datetime import UTC, datetime
from typing import TYPE_CHECKING, Self

from trialfit.book.build import Build
from trialfit.book.changes import NoSuchPlace, document, empty, put, value_at
from trialfit.book.refusals import Unusable
from trialfit.book.renaming import state_now
from trialfit.book.saving import check_free
from trialfit.book.store.connection import SALVAGE

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator
    from pathlib import Path

    from pydantic import JsonValue

    from trialfit.book.changes import Change, Recorded, State
    from trialfit.book.document import Document
    from trialfit.book.renaming import Renamed
    from trialfit.book.store import Damage, Store

UNSURE = -1  # the state in memory may be ahead of the file: read it again
_BEGINNING = datetime(1970, 1, 1, tzinfo=UTC)


class History:
    """An open book, for reading. Each call also returns what other processes have written meanwhile."""

    def __init__(self, store: Store) -> None:
        self._store = store
        self._load()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def close(self) -> None:
        """Closes the file."""
        self._store.close()

    @property
    def path(self) -> Path:
        """The file."""
        return self._store.path

    @property
    def migrated_from(self) -> Path | None:
        """The copy of the book's older version, if it was migrated on opening."""
        return self._store.migrated_from

    @property
    def number(self) -> int:
        """Number of the newest change."""
        self._refresh()
        return self._number

    @property
    def document(self) -> Document:
        """The present build, as written."""
        self._refresh()
        return self._document(self._state)

    def build(self) -> Build:
        """The present build, as far as its parts can be read."""
        return Build.from_document(self.document)[0]

    def value(self, path: str) -> JsonValue:
        """The present value at a path; None if there is none."""
        self._refresh()
        return deepcopy(value_at(self._state, path))

    def journal(self, since: int = 0) -> Iterator[Recorded]:
        """The changes after a number, in order."""
        return self._store.since(since)

    def number_at(self, time: datetime) -> int:
        """Number of the newest change that is not later than a time; 0 if there is none."""
        return self._store.at(time.astimezone(UTC))

    def document_after(self, number: int) -> Document:
        """The build after a change; `number_at` gives the number of the change for a time."""
        return self._document(self._folded_to(number)[2])

    @property
    def renamed(self) -> tuple[Renamed, ...]:
        """The old names found when the book was read, of entries still in the build."""
        self._refresh()
        return tuple(one for one in self._renamed if value_at(self._state, one.path) is not None)

    def file(self, digest: str) -> bytes | None:
        """The original bytes of an attachment by SHA-256; None if it is not kept or was forgotten."""
        return self._store.files.whole(digest)

    def preview(self, digest: str) -> bytes | None:
        """The preview of an attachment, if there is one."""
        return self._store.files.preview(digest)

    def damages(self) -> Iterator[Damage]:
        """All damage in the book."""
        return self._store.damages()

    def keep_copy(self, target: Path) -> None:
        """Writes a consistent copy while the book is in use. Raises Unusable."""
        check_free(target)
        self._store.copy_to(target)

    # --- inside ---

    def _load(self) -> None:
        self._renamed: dict[Renamed, None] = {}
        self._kept, self._number, self._state = self._folded_to(None)
        newest = self._store.newest()
        self._time = newest.time if newest else _BEGINNING

    def _refresh(self) -> None:
        if self._number == UNSURE:
            self._load()
        for change in self._store.since(self._number):
            self._fold(self._state, change)
            self._number, self._time = change.number, change.time

    def _folded_to(self, number: int | None) -> tuple[tuple[int, int], int, State]:
        """Number and size of the first snapshot used, number of the newest change, and the state after it."""
        begun, size, state = self._store.newest_snapshot(number) or (0, 0, empty())
        self._met(state_now(state))
        reached = begun
        for change in self._store.since(begun, number):
            self._fold(state, change)
            reached = change.number
        return (begun, size), reached, state

    def _fold(self, state: State, change: Change) -> None:
        try:
            self._met(put(state, change.path, change.after))
        except (NoSuchPlace, TypeError, KeyError, AttributeError):
            raise Unusable(self.path, f"is damaged: the place of {change.path} is missing. {SALVAGE}") from None

    def _met(self, renamed: Iterable[Renamed]) -> None:
        self._renamed.update(dict.fromkeys(renamed))

    def _document(self, state: State) -> Document:
        try:
            return document(state)
        except (ValueError, TypeError, KeyError):
            raise Unusable(self.path, f"is damaged: its content is not a build. {SALVAGE}") from None
