"""A document as TOML text. Reading the text gives the same document.

Answers   text_of_document    the whole text
Not here  reading it (toml_text.py), changing one entry of a builder's own file (toml_text.py), attachments (carrying.py)
"""

from __future__ import annotations

import json
import re
from typing import TYPE_CHECKING

from trialfit.book.document import FORMAT
from trialfit.book.work_text import work_tables
from trialfit.parts import KINDS

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from trialfit.book.document import Document, PartText

    Value = str | int | tuple[str, ...]

_BARE_KEY = re.compile(r"[A-Za-z0-9_-]+")
_NO_BLOCK = re.compile(r'[^\n\t\x20-\x7e\xa0-\U0010ffff]|"""|\\')


def text_of_document(document: Document, remarks: tuple[str, ...] = ()) -> str:
    """The document as TOML text, with remarks as comments at its beginning."""
    lines = [f"# {line}".rstrip() for remark in remarks for line in remark.splitlines()]
    lines += ["", f"format = {FORMAT}"] if lines else [f"format = {FORMAT}"]
    lines += [_line(key, value) for key, value in (("name", document.name), ("story", document.story)) if value]
    for name, part in document.parts.items():
        lines += _table((name,), _entries(name, part))
    for name, choice in document.choices.items():
        lines += _table(("choice", name), {"options": choice.options, "picked": choice.picked, "note": choice.note})
    if document.limits:
        lines += _table(("limit",), document.limits, keep_empty=True)
    for name, card in document.attachments.items():
        lines += _table(("attachment", name), card.model_dump())
    for names, entries in work_tables(document):
        lines += _table(names, entries, keep_empty=True)
    return "\n".join(lines) + "\n"


def _entries(name: str, part: PartText) -> Mapping[str, Value | None]:
    says_itself = part.kind == (name if name in KINDS else "")
    return {"kind": None if says_itself else part.kind, "note": part.note or None, **part.entries}


def _table(names: tuple[str, ...], entries: Mapping[str, Value | None], *, keep_empty: bool = False) -> Iterator[str]:
    yield ""
    yield f"[{'.'.join(map(_key, names))}]"
    head = names[0] in ("choice", "attachment")
    for key, value in entries.items():
        if value is not None and (value != "" or keep_empty or not head):
            yield _line(key, value)


def _line(key: str, value: Value) -> str:
    return f"{_key(key)} = {_value(value)}"


def _value(value: Value) -> str:
    if isinstance(value, int):
        return str(value)
    if isinstance(value, tuple):
        return f"[{', '.join(map(_quoted, value))}]"
    if "\n" in value and not _NO_BLOCK.search(value):
        quote = '\\"' if value.endswith('"') else value[-1]
        return f'"""\n{value[:-1]}{quote}"""'
    return _quoted(value)


def _key(key: str) -> str:
    return key if _BARE_KEY.fullmatch(key) else _quoted(key)


def _quoted(text: str) -> str:
    """A basic string: TOML reads JSON escapes; JSON leaves one control character unescaped, so it is escaped here."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")
