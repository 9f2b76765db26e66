"""The results of the book commands, in the shapes that their --json prints.

Answers   Made, JournalPage, Carried, Verification
Not here  printing (cli/)
"""

from __future__ import annotations

from pydantic import Field

from trialfit.book.changes import Recorded
from trialfit.book.store.damage import Damage
from trialfit.facts.frozen import Frozen


class Made(Frozen):
    """One change that was written into a book."""

    file: str
    change: Recorded
    remarks: tuple[str, ...] = Field(default=(), description="further remarks for the builder, one sentence each")


class JournalPage(Frozen):
    """Changes of a book, the oldest first."""

    file: str
    changes: tuple[Recorded, ...]


class Carried(Frozen):
    """A build carried from one file into another."""

    source: str
    target: str
    changes: int = Field(description="number of changes made; 0 if the target is not a book")
    attachments: int = Field(description="number of photos and papers carried along")
    remarks: tuple[str, ...] = Field(default=(), description="further remarks for the builder, one sentence each")


class Verification(Frozen):
    """The result of reading a book from beginning to end."""

    file: str
    changes: int
    attachments: int
    damages: tuple[Damage, ...]
