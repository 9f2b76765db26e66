"""What to measure next: the right fact, the right instrument, and a promise that is kept when it is measured."""

from __future__ import annotations

import math

import pytest

from trialfit.advice.instruments import instruments
from trialfit.advice.supposing import fact_at, supposed
from trialfit.advice.what_to_measure import Measurement, Outcome, Settling, _article, measure_list, measure_next, order
from trialfit.advice.writing_down import needed
from trialfit.evaluation.requirement import Stake
from trialfit.subjects.catalogue import evaluate


def _by_path(build) -> dict[str, Measurement]:
    return {one.path: one for one in measure_next(build)}


def test_nothing_is_to_be_measured_where_everything_is_settled(build):
    assert measure_next(build()) == ()


def test_one_fact_with_all_the_doubt_is_measured_with_the_easiest_tool_that_will_do(build):
    found = measure_next(build(length="1190 mm, guess"))

    assert [one.path for one in found] == ["prop_shaft.length"]
    assert found[0].instrument == "steel tape"
    assert found[0].spread == "± 2 mm"
    assert found[0].now == "1190 mm, guess"
    assert found[0].write == 'prop_shaft.length "… mm, taped"'


def test_no_spread_is_asked_for_where_the_value_stands_on_its_limit(build):
    """None is small enough: the list must not fall over it."""
    assert needed(fact_at(build(length="1190 mm, guess"), "prop_shaft.length"), 0.0) == ""


def test_the_spread_needed_is_that_of_the_guard_band(build):
    """One straight line, all doubt from one fact: 10 mm of margin is U·1.960/2 for durability, 30 mm is U·2.576/2 for safety."""
    (found,) = measure_next(build(length="1190 mm, guess"))

    needed = {one.finding: one.spread_needed for one in found.findings}
    assert needed["bench.reach"] == f"± {math.floor(2 * 10 / 1.96)} mm"
    assert needed["bench.reach.again"] == f"± {math.floor(2 * 30 / 2.5758)} mm"


def test_the_spread_needed_leaves_room_for_the_doubt_of_the_other_facts(build):
    """Of 2 mm of margin the overlap's 2 mm (k = 2) use up a part: √((2/1.96)² - 1²)·2 is left for the gap."""
    (found,) = measure_next(build(slip_gap="12 mm, guess", spline_overlap="10 ± 2 mm"))

    assert found.path == "prop_shaft.slip_gap"
    needed = float(found.findings[0].spread_needed.split()[1])
    assert needed == pytest.approx(2 * math.sqrt((2 / 1.96) ** 2 - 1), rel=0.2)


def test_the_easiest_tool_is_passed_over_where_it_is_too_coarse(build):
    (found,) = measure_next(build(spline_overlap="10.4 mm, taped", slip_gap="10.75 ± 0.01 mm"))

    assert found.path == "prop_shaft.spline_overlap"
    assert found.instrument == "depth gauge"
    assert found.findings[0].would is Outcome.would_hold


def test_where_one_measurement_is_not_enough_the_fewest_are_named_together(build):
    found = _by_path(build(slip_gap="11 ± 3 mm", spline_overlap="10 ± 2.5 mm"))

    assert set(found) == {"prop_shaft.slip_gap", "prop_shaft.spline_overlap"}
    (gap,) = found["prop_shaft.slip_gap"].findings
    assert gap.together_with == ("prop_shaft.spline_overlap",)
    assert gap.would is Outcome.would_hold


def test_the_spread_needed_has_two_digits_rounded_down_so_that_it_is_enough(build):
    """1.95 mm of margin ask for 2·1.95/1.96 = 1.99 mm: "± 2 mm" would not do."""
    (found,) = measure_next(build(slip_gap="11.95 mm, guess", spline_overlap="10 ± 0.001 mm"))

    assert found.findings[0].spread_needed == "± 1.9 mm"


def test_what_only_its_maker_can_tell_comes_after_what_can_be_measured_at_the_same_stake():
    """A rating nobody has does not head the list for ever."""
    entries = [
        _entry("hub.rated_torque", Stake.safety, is_asked=True, cost=1),
        _entry("shaft.length", Stake.safety, is_asked=False, cost=3),
        _entry("clutch.rated_torque", Stake.durability, is_asked=True, cost=1),
        _entry("shaft.slip_gap", Stake.durability, is_asked=False, cost=2),
    ]

    assert [one.path for one in sorted(entries, key=order)] == [
        "shaft.length",
        "hub.rated_torque",
        "shaft.slip_gap",
        "clutch.rated_torque",
    ]


