"""An unusual value is written and asked about; one that cannot be is refused, and the file stays as it was."""

from __future__ import annotations

ASKS = "Really? If it is correct, write"


def test_set_writes_what_is_unusual_and_asks(trialfit, written):
    file = written("[car]")

    done = trialfit("set", file, "car.mass", "9000 kg, weighed")

    assert done.code == 0
    assert "car.mass is 9000 kg, usual is 400 kg to 4000 kg." in " ".join(done.out.split())
    assert ASKS in " ".join(done.out.split())
    assert "9000 kg" in file.read_text(encoding="utf-8")
    assert (
        trialfit("set", file, "car.mass", "9000 kg, weighed", "--json").json["question"].startswith("car.mass is 9000")
    )
    assert trialfit("set", file, "car.mass", "9000 kg, weighed; really", "--json").json["question"] == ""


def test_of_a_list_set_asks_about_the_value_that_was_written(trialfit, written):
    file = written('[gearbox]\nratios = ["14; really", "3", "2"]')

    whole = trialfit("set", file, "gearbox.ratios", "14 | 13 | 2", "--json").json["question"]
    one = trialfit("set", file, "gearbox.ratios.2", "12.5", "--json").json["question"]

    assert [whole.count(path) for path in ("ratios.1", "ratios.2", "ratios.3")] == [1, 1, 0]
    assert [one.count(path) for path in ("ratios.1", "ratios.2")] == [0, 1]


def test_set_refuses_what_cannot_be_and_leaves_the_file_alone(trialfit, written):
    file = written('[car]\nmass = "960 kg"')

    done = trialfit("set", file, "car.mass", "960 t")

    assert (done.code, done.out) == (2, "")
    assert 'car.mass "960 t" is out of range: expected a mass from 100 kg to 10000 kg' in done.err
    assert file.read_text(encoding="utf-8") == '[car]\nmass = "960 kg"'


def test_a_book_asks_as_a_file_does(trialfit, written, tmp_path):
    book = tmp_path / "mine.book"
    trialfit("new", book, "--from", written("[car]"))

    assert "Really?" in trialfit("set", book, "car.mass", "9000 kg, weighed").out
    assert "Really?" not in trialfit("set", book, "car.mass", "960 kg, weighed").out


def test_check_and_facts_ask_and_kinds_says_what_is_usual(trialfit, written):
    file = written('[car]\nmass = "9000 kg, weighed"')

    assert "car.mass is 9000 kg, usual is 400 kg to 4000 kg." in " ".join(trialfit("check", file).out.split())
    assert "really? usual is 400 kg to 4000 kg" in " ".join(trialfit("facts", file).out.split())
    assert "from 100 kg to 10000 kg; usual 400 kg to 4000 kg" in " ".join(trialfit("kinds", "car").out.split())
    file.write_text('[car]\nmass = "960 kg, weighed"', encoding="utf-8")
    assert "really" not in (trialfit("check", file).out + trialfit("facts", file).out).lower()


def test_a_reading_that_cannot_be_is_refused_as_by_set(trialfit, written, tmp_path):
    book = tmp_path / "mine.book"
    trialfit("new", book, "--from", written('[car]\nmass = "960 kg, weighed"'))

    done = trialfit("record", book, "car.mass", "960 t")

    assert done.code == 2
    assert '"960 t" is out of range: expected a mass from 100 kg to 10000 kg' in done.err
