"""Which facts can be known better, which of them could turn a failing finding, and that nobody is sent in vain."""

from __future__ import annotations

import pytest

from trialfit.advice.doubts import could_turn, doubts_of, settles
from trialfit.evaluation.verdict import Verdict
from trialfit.subjects.catalogue import evaluate


def _doubts(made, finding):
    found = evaluate(made)[finding]
    return found, *doubts_of(made, found)


@pytest.mark.parametrize(("length", "turns"), [("1203.5 ± 2 mm", True), ("1204.5 ± 2 mm", False)])
def test_a_fact_can_turn_a_finding_that_fails_by_no_more_than_twice_its_spread(build, length, turns):
    """All the doubt is the length's own: a limit of 1200 mm is within ± 4 mm of 1203.5, and not of 1204.5."""
    found, doubts, _ = _doubts(build(length=length), "bench.reach")

    assert found.verdict is Verdict.fails
    assert bool(could_turn(found, doubts)) is turns


def test_the_part_of_a_fact_is_the_root_of_its_share(build):
    """Gap minus overlap fails by 7 mm with U² = 4² + 2²: of gap and overlap, doubled, 8 mm reach the limit and 4 mm do not."""
    found, doubts, _ = _doubts(build(slip_gap="3 ± 4 mm", spline_overlap="10 ± 2 mm"), "bench.gap")

    assert found.verdict is Verdict.fails
    assert [one.path for one in could_turn(found, doubts)] == ["prop_shaft.slip_gap"]


def test_what_holds_cannot_be_turned(build):
    found, doubts, _ = _doubts(build(length="1190 mm, guess"), "bench.reach")

    assert doubts
    assert could_turn(found, doubts) == []


def test_a_fact_without_an_instrument_is_out_of_reach(build):
    _, doubts, out_of_reach = _doubts(build(tyre_friction="0.9 ± 0.1", mass="1000 kg, guess"), "bench.grip")

    assert [one.path for one in doubts] == ["car.mass"]
    assert [use.path for use in out_of_reach] == ["car.tyre_friction"]


@pytest.mark.parametrize(("length", "is_settled"), [("1190 mm, guess", True), ("1199.999 mm, guess", False)])
def test_a_finding_is_settled_where_the_tool_is_finer_than_the_margin(build, length, is_settled):
    found, doubts, _ = _doubts(build(length=length), "bench.reach")

    assert settles(found, doubts) is is_settled
