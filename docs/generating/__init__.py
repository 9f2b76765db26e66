"""The pages of the manual that are made from the program itself, so that the two cannot disagree.

Answers   all_pages    every page by its path below docs/_generated
          write_pages  writes them, and takes away those that are no longer made
Not here  the pages written by hand (docs/*.md)
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from generating.commands import command_pages
from generating.failing import register_page
from generating.handbook import handbook_pages
from generating.kinds import kind_pages
from generating.names import name_pages
from generating.pictures import pictures
from generating.shapes import shape_pages
from generating.subjects import subject_pages
from generating.twice import twice_page

if TYPE_CHECKING:
    from pathlib import Path


def all_pages() -> dict[str, str]:
    """The text of every page, by its path."""
    return {
        **command_pages(),
        **handbook_pages(),
        **kind_pages(),
        **name_pages(),
        **pictures(),
        **register_page(),
        **shape_pages(),
        **subject_pages(),
        **twice_page(),
    }


def write_pages(folder: Path) -> None:
    """Writes the pages and their pictures into a folder that holds nothing else; what has not changed is left alone."""
    pages = all_pages()
    for path, text in pages.items():
        file = folder / path
        file.parent.mkdir(parents=True, exist_ok=True)
        if not file.is_file() or file.read_text(encoding="utf-8") != text:
            file.write_text(text, encoding="utf-8")
    for file in [file for file in folder.rglob("*") if file.is_file()]:
        if str(file.relative_to(folder)) not in pages:
            file.unlink()
