"""Nothing that a builder or another program meets is without a page."""

from __future__ import annotations

import inspect
from pathlib import Path

import pytest
from generating import all_pages, write_pages
from generating.handbook import formulas, modules, short_path

from trialfit.cli.commands import COMMANDS
from trialfit.cli.shapes import SHAPES
from trialfit.parts import KINDS
from trialfit.subjects.catalogue import OURS

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="module")
def pages() -> dict[str, str]:
    """Every generated page by its path."""
    return all_pages()


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_has_a_page_with_its_help(pages, name):
    assert f"Usage: trialfit {name}" in pages[f"commands/{name}.md"]


@pytest.mark.parametrize("name", OURS)
def test_every_subject_has_a_page_with_its_requirements(pages, name):
    page = pages[f"subjects/{name}.md"]

    assert "## Requirements" in page
    assert f"| {name.replace('_', chr(92) + '_')}." in page


@pytest.mark.parametrize("name", KINDS)
def test_every_kind_has_a_page_with_each_of_its_facts(pages, name):
    page = pages[f"kinds/{name}.md"].replace("\\_", "_")

    assert [fact for fact in KINDS[name].specs() if f"| {fact} |" not in page] == []


@pytest.mark.parametrize("name", SHAPES)
def test_every_shape_has_a_page_with_its_schema(pages, name):
    assert '"$schema"' in pages[f"shapes/{name}.md"]


@pytest.mark.parametrize("module", modules(), ids=lambda module: module.__name__)
def test_every_formula_has_a_page_that_holds_its_docstring_as_it_stands(pages, module):
    name = module.__name__.rpartition(".")[2]
    page = pages[f"handbook/{short_path(module)}.md"]

    for formula, thing in formulas(module):
        assert f"## {name}.{formula}\n" in page
        assert (inspect.getdoc(thing) or "no docstring").strip() in page


@pytest.mark.parametrize("module", modules(), ids=lambda module: module.__name__)
def test_every_formula_says_what_it_answers(module):
    assert [name for name, thing in formulas(module) if not inspect.getdoc(thing)] == []


def test_the_list_of_names_holds_facts_and_arguments(pages):
    names = pages["names.md"].replace("\\_", "_")

    assert "| tube_outside_diameter |" in names
    assert "| rotational_speed | ω | rad/s |" in names


def test_pages_that_are_no_longer_made_are_taken_away(tmp_path, pages):
    (tmp_path / "kinds").mkdir()
    (tmp_path / "kinds" / "sail.md").write_text("old", encoding="utf-8")
    write_pages(tmp_path)

    assert {str(file.relative_to(tmp_path)) for file in tmp_path.rglob("*.*")} == set(pages)


def test_every_page_written_by_hand_is_in_the_tree():
    index = (ROOT / "docs" / "index.md").read_text(encoding="utf-8")
    written = {file.stem for file in (ROOT / "docs").glob("*.md")} - {"index"}

    assert [page for page in written if f"\n{page}\n" not in index] == []
