"""Jobs, orders, the workshop, readings and the work log, in the TOML text of a build.

Answers   GROUPS            their tables in the text, by the name of the document's field
          work_in           their entries in a parsed text, and the problems in them
          work_tables       the tables of a document, for writing
          entry_keys        the keys allowed at a path, None if any word is allowed
Not here  their meaning (planning/); the rest of the text (toml_text.py, writing.py)

Layout    [job.NAME] a job of the builder's own, or changes to a usual one; [order.NAME] a part ordered; [workshop]
          hours, holidays, people; [reading] readings by name; [work.NUMBER] one entry of the work log, in order.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from trialfit.book.problems import Located

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from trialfit.book.document import Document

    Entry = str | tuple[str, ...]

GROUPS = {"jobs": "job", "orders": "order", "workshop": "workshop", "readings": "reading", "work": "work"}
"""The table in the text by the field of the document."""

KEYS = {
    "job": (
        "title",
        "hours",
        "needs",
        "leaves",
        "readings",
        "gate",
        "people",
        "uses",
        "loud",
        "waits",
        "tools",
        "sheets",
        "undone_by",
        "cautions",
        "skip",
        "note",
    ),
    "order": ("part", "serves", "price", "ordered", "promised", "arrived", "lies", "state", "note"),
    "workshop": (
        "hours",
        "helper",
        "quiet",
        "holidays",
        "extra",
        "begins",
        "people",
        "resources",
        "temperature",
        "goal",
        "note",
    ),
    "work": (
        "what",
        "job",
        "end",
        "gate",
        "when",
        "hours",
        "leaves",
        "relied",
        "by",
        "because",
        "although",
    ),
}
"""The keys allowed in each table; a reading can have any name."""


def entry_keys(path: str) -> tuple[str, ...] | None:
    """The keys allowed at a path, None if any name is allowed."""
    return KEYS.get(path.partition(".")[0])


def work_in(data: Mapping[str, Any], problems: list[Located]) -> dict[str, dict[str, Any]]:
    """The five groups of a parsed text, by the field of the document; entries of wrong shape become problems."""
    found: dict[str, dict[str, Any]] = {}
    for field, table in GROUPS.items():
        given = data.get(table, {})
        if not isinstance(given, dict):
            problems.append(Located(table, "is not a table"))
            given = {}
        if table in ("workshop", "reading"):
            found[field] = _entries(table, given, problems)
        else:
            found[field] = {name: _entries(f"{table}.{name}", member, problems) for name, member in given.items()}
    found["readings"] = _single(found["readings"], problems)
    return found


def work_tables(document: Document) -> Iterator[tuple[tuple[str, ...], dict[str, Entry]]]:
    """The names and entries of each table needed for a document."""
    for field, table in GROUPS.items():
        group = getattr(document, field)
        if table in ("workshop", "reading"):
            if group:
                yield (table,), group
        else:
            yield from (((table, name), entries) for name, entries in group.items())


def _entries(where: str, given: object, problems: list[Located]) -> dict[str, Entry]:
    if not isinstance(given, dict):
        problems.append(Located(where, "is not a table"))
        return {}
    known = entry_keys(where)
    entries: dict[str, Entry] = {}
    for key, value in given.items():
        entry = _entry(value)
        if known is not None and key not in known:
            problems.append(Located(f"{where}.{key}", f"is an unknown entry: expected one of {', '.join(known)}"))
        elif entry is None:
            problems.append(Located(f"{where}.{key}", "is not text: put it in quotes, or write a list of texts"))
        else:
            entries[key] = entry
    return entries


def _single(entries: dict[str, Entry], problems: list[Located]) -> dict[str, str]:
    single = {}
    for key, entry in entries.items():
        if isinstance(entry, str):
            single[key] = entry
        else:
            problems.append(Located(f"reading.{key}", 'is a list: expected one reading, for example "8 mm, calipered"'))
    return single


def _entry(value: object) -> Entry | None:
    if isinstance(value, str):
        return value
    if isinstance(value, int | float) and not isinstance(value, bool):
        return repr(value)
    if isinstance(value, list) and all(isinstance(item, str) for item in value):
        return tuple(value)
    return None
