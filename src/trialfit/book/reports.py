"""What the commands of a book report, in the shapes that their --json prints.

Answers   Made, JournalPage, Carried, Verification
Not here  how it looks (cli/)
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
    remarks: tuple[str, ...] = Field(default=(), description="what the builder should know besides, one sentence each")


class JournalPage(Frozen):
    """Changes of a book, the oldest first."""

    file: str
    changes: tuple[Recorded, ...]


class Carried(Frozen):
    """A build carried from one file into another."""

    source: str
    target: str
    changes: int = Field(description="how many changes it took; 0 where the target is not a book")
    attachments: int = Field(description="how many photos and papers went with it")
    remarks: tuple[str, ...] = Field(default=(), description="what the builder should know besides, one sentence each")


class Verification(Frozen):
    """What was found when a book was read from beginning to end."""

    file: str
    changes: int
    attachments: int
    damages: tuple[Damage, ...]
