"""Pieces of a page in Markdown.

Answers   verbatim   text that keeps its layout
          table      rows under a header
          contents   a list of pages, for the tree of the manual
          sentence   text that is safe outside of a fence
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

_FENCE = "````"


def verbatim(text: str, language: str = "text") -> str:
    """The text in a fence: layout, formulas and columns stay."""
    return f"{_FENCE}{language}\n{text.strip(chr(10))}\n{_FENCE}\n"


def sentence(text: str) -> str:
    """The text with the signs that Markdown would take for its own made harmless, on one line."""
    for sign in "\\`*_{}[]<>|#$":
        text = text.replace(sign, f"\\{sign}")
    return " ".join(text.split())


def table(header: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """Rows under a header; the cells are plain text."""
    lines = [f"| {' | '.join(header)} |", f"|{'---|' * len(header)}"]
    lines += [f"| {' | '.join(sentence(cell) for cell in row)} |" for row in rows]
    return "\n".join(lines) + "\n"


def contents(pages: Iterable[str]) -> str:
    """The tree of the pages below this one."""
    listed = "\n".join(pages)
    return f"```{{toctree}}\n:maxdepth: 1\n\n{listed}\n```\n"
