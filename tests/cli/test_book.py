"""A book from the command line, from its beginning to its end."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
from datetime import UTC, datetime, timedelta
from pathlib import Path

import jsonschema
import pytest
from PIL import Image

from trialfit.book.changes import Change, differences, empty, state_of
from trialfit.book.journal import Book
from trialfit.book.opening import open_build
from trialfit.book.toml_text import read
from trialfit.cli.shapes import schema_of

DEMO = Path(__file__).parents[2] / "demos" / "hillclimb.toml"
TAKEN_IN = len(differences(empty(), state_of(read(DEMO).document)))
"""How many changes it takes to take in the first demo."""


@pytest.fixture
def garage(tmp_path, trialfit, hillclimb) -> Path:
    """A book made of the first demo."""
    file = tmp_path / "my garage ü.book"
    assert trialfit("new", file, "--from", hillclimb, "--as", "laptop").code == 0
    return file


@pytest.fixture
def picture(tmp_path) -> Path:
    """A photo."""
    file = tmp_path / "tunnel cut.jpg"
    Image.new("RGB", (64, 48), (200, 10, 10)).save(file)
    return file


def test_a_book_begins_with_a_demo_and_checks_like_it(trialfit, garage, hillclimb):
    """Every command that reads takes a book or a TOML file alike."""
    for words in (["check", "--draws", "64"], ["measure", "--draws", "64"], ["facts"], ["facts", "car"]):
        command, *rest = words
        of_book, of_text = trialfit(command, garage, *rest, "--json"), trialfit(command, hillclimb, *rest, "--json")
        assert of_book.code == of_text.code
        assert of_book.out.replace(str(garage), "FILE") == of_text.out.replace(str(hillclimb), "FILE")


def test_set_writes_one_change_with_device_and_note(trialfit, garage):
    ran = trialfit("set", garage, "car.mass", "1071 ± 4 kg, weighed", "--note", "with the cage in", "--as", "phone")
    with Book.open(garage, read_only=True) as book:
        last = list(book.journal())[-1]

    assert ran.code == 0
    assert ran.out.splitlines()[-2:] == ["  is       1071 ± 4 kg, weighed", "  read as  1071 ± 4 kg"]
    assert (last.path, last.after, last.note, last.device) == (
        "car.mass",
        "1071 ± 4 kg, weighed",
        "with the cage in",
        "phone",
    )


@pytest.mark.parametrize(
    ("path", "value", "where", "after"),
    [
        ("gearbox.ratios.2", "2.30", "gearbox.ratios", ["3.63", "2.30", "1.69", "1.31", "1.00", "0.79"]),
        ("choice.final_drive.picked", "final_drive_short", "choice.final_drive.picked", "final_drive_short"),
        ("name", "my coupe", "name", "my coupe"),
        ("hub_rear.note", "bearing is new", "hub_rear.note", "bearing is new"),
        ("spare.kind", "half_shaft", "spare", {"kind": "half_shaft", "note": "", "entries": {}}),
        ("choice.box.options", "gearbox", "choice.box", {"options": ["gearbox"], "picked": "gearbox", "note": ""}),
        ("gearbox.output_x", "-920 mm, taped", "gearbox.output_x", "-920 mm, taped"),
    ],
)
def test_every_sort_of_entry_can_be_set(trialfit, garage, path, value, where, after):
    ran = trialfit("set", garage, path, value)

    assert (ran.code, ran.err) == (0, "")
    with Book.open(garage, read_only=True) as book:
        assert book.value(where) == after


def test_a_curve_is_replaced_from_a_file(trialfit, garage, tmp_path):
    curve = tmp_path / "curve.txt"
    curve.write_bytes(b"rpm : N\xc2\xb7m\r\n1000 : 170\r\n6500 : 200\r\n")

    assert trialfit("set", garage, "engine.torque_curve", "--from", curve).code == 0
    assert open_build(garage).parts["engine"].values["torque_curve"].y == (170, 200)


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (["set", "BOOK", "car.mass", "12 mm"], 'BOOK: car.mass "12 mm" is in "mm", a unit of length: expected a mass'),
        (["set", "BOOK", "car.bass", "12 kg"], "BOOK: car.bass is not a fact of a car: did you mean"),
        (["set", "BOOK", "limit.gearing.nothing", "3 %"], "limit.gearing.nothing is not a finding of this build"),
        (
            ["remove", "BOOK", "prop_shaft"],
            "BOOK: prop_shaft cannot be removed: final_drive_long.after, final_drive_short",
        ),
        (["remove", "BOOK", "car.bass"], 'BOOK: car.bass does not exist: did you mean "car.mass"'),
        (
            ["move", "BOOK", "gearbox.ratios.6", "1"],
            "BOOK: gearbox.ratios.2 is 3.63, not below the gear before it (0.79)",
        ),
        (
            ["move", "BOOK", "gearbox.ratios.7", "1"],
            "BOOK: gearbox.ratios has 6 values: expected a number from 1 to 6, not 7",
        ),
        (["move", "BOOK", "car.mass", "1"], "BOOK: car.mass is not a value of a list: write it as part.list.number"),
        (["undo", "BOOK", "999"], f"BOOK: unknown change 999: the last change is {TAKEN_IN}"),
        (["attach", "BOOK", "gearbox", "nowhere.jpg"], "nowhere.jpg: does not exist"),
        (["forget-attachment", "BOOK", "x"], "BOOK: attachment.x does not exist: nothing to forget"),
        (["as-of", "BOOK", "1999-01-01", "check"], "BOOK: has no record of 1999-01-01"),
        (["as-of", "BOOK", "soon", "check"], 'the date: "soon" is not a date: write it as 2026-03-14'),
        (["as-of", "BOOK", "1", "set"], 'trialfit as-of: "set" is not a command that reads a build: '),
        (["write-out", "BOOK", "."], ".: is a folder: expected a name for the file, for example garage.toml"),
        (["new", "new.book", "--from", "BOOK"], ": is not UTF-8 text: expected a TOML file"),
        (["read-in", "nowhere.toml", "BOOK"], "nowhere.toml: does not exist"),
        (["new", "BOOK"], "BOOK: exists already: choose another name; nothing was changed"),
        (["keep-copy", "BOOK", "BOOK"], "BOOK: exists already"),
        (["journal", "TOML"], "TOML: is not a book: `trialfit new NAME.book --from TOML` makes one of a TOML file"),
        (["as-of", "TOML", "1", "check"], "TOML: is a TOML file, which has no history: expected a book"),
        (["as-of", "TOML", "1", "write-out", "x.toml"], "TOML: is a TOML file, which has no history: expected a book"),
        (["set", "TOML", "car.mass", "1 t", "--as", "phone"], "TOML: is a TOML file, which has no journal"),
        (["verify", "TOML"], "TOML: is not a book, or is damaged at its beginning; nothing was changed."),
        (["verify", "nowhere.book"], "nowhere.book: does not exist: `trialfit new nowhere.book` makes a book"),
    ],
)
def test_what_cannot_be_done_is_said_in_a_sentence_and_changes_nothing(
    trialfit, garage, hillclimb, words, sentence, tmp_path, monkeypatch
):
    monkeypatch.chdir(tmp_path)
    before = (garage.read_bytes(), hillclimb.read_bytes())
    names = {"BOOK": str(garage), "TOML": str(hillclimb)}
    ran = trialfit(*(names.get(word, word) for word in words))
    said = ran.err.replace(str(garage), "BOOK").replace(str(hillclimb), "TOML")

    assert (ran.code, ran.out) == (2, "")
    assert sentence in said
    assert len(said.splitlines()) == 1
    assert (garage.read_bytes(), hillclimb.read_bytes()) == before
    assert [one.name for one in tmp_path.iterdir()] == [garage.name]


def test_a_value_of_a_list_is_moved(trialfit, garage):
    assert trialfit("set", garage, "car.cruise_speeds", "90 km/h | 120 km/h | 60 km/h").code == 0
    ran = trialfit("move", garage, "car.cruise_speeds.3", "1", "--as", "phone")

    assert ran.code == 0
    assert ran.out.splitlines()[-1].split() == ["is", "60", "km/h", "|", "90", "km/h", "|", "120", "km/h"]
    assert open_build(garage).document.parts["car"].entries["cruise_speeds"] == ("60 km/h", "90 km/h", "120 km/h")


def test_a_part_is_removed_and_comes_back(trialfit, garage):
    before = open_build(garage).document
    assert trialfit("remove", garage, "speedometer").code == 0
    assert "speedometer" not in open_build(garage).document.parts
    ran = trialfit("undo", garage, "--as", "phone")

    assert ran.code == 0
    assert f"takes back change {TAKEN_IN + 1}" in ran.out
    assert open_build(garage).document == before


def test_undo_that_would_make_the_build_unsound_is_refused(trialfit, garage):
    """The shaft was joined to a part that is gone since."""
    trialfit("set", garage, "clutch_spare.kind", "clutch")
    trialfit("remove", garage, "clutch_spare")
    trialfit("set", garage, "half_shaft_left.note", "x")
    with Book.open(garage) as book:  # as another program might
        book.write(
            Change(path="choice.two", before=None, after={"options": ["clutch"], "picked": "clutch", "note": ""})
        )
        number = book.write(Change(path="choice.two", before=book.value("choice.two"), after=None)).number
        book.write(Change(path="clutch", before=book.value("clutch"), after=None))
    ran = trialfit("undo", garage, number)

    assert ran.code == 2
    assert 'choice.two.options names "clutch", which is not a part' in ran.err


def test_the_journal_shows_before_and_after_and_can_be_narrowed(trialfit, garage):
    trialfit("set", garage, "car.mass", "1071 kg", "--note", "cage in", "--as", "phone")
    trialfit("set", garage, "engine.idle_speed", "900 rpm", "--as", "phone")
    whole = trialfit("journal", garage, "--json").json["changes"]
    of_car = trialfit("journal", garage, "--part", "car", "--json").json["changes"]
    late = trialfit("journal", garage, "--since", str(TAKEN_IN + 1), "--json").json["changes"]
    page = trialfit("journal", garage, "--part", "car").out

    assert [one["number"] for one in whole] == list(range(1, TAKEN_IN + 3))
    assert [(one["path"], one["device"]) for one in of_car] == [("car", "laptop"), ("car.mass", "phone")]
    assert [one["path"] for one in late] == ["car.mass", "engine.idle_speed"]
    assert "        was   1065 kg, weighed; full of fuel" in page
    assert "        is    1071 kg\n        note  cage in" in page
    written = [datetime.fromisoformat(one["time"]).astimezone() for one in whole]
    assert trialfit("journal", garage, "--since", f"{written[0]:%Y-%m-%d}").out.count("was") == TAKEN_IN + 2
    after = written[-1] + timedelta(days=1)
    assert trialfit("journal", garage, "--since", f"{after:%Y-%m-%d}", "--json").json["changes"] == []


def test_a_reading_command_on_the_build_as_it_was(trialfit, garage, hillclimb):
    trialfit("set", garage, "car.mass", "900 kg, weighed")
    last = trialfit("journal", garage, "--json").json["changes"][-1]
    today = f"{datetime.fromisoformat(last['time']).astimezone():%Y-%m-%d}"

    then = trialfit("as-of", garage, str(TAKEN_IN), "check", "--draws", "64", "--json")
    assert then.json == trialfit("check", hillclimb, "--draws", "64", "--json").json
    now = trialfit("as-of", garage, today, "facts", "car", "--json")
    assert now.json == trialfit("facts", garage, "car", "--json").json
    assert trialfit("facts", garage, "car", "--json").json == now.json  # and the moment is over


def test_a_build_as_it_was_can_be_written_out(trialfit, garage, hillclimb, tmp_path):
    trialfit("set", garage, "car.mass", "900 kg, weighed")

    assert trialfit("as-of", garage, str(TAKEN_IN), "write-out", tmp_path / "then.toml").code == 0
    assert open_build(tmp_path / "then.toml").document == open_build(hillclimb).document


def test_a_photo_goes_through_book_toml_and_book(trialfit, garage, picture, tmp_path):
    assert trialfit("attach", garage, "gearbox", picture, "--note", "before the cut").code == 0
    out = trialfit("write-out", garage, tmp_path / "out.toml")
    assert f"The photos and papers are in {tmp_path / 'out.files'}.".replace(" ", "") in "".join(out.out.split())
    assert trialfit("new", tmp_path / "b.book", "--from", tmp_path / "out.toml").code == 0
    with Book.open(tmp_path / "b.book", read_only=True) as book:
        card = book.document.attachments["tunnel_cut"]
        assert book.file(card.sha256) == picture.read_bytes()
        assert book.preview(card.sha256)
        assert book.document == open_build(garage).document

    assert trialfit("forget-attachment", garage, "tunnel_cut", "--note", "wrong car").code == 0
    ran = trialfit("read-in", tmp_path / "out.toml", garage, "--as", "laptop")
    assert ran.code == 0
    assert ": 1 changes, 1 attachments" in " ".join(ran.out.split())
    assert open_build(garage).document == open_build(tmp_path / "out.toml").document


def test_what_is_read_in_is_refused_as_a_whole_when_it_is_not_sound(trialfit, garage, written):
    before = open_build(garage).document
    ran = trialfit("read-in", written('[car]\nmass = "12 mm"'), garage)

    assert ran.code == 2
    assert ", line 2: car.mass" in ran.err
    assert open_build(garage).document == before


def test_a_copy_is_kept_in_a_folder_under_the_time(trialfit, garage, tmp_path):
    folder = tmp_path / "copies"
    folder.mkdir()
    ran = trialfit("keep-copy", garage, folder, "--json")
    (copy,) = folder.iterdir()

    assert ran.json["target"] == str(copy)
    assert copy.name.startswith("my garage ü-2")
    words = " ".join(trialfit("verify", copy).out.split())
    assert words.endswith(f"is sound: {TAKEN_IN} changes and 0 attachments, each as it was written.")
    assert open_build(copy).document == open_build(garage).document


def test_a_damaged_book_is_verified_and_salvaged(trialfit, garage, tmp_path):
    trialfit("set", garage, "car.note", "the first note")
    trialfit("set", garage, "car.note", "the second note")
    before = garage.read_bytes().replace(b'"the second note"', b'"the 2econd note"')
    garage.write_bytes(before)
    ran = trialfit("verify", garage)

    assert ran.code == 1
    assert f"change {TAKEN_IN + 2}  (car.note) or the one before it is damaged" in ran.out
    assert trialfit("check", garage).code == 2
    out = trialfit("write-out", garage, tmp_path / "saved.toml", "--salvage")
    assert out.code == 0
    assert f"lost: change {TAKEN_IN + 2}" in out.out
    seal, first = (tmp_path / "saved.toml").read_text(encoding="utf-8").splitlines()[:2]
    assert seal.startswith("# written out by trialfit; SHA-256 of what follows: ")
    assert first == f"# Recovered from {garage}, which is damaged."
    assert open_build(tmp_path / "saved.toml").document.parts["car"].note == "the first note"
    assert garage.read_bytes() == before


def test_a_clock_that_stands_before_the_journal_is_said(trialfit, garage):
    with Book.open(garage, clock=lambda: datetime.now(UTC) + timedelta(days=40)) as book:
        book.write(Change(path="name", before=book.value("name"), after="from the future"))
    ran = trialfit("set", garage, "car.mass", "990 kg")

    assert ran.code == 0
    assert "The clock of this computer is behind the last change in the journal" in " ".join(ran.out.split())


@pytest.mark.parametrize(
    ("shape", "words"),
    [
        ("change", ["set", "BOOK", "car.mass", "900 kg"]),
        ("made", ["undo", "BOOK"]),
        ("made", ["remove", "BOOK", "speedometer"]),
        ("made", ["move", "BOOK", "car.cruise_speeds.1", "2"]),
        ("made", ["attach", "BOOK", "gearbox", "PICTURE"]),
        ("journal", ["journal", "BOOK"]),
        ("carried", ["write-out", "BOOK", "NEW.toml"]),
        ("carried", ["read-in", "DEMO", "BOOK"]),
        ("carried", ["keep-copy", "BOOK", "NEW.book"]),
        ("carried", ["new", "NEW.book", "--empty"]),
        ("verification", ["verify", "BOOK"]),
    ],
)
def test_what_is_printed_fits_its_schema(trialfit, garage, picture, hillclimb, tmp_path, shape, words):
    trialfit("set", garage, "engine.idle_speed", "900 rpm")
    names = {"BOOK": garage, "PICTURE": picture, "DEMO": hillclimb}
    names |= {name: tmp_path / name for name in ("NEW.toml", "NEW.book")}
    ran = trialfit(*(names.get(word, word) for word in words), "--json")

    assert ran.code == 0
    jsonschema.validate(ran.json, json.loads(schema_of(shape)))


ANSWERS = "my conversion\n960 mm\n960 kg, weighed\n\n6500 rpm, manual\n3.6 | 2.1 | 1.4\n3.54\n205/50 R15\n"


def started(file: Path, answers: str) -> subprocess.CompletedProcess[str]:
    """A guided start with the answers from a pipe."""
    words = [sys.executable, "-m", "trialfit", "new", str(file)]
    return subprocess.run(words, input=answers, capture_output=True, text=True, check=False)  # noqa: S603 - our own


def test_a_guided_start_asks_the_facts_worth_having_first(tmp_path):
    """A wrong answer is explained and asked again, an empty one is left for later."""
    ran = started(tmp_path / "mine.book", ANSWERS)
    build = open_build(tmp_path / "mine.book")

    assert ran.returncode == 0
    assert 'car.mass "960 mm" is in "mm", a unit of length: expected a mass' in ran.stderr
    assert ran.stderr.count("Mass of the car ready to drive?") == 2
    assert build.name == "my conversion"
    assert build.document.parts["car"].entries == {"mass": "960 kg, weighed"}
    assert build.document.parts["gearbox"].entries == {"ratios": ("3.6", "2.1", "1.4")}
    assert build.document.parts["tyre_rear"].kind == "tyre"


def test_answers_that_end_early_make_a_book_of_what_there_was(tmp_path):
    assert started(tmp_path / "mine.book", "my conversion\n").returncode == 0
    assert open_build(tmp_path / "mine.book").name == "my conversion"
    assert started(tmp_path / "empty.book", "").returncode == 0
    assert open_build(tmp_path / "empty.book").document.parts == {}


@pytest.mark.skipif(os.name == "nt", reason="an interrupt is sent in another way there")
def test_an_interrupt_during_the_questions_leaves_nothing(tmp_path):
    words = [sys.executable, "-m", "trialfit", "new", str(tmp_path / "mine.book")]
    with subprocess.Popen(words, stdin=subprocess.PIPE, stderr=subprocess.PIPE, text=True) as ran:  # noqa: S603 - our own
        assert ran.stdin
        assert ran.stderr
        ran.stdin.write("my conversion\n960 kg\n")
        ran.stdin.flush()
        said = ""
        while "Wheelbase" not in said:
            said += ran.stderr.read(1)
        ran.send_signal(signal.SIGINT)
        ran.wait(120)

        assert ran.returncode == 130
        assert "Traceback" not in ran.stderr.read()
    assert list(tmp_path.iterdir()) == []


@pytest.mark.skipif(os.name == "nt", reason="names of files are text there")
def test_a_name_that_is_no_text_is_shown_as_well_as_can_be(trialfit, tmp_path):
    file = os.fsdecode(bytes(tmp_path) + b"/\xff.book")

    assert trialfit("new", file, "--empty").code == 0
    assert trialfit("set", file, "story", "x", "--as", "phone").code == 0
    assert trialfit("journal", file, "--json").json["changes"][0]["after"] == "x"


def test_an_answer_that_is_no_text_makes_nothing(tmp_path):
    words = [sys.executable, "-m", "trialfit", "new", str(tmp_path / "mine.book")]
    ran = subprocess.run(words, input=b"\xff\xfe\n", capture_output=True, check=False)  # noqa: S603 - our own command

    assert ran.returncode == 2
    assert ran.stderr.endswith(b"the answer: is not UTF-8 text; nothing was made\n")
    assert list(tmp_path.iterdir()) == []
