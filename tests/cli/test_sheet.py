"""`trialfit sheet`: the list, one sheet, all of them, data, and what cannot be done."""

from __future__ import annotations

import jsonschema
import pypdfium2
import pytest

from trialfit.cli.shapes import schema_of
from trialfit.sheets.all_sheets import SHEETS

SMALL = """
name = "small build"

[flange]
kind = "bolted_joint"
thread = "M10×1.25"
strength_class = "10.9"
thread_state = "dry"
bolts = "4"
pattern = "circle"
pitch_circle_diameter = "96 mm, calipered"
maker_torques = ["70 N·m, manual"]
"""


def text_of(file) -> str:
    """What stands on the first page."""
    return pypdfium2.PdfDocument(file)[0].get_textpage().get_text_range().replace("\u00a0", " ")


def test_without_a_name_it_lists_the_sheets(trialfit, written):
    ran = trialfit("sheet", written(SMALL))

    assert ran.code == 0
    assert [name for name in SHEETS if f"\n{name} " not in f"\n{ran.out}"] == []
    assert "trialfit sheet BUILD NAME prints one" in " ".join(ran.out.split())


def test_one_sheet_is_written_where_it_is_wanted(trialfit, written, tmp_path):
    file = tmp_path / "wall.pdf"
    ran = trialfit("sheet", written(SMALL), "tightening", "-o", file)

    assert ran.code == 0
    assert ran.out.split() == ["tightening", str(file)]
    assert "small build" in text_of(file)
    assert "none, a text" in text_of(file)


def test_without_o_it_is_written_here_under_its_own_name(trialfit, written, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)

    assert trialfit("sheet", written(SMALL), "measuring").code == 0
    assert (tmp_path / "measuring.pdf").read_bytes().startswith(b"%PDF")


def test_all_of_them_into_a_folder_that_is_made(trialfit, written, tmp_path):
    folder = tmp_path / "papers" / "wall"
    ran = trialfit(
        "sheet", written(SMALL), "--all", folder, "--paper", "letter", "--units", "both", "--large", "--json"
    )

    jsonschema.validate(ran.json, _schema("sheets"))
    assert ran.code == 0
    assert sorted(file.name for file in folder.iterdir()) == sorted(f"{name}.pdf" for name in SHEETS)
    assert [one["size"] for one in ran.json["sheets"]] == [
        (folder / f"{one['name']}.pdf").stat().st_size for one in ran.json["sheets"]
    ]


@pytest.mark.parametrize("name", SHEETS)
def test_json_is_the_sheet_as_data_in_its_documented_shape(trialfit, written, name, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    file = written(SMALL)
    ran = trialfit("sheet", file, name, "--json")

    jsonschema.validate(ran.json, _schema("sheet"))
    assert ran.json["name"] == name
    assert list(tmp_path.iterdir()) == [file]


def test_the_title_block_of_a_book_names_the_change_and_its_date(trialfit, written, tmp_path):
    book, file = tmp_path / "garage.book", tmp_path / "wall.pdf"
    assert trialfit("new", book, "--from", written(SMALL)).code == 0
    assert trialfit("set", book, "flange.torque", "66 N·m").code == 0
    last = trialfit("journal", book, "--json").json["changes"]
    number = max(change["number"] for change in last)
    assert trialfit("sheet", book, "tightening", "-o", file).code == 0
    before = tmp_path / "before.pdf"
    assert trialfit("as-of", book, str(number - 1), "sheet", "tightening", "-o", before).code == 0

    assert f"journal\n{number}\n" in text_of(file).replace("\r", "")
    assert "66 N·m" in text_of(file)
    assert f"journal\n{number - 1}\n" in text_of(before).replace("\r", "")
    assert "66 N·m" not in text_of(before)


def test_the_same_build_gives_the_same_file(trialfit, written, tmp_path):
    build = written(SMALL)
    for name in ("one.pdf", "two.pdf"):
        assert trialfit("sheet", build, "tightening", "-o", tmp_path / name).code == 0

    assert (tmp_path / "one.pdf").read_bytes() == (tmp_path / "two.pdf").read_bytes()


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("tightning",), 'unknown sheet "tightning": did you mean "tightening"'),
        (("tightening", "--all", "x"), '--all prints every sheet: leave out "tightening" or --all'),
        (("-o", "x.pdf"), "-o needs the name of a sheet: trialfit sheet BUILD NAME -o FILE"),
        (("--all", ""), "--all is empty: expected a name"),
        (("tightening", "-o", ""), "-o is empty: expected a name"),
        (("tightening", "--paper", "a3"), '--paper is "a3": expected one of a4, letter'),
        (("tightening", "--units", "cubits"), '--units is "cubits": expected one of metric, us, both'),
        (
            ("tightening", "--address", "garage"),
            "--address is not an address: expected one that begins with http:// and has",
        ),
        (("tightening", "--address", "http://" + "x" * 100), "at most 100 characters"),
        (("--all", "x", "--address", "http://a.example"), "--address is that of one sheet: it does not go with --all"),
    ],
)
def test_words_that_do_not_go_together_are_refused_in_one_sentence(trialfit, written, words, says):
    ran = trialfit("sheet", written(SMALL), *words)

    assert ran.code == 2
    assert says in " ".join(ran.err.split())
    assert ran.err.count("\n") == 1


def test_a_place_that_cannot_be_written_is_named(trialfit, written, tmp_path):
    build = written(SMALL)
    ran = trialfit("sheet", build, "tightening", "-o", tmp_path / "nowhere" / "wall.pdf")
    inside = trialfit("sheet", build, "--all", build / "sheets")

    assert (ran.code, inside.code) == (2, 2)
    assert "wall.pdf: cannot be written: no such file or directory" in ran.err
    assert "cannot be made: not a directory" in inside.err


def _schema(name: str):
    import json

    return json.loads(schema_of(name))


def test_a_drawing_is_written_as_a_pdf_where_the_file_is_named_so(trialfit, written, tmp_path):
    """All its sheets in one file, each as large as A4 lying: 297 × 210 mm, ISO 216."""
    file = tmp_path / "wall.pdf"
    car = '[car]\nwheelbase = "2400 mm, taped"\n'
    ran = trialfit("draw", written(car + SMALL.partition("\n\n")[2]), "-o", file, "--draws", "16")

    assert ran.code == 0
    assert ran.out.split("\n")[0] == str(file)
    assert [path.name for path in tmp_path.glob("wall*")] == ["wall.pdf"]
    assert pypdfium2.PdfDocument(file)[0].get_size() == pytest.approx((841.89, 595.28), abs=0.3)
