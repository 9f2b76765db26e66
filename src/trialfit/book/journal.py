"""The book: a build with its whole history in one file, and the one way to change it.

Answers   Book.create, Book.open    a new book; an existing one
          Book.write                one durable change; refused where what it expects to replace no longer stands
          Book.undo                 a new change that takes one back
          Book.state_at             the build as it was then
          Book.attach, Book.forget  photos and papers by content hash
Not here  SQL (store.py), what a change does to a build (changes.py), previews (pictures.py), text of a build (toml_text.py)
"""

from __future__ import annotations

from contextlib import contextmanager
from copy import deepcopy
from datetime import UTC, datetime
from functools import lru_cache
from textwrap import shorten
from typing import TYPE_CHECKING, Any, Self

from pydantic import JsonValue, TypeAdapter, ValidationError

from trialfit.book.build import Build
from trialfit.book.changes import (
    Change,
    NoSuchPlace,
    Recorded,
    differences,
    document,
    empty,
    fold,
    held_by,
    is_needed,
    put,
    shape_at,
    state_of,
    touch,
    value_at,
)
from trialfit.book.store import Store

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from trialfit.book.changes import State
    from trialfit.book.document import Document

SNAPSHOT_EVERY = 500
_UNSURE = -1  # the state in memory may be ahead of the file: read it anew
_BEGINNING = datetime(1970, 1, 1, tzinfo=UTC)
LONGEST = 100_000  # characters of one value: a torque curve is 2,000


class Refused(Exception):
    """A change that is not made: one sentence that says why. Nothing was changed."""


class Stale(Refused):
    """What a change expects to replace no longer stands there: another device changed it meanwhile."""

    def __init__(self, change: Change, found: object, by: Recorded | None) -> None:
        self.change, self.found, self.by = change, found, by
        who = f" by {by.device} at {by.time:%Y-%m-%d %H:%M} (change {by.number})" if by else ""
        super().__init__(
            f"{change.path} was changed meanwhile{who}: it was {_shown(change.before)} when you began, "
            f"it is {_shown(found)} now, you wrote {_shown(change.after)}. Nothing was changed; look at both and write again."
        )


