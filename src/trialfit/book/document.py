"""A build as plain text, entry by entry, before the program reads any meaning into it.

Answers   Document      parts, choices and limits as written
          PartText      one part: its kind, a note, its entries
          ChoiceText    one choice: the possible parts, and the one picked
          AttachmentText  a photo or paper: its part or job, and its content hash
Not here  the TOML file (toml_text.py); parts and facts (build.py)
"""

from __future__ import annotations

from pydantic import Field

from trialfit.facts.frozen import Frozen

FORMAT = 1
Entry = str | tuple[str, ...]


class PartText(Frozen):
    """One part as written: an entry is text, or a list of texts for a list of values."""

    kind: str
    note: str = ""
    entries: dict[str, str | tuple[str, ...]] = Field(default_factory=dict)


class ChoiceText(Frozen):
    """A place with several possible parts."""

    options: tuple[str, ...]
    picked: str = ""
    note: str = ""


class AttachmentText(Frozen):
    """A photo, certificate or drawing of a part or job. Its bytes are stored separately, by their hash."""

    about: str
    file: str
    sha256: str
    media_type: str = ""
    size: int = 0
    note: str = ""


class Document(Frozen):
    """A whole build as written. `limits` holds the builder's own limits and the makers', by the id of the finding.

    `jobs`, `orders`, `workshop` and `readings` hold the plan of the work. `work` is the work log, by number.
    """

    format: int = FORMAT
    name: str = ""
    story: str = ""
    parts: dict[str, PartText] = Field(default_factory=dict)
    choices: dict[str, ChoiceText] = Field(default_factory=dict)
    limits: dict[str, str] = Field(default_factory=dict)
    attachments: dict[str, AttachmentText] = Field(default_factory=dict)
    jobs: dict[str, dict[str, Entry]] = Field(default_factory=dict)
    orders: dict[str, dict[str, Entry]] = Field(default_factory=dict)
    workshop: dict[str, Entry] = Field(default_factory=dict)
    readings: dict[str, str] = Field(default_factory=dict)
    work: dict[str, dict[str, Entry]] = Field(default_factory=dict)
