"""`record` writes several readings as one fact, loses none, and says what became of the findings."""

from __future__ import annotations

import json

import jsonschema
import pytest

from trialfit.book import read
from trialfit.cli.shapes import schema_of
from trialfit.facts.provenance import Provenance

TEXT = """# my car
[car]
rear_suspension = "independent"

[gearbox]
ratios = ["3.5"]

[prop_shaft]
after = "gearbox"
slip_gap = "12 ± 4 mm, guess"  # under the car, by eye
"""

LINE = (
    TEXT.replace(
        'ratios = ["3.5"]',
        """ratios = ["3.5"]
output_x = "-915 mm, taped"
output_y = "0 mm, taped"
output_z = "346 mm, taped"
output_surge = "1 ± 1 mm, gauged\"""",
    )
    + """
[final_drive]
after = "prop_shaft"
input_x = "-2100 mm, taped"
input_y = "0 mm, taped"
input_z = "300 mm, taped"
"""
)
"""The same with what the finding needs: both ends of the shaft, and how far the gearbox moves on its mounts."""

SLIP = ("driveline.slip.gap", "--fact", "prop_shaft.slip_gap")


@pytest.fixture
def slip_gap():
    """The fact as it stands in the file afterwards."""

    def look(file):
        return read(file).parts["prop_shaft"].slip_gap.written

    return look


def test_several_readings_become_one_fact_with_a_spread(trialfit, written, slip_gap):
    """Mean of three, the caliper's own 0.05 mm and the scatter together; the comment stays."""
    file = written(TEXT)
    ran = trialfit("record", file, "driveline.slip.gap", "11.6 mm", "11.7", "11.65", "--method", "caliper")
    fact = slip_gap(file)

    assert ran.code == 0
    assert fact.si == pytest.approx(0.01165)
    assert fact.provenance is Provenance.calipered
    assert 0.05e-3 < fact.spread.plus < 0.2e-3
    assert fact.note == "mean of 3 readings: 11.6 mm, 11.7, 11.65; caliper"
    assert "# under the car, by eye" in file.read_text(encoding="utf-8")


def test_the_verdicts_before_and_after_are_said(trialfit, written):
    """An eye did not settle it, a caliper does."""
    ran = trialfit("record", written(LINE), *SLIP, "14.6 mm", "14.7", "--method", "caliper")

    assert "was         12 ± 4 mm, guess" in ran.out
    assert "driveline.slip.gap  unsettled, now holds" in " ".join(ran.out.split()).replace(
        "gap unsettled", "gap  unsettled"
    )


def test_a_fact_can_be_named_itself(trialfit, written, slip_gap):
    """Without a finding; other words behind the readings say with what."""
    file = written(TEXT)

    assert trialfit("record", file, "prop_shaft.slip_gap", "11 mm, taped", "12 mm, taped").code == 0
    assert slip_gap(file).provenance is Provenance.taped
    assert slip_gap(file).spread.plus > 0.002


def test_a_fact_of_a_part_that_is_not_written_yet_begins_the_part(trialfit, written):
    file = written(TEXT)

    assert trialfit("record", file, "engine.max_speed", "6500 rpm, gauged", "6520 rpm, gauged").code == 0
    assert read(file).parts["engine"].max_speed.written.value == pytest.approx(6510, abs=5)


def test_one_of_a_list_is_written_in_its_place(trialfit, written):
    file = written(TEXT)

    assert trialfit("record", file, "gearbox.ratios.2", "2.1, gauged", "2.11, gauged").code == 0
    assert len(read(file).parts["gearbox"].ratios) == 2


def test_a_misread_tape_is_pointed_out_and_never_dropped_in_silence(trialfit, written, slip_gap):
    """It counts in the mean, widens the spread, and stands in the note; the finding stays unsettled."""
    file = written(TEXT)
    ran = trialfit(
        "record", file, "driveline.slip.gap", "11.6 mm", "11.7", "11.65", "11.6", "21.6", "--method", "caliper"
    )
    words, fact = " ".join(ran.out.split()), slip_gap(file)

    assert "Reading 5, 21.6, is out of line with the others" in words
    assert "It counts, and increases the uncertainty." in words
    assert fact.si * 1e3 == pytest.approx(13.63, abs=0.05)
    assert fact.spread.plus * 1e3 > 5
    assert "21.6" in fact.note


def test_a_reading_is_left_out_with_a_reason_that_stays(trialfit, written, slip_gap):
    """The number in the note, and why."""
    file = written(TEXT)
    ran = trialfit(
        *("record", file, "driveline.slip.gap", "11.6 mm", "11.7", "21.6", "--method", "caliper"),
        *("--leave-out", 3, "--because", "read the inch side"),
    )

    assert "[21.6 left out]" in ran.out
    assert slip_gap(file).si * 1e3 == pytest.approx(11.65)
    assert slip_gap(file).note.endswith("reading 3, 21.6, left out: read the inch side")


