"""`why`, `measure`, `facts` and `demo` on the demo builds."""

from __future__ import annotations

import json
import os

import jsonschema
import pytest
from thorough import some

from trialfit.cli.shapes import schema_of


@pytest.fixture
def unsettled(trialfit, hillclimb):
    """An unsettled finding of the first demo build."""
    found = trialfit("check", hillclimb, "--json").json["findings"]
    return next(one for one in found if one["verdict"] == "unsettled")


def test_why_shows_every_fact_with_its_share_and_where_it_came_from(trialfit, hillclimb, unsettled):
    words = trialfit("why", hillclimb, unsettled["id"]).out.split()

    for fact in unsettled["facts"]:
        assert fact["provenance"] in words
    assert unsettled["facts"][0]["path"] in "".join(words)
    assert "formulas" in words


def test_why_as_json_holds_the_finding_of_the_report(trialfit, hillclimb, unsettled):
    ran = trialfit("why", hillclimb, unsettled["id"], "--json")

    assert ran.code == 0
    assert _rounded(ran.json["finding"]) == _rounded(unsettled)
    assert ran.json["figure"] is None
    jsonschema.validate(ran.json, json.loads(schema_of("explanation")))


def _rounded(finding):
    """The finding with its shares to nine places: sums in another order differ in the last bits."""
    return {**finding, "facts": [{**fact, "share": round(fact["share"], 9)} for fact in finding["facts"]]}


def test_the_shares_of_a_finding_sum_to_about_one(unsettled):
    assert sum(fact["share"] for fact in unsettled["facts"]) == pytest.approx(1, abs=0.15)


def test_why_explains_a_figure_too(trialfit, hillclimb):
    ran = trialfit("why", hillclimb, "gearing.top_speed")

    assert ran.code == 0
    assert "km/h" in ran.out


def test_a_failing_finding_makes_why_end_with_1(trialfit, hillclimb):
    found = trialfit("check", hillclimb, "--json").json["findings"]
    failing = next(one["id"] for one in found if one["verdict"] == "fails")

    assert trialfit("why", hillclimb, failing).code == 1


def test_a_wrong_finding_is_answered_with_the_nearest(trialfit, hillclimb):
    ran = trialfit("why", hillclimb, "gearing.top_sped")

    assert ran.code == 2
    assert ran.err.startswith('hillclimb coupe: unknown finding "gearing.top_sped": did you mean "gearing.top_speed"')


@pytest.mark.parametrize("demo", some(["hillclimb", "pickup", "electric"]))
def test_measure_names_each_fact_once_and_fits_its_schema(trialfit, demo, request):
    ran = trialfit("measure", request.getfixturevalue(demo), "--draws", 64, "--json")

    assert ran.code == 0
    paths = [one["path"] for one in ran.json["measurements"]]
    assert paths
    assert len(paths) == len(set(paths))
    jsonschema.validate(ran.json, json.loads(schema_of("measurements")))


def test_a_rating_is_asked_for_and_a_length_is_measured(trialfit, hillclimb):
    out = trialfit("measure", hillclimb, "--draws", 64).out
    listed = trialfit("measure", hillclimb, "--draws", 64, "--json").json["measurements"]
    asked = {one["path"]: one["is_asked"] for one in listed}

    assert asked["final_drive_long.rated_torque"]
    assert not asked["half_shaft_left.outward_at_droop"]
    assert not asked["clutch.clamp_load"], "a press can give it too"
    assert ".  ask for  final_drive_long.rated_torque, " in out
    assert ".  measure  half_shaft_left.outward_at_droop, " in out


def test_what_measure_says_to_write_can_be_written(trialfit, hillclimb, tmp_path):
    """Each line to write is a command that `set` takes once a number stands in it."""
    copied = tmp_path / "copied.toml"
    copied.write_text(hillclimb.read_text(encoding="utf-8"), encoding="utf-8")
    measured = trialfit("measure", copied, "--draws", 64, "--json").json["measurements"]
    lines = [one["write"] for one in measured if '"' in one["write"]]
    assert lines
    for line in lines:
        path, _, value = line.partition(" ")
        old = next((one["now"] for one in measured if one["path"] == path), "") or "12"
        number = old.split()[0].rstrip(",°")
        ran = trialfit("set", copied, path, value.strip('"').replace("…", number))
        assert ran.code == 0, (line, ran.err)


def test_every_unsettled_finding_is_spoken_of(trialfit, hillclimb):
    found = trialfit("check", hillclimb, "--draws", 64, "--json").json["findings"]
    listed = trialfit("measure", hillclimb, "--draws", 64, "--json").json["measurements"]
    spoken_of = {one["finding"] for entry in listed for one in entry["findings"]}

    assert {one["id"] for one in found if one["verdict"] == "unsettled"} <= spoken_of
    assert {one["id"] for one in found if one["verdict"] == "unknown" and one["missing"]} <= spoken_of


def test_facts_mark_what_is_typical_and_what_is_missing(trialfit, hillclimb):
    out = trialfit("facts", hillclimb).out
    stock = trialfit("facts", hillclimb, "--json").json

    states = {line["state"] for part in stock["parts"] for line in part["facts"]}
    assert states >= {"written", "typical", "missing", "open"}
    assert "\n  typical  " in out
    assert "\n  missing  " in out
    assert "\n  open     " not in out
    jsonschema.validate(stock, json.loads(schema_of("inventory")))


def test_the_facts_of_one_part_show_also_what_nothing_needs(trialfit, hillclimb):
    out = trialfit("facts", hillclimb, "prop_shaft").out

    assert "\n  open     " in out
    assert "\ngearbox" not in out


def test_demo_ends_well_and_says_what_to_try_next(trialfit):
    ran = trialfit("demo")

    assert (ran.code, ran.err) == (0, "")
    words = " ".join(ran.out.split())
    assert "hillclimb coupe" in words
    assert "fails" in words
    assert "trialfit measure demos/hillclimb.toml says what to measure" in words or os.sep in words


def test_the_demo_as_json_is_the_report_of_its_build(trialfit, hillclimb):
    """The same document as that of check; it ends with 0 although findings fail."""
    ran = trialfit("demo", "--json")

    assert ran.code == 0
    assert ran.json == trialfit("check", hillclimb, "--json").json


def test_a_page_for_people_closes_with_who_decides(trialfit, hillclimb):
    words = " ".join(trialfit("check", hillclimb).out.split())

    assert words.endswith("licensed certifiers decide what may be driven on a road.")
