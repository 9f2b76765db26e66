"""What a book answers when it does not do what it was asked: each is one sentence, and nothing was changed.

Answers   Unusable   the file cannot be used as a book
          Refused    a change that makes no sense, or that the build does not allow
          Stale      a change that expects to replace what is no longer there
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
    """The file cannot be used as a book: one sentence that says why."""

    def __init__(self, where: object, says: str) -> None:
        super().__init__(str(where), [Located("", says)])


class Refused(BadInput):
    """A change that is not made: one sentence that says why."""

    def __init__(self, where: object, path: str, says: str) -> None:
        super().__init__(str(where), [Located(path, says)])


class Stale(Refused):
    """What a change expects to replace no longer stands there: another device changed it meanwhile.

    `change` is what was asked for, `found` what stands there now, `by` the change that put it there, where it is known.
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
            f"was changed meanwhile{who}: it was {shown(change.before)} when you began, it is {shown(found)} now, "
            f"you wrote {shown(change.after)}. Nothing was changed: look at both and write again",
        )


def shown(value: object) -> str:
    """A value of the journal as it stands in a sentence."""
    if value is None:
        return "nothing"
    text = value if isinstance(value, str) else " | ".join(map(str, value)) if isinstance(value, list) else str(value)
    return f'"{shorten(text, _LONGEST_SHOWN, placeholder=" ...")}"'
