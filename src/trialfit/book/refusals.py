"""The refusals of a book: each is one sentence, and the book is unchanged.

Answers   Unusable   the file cannot be used as a book
          Refused    a change without effect or place, or one that the build does not allow
          Stale      a change whose expected old value is no longer there
Not here  bad input in a TOML file (problems.py)
"""

from __future__ import annotations

from textwrap import shorten
from typing import TYPE_CHECKING

from trialfit.book.problems import BadInput, Located

if TYPE_CHECKING:
    from trialfit.book.changes import Change, Recorded

_LONGEST_SHOWN = 80


class Unusable(BadInput):
    """The file cannot be used as a book: the reason in one sentence."""

    def __init__(self, where: object, says: str) -> None:
        super().__init__(str(where), [Located("", says)])


class Refused(BadInput):
    """A change that is not made: the reason in one sentence."""

    def __init__(self, where: object, path: str, says: str) -> None:
        super().__init__(str(where), [Located(path, says)])


class Stale(Refused):
    """The old value is not as expected: another device changed it meanwhile.

    `change` is the requested change, `found` the present value, `by` the change that wrote it, if known.
    """

    def __init__(self, where: object, change: Change, found: object, by: Recorded | None) -> None:
        self.change, self.found, self.by = change, found, by
        who = (
            f" by {by.device or 'a device without a name'}, change {by.number} of {by.time:%Y-%m-%d %H:%M} UTC"
            if by
            else ""
        )
        super().__init__(
            where,
            change.path,
            f"was changed meanwhile{who}: it was {shown(change.before)} when you began, now it is {shown(found)}, "
            f"you wrote {shown(change.after)}. Nothing was changed: compare both values and write again",
        )


def shown(value: object) -> str:
    """A value of the journal, as shown in a sentence."""
    if value is None:
        return "nothing"
    text = value if isinstance(value, str) else " | ".join(map(str, value)) if isinstance(value, list) else str(value)
    return f'"{shorten(text, _LONGEST_SHOWN, placeholder=" ...")}"'
