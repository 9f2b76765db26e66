"""Verdicts on margins with a spread."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from trialfit.book import read_text
from trialfit.evaluation.evaluation import Evaluation
from trialfit.evaluation.requirement import Between, Requirement, Stake
from trialfit.evaluation.verdict import FAILS_TO, HOLDS_FROM, Verdict, judge, share_kept
from trialfit.evaluation.working import work_out
from trialfit.facts.quantity import LENGTH


def wheelbase(ev):
    """The taped wheelbase of the car: 2.400 ± 0.010 m."""
    return ev(ev.build.parts["car"].wheelbase)


@pytest.mark.parametrize(
    ("at_least", "verdict"),
    [(2.385, Verdict.holds), (2.395, Verdict.unsettled), (2.405, Verdict.unsettled), (2.415, Verdict.fails)],
)
def test_the_spread_decides_between_holds_unsettled_and_fails(build, judged, at_least, verdict) -> None:
    """Well inside holds, well outside fails, and within the spread it is unsettled on either side."""
    assert judged(build, wheelbase, at_least=at_least).verdict is verdict


def test_safety_wants_a_wider_guard_band(build, judged) -> None:
    """11 mm inside a ± 10 mm spread is enough for durability, not for safety."""
    assert judged(build, wheelbase, at_least=2.389).verdict is Verdict.holds
    assert judged(build, wheelbase, at_least=2.389, stake=Stake.safety).verdict is Verdict.unsettled


def test_exact_facts_make_plain_verdicts(build, judged) -> None:
    """Without spread there is nothing to be unsettled about, and on the limit is within it."""

    def track(ev):
        return ev(ev.build.parts["car"].rear_track)

    assert judged(build, track, at_most=1.4).verdict is Verdict.holds
    assert judged(build, track, at_most=1.399).verdict is Verdict.fails


def test_the_margin_says_how_far_and_on_which_side(build, judged) -> None:
    """Positive is on the right side, whichever side that is."""
    assert judged(build, wheelbase, at_least=2.3).margin.nominal == pytest.approx(0.1)
    assert judged(build, wheelbase, at_most=2.3).margin.nominal == pytest.approx(-0.1)


def test_between_two_bounds_the_nearer_one_is_shown(build) -> None:
    """The limit is the bound that the nominal value is nearest to, with that bound's own spread; both decide."""
    band = Between(lambda ev: ev(ev.build.parts["car"].mass) / 500, 2.41)
    requirement = Requirement(
        id="test.band",
        about="car",
        says="in the band",
        value=wheelbase,
        quantity=LENGTH,
        stake=Stake.comfort,
        limit=band,
        source=None,
        unit="m",
    )
    finding = work_out(Evaluation(build), [requirement])["test.band"]

    assert (finding.limit.low, finding.limit.high) == (2.41, 2.41)
    assert finding.side == "between"
    assert finding.margin.nominal == pytest.approx(0.01)


def test_an_interval_holds_95_percent(build, judged) -> None:
    """The interval of a normal spread is the ± that was written."""
    value = judged(build, wheelbase, at_least=2.0).value

    assert value.low == pytest.approx(2.3902, abs=2e-4)
    assert value.high == pytest.approx(2.4098, abs=2e-4)
    assert value.unit == "m"


def test_a_missing_fact_is_unknown_and_named(build, judged) -> None:
    """The finding says which fact to get and what it means."""

    def rear(ev):
        return ev(ev.build.parts["car"].rear_axle_mass)

    finding = judged(build, rear, at_least=1.0)
    assert finding.verdict is Verdict.unknown
    assert finding.missing == {"car.rear_axle_mass": "load on both rear wheels together, on level ground, as driven"}
    assert finding.value is None


def test_outside_the_range_of_a_formula_is_unknown(build, judged) -> None:
    """A nominal that is not a number has no verdict, and says so."""
    finding = judged(build, lambda ev: wheelbase(ev) * float("nan"), at_least=1.0)

    assert finding.verdict is Verdict.unknown
    assert "are outside the range of the formula" in finding.remark


def test_the_bound_may_be_uncertain_too(build, judged) -> None:
    """A limit that rests on a fact brings its spread into the margin."""

    def limit(ev):
        return ev(ev.build.parts["car"].mass) / 400

    finding = judged(build, wheelbase, at_least=limit)
    assert [fact.path for fact in finding.facts] == ["car.mass", "car.wheelbase"]
    assert finding.limit.high > finding.limit.nominal
    assert finding.verdict is Verdict.unsettled


def test_a_typical_value_in_use_is_said(judged) -> None:
    """A verdict that stands on a typical value carries a remark."""
    build = read_text("[car]\n")
    finding = judged(build, lambda ev: ev(build.parts["car"].centre_of_mass_height), at_least=0.1)

    assert "typical values used for car.centre_of_mass_height" in finding.remark
    assert finding.typical == ("car.centre_of_mass_height",)


@given(st.floats(0, 1), st.floats(0, 1), st.sampled_from(Stake))
@settings(max_examples=200)
def test_keeping_the_limit_more_often_never_makes_a_verdict_worse(one, other, stake) -> None:
    """fails, unsettled, holds: in this order as the share rises."""
    order = [Verdict.fails, Verdict.unsettled, Verdict.holds]
    low, high = sorted([one, other])

    assert order.index(judge(low, stake)) <= order.index(judge(high, stake))


@pytest.mark.parametrize(
    ("share", "stake", "verdict"),
    [
        (0.024, Stake.comfort, Verdict.fails),
        (0.026, Stake.comfort, Verdict.unsettled),
        (0.974, Stake.durability, Verdict.unsettled),
        (0.976, Stake.durability, Verdict.holds),
        (0.976, Stake.safety, Verdict.unsettled),
        (0.994, Stake.safety, Verdict.unsettled),
        (0.996, Stake.safety, Verdict.holds),
    ],
)
def test_the_thresholds_are_those_of_the_two_sided_interval(share, stake, verdict) -> None:
    """2.5 % and 97.5 %: the ends of the 95 % interval (JCGM 106, ISO 14253-1); 99.5 % for safety is common practice."""
    assert judge(share, stake) is verdict


def test_the_thresholds_leave_room_for_unsettled() -> None:
    """For every stake the share that fails lies below the share that holds."""
    assert all(share > FAILS_TO for share in HOLDS_FROM.values())


def test_a_verdict_rests_on_the_draws_and_on_the_nominal_where_it_stands_alone() -> None:
    """A draw that keeps its limit exactly keeps it; one outside of a formula does not."""
    assert share_kept(np.array([-1.0, 1.0])) == 1.0
    assert share_kept(np.array([1.0, -1.0])) == 0.0
    assert share_kept(np.array([-1.0])) == 0.0
    assert share_kept(np.array([0.0])) == 1.0
    assert share_kept(np.array([1.0, 0.0, np.nan, -0.1, 0.1])) == 0.5


def test_the_ends_of_the_thresholds_belong_to_the_plain_verdicts() -> None:
    assert judge(0.025, Stake.comfort) is Verdict.fails
    assert judge(0.975, Stake.durability) is Verdict.holds
    assert judge(0.975, Stake.safety) is Verdict.unsettled
    assert judge(0.995, Stake.safety) is Verdict.holds