def test_few_readings_that_scatter_are_known_badly(trialfit, written, slip_gap):
    """Two readings 1 mm apart: 13.97 times 0.5 mm."""
    file = written(TEXT)
    trialfit("record", file, "driveline.slip.gap", "11 mm", "12", "--method", "caliper")

    assert slip_gap(file).spread.plus * 1e3 == pytest.approx(13.97 * 0.5, rel=0.02)


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (["driveline.slip.gap", "11.6 mm"], "has no instrument"),
        (["driveline.slip.gap", "11.6", "--method", "caliper"], "trialfit record: driveline.slip.gap"),
        (["driveline.slip.gap", "11.6 mm", "heavy", "--method", "caliper"], "trialfit record: reading 2"),
        (["driveline.slip.gap", "11.6 mm", "--method", "calliper"], '--method is "calliper": did you mean "caliper"'),
        (
            ["driveline.slip.gap", "11.6 mm", "--method", "scales"],
            '--method is "scales", which reads a mass: prop_shaft.slip_gap is a length',
        ),
        (
            ["driveline.slip.gop", "11.6 mm", "--method", "caliper"],
            '"driveline.slip.gop" is neither a finding of this build nor a fact',
        ),
        (["prop_shaft.slip_gop", "1 mm, taped"], 'did you mean "prop_shaft.slip_gap"'),
        (
            ["driveline.slip.gap", "11.6 mm", "12 mm", "--method", "tape", "--leave-out", "2"],
            "--leave-out needs a reason",
        ),
        (
            ["driveline.slip.gap", "11.6 mm", "--method", "tape", "--leave-out", "1", "--because", "x"],
            "at least one reading must remain",
        ),
        (["driveline.slip.gap", "11.6 mm", "--method", "tape", "--because", "x"], "--because is used alone"),
        (["driveline.slip.gap", "--method", "tape"], "expected from 1 to 200 readings"),
        (["driveline.slip.gap", "12 kg, weighed"], 'depends on no fact that "12 kg, weighed" could be a reading of'),
    ],
)
def test_what_cannot_be_recorded_is_said_and_the_file_stays(trialfit, written, words, sentence):
    file = written(TEXT)
    ran = trialfit("record", file, *words)

    assert (ran.code, sentence in ran.err) == (2, True), ran.err
    assert file.read_text(encoding="utf-8") == TEXT


def test_a_finding_that_hangs_on_several_facts_asks_which_was_read(trialfit, written, hillclimb):
    """And lists them by the doubt that each causes."""
    file = written(hillclimb.read_text(encoding="utf-8"))
    wanted = ("record", file, "driveline.plunge.left.in", "14.1 mm", "14.2", "--method", "caliper", "--draws", 256)
    asked = trialfit(*wanted)
    told = trialfit(*wanted, "--fact", "half_shaft_left.plunge_in")

    assert asked.code == 2
    assert "name one with --fact: half_shaft_left.outward_at_bump" in asked.err
    assert told.code == 0
    assert "half_shaft_left.plunge_in" in told.out


def test_json_holds_every_reading_and_both_verdicts(trialfit, written):
    """In its documented shape."""
    file = written(LINE)
    words = ("record", file, *SLIP, "11.6 mm", "11.7", "21.6", "11.6", "11.65", "--method", "caliper")
    done = trialfit(*words, "--json").json

    jsonschema.validate(done, json.loads(schema_of("recorded")))
    assert [one["is_out_of_line"] for one in done["readings"]] == [False, False, True, False, False]
    assert all(one["counts"] for one in done["readings"])
    assert done["path"] == "prop_shaft.slip_gap"
    assert done["before"] == "12 ± 4 mm, guess"
    assert done["findings"][0]["finding"] == "driveline.slip.gap"
    assert {done["findings"][0]["before"], done["findings"][0]["after"]} == {"unsettled"}


def test_into_a_book_as_one_change(trialfit, written, tmp_path):
    """The journal has the fact with its readings, and undo brings back what was there."""
    book = tmp_path / "mine.book"
    trialfit("new", book, "--from", written(TEXT))
    ran = trialfit("record", book, "driveline.slip.gap", "11.6 mm", "11.7", "--method", "caliper")
    change = trialfit("journal", book, "--json").json["changes"][-1]

    assert ran.code == 0
    assert change["path"] == "prop_shaft.slip_gap"
    assert change["before"] == "12 ± 4 mm, guess"
    assert change["after"].endswith("mm, calipered; mean of 2 readings: 11.6 mm, 11.7; caliper")
