"""What was looked at in a build while something was worked out, so that a change re-works only what looked at it.

Answers   watching   collects what is looked at inside the block
          seen       notes one thing that is looked at
          Watched    a mapping that notes which of its entries are looked at
Looked at   (part, fact)      what is written for one fact of a part, or that nothing is; None for all of them
            anything else     what a build notes of itself (book/build.py), and what an evaluation worked out (evaluation/)
Each thread has a watch of its own. Without a watch nothing is noted.
"""

from __future__ import annotations

from contextlib import contextmanager
from threading import local
from typing import TYPE_CHECKING, Any, TypeVar

if TYPE_CHECKING:
    from collections.abc import Hashable, Iterator, Mapping

    from _typeshed import SupportsKeysAndGetItem

Entry = TypeVar("Entry")


class _Watches(local):
    def __init__(self) -> None:
        self.open: list[set[Hashable]] = []


_WATCHES = _Watches()


@contextmanager
def watching() -> Iterator[set[Hashable]]:
    """All that is looked at inside the block. A block within it has a watch of its own: what it saw is not noted here."""
    found: set[Hashable] = set()
    _WATCHES.open.append(found)
    try:
        yield found
    finally:
        _WATCHES.open.pop()


def seen(what: Hashable) -> None:
    """Notes that this was looked at."""
    if _WATCHES.open:
        _WATCHES.open[-1].add(what)


class Watched(dict[str, Entry]):
    """A mapping that notes which of its entries are looked at: (owner, key), or (owner, None) for all of them."""

    __slots__ = ("owner",)

    def __init__(self, owner: str, entries: Mapping[str, Entry] | SupportsKeysAndGetItem[str, Entry]) -> None:
        super().__init__(entries)
        self.owner = owner

    def __getitem__(self, key: str) -> Entry:
        seen((self.owner, key))
        return super().__getitem__(key)

    def get(self, key: str, default: Any = None) -> Any:  # noqa: ANN401 - as a dictionary has it
        """As a dictionary does."""
        if _WATCHES.open:
            _WATCHES.open[-1].add((self.owner, key))
        return super().get(key, default)

    def __contains__(self, key: object) -> bool:
        seen((self.owner, key))
        return super().__contains__(key)

    def __iter__(self) -> Iterator[str]:
        seen((self.owner, None))
        return super().__iter__()

    def __len__(self) -> int:
        seen((self.owner, None))
        return super().__len__()

    def __eq__(self, other: object) -> bool:
        seen((self.owner, None))
        return super().__eq__(other)

    def __ne__(self, other: object) -> bool:
        return not self == other

    __hash__ = None

    def keys(self) -> Any:  # noqa: ANN401 - a view of the dictionary
        """As a dictionary does."""
        seen((self.owner, None))
        return super().keys()

    def values(self) -> Any:  # noqa: ANN401 - a view of the dictionary
        """As a dictionary does."""
        seen((self.owner, None))
        return super().values()

    def items(self) -> Any:  # noqa: ANN401 - a view of the dictionary
        """As a dictionary does."""
        seen((self.owner, None))
        return super().items()

    def copy(self) -> dict[str, Entry]:
        """As a dictionary does."""
        return dict(self.items())

    def __reduce__(self) -> tuple[type[Watched[Entry]], tuple[str, dict[str, Entry]]]:
        return type(self), (self.owner, dict(self.items()))
