"""`check` on the demo builds: what stands on the page, in which order, and what the exit code says."""

from __future__ import annotations

import json

import jsonschema
import pytest
from thorough import some

from trialfit.cli.marks import MARKS, PLAIN
from trialfit.cli.shapes import schema_of
from trialfit.evaluation.verdict import Verdict
from trialfit.subjects.catalogue import OURS

FINDING = {
    "id",
    "subject",
    "about",
    "says",
    "verdict",
    "stake",
    "value",
    "limit",
    "margin",
    "share_ok",
    "source",
    "source_kind",
    "facts",
}
WORST_FIRST = ["fails", "unsettled", "unknown", "holds"]


@pytest.fixture
def report(trialfit, hillclimb):
    """The first demo build as JSON."""
    return trialfit("check", hillclimb, "--json").json


def test_a_failing_finding_makes_the_exit_code_1(trialfit, hillclimb, report):
    assert "fails" in {finding["verdict"] for finding in report["findings"]}
    assert trialfit("check", hillclimb).code == 1


def test_a_build_of_which_nothing_can_be_said_fails_in_nothing(trialfit, written):
    ran = trialfit("check", written("[car]"))

    assert ran.code == 0
    assert "unknown" in ran.out


def test_the_demo_shows_every_verdict(report):
    assert {finding["verdict"] for finding in report["findings"]} == set(WORST_FIRST)


def test_findings_stand_by_subject_the_worst_first(report):
    places = [(OURS.index(one["subject"]), WORST_FIRST.index(one["verdict"])) for one in report["findings"]]

    assert places == sorted(places)


def test_json_holds_what_was_promised(report):
    assert {"build", "draws", "findings", "figures"} <= set(report)
    for finding in report["findings"]:
        assert set(finding) >= FINDING
        assert all(
            set(finding[name] or {"nominal", "low", "high", "unit"}) == {"nominal", "low", "high", "unit"}
            for name in ("value", "limit", "margin")
        )
        assert all({"path", "text", "provenance", "share"} <= set(fact) for fact in finding["facts"])


def test_json_fits_its_schema(report):
    jsonschema.validate(report, json.loads(schema_of("report")))


def test_the_page_shows_each_finding_with_its_word_and_line(trialfit, hillclimb, report):
    lines = trialfit("check", hillclimb).out.splitlines()

    for finding in report["findings"]:
        verdict = Verdict(finding["verdict"])
        start = f"{MARKS[verdict]}  {verdict:9}  "
        assert any(line.startswith(f"{start}{finding['id']}") for line in lines) or verdict is Verdict.unknown


def test_every_finding_that_waits_for_facts_is_on_the_page(trialfit, hillclimb, report):
    words = trialfit("check", hillclimb).out.replace(",", " ").split()

    assert {one["id"] for one in report["findings"]} <= set(words)


def test_what_does_not_hold_says_limit_source_and_next_step(trialfit, hillclimb, report):
    words = " ".join(trialfit("check", hillclimb).out.split())
    judged = [one for one in report["findings"] if one["verdict"] in {"fails", "unsettled"}]
    waiting = {(one["subject"], tuple(one["missing"])) for one in report["findings"] if one["verdict"] == "unknown"}

    assert words.count(" next: ") == len(judged) + len(waiting)
    assert words.count(" limit: ") >= len(judged)
    assert all(" ".join(one["source"].split()) in words for one in judged)


TEN_MINUTES = """
[car]
cruise_speeds = ["110 km/h"]
rear_suspension = "independent"
[engine]
max_speed = "6500 rpm, manual"
[gearbox]
ratios = ["3.63", "2.36"]
[final_drive]
ratio = "3.54"
[tyre_rear]
kind = "tyre"
size = "205/50 R15"
"""


def test_findings_of_a_subject_that_wait_for_the_same_facts_share_one_row(trialfit, written):
    """The facts stand there once; a group that misses others stands apart."""
    file = written(TEN_MINUTES)
    out = trialfit("check", file, "--subject", "driveline").out
    waiting = [
        one
        for one in trialfit("check", file, "--subject", "driveline", "--json").json["findings"]
        if list(one["missing"]) == ["final_drive.after"]
    ]

    assert len(waiting) > 5
    assert out.count("Get final_drive.after (") == 1
    assert out.count(MARKS[Verdict.unknown]) < len(waiting)
    assert all(one["id"] in out for one in waiting)