def _entry(path: str, stake: Stake, *, is_asked: bool, cost: int) -> Measurement:
    """A measurement that makes one finding possible."""
    serves = Settling(
        finding="bench.gap",
        says="",
        stake=stake,
        would=Outcome.can_be_worked_out,
        share=0.0,
        spread_needed="",
        together_with=(),
    )
    empty = dict.fromkeys(("meaning", "now", "spread_now", "spread", "source", "write", "helps"), "")
    return Measurement(
        **empty, path=path, instrument="tool", cost=cost, is_asked=is_asked, stake=stake, findings=(serves,)
    )


def test_a_measurement_can_settle_that_a_finding_fails(build):
    (found,) = measure_next(build(slip_gap="8 mm, guess", spline_overlap="9 ± 0.1 mm"))

    assert found.findings[0].would is Outcome.would_fail


def test_a_fact_that_serves_two_findings_comes_once(build):
    (found,) = measure_next(build(length="1190 mm, guess"))

    assert [one.finding for one in found.findings] == ["bench.reach.again", "bench.reach"]
    assert found.settles == 2
    assert found.stake is Stake.safety


def test_what_no_instrument_gives_is_said_with_what_would_help(build):
    found = _by_path(build(mass="1000 ± 1 kg", tyre_friction="0.9 ± 0.1"))["car.tyre_friction"]

    assert found.instrument == ""
    assert found.settles == 0
    assert "Judge the finding for the surface you drive on" in found.helps


def test_an_unknown_finding_asks_for_the_fact_and_names_the_tool(build):
    (found,) = [one for one in measure_next(build(length=None)) if one.path == "prop_shaft.length"]

    assert found.now == ""
    assert found.instrument == "steel tape"
    assert {one.would for one in found.findings} == {Outcome.can_be_worked_out}


def test_an_unknown_finding_asks_for_the_part_where_there_is_none(build):
    (found,) = measure_next(build(circumference=None))

    assert found.path == "tyre"
    assert found.helps == "A tyre is missing: add a table [tyre] with its facts."


def test_two_missing_facts_of_one_finding_name_each_other(build):
    found = _by_path(build(slip_gap=None, spline_overlap=None))

    assert found["prop_shaft.slip_gap"].findings[0].together_with == ("prop_shaft.spline_overlap",)
    assert found["prop_shaft.spline_overlap"].findings[0].together_with == ("prop_shaft.slip_gap",)


def test_what_is_at_stake_comes_first_then_what_settles_most(build):
    found = measure_next(
        build(
            length="1190 mm, guess",
            slip_gap="12 mm, guess",
            mass="990 kg, guess",
            tyre_friction="0.9 ± 0.001",
            circumference=None,
        )
    )

    assert [one.path for one in found][:3] == ["prop_shaft.length", "tyre", "prop_shaft.slip_gap"]
    assert found[-1].path == "car.mass"
    stakes = [list(Stake).index(one.stake) for one in found if one.settles]
    assert stakes == sorted(stakes)


@pytest.mark.parametrize(
    "given",
    [
        {"length": "1190 mm, guess"},
        {"slip_gap": "12 mm, guess", "spline_overlap": "10 mm, taped"},
        {"slip_gap": "11 ± 3 mm", "spline_overlap": "10 ± 2.5 mm"},
        {"slip_gap": "8.7 mm, guess"},
        {"mass": "980 kg, guess", "tyre_friction": "0.9 ± 0.001"},
    ],
)
def test_a_promise_is_kept_when_the_whole_list_has_been_measured(build, given):
    """Every outcome promised by the list is what the whole build says once its facts have these spreads."""
    unmeasured = build(**given)
    found = measure_next(unmeasured)
    tools = {}
    for one in found:
        if one.instrument:
            tools[one.path] = next(tool for tool in instruments() if tool.name == one.instrument and tool.serves(None))
    report = evaluate(supposed(unmeasured, tools))

    promised = [(one.finding, one.would) for entry in found for one in entry.findings if one.would.startswith("would")]
    assert promised
    for finding, would in promised:
        assert f"would {report[finding].verdict.removesuffix('s')}" == would


def test_the_list_carries_the_name_of_its_build(build):
    listed = measure_list(build(length="1190 mm, guess"), draws=512)

    assert (listed.build, listed.draws, len(listed.measurements)) == ("bench", 512, 1)


def test_a_report_at_hand_is_not_worked_out_again(build, monkeypatch):
    made = build(length="1190 mm, guess")
    report = evaluate(made)
    monkeypatch.setattr("trialfit.advice.what_to_measure.evaluate", None)

    assert measure_next(made, report) == measure_next(made, report)


@pytest.mark.parametrize(("kind", "begins"), [("engine", "An engine"), ("tyre", "A tyre"), ("oil_feed", "An oil_feed")])
def test_the_article_goes_with_the_part(kind, begins):
    assert f"{_article(kind)} {kind}" == begins
