"""What is typed wrong is answered in one sentence, with exit code 2 and without a traceback."""

from __future__ import annotations

import pytest

from trialfit.cli.shapes import Problems

CASES = [
    (("chekc",), 'trialfit: unknown command "chekc": did you mean "check" or "schema"?'),
    (("check",), "trialfit check: BUILD is missing: trialfit check --help shows what it takes"),
    (("check", "nowhere.toml"), "nowhere.toml: there is no such file: expected the TOML file of a build"),
    (("check", "a", "b"), 'trialfit check: unexpected argument "b": trialfit check --help shows what it takes'),
    (("check", "a", "--drawz", "3"), 'trialfit check: unknown option "--drawz": did you mean "--draws"?'),
    (("demo", "--loud"), 'trialfit demo: unknown option "--loud": did you mean "--json"?'),
    (
        ("check", "a", "--draws", "many"),
        'trialfit check: --draws is "many": expected a whole number, for example 4096',
    ),
    (("kinds", "gearbx"), 'trialfit kinds: unknown kind of part "gearbx": did you mean "gearbox"?'),
    (("schema", "reprot"), 'trialfit schema: unknown shape "reprot": did you mean "report" or "plot" or "plots"?'),
    (("set", "a.toml", "car.mass"), "trialfit set: expected either a value or --from FILE, one of the two"),
]


@pytest.mark.parametrize(("words", "sentence"), CASES)
def test_bad_words_are_answered_in_one_sentence(trialfit, words, sentence):
    ran = trialfit(*words)

    assert (ran.code, ran.out, ran.err) == (2, "", f"{sentence}\n")


@pytest.mark.parametrize("draws", [0, -1, 2_000_000])
def test_a_number_of_draws_that_cannot_be_carried_is_refused(trialfit, written, draws):
    ran = trialfit("check", written("[car]"), "--draws", draws)

    assert ran.code == 2
    assert ran.err == f"trialfit: --draws is {draws}: expected a number from 1 to 1000000, 4096 are usual\n"


def test_with_json_the_problems_are_a_document_on_stdout(trialfit, written):
    file = written('[car]\nmas = "3 kg"\n[gearbox]\nratios = ["2", "3"]')
    ran = trialfit("check", file, "--json")

    assert (ran.code, ran.err) == (2, "")
    assert Problems.model_validate_json(ran.out)
    first, second = ran.json["problems"]
    assert (first["path"], first["line"]) == ("car.mas", 2)
    assert first["says"].startswith(f"{file}, line 2: car.mas is not a fact of a car: did you mean")
    assert (second["path"], second["line"]) == ("gearbox.ratios.2", 4)


def test_every_problem_of_a_file_is_said_not_only_the_first(trialfit, written):
    ran = trialfit("facts", written('[car]\nmas = "3 kg"\nwheelbase = "long"'))

    assert ran.code == 2
    assert len(ran.err.splitlines()) == 2
    assert ", line 3: car.wheelbase " in ran.err
