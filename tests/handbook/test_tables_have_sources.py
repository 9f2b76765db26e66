"""No table of the program lacks its marks: each value says where it comes from, or that it is from memory or common practice.

A table of values has a column `source` (or `source of ...` where columns come from different places), filled in every row. A table of
which all values have one source may have a row in the SOURCES.md beside it instead, which names the file and that source. What holds
no values from outside is named here with what it holds.
"""

from __future__ import annotations

import csv
import re
from pathlib import Path

import pytest

import trialfit

SOURCE = Path(trialfit.__file__).parent
TABLES = sorted(path for path in SOURCE.rglob("*.csv"))
NO_VALUES = {
    "parts/old_names.csv": "names that facts had before",
    "subjects/measuring/ways.csv": "expressions between facts; their relations name the source",
}
_LEAST = 8  # letters: "GUM, H.1" is a source, "yes" is none
_ROW = re.compile(r"^\|(?P<files>[^|]*)\|(?P<source>[^|]*)\|")
_VAGUE = re.compile(r"^(various|internet|unknown|see above|n/?a|tbd|todo|\?+)$", re.IGNORECASE)


def name_of(path: Path) -> str:
    """The path inside the package."""
    return path.relative_to(SOURCE).as_posix()


def columns_of_source(rows: list[dict[str, str]]) -> list[str]:
    """The columns that name sources."""
    return [column for column in rows[0] if column == "source" or column.startswith("source of ")]


def read(path: Path) -> list[dict[str, str]]:
    """The rows of a table."""
    return list(csv.DictReader(path.read_text(encoding="utf-8").splitlines()))


def is_source(text: str | None) -> bool:
    """Whether a text can be a source or a mark."""
    plain = (text or "").strip()
    return len(plain) >= _LEAST and not _VAGUE.match(plain)


def source_beside(path: Path) -> str:
    """What the SOURCES.md beside a table says of it; empty where it does not name it."""
    notes = path.parent / "SOURCES.md"
    text = notes.read_text(encoding="utf-8") if notes.exists() else ""
    for line in text.splitlines():
        row = _ROW.match(line)
        if row and f"`{path.name}`" in row["files"]:
            return line.split("|", 2)[2]
    return text if f"`{path.name}`" in text else ""


@pytest.mark.parametrize("path", TABLES, ids=name_of)
def test_every_row_names_its_source(path) -> None:
    """With a column for it in each row, or in one line beside a table whose values have one source."""
    name, rows = name_of(path), read(path)
    if name in NO_VALUES:
        return
    columns = columns_of_source(rows)

    if not columns:
        assert is_source(source_beside(path)), f"{name}: write a column source, or a row in SOURCES.md beside it"
        return
    for number, row in enumerate(rows, 2):
        states = [column for column in columns if not is_source(row[column])]
        has_a_value = name != "planning/readings.csv" or row["at least"] or row["at most"]
        assert not (states and has_a_value), f"{name}, line {number}: no source in {states}"


@pytest.mark.parametrize("path", [path for path in TABLES if "handbook/" in name_of(path)], ids=name_of)
def test_tables_of_the_handbook_have_a_mark_on_each_row(path) -> None:
    """In the handbook a line beside the table does not do."""
    assert columns_of_source(read(path)), f"{name_of(path)}: write a column source"


@pytest.mark.parametrize("path", [path for path in TABLES if "handbook/" in name_of(path)], ids=name_of)
def test_sources_beside_the_tables_name_each_file(path) -> None:
    """Publication, digits printed and how the copy was checked."""
    assert source_beside(path), f"{name_of(path)}: not in SOURCES.md beside it"


def test_what_is_excused_exists() -> None:
    """A name of a table that is gone excuses nothing."""
    assert set(NO_VALUES) <= {name_of(path) for path in TABLES}


@pytest.mark.parametrize(
    ("text", "sound"), [("from memory", True), ("various", False), ("", False), (None, False), ("ISO 898-1", True)]
)
def test_what_counts_as_a_source(text, sound) -> None:
    """An empty cell, a question mark or the internet is none."""
    assert is_source(text) is sound
