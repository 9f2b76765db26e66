"""What the manual says of the program's English holds for everything it can print."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
PAGE = (ROOT / "docs" / "how_it_speaks.md").read_text(encoding="utf-8")
BARRED = re.findall(r"^\| (?!not \|)(\S[^|]*?) \| \S", PAGE.partition("## Not like this")[2], flags=re.MULTILINE)
IS_NO = re.compile(r"(?<!there )\b(?:is|are) no (?!more\b|less\b|longer\b|shorter\b)")


def sentences(file: Path) -> Iterator[tuple[int, str]]:
    """Every text in a module with a space in it: messages, labels and docstrings; what is filled in stands as {}."""
    tree = ast.parse(file.read_text(encoding="utf-8"))
    inner = {id(piece) for node in ast.walk(tree) if isinstance(node, ast.JoinedStr) for piece in node.values}
    for node in ast.walk(tree):
        if isinstance(node, ast.JoinedStr):
            yield node.lineno, "".join(str(p.value) if isinstance(p, ast.Constant) else "{}" for p in node.values)
        elif isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in inner:
            yield node.lineno, node.value


@cache
def everything() -> list[tuple[str, str]]:
    """All texts of the program and its tables, each with its place."""
    return list(_everything())


def _everything() -> Iterator[tuple[str, str]]:
    for file in sorted((ROOT / "src").rglob("*.py")):
        for line, text in sentences(file):
            if " " in text:
                yield f"{file.relative_to(ROOT)}:{line}", " ".join(text.split())
    for file in sorted((ROOT / "src").rglob("*.csv")):
        for line, text in enumerate(file.read_text(encoding="utf-8").splitlines(), 1):
            yield f"{file.relative_to(ROOT)}:{line}", text


@pytest.mark.parametrize("phrase", BARRED)
def test_a_phrase_on_the_left_of_the_list_is_nowhere_in_the_program(phrase):
    assert [place for place, text in everything() if phrase in text] == []


def test_nothing_is_no_thing():
    """What is no command is a riddle: an unknown command, not a number, something missing."""
    assert [(place, text) for place, text in everything() if IS_NO.search(text)] == []


def test_the_list_is_read():
    assert len(BARRED) > 20
    assert "is one word too many" in BARRED
