"""The base of every record of the program: named, checked fields that never change.

Answers   Frozen   the base of a record that is read from a file or shown as JSON
Not here  records used only inside the program: plain frozen dataclasses
"""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict


class Frozen(BaseModel):
    """A record: a change makes a new record, and an unknown field is refused."""

    model_config = ConfigDict(frozen=True, extra="forbid")