def test_a_single_finding_that_waits_still_says_what_must_be_so(trialfit, written):
    words = " ".join(trialfit("check", written(TEN_MINUTES), "--subject", "gearing").out.split())

    assert "gearing.cruise.1 stake: comfort cruising at 110 km/h in the highest gear" in words


def test_no_two_empty_lines_follow_each_other(trialfit, written, hillclimb):
    """Also after a subject whose last finding does not hold."""
    for file in (hillclimb, written(TEN_MINUTES)):
        assert "\n\n\n" not in trialfit("check", file).out


def test_what_gives_first_stands_under_its_subject(trialfit, hillclimb, report):
    """Without --figures; the sentence is that of the figure."""
    words = " ".join(trialfit("check", hillclimb).out.split())
    first = {one["id"]: " ".join(one["headline"].split()) for one in report["figures"] if one["headline"]}

    assert list(first) == ["torque_path.weakest", "structure.weakest.mount_left"]
    assert first["torque_path.weakest"].startswith("weakest element: ")
    assert f"torque_path {first['torque_path.weakest']} " in words
    assert f"structure {first['structure.weakest.mount_left']} " in words


@pytest.mark.parametrize("demo", some(["hillclimb", "pickup", "electric"]))
def test_check_sends_nobody_to_measure_what_measure_says_no_instrument_gives(trialfit, demo, request):
    """Both ask the same instruments: every fact that check wants measured is one that an instrument gives better."""
    file = request.getfixturevalue(demo)
    words = " ".join(trialfit("check", file, "--draws", 64).out.split())
    listed = trialfit("measure", file, "--draws", 64, "--json").json["measurements"]
    out_of_reach = [one["path"] for one in listed if not one["instrument"] and one["now"]]

    assert out_of_reach
    assert "next: Measure " in words
    for path in out_of_reach:
        assert f"Measure {path} " not in words


def test_the_summary_counts_what_is_on_the_page(trialfit, hillclimb, report):
    out = " ".join(trialfit("check", hillclimb).out.split())
    counts = [sum(one["verdict"] == verdict for one in report["findings"]) for verdict in WORST_FIRST]

    assert (
        f"{len(report['findings'])} findings: {counts[0]} fail, {counts[1]} unsettled, {counts[2]} unknown, {counts[3]} hold"
        in out
    )


@pytest.mark.parametrize("words", [("check",), ("check", "--figures"), ("facts",), ("measure", "--draws", "64")])
def test_no_line_is_longer_than_the_terminal(trialfit, hillclimb, words):
    out = trialfit(words[0], hillclimb, *words[1:]).out

    assert max(map(len, out.splitlines())) <= 80
    assert not any(line.endswith(" ") for line in out.splitlines())
    assert "\x1b" not in out


def test_only_the_subjects_asked_for_are_shown(trialfit, hillclimb):
    found = trialfit("check", hillclimb, "--subject", "driveline", "--subject", "gearing", "--json").json["findings"]

    assert {finding["subject"] for finding in found} == {"gearing", "driveline"}


def test_a_wrong_subject_is_answered_with_the_nearest(trialfit, hillclimb):
    ran = trialfit("check", hillclimb, "--subject", "gear")

    assert (ran.code, ran.err) == (2, 'subject: unknown subject "gear": did you mean "gearing"?\n')


def test_figures_are_shown_when_asked_for(trialfit, hillclimb, report):
    out = trialfit("check", hillclimb, "--figures").out

    assert all(f"figure     {figure['id']}" in out for figure in report["figures"])
    without = trialfit("check", hillclimb).out
    assert "figure     " not in without
    assert f"; {len(report['figures'])} figures without a limit (--figures)." in " ".join(without.split())


def test_more_draws_leave_the_nominal_values_alone(trialfit, hillclimb, report):
    """Draw 0 is the value as written."""
    more = trialfit("check", hillclimb, "--draws", 300, "--json").json

    assert more["draws"] == 300
    for one, other in zip(report["figures"], more["figures"], strict=True):
        if one["subject"] != "torque_path":  # some of its figures are shares of the draws
            assert (one["value"] or {}).get("nominal") == (other["value"] or {}).get("nominal")


def test_the_python_report_is_the_one_of_the_command(hillclimb, report):
    import trialfit as tf

    assert json.loads(tf.evaluate(tf.read(hillclimb)).model_dump_json()) == report


def test_each_verdict_has_a_line_of_its_own_also_in_ascii():
    assert len({*MARKS.values()}) == len({*PLAIN.values()}) == len(Verdict)
    assert all(mark.isascii() for mark in PLAIN.values())