class Book:
    """A build with its whole history, open. Close it, or use it in a `with` statement."""

    def __init__(self, store: Store) -> None:
        self._store = store
        self._number = 0
        self._time = _BEGINNING
        self._state: State = empty()
        self._load()

    @classmethod
    def create(cls, path: Path, start: Document | None = None, device: str = "") -> Book:
        """A new book, with a build in it where one is given. Raises Unusable."""
        book = cls(Store.create(path))
        if start is not None:
            book.take_in(start, device)
        return book

    @classmethod
    def open(cls, path: Path, *, read_only: bool = False) -> Book:
        """An existing book. Raises Unusable."""
        store = Store.open(path, read_only=read_only)
        try:
            return cls(store)
        except BaseException:
            store.close()
            raise

    def close(self) -> None:
        """Lets go of the file."""
        self._store.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    @property
    def number(self) -> int:
        """Number of the newest change."""
        self._refresh()
        return self._number

    @property
    def state(self) -> State:
        """The build as it is now, as a state of its own."""
        self._refresh()
        return deepcopy(self._state)

    @property
    def document(self) -> Document:
        """The build as it is now, as written."""
        self._refresh()
        return document(self._state)

    def build(self) -> Build:
        """The build as it is now, as far as its parts can be read."""
        return Build.from_document(self.document)[0]

    def value(self, path: str) -> JsonValue:
        """What stands at a path now; None where nothing does."""
        self._refresh()
        return deepcopy(value_at(self._state, path))

    def journal(self, since: int = 0) -> Iterator[Recorded]:
        """The changes after a number, in order."""
        return self._store.since(since)

    def write(self, change: Change, device: str = "") -> Recorded:
        """One change, durable when this returns. A key that was written before answers with the change it made then.

        Raises Stale where `before` no longer stands, Refused for a change that makes no sense, Unusable for the disk.
        """
        _check(change)
        with self._turn():
            if change.key and (made := self._store.with_key(change.key)):
                return made
            return self._accept(change, device)

    def take_in(self, start: Document, device: str = "", note: str = "") -> list[Recorded]:
        """Makes the build equal to a document by as many changes as it takes; all of them or none."""
        with self._turn():
            wanted = state_of(start)
            return [self._accept(change, device) for change in differences(self._state, wanted, note)]

    def undo(self, number: int | None = None, device: str = "", key: str = "") -> Recorded:
        """A new change that takes a change back: the one named, or the newest. Raises Refused where a later one stands in the way."""
        with self._turn():
            if key and (made := self._store.with_key(key)):
                return made
            number = self._number if number is None else number
            undone = next(self._store.since(number - 1, number), None)
            if undone is None:
                raise Refused(f"there is no change {number}: the journal ends with {self._number}")
            later = next((one for one in self._store.since(number) if touch(one.path, undone.path)), None)
            if later is not None and value_at(self._state, undone.path) != undone.after:
                said = f"change {later.number} ({later.path}, {later.device or 'no device named'}) came after it"
                raise Refused(
                    f"change {number} of {undone.path} cannot be taken back: {said}; take that one back first"
                )
            back = Change(
                path=undone.path, before=undone.after, after=undone.before, note=f"takes back change {number}", key=key
            )
            return self._accept(back, device)

    def state_at(self, time: datetime) -> State:
        """The build as it was at a time."""
        return self._folded_to(self._store.number_at(time.astimezone(UTC)))

    def keep_copy(self, target: Path) -> None:
        """A consistent copy while the book is in use. Raises Unusable."""
        self._store.copy_to(target)

    # --- inside ---

    @contextmanager
    def _turn(self) -> Iterator[None]:
        """One writer at a time, on the newest state; what does not come about leaves no trace in memory either."""
        try:
            with self._store.turn():
                self._refresh()
                yield
        except BaseException:
            self._number = _UNSURE
            raise

    def _accept(self, change: Change, device: str) -> Recorded:
        found = value_at(self._state, change.path)
        if found != change.before:
            raise Stale(change, found, self._last_at(change.path))
        if change.after is None and "." not in change.path and (holders := held_by(self._state, change.path)):
            raise Refused(f"{change.path} cannot be taken out: {', '.join(holders)} refer to it; change these first")
        self._time = max(datetime.now(UTC), self._time)  # a clock that was set back does not turn the order round
        recorded = Recorded(**dict(change), number=self._number + 1, time=self._time, device=device)
        try:
            put(self._state, change.path, deepcopy(change.after))
        except NoSuchPlace as wrong:
            raise Refused(str(wrong)) from None
        self._store.append(recorded)
        self._number = recorded.number
        if recorded.number % SNAPSHOT_EVERY == 0:
            self._store.keep_snapshot(recorded.number, self._state)
        return recorded

    def _last_at(self, path: str) -> Recorded | None:
        return max(
            (one for one in self._store.since(0) if touch(one.path, path)), key=lambda one: one.number, default=None
        )

    def _load(self) -> None:
        self._state = self._folded_to(None)
        self._number, self._time = self._store.last() or (0, _BEGINNING)

    def _refresh(self) -> None:
        if self._number == _UNSURE:
            self._load()
        for change in self._store.since(self._number):
            put(self._state, change.path, change.after)
            self._number, self._time = change.number, change.time

    def _folded_to(self, number: int | None) -> State:
        kept = self._store.newest_snapshot(number)
        start, state = kept or (0, empty())
        return fold(state, self._store.since(start, number))


def _check(change: Change) -> None:
    """Raises Refused where the value has not the shape that belongs to its path."""
    if change.before == change.after:
        raise Refused(f"{change.path} is {_shown(change.after)} already: nothing to change")
    if len(str(change.after)) > LONGEST:
        raise Refused(
            f"{change.path}: a value of {len(str(change.after))} characters is too long, at most {LONGEST} are kept"
        )
    if change.after is None and is_needed(change.path):
        raise Refused(
            f"{change.path} cannot be taken out: it can be changed, or the whole of {change.path.rpartition('.')[0] or 'the build'}"
        )
    if change.after is not None:
        try:
            _adapter(shape_at(change.path)).validate_python(change.after)
        except ValidationError as wrong:
            raise Refused(
                f"{change.path} cannot be {_shown(change.after)}: {wrong.errors()[0]['msg'].lower()}"
            ) from None


@lru_cache
def _adapter(shape: Any) -> TypeAdapter[Any]:  # noqa: ANN401 - a type or a union of types
    return TypeAdapter(shape)


def _shown(value: object) -> str:
    if value is None:
        return "nothing"
    return f'"{shorten(value if isinstance(value, str) else repr(value), 80, placeholder=" ...")}"'
