"""`set` writes one entry, says what was there, and leaves the rest of the file alone."""

from __future__ import annotations

import pytest

TEXT = """# my car
name = "mine"

[car]
mass = "960 kg, guess"  # to be weighed
rear_suspension = "independent"

[gearbox]
ratios = ["3.6", "2.1", "1.4"]

[choice.axle]
options = ["long", "short"]
picked = "long"

[long]
kind = "final_drive"
ratio = "3.54"

[short]
kind = "final_drive"
ratio = "3.91"
"""


def test_a_fact_is_written_and_everything_else_stays(trialfit, written):
    file = written(TEXT)
    ran = trialfit("set", file, "car.mass", "985 ± 5 kg, weighed")

    assert ran.code == 0
    assert file.read_text(encoding="utf-8") == TEXT.replace("960 kg, guess", "985 ± 5 kg, weighed")
    assert ran.out.splitlines()[-3:] == [
        "  was      960 kg, guess",
        "  is       985 ± 5 kg, weighed",
        "  read as  985 ± 5 kg",
    ]


def test_what_the_word_behind_the_comma_means_is_said(trialfit, written):
    ran = trialfit("set", written(TEXT), "car.wheelbase", "2402 mm, taped")

    assert "  was      missing\n" in ran.out
    assert "  read as  2402 mm, ± 2 mm\n" in ran.out


@pytest.mark.parametrize(
    ("path", "value", "before", "after"),
    [
        (
            "gearbox.ratios",
            "3.5 | 2.0 | 1.3 | 1",
            'ratios = ["3.6", "2.1", "1.4"]',
            'ratios = ["3.5", "2.0", "1.3", "1"]',
        ),
        ("gearbox.ratios.2", "2.2", '"2.1"', '"2.2"'),
        ("gearbox.ratios.4", "1.0", '"1.4"]', '"1.4", "1.0"]'),
        ("car.rear_suspension", "live axle", '"independent"', '"live axle"'),
        ("choice.axle.picked", "short", 'picked = "long"', 'picked = "short"'),
        ("short.ratio", "4.10", "3.91", "4.10"),
    ],
)
def test_lists_words_and_picks_are_written_in_place(trialfit, written, path, value, before, after):
    file = written(TEXT)

    assert trialfit("set", file, path, value).code == 0
    assert file.read_text(encoding="utf-8") == TEXT.replace(before, after)


def test_a_value_that_begins_with_a_minus_is_a_value(trialfit, written):
    ran = trialfit("set", written(TEXT), "gearbox.output_x", "-915 mm, taped")

    assert ran.code == 0
    assert "  is       -915 mm, taped\n" in ran.out


def test_a_part_that_is_not_there_yet_begins_with_its_first_fact(trialfit, written):
    file = written(TEXT)

    assert trialfit("set", file, "engine.max_speed", "6500 rpm, manual").code == 0
    assert file.read_text(encoding="utf-8").endswith('[engine]\nmax_speed = "6500 rpm, manual"\n')


def test_a_curve_comes_from_a_file(trialfit, written, tmp_path):
    curve = tmp_path / "curve.txt"
    curve.write_text("rpm : N·m ± 4 %, catalogue\n1000 : 180\n3500 : 265\n", encoding="utf-8")
    file = written(TEXT)

    ran = trialfit("set", file, "engine.torque_curve", "--from", curve)

    assert ran.code == 0
    assert "  read as  2 points, ± 4 %\n" in ran.out
    assert trialfit("facts", file, "engine").out.count("curve of 2 points") == 1


@pytest.mark.parametrize(
    ("path", "value", "sentence"),
    [
        ("car.mas", "3 kg", 'car.mas is not a fact of a car: did you mean "mass" or "nose_mass"?'),
        ("engine.idle_sped", "800 rpm", 'engine.idle_sped is not a fact of an engine: did you mean "idle_speed"'),
        ("cra.mass", "3 kg", 'unknown part "cra": did you mean "car"'),
        ("mass", "3 kg", '"mass" is not a path to a fact: write it as part.fact, for example engine.max_speed'),
        (
            "car..mass",
            "3 kg",
            '"car..mass" is not a path to a fact: write it as part.fact, for example engine.max_speed',
        ),
        ("car.mass.2", "3 kg", '"car.mass.2" is too long: car.mass is one entry'),
        ("gearbox.ratios.9", "3", "gearbox.ratios has 3 values: expected a number from 1 to 4, not 9"),
        ("choice.axle.picked", "shrt", 'choice.axle.picked is "shrt": did you mean "short"?'),
        ("limit.gearing.nothing", "3 %", "limit.gearing.nothing is not a finding of this build"),
    ],
)
def test_what_cannot_be_written_is_said_and_the_file_stays(trialfit, written, path, value, sentence):
    file = written(TEXT)
    ran = trialfit("set", file, path, value)

    assert ran.code == 2
    assert sentence in ran.err
    assert file.read_text(encoding="utf-8") == TEXT


def test_a_value_that_cannot_be_read_is_refused_with_an_example(trialfit, written):
    file = written(TEXT)
    ran = trialfit("set", file, "car.mass", "1,234 kg")

    assert ran.code == 2
    assert 'car.mass "1,234 kg"' in ran.err
    assert file.read_text(encoding="utf-8") == TEXT


def test_json_says_what_was_and_what_is(trialfit, written):
    file = written(TEXT)

    assert trialfit("set", file, "gearbox.ratios.2", "2.2", "--json").json == {
        "file": str(file),
        "path": "gearbox.ratios.2",
        "before": "2.1",
        "after": "2.2",
        "reads_as": "2.2, exact",
        "question": "",
        "number": None,
        "faults_left": 0,
    }
