"""Names and notes from anywhere: markup, long words, other scripts, signs without a glyph."""

from __future__ import annotations

import pytest

from trialfit.sheets.all_sheets import make
from trialfit.sheets.sheet import Beside, Column, Drawing, Heading, Line, Paragraph, Picture, Sheet, Table, Tick
from trialfit.sheets.tightening import tightening_sheet

from .printing import ink_in_margins, known_of_text, printed, squeezed

MARKUP = "+ 90° ± 5° = *bold* $x^2$ #set @ref [a] _b_ `c` <d> // e \\ f ~ -- 'g' \"h\""
JOINT = """
["{name}"]
kind = "bolted_joint"
note = "{note}"
thread = "M10×1.25"
strength_class = "10.9"
pattern = "{pattern}"
{more}
maker_torques = ["25 N·m, manual", "70 N·m, manual"]
maker_angles = ["90 deg, manual"]
"""


def joint(name: str = "flange", note: str = "", pattern: str = "circle", more: str = "") -> str:
    """One bolted joint as a builder writes it."""
    circle = 'bolts = "4"\npitch_circle_diameter = "96 mm, calipered"'
    return JOINT.format(name=name, note=note, pattern=pattern, more=more or circle)


def paragraph(text: str) -> Sheet:
    """A sheet with one paragraph."""
    return Sheet(name="one", title="One", build="mine", blocks=(Paragraph(text=text),))


def test_signs_of_markup_print_as_they_are():
    """In markup "+ 90°" would print as "1. 90°": on a torque sheet a wrong instruction."""
    for sheet in (
        paragraph(MARKUP),
        Sheet(name="one", title=MARKUP, build=MARKUP, blocks=(Heading(text=MARKUP),)),
        Sheet(
            name="one",
            title="One",
            build="",
            blocks=(Table(columns=(Column(title="a"),), rows=((MARKUP,),)), Paragraph(text=MARKUP)),
        ),
    ):
        assert squeezed(MARKUP) in printed(sheet).text


def test_a_name_of_60_letters_stays_in_its_column():
    name = "a" * 60
    sheet = tightening_sheet(known_of_text(joint(name, note="no" * 100)))
    paper = printed(sheet)

    assert name in paper.text
    assert [ink_in_margins(page) for page in paper.drawn()] == [0] * len(paper.pages)


def test_a_name_of_60_letters_stays_in_its_column_on_the_other_sheets():
    name, other = "p" * 60, "_".join(["port"] * 12)
    text = (
        f'[{name}]\nkind = "port"\nthread = "M10×1"\nsealing = "washer"\nnote = "{"x" * 90}"\n[{other}]\nkind = "port"'
    )
    paper = printed(make("ports-and-lines", known_of_text(text)))

    assert name in paper.text
    assert other in paper.text
    assert [ink_in_margins(page) for page in paper.drawn()] == [0] * len(paper.pages)


def test_120_bolts_each_have_their_boxes_and_their_turn_in_the_figure():
    more = 'bolts = "120"\npitch_circle_diameter = "1.2 m, taped"'
    sheet = tightening_sheet(known_of_text(joint(more=more)))
    (drawing,) = [block for block in sheet.blocks if isinstance(block, Drawing | Beside)]
    rows = [row for block in sheet.blocks if isinstance(block, Table) for row in block.rows if Tick() in row]
    paper = printed(sheet)

    assert isinstance(drawing, Drawing)  # on its own, as wide as the paper
    assert {row[0] for row in rows} == {str(bolt) for bolt in range(1, 121)}
    assert len(rows) == 120
    assert [ink_in_margins(page) for page in paper.drawn()] == [0] * len(paper.pages)
    assert "bolt stage 1" in " ".join(paper.pages[-1].split())  # the header is repeated


@pytest.mark.parametrize(
    "name", ["変速機マウント", "变速箱支架", "변속기마운트", "Кронштейн", "βάση", "ŁącznikĄĘ"], ids=ascii
)
def test_names_in_other_scripts_are_printed_and_can_be_read_back(name):
    paper = printed(tightening_sheet(known_of_text(joint(name))))

    assert name in paper.text
    assert "U+" not in paper.text


@pytest.mark.parametrize("name", ["תושבת", "حامل"], ids=["hebrew", "arabic"])
def test_a_figure_after_a_right_to_left_name_keeps_its_place_before_its_unit(name):
    """By the rules of mixed writing the 12 would move to the far side of the name, away from its unit."""
    page = printed(paragraph(f"{name} 12 N·m")).document[0].get_textpage()
    signs = page.get_text_range()
    left = {sign: page.get_charbox(signs.index(sign, signs.index("One") + 3))[0] for sign in "12N"}
    of_name = [
        page.get_charbox(place)[0] for place, sign in enumerate(signs) if ord(sign) > 0x580 and ord(sign) < 0x700
    ]

    assert of_name
    assert max(of_name) < left["1"] < left["2"] < left["N"]


def test_signs_that_turn_the_direction_of_writing_are_taken_out():
    paper = printed(paragraph("set \u202e56\u202c N·m"))

    assert "set56N·m" in paper.text


def test_a_sign_without_a_glyph_is_a_box_and_a_line_says_which():
    paper = printed(paragraph("bracket ขาจับ 🔧 12 mm"))

    assert "bracket□□□□□□12mm" in paper.text.replace("\ufe0f", "") or "bracket□" in paper.text
    assert "Printedas□,becausethefontsofthesheetslackthem:" in paper.text
    assert "U+0E02" in paper.text
    assert "U+1F527" in paper.text


def test_signs_of_control_do_not_reach_the_paper():
    assert "ab" in printed(paragraph("a\x00\x07\x1bb")).text


def test_a_photo_that_is_not_there_is_a_frame_that_says_so():
    sheet = Sheet(name="one", title="One", build="", blocks=(Picture(base64="", alt="weld", caption="left weld"),))
    paper = printed(sheet)

    assert "nopictureinthebook" in paper.text
    assert "leftweld" in paper.text


def test_long_lists_of_labels_break_over_pages():
    from trialfit.sheets.sheet import Fields

    lines = tuple(Line(label=f"label {number}", value="word " * 30) for number in range(60))
    paper = printed(Sheet(name="one", title="One", build="", blocks=(Fields(lines=lines),)))

    assert len(paper.pages) > 1
    assert "label59" in paper.text


def test_a_joint_that_makes_no_sense_does_not_keep_the_others_from_being_printed():
    bad = '[bad]\nkind = "bolted_joint"\npattern = "rectangle"\nrows = "1"\ncolumns = "1"\nlength = "1 m"\nwidth = "1 m"\n'
    text = printed(tightening_sheet(known_of_text(bad + joint("good")))).text

    assert "arectangleof1by1bolts:expectedatleast2by2" in text
    assert "good" in text
    assert "25N·m" in text
