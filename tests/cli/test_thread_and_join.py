"""`trialfit thread` and `trialfit join` as typed."""

from __future__ import annotations

import json

import jsonschema
import pytest

from trialfit.cli.shapes import schema_of

BUILD = """
[gallery]
kind = "port"
thread = "M10×1"
sealing = "washer"

[big]
kind = "port"
thread = "M27×2"
sealing = "O-ring boss"

[special]
kind = "fitting"
end = "male M10×1, washer"
other_end = "female 1/8-27 NPT"
length = "30 ± 0 mm"
bore = "6 ± 0 mm"
price = "4.50"
"""


def test_a_thread_is_named_with_its_likelihood_and_what_tells_it_apart(trialfit):
    ran = trialfit("thread", "9.70 ± 0.05 mm", "--pitch", "28 tpi")

    assert ran.code == 0
    assert "G 1/8" in ran.out
    assert "G 1/8 or R 1/8" in ran.out
    assert "caliper it in two places 5 mm apart" in ran.out


def test_a_hole_is_read_between_its_crests(trialfit):
    ran = trialfit("thread", "8.95 mm", "--hole", "--json").json

    assert ran["gender"] == "female"
    assert "M10×1" in [one["thread"] for one in ran["candidates"]]


def test_no_thread_of_that_size(trialfit):
    assert "No thread of the tables has these readings" in trialfit("thread", "80 mm").out


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["9.7"], "has no unit: expected a length"),
        (["0 mm"], "is not a diameter: expected a value above 0"),
        (
            ["9.7 mm", "--pitch", "fine"],
            'is not a pitch: expected threads per inch or millimetres, for example "18 tpi"',
        ),
        (["9.7 mm", "--pitch", "0 mm"], "is not a pitch: expected a value above 0"),
    ],
)
def test_readings_that_are_none(trialfit, words, says):
    ran = trialfit("thread", *words)

    assert ran.code == 2
    assert says in ran.err


def test_the_run_between_a_port_and_a_sender(trialfit, written):
    ran = trialfit("join", written(BUILD), "gallery", "male 1/8 NPT")
    words = " ".join(ran.out.split())

    assert ran.code == 0
    assert "as they are: dangerous" in words
    assert "1. sender adapter M10×1 to 1/8 NPT" in words
    assert "adds 12 mm, leaves a bore of 4 mm" in words


def test_the_builders_own_fitting_is_the_cheapest(trialfit, written):
    plan = trialfit("join", written(BUILD), "gallery", "male 1/8 NPT", "--by", "cheapest", "--json").json

    assert [(piece["name"], piece["own"]) for piece in plan["pieces"]] == [("special", True)]
    assert (plan["price"], plan["length_mm"], plan["bore_mm"]) == (4.5, 30, 6)


def test_a_wanted_bore_decides(trialfit, written):
    plan = trialfit("join", written(BUILD), "gallery", "male 1/8 NPT", "--bore", "5 mm", "--json").json

    assert [piece["name"] for piece in plan["pieces"]] == ["special"]


def test_where_nothing_leads_there_it_names_the_one_piece(trialfit, written):
    ran = trialfit("join", written(BUILD), "gallery", "big")
    words = " ".join(ran.out.split())

    assert ran.code == 1
    assert "no run: no fitting of the catalogue fits female M27×2, O-ring boss" in words
    assert "one piece would join them: male M10×1, washer to male M27×2, O-ring boss" in words


@pytest.mark.parametrize(
    ("names", "says"),
    [
        (["galery", "big"], 'did you mean "gallery"?'),
        (["gallery", "male M10×1"], "does not say how it seals"),
        (["gallery", "big", "--bore", "wide"], "wide"),
    ],
)
def test_ends_that_are_none(trialfit, written, names, says):
    ran = trialfit("join", written(BUILD), *names)

    assert ran.code == 2
    assert says in ran.err


@pytest.mark.parametrize(
    ("shape", "words"), [("thread", ["thread", "9.7 mm"]), ("join", ["join", "FILE", "gallery", "big"])]
)
def test_json_has_the_shape_that_schema_shows(trialfit, written, shape, words):
    file = written(BUILD)
    ran = trialfit(*(file if word == "FILE" else word for word in words), "--json")

    jsonschema.validate(ran.json, json.loads(schema_of(shape)))


def test_both_demos_show_all_four_verdicts_of_the_ports(trialfit, hillclimb, pickup):
    for demo in (hillclimb, pickup):
        findings = trialfit("check", demo, "--subject", "ports", "--json", "--draws", "256").json["findings"]
        assert {finding["verdict"] for finding in findings} == {"holds", "fails", "unsettled", "unknown"}


def test_why_works_on_every_finding_of_the_ports(trialfit, hillclimb, pickup):
    for demo in (hillclimb, pickup):
        findings = trialfit("check", demo, "--subject", "ports", "--json", "--draws", "64").json["findings"]
        for finding in findings[::3]:
            assert trialfit("why", demo, finding["id"], "--draws", "64").err == ""
