"""A limit that names nothing, and limits beside each other, on the commands."""

from __future__ import annotations

import json

import jsonschema
import pytest

from trialfit.cli.shapes import schema_of

STALE = '[car]\nmass = "960 kg, weighed"\n[gearbox]\nratios = ["3.6", "2.1"]\n[limit]\n"clearance.gap.pulley.rack" = "30 mm"\n'


@pytest.mark.parametrize(
    "words", [("measure",), ("next",), ("check", "--subject", "gearing"), ("facts",), ("clearances",)]
)
def test_no_command_stops_on_a_limit_that_names_nothing(trialfit, written, words):
    ran = trialfit(words[0], written(STALE), *words[1:])

    assert (ran.code, ran.err) == (0, "")


def test_check_says_so_at_the_end_and_in_its_document(trialfit, written):
    file = written(STALE)
    page = " ".join(trialfit("check", file).out.split())
    report = trialfit("check", file, "--json").json

    assert "limit.clearance.gap.pulley.rack has no effect: this build has no finding of that name" in page
    assert [one["path"] for one in report["remarks"]] == ["limit.clearance.gap.pulley.rack"]
    jsonschema.validate(report, json.loads(schema_of("report")))


def test_a_limit_is_set_beside_one_that_names_nothing(trialfit, written):
    file = written(STALE)

    assert trialfit("set", file, "limit.gearing.time.0_100_kmh", "8 s").code == 0
    assert '"gearing.time.0_100_kmh" = "8 s"' in file.read_text(encoding="utf-8")


def test_a_limit_that_names_nothing_or_cannot_be_read_is_not_written(trialfit, written):
    file = written(STALE)
    unknown = trialfit("set", file, "limit.gearing.time.0_100_kmph", "8 s")
    unreadable = trialfit("set", file, "limit.gearing.time.0_100_kmh", "8 kg")

    assert (unknown.code, unreadable.code) == (2, 2)
    assert 'is not a finding of this build: did you mean "gearing.time.0_100_kmh"' in unknown.err
    assert "limit.gearing.time.0_100_kmh" in unreadable.err
    assert file.read_text(encoding="utf-8") == STALE


def test_why_lists_the_limits_that_do_not_decide_with_their_margins(trialfit, written):
    """1° off level, 0.5° allowed by the maker: ours allows more, and is listed with its margin."""
    file = written('[drivetrain]\ninclination = "3 ± 0.1 deg, gauged"\nlevel_inclination = "2 ± 0 deg"\n')
    ours = trialfit("why", file, "clearance.level", "--json").json["finding"]
    assert trialfit("set", file, "limit.clearance.level", "0.5 deg, manual; page 3").code == 0
    ran = trialfit("why", file, "clearance.level")
    found = trialfit("why", file, "clearance.level", "--json").json["finding"]

    assert ("other limits" in ran.out, ran.code) == (True, 1)
    assert "replaced by: maker's manual: page 3" in " ".join(ran.out.split())
    assert [(one["id"], one["replaced_by"]) for one in found["limits"]] == [("written", ""), ("stated", "written")]
    assert found["margin"]["nominal"] == pytest.approx(-0.5)
    assert found["limits"][1]["margin"] == ours["margin"]
