"""The one error of all readers: a sentence with the text read, the text expected, and an example.

Answers   Unreadable    raised for text that is not a fact
          Fault         raised inside the readers, without the whole text
          nearest       the words nearest to a wrong one
"""

from __future__ import annotations

from difflib import get_close_matches
from typing import TYPE_CHECKING

from trialfit.facts.plain_text import excerpt

if TYPE_CHECKING:
    from collections.abc import Iterable

    from trialfit.facts.quantity import Quantity


class Unreadable(ValueError):
    """A text that is not a fact; its message is one or two plain sentences.

    `read` is the text, `expected` what should be there, `example` a text that can be read.
    """

    def __init__(self, message: str, *, read: str, expected: str, example: str) -> None:
        super().__init__(message)
        self.read, self.expected, self.example = read, expected, example


class Fault(ValueError):
    """The fault in a piece of the text, as the second half of a sentence: has no unit, is not a number ...

    `cure` replaces the usual ending "expected a length, for example ..."; `about` is the faulty piece of text.
    """

    def __init__(self, says: str, *, cure: str = "", about: str = "") -> None:
        super().__init__(says)
        self.says, self.cure, self.about = says, cure, about


def unreadable(text: str, fault: Fault, quantity: Quantity) -> Unreadable:
    """The whole sentence about a text."""
    read = excerpt(fault.about or text)
    wanted = f"expected {quantity.with_article}"
    start = f'"{read}" {fault.says}' if read else "is empty"
    cure = fault.cure or f'{wanted}, for example "{quantity.example}"'
    return Unreadable(f"{start}: {cure}", read=text, expected=wanted, example=quantity.example)


def nearest(word: str, known: Iterable[str], count: int = 3) -> str:
    """The known words nearest to a wrong one, in quotes and joined by "or"; "" if none is near."""
    near = get_close_matches(word[:40], list(known), n=count, cutoff=0.5)
    return " or ".join(f'"{one}"' for one in near)
