"""What holds for every sheet of every demo and of an empty build."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
import thorough

from trialfit.sheets.all_sheets import SHEETS, make
from trialfit.sheets.amounts import UnitSystem
from trialfit.sheets.press import press
from trialfit.sheets.sheet import Blank, Caution, Fields, Missing, Table, texts_of

from .printing import DEMOS, PAPER, Printed, ink_in_margins, printed, squeezed, text_over_lines

BUILDS = [*(file.stem for file in DEMOS), "empty"]
LARGE = replace(PAPER, size="letter", large=True)
LAYOUTS = [
    *(pytest.param(build, PAPER, id=f"a4-{build}") for build in BUILDS),
    # the fullest build and the empty one; the others on this paper, too, under --long
    *(
        pytest.param(build, LARGE, id=f"letter, large-{build}")
        for build in (BUILDS if thorough.is_long else ("hillclimb", "empty"))
    ),
]
every_sheet = pytest.mark.parametrize("name", SHEETS)
every_build = pytest.mark.parametrize("build", BUILDS)


@every_sheet
@every_build
def test_every_text_of_the_data_stands_on_the_paper(sheet_of, build, name):
    """Read back with another library, nothing of the sheet is lost, cut off or changed."""
    if name == "measuring" and build not in ("hillclimb", "empty") and not thorough.is_long:
        pytest.skip("what to measure in a whole demo takes ten seconds to work out: ./test --long")
    sheet = sheet_of(build, name)
    text = printed(sheet).text

    assert [one for one in texts_of(sheet) if squeezed(one) not in text] == []


@every_sheet
@pytest.mark.parametrize(("build", "paper"), LAYOUTS)
def test_nothing_runs_out_of_its_column_or_into_the_margins(sheet_of, build, name, paper):
    paper_of = printed(sheet_of(build, name), paper)

    assert [over for page in paper_of.document for over in text_over_lines(page)] == []
    assert [ink_in_margins(page) for page in paper_of.drawn()] == [0] * len(paper_of.pages)


@every_sheet
@every_build
def test_every_page_has_the_title_block_with_page_x_of_y(sheet_of, build, name):
    pages = printed(sheet_of(build, name)).pages

    for number, page in enumerate(pages, 1):
        assert squeezed(f"{number} of {len(pages)}") in squeezed(page)
        assert "2026-03-14 16:30" in page
        assert squeezed(sheet_of(build, name).title) in squeezed(page)


@every_sheet
@every_build
def test_every_sheet_puts_the_makers_manual_first_and_says_what_can_hurt(sheet_of, build, name):
    said = [text for block in sheet_of(build, name).blocks if isinstance(block, Caution) for text in block.texts]

    assert said
    assert re.search(r"maker's (manual|torque)[^;.]*outrank", " ".join(said))


@every_sheet
def test_an_empty_build_gets_room_to_write(sheet_of, name):
    """Nobody is sent back to the screen: there are lines to fill in by hand."""
    blocks = sheet_of("empty", name).blocks
    lines = [line for block in blocks if isinstance(block, Fields) for line in block.lines if not line.value]
    cells = [cell for block in blocks if isinstance(block, Table) for row in block.rows for cell in row]
    missing = [block for block in blocks if isinstance(block, Missing)]

    assert lines or missing or any(isinstance(cell, Blank) for cell in cells)


@every_sheet
def test_no_sheet_calls_a_car_safe_or_legal(sheet_of, name):
    for build in BUILDS:
        for text in texts_of(sheet_of(build, name)):
            assert not re.search(r"\b(is|are) (safe|legal|roadworthy)\b", text)


@every_sheet
def test_the_same_build_gives_the_same_file(sheet_of, name):
    sheet = sheet_of("hillclimb", name)

    assert press(sheet, PAPER) == printed(sheet).pdf


@every_sheet
@pytest.mark.parametrize("units", [one for one in UnitSystem if one is not UnitSystem.metric])
def test_every_sheet_is_printed_in_each_system_of_units(demos, name, units):
    """In the metric one all others here are."""
    known = replace(demos["hillclimb"], units=units)
    known.__dict__.update({"report": demos["hillclimb"].report, "measurements": demos["hillclimb"].measurements})

    assert Printed(press(make(name, known), replace(PAPER, units=units.says))).pages
