"""The file that comes out: size, fonts, tags, address, and that nothing comes from outside."""

from __future__ import annotations

import re
import zlib
from dataclasses import replace
from pathlib import Path

import pytest
import zxingcpp

import trialfit.sheets
from trialfit.drawing.arrangement.general import arrangement_of
from trialfit.sheets.press import PrintingFailed, press, press_plates
from trialfit.sheets.sheet import Drawing, Paragraph, Sheet

from .printing import DRAWS, PAPER, Printed, printed

ADDRESS = "http://garage.example:8000/sheets/tightening?from=book"
PLAIN = Sheet(name="plain", title="Plain", build="mine", blocks=(Paragraph(text="12 mm"),))
TEMPLATES = [file.read_text("utf-8") for file in sorted(Path(trialfit.sheets.__file__).parent.glob("*.typ"))]


def inside(pdf: bytes) -> bytes:
    """The file with its packed parts unpacked."""
    parts = [pdf]
    for packed in re.findall(rb"stream\r?\n(.*?)\r?\nendstream", pdf, re.DOTALL):
        try:
            parts.append(zlib.decompress(packed))
        except zlib.error:
            continue
    return b"\n".join(parts)


@pytest.mark.parametrize(("size", "points"), [("a4", (595.28, 841.89)), ("letter", (612.0, 792.0))])
def test_the_page_has_the_size_that_was_asked_for(size, points):
    # ISO 216: A4 is 210 × 297 mm. ANSI/ASME Y14.1: size A is 8.5 × 11 in. A point is 1/72 in.
    page = printed(PLAIN, replace(PAPER, size=size)).document[0]

    assert page.get_size() == pytest.approx(points, abs=0.01)


def test_large_print_is_larger(sheet_of):
    usual, large = (
        printed(sheet_of("hillclimb", "tightening"), replace(PAPER, large=large)) for large in (False, True)
    )

    assert len(large.pages) > len(usual.pages)


def test_only_the_fonts_of_the_packages_are_embedded(sheet_of):
    pdf = inside(press(sheet_of("hillclimb", "measuring"), PAPER))
    names = set(re.findall(rb"/BaseFont\s*/([A-Za-z0-9+\-]+)", pdf))

    assert {name.partition(b"+")[2].partition(b"-")[0] for name in names} <= {b"DejaVuSans", b"NotoSansCJKjp"}
    assert names
    assert all(re.fullmatch(rb"[A-Z]{6}\+.*", name) for name in names)  # a subset, so embedded
    assert b"/FontFile" in pdf


def test_the_file_is_tagged_and_says_its_language_and_title():
    pdf = inside(press(PLAIN, PAPER))

    assert b"/StructTreeRoot" in pdf
    assert re.search(rb"/Marked\s+true", pdf)
    assert re.search(rb"/Lang\s*\(en", pdf)
    assert b"pdfuaid:part" in pdf  # ISO 14289-1 (PDF/UA-1): the file claims it, the compiler has checked what it can


def test_a_drawing_carries_its_words_for_those_who_cannot_see_it():
    svg = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><circle cx="4" cy="4" r="3"/></svg>'
    sheet = Sheet(name="one", title="One", build="", blocks=(Drawing(svg=svg, alt="four bolts on a circle"),))

    assert b"four bolts on a circle" in inside(press(sheet, PAPER))


def test_the_qr_code_leads_to_the_address_also_when_printed_coarsely():
    (page, *_) = printed(PLAIN, replace(PAPER, address=ADDRESS)).drawn(150)

    assert [found.text for found in zxingcpp.read_barcodes(page)] == [ADDRESS]


def test_the_longest_address_can_still_be_read():
    address = "http://garage.example/" + "sheet7" * 13

    assert [
        found.text for found in zxingcpp.read_barcodes(printed(PLAIN, replace(PAPER, address=address)).drawn(150)[0])
    ] == [address]


def test_without_an_address_there_is_no_qr_code():
    (page, *_) = printed(PLAIN).drawn(150)

    assert zxingcpp.read_barcodes(page) == []


@pytest.mark.parametrize("template", TEMPLATES, ids=["frame", "plates"])
def test_the_template_fetches_no_package_and_holds_no_figure_of_a_build(template):
    """@preview would go to the network; a figure in the template would be markup, not data."""
    assert "@preview" not in template
    assert "#import" not in template
    assert "N·m" not in template


def test_what_the_compiler_warns_of_stops_the_printing(monkeypatch):
    """A missing font would else fall silently to another one."""
    monkeypatch.setattr("trialfit.sheets.press.FAMILIES", ("No Such Font",))

    with pytest.raises(PrintingFailed, match="unknown font family"):
        press(PLAIN, PAPER)


def test_a_drawing_that_is_none_is_a_defect_that_names_the_sheet():
    sheet = Sheet(name="broken", title="Broken", build="", blocks=(Drawing(svg="<svg", alt="nothing"),))

    with pytest.raises(PrintingFailed, match="^broken: failed to parse SVG"):
        press(sheet, PAPER)


def test_another_date_is_another_file_and_the_date_is_that_of_the_build():
    later = replace(PAPER, dated=PAPER.dated.replace(day=15))

    assert press(PLAIN, PAPER) != press(PLAIN, later)
    assert b"D:20260315" in inside(press(PLAIN, later))


def test_a_drawing_with_its_own_frame_is_printed_at_its_true_size(demos):
    """1:20 on the screen is 1:20 on paper: the page is as large as the drawing, to a tenth of a millimetre."""
    made = arrangement_of(demos["hillclimb"].build, draws=DRAWS)
    pages = Printed(press_plates("General arrangement", made.pictures, PAPER.dated))

    assert len(pages.document) == len(made.pictures)
    for page, picture in zip(pages.document, made.pictures, strict=True):
        assert page.get_size() == pytest.approx((picture.width * 72 / 25.4, picture.height * 72 / 25.4), abs=0.3)
    assert made.scale in pages.pages[0]
