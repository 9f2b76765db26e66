"""A module that is named next door is there: in the map at the top of a module, and in the reading order of a folder.

A bare name stands in the same folder; with folders before it, it counts from that folder or from one further out.
"""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
SOURCE = ROOT / "src" / "trialfit"
MODULES = sorted(path for path in SOURCE.rglob("*.py") if "__pycache__" not in path.parts)
READING_ORDERS = sorted(SOURCE.rglob("*.md"))
_NAMED = re.compile(r"(?:\.\./)*[\w/]+\.py\b")


def is_there(named: str, folder: Path) -> bool:
    """Whether a module that is named in a folder exists."""
    outwards = [one for one in (folder, *folder.parents) if one == SOURCE or SOURCE in one.parents]
    places = [folder] if "/" not in named or named.startswith("..") else [*outwards, ROOT]
    return any((place / named).is_file() for place in places)


def of_rooms(text: str) -> list[tuple[str, str]]:
    """Modules that the rows of a table name, each with the folder that its row begins with."""
    rows = re.findall(r"^\| `(\w+)/` \| (.*)$", text, flags=re.MULTILINE)
    return [(room, named) for room, row in rows for named in _NAMED.findall(row)]


@pytest.mark.parametrize("module", MODULES, ids=lambda path: str(path.relative_to(SOURCE)))
def test_what_a_map_names_is_there(module):
    text = ast.get_docstring(ast.parse(module.read_text(encoding="utf-8"))) or ""

    assert [named for named in _NAMED.findall(text) if not is_there(named, module.parent)] == []


@pytest.mark.parametrize("readme", READING_ORDERS, ids=lambda path: str(path.relative_to(SOURCE)))
def test_what_a_reading_order_names_is_there(readme):
    text = readme.read_text(encoding="utf-8")
    by_room = of_rooms(text)
    others = re.sub(r"^\| `\w+/` \|.*$", "", text, flags=re.MULTILINE)

    assert [named for room, named in by_room if not is_there(named, readme.parent / room)] == []
    assert [named for named in _NAMED.findall(others) if not is_there(named, readme.parent)] == []
