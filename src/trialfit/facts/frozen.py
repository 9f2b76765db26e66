"""What every record of the program is made from: fields that are named, checked, and never change.

Answers   Frozen   the base of a record that is read from a file or shown as JSON
Not here  records that only live inside the program: plain frozen dataclasses
"""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict


class Frozen(BaseModel):
    """A record: a change makes a new one, and a field that it does not have is refused."""

    model_config = ConfigDict(frozen=True, extra="forbid")
