"""The write-ahead file beside a book: the newest change committed into it, even if SQLite no longer shows it.

Answers   newest_waiting   its number; 0 if none is found

SQLite reads the file up to the first frame with a wrong checksum and ignores all frames after it. So one flipped bit hides
all later changes without a message, and the next writer overwrites them. This module reads the later frames too. A killed
writer leaves frames without a commit, or a torn last frame: these were never promised and are ignored.

Source    the public description of the SQLite database file format: the write-ahead log, its checksums
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from trialfit.book.store.pages import numbers_on
from trialfit.book.store.rows import COLUMNS

if TYPE_CHECKING:
    from collections.abc import Iterator

_HEAD, _FRAME_HEAD = 32, 24
_BIG_ENDIAN = 0x377F0683
_WORDS = 0xFFFFFFFF
_ASKED = 2  # frames whose salts are read, besides the head: any of them may be damaged


class _Frame(NamedTuple):
    head: bytes
    page: bytes

    @property
    def ends_a_commit(self) -> bool:
        return self.head[4:8] != bytes(4)

    @property
    def salts(self) -> bytes:
        return self.head[8:16]

    @property
    def sums(self) -> tuple[int, int]:
        return int.from_bytes(self.head[16:20], "big"), int.from_bytes(self.head[20:24], "big")


def newest_waiting(waiting: bytes, size: int) -> int:
    """Number of the newest change in the frames up to the last commit, by the bytes of the file and the size of a page.

    Frames of an earlier round have other salts and are in the book already, so they hold nothing newer.
    """
    frames = list(_frames(waiting, size))
    order = "big" if waiting[:4] == _BIG_ENDIAN.to_bytes(4, "big") else "little"
    rounds = {waiting[16:24], *(frame.salts for frame in frames[:_ASKED])}
    return max((_newest([one for one in frames if one.salts == salts], order, waiting) for salts in rounds), default=0)


def _frames(waiting: bytes, size: int) -> Iterator[_Frame]:
    for start in range(_HEAD, len(waiting) - _FRAME_HEAD - size + 1, _FRAME_HEAD + size):
        body = start + _FRAME_HEAD
        yield _Frame(waiting[start:body], waiting[body : body + size])


def _newest(frames: list[_Frame], order: str, waiting: bytes) -> int:
    """The newest change of one round: the numbers only grow, so it is on the last page of the journal."""
    before = [(int.from_bytes(waiting[24:28], "big"), int.from_bytes(waiting[28:32], "big")), *(f.sums for f in frames)]
    last = len(frames) - 1
    while last >= 0 and not (
        frames[last].ends_a_commit and (last < len(frames) - 1 or _was_written(frames[last], before[last], order))
    ):
        last -= 1
    for frame in reversed(frames[: last + 1]):
        if numbers := numbers_on(frame.page, len(COLUMNS)):
            return max(numbers)
    return 0


def _was_written(frame: _Frame, before: tuple[int, int], order: str) -> bool:
    """Whether the last frame was written to its end: its checksum is right, or wrong only by one damaged word.

    A killed writer leaves an older page after a newer head; its checksum can be off by any amount.
    The checksum adds each word and the sum so far. A word that is off by d puts the two sums off by d times two Fibonacci
    numbers. At least one of them is odd, so d follows from it, and the other sum must agree.
    """
    data = frame.head[:8] + frame.page
    one, two = before
    for at in range(0, len(data), 8):
        one = (one + int.from_bytes(data[at : at + 4], order) + two) & _WORDS  # type: ignore[arg-type]
        two = (two + int.from_bytes(data[at + 4 : at + 8], order) + one) & _WORDS  # type: ignore[arg-type]
    off = ((frame.sums[0] - one) & _WORDS, (frame.sums[1] - two) & _WORDS)
    if off == (0, 0) or 0 in off:  # right, or one of the two sums itself is damaged
        return True
    return any(_agrees(off, weight) for weight in _weights(len(data) // 4 + 1))


def _weights(count: int) -> Iterator[tuple[int, int]]:
    """The error in the two sums per unit of error in each word, from the last word to the first and the sum before it."""
    older, newer = 0, 1
    for _ in range(count):
        yield older, newer
        older, newer = newer, (older + newer) & _WORDS


def _agrees(off: tuple[int, int], weight: tuple[int, int]) -> bool:
    sums, weights = (off, weight) if weight[0] % 2 else (off[::-1], weight[::-1])
    if weights[0] % 2 == 0:
        return False
    by = sums[0] * pow(weights[0], -1, _WORDS + 1) & _WORDS
    return by * weights[1] & _WORDS == sums[1]
