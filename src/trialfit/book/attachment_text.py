"""The attachments of a build in its TOML text: [attachment.NAME] tables.

Answers   attachments_in    those of a parsed text, and what is wrong with them
Not here  the files themselves (carrying.py), the rest of the text (toml_text.py)
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

from trialfit.book.document import AttachmentText
from trialfit.book.problems import Located

if TYPE_CHECKING:
    from collections.abc import Mapping

_DIGEST = re.compile(r"[0-9a-f]{64}")
_TEXTS = ("about", "file", "sha256", "media_type", "note")
_HINT = "an attachment is written by `trialfit write-out`, with about, file, sha256, media_type, size and note"


def attachments_in(data: Mapping[str, Any], problems: list[Located]) -> dict[str, AttachmentText]:
    """The attachments by name; a table that is not an attachment is left out and added to the problems."""
    tables = data.get("attachment", {})
    if not isinstance(tables, dict):
        problems.append(Located("attachment", f"is not a table: {_HINT}"))
        return {}
    found = {}
    for name, table in tables.items():
        card = _card(table)
        if card is None:
            problems.append(Located(f"attachment.{name}", f"is not an attachment: {_HINT}"))
        else:
            found[name] = card
    return found


def _card(table: object) -> AttachmentText | None:
    if not isinstance(table, dict) or not set(table) <= {*_TEXTS, "size"}:
        return None
    texts = {key: table.get(key, "") for key in _TEXTS}
    size = table.get("size", 0)
    sound = all(isinstance(text, str) for text in texts.values()) and isinstance(size, int) and size >= 0
    if not sound or isinstance(size, bool) or not _DIGEST.fullmatch(texts["sha256"]):
        return None
    return AttachmentText(**texts, size=size)
