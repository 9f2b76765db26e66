"""One requirement in several states of the car: each draw is judged by its own worst, and the worst state is named."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from trialfit.book import read_text
from trialfit.evaluation.evaluation import Evaluation
from trialfit.evaluation.requirement import (
    COMMON_PRACTICE,
    AtLeast,
    AtMost,
    Between,
    Limit,
    Requirement,
    Source,
    SourceKind,
    Stake,
)
from trialfit.evaluation.states import InStates, as_states, crossed
from trialfit.evaluation.verdict import Verdict
from trialfit.evaluation.working import margin_of, work_out
from trialfit.facts.quantity import LENGTH

CAR = '[car]\nwheelbase = "2.40 m ± 10 mm, taped"\nfront_track = "1.4 m ± 10 mm, taped"\nrear_track = "1.4 m ± 10 mm, taped"\n'
CODE = Source("a code of practice", SourceKind.published)
NAMES = ("as weighed", "laden")


def tracks(ev: Evaluation) -> InStates:
    """1.400 ± 0.010 m in both states, drawn apart."""
    car = ev.build.parts["car"]
    return InStates(np.stack(ev.each(car.front_track, car.rear_track), axis=-1), NAMES)


def lengths(*nominal: float):
    """The wheelbase, moved to these nominal values, a state each."""

    def value(ev: Evaluation) -> InStates:
        moved = ev(ev.build.parts["car"].wheelbase)[:, None] - 2.4 + np.array(nominal)
        return InStates(moved, NAMES[: len(nominal)])

    return value


STATED = Requirement(
    "test.one",
    "car",
    "long enough",
    lengths(2.4, 2.3),
    LENGTH,
    Stake.durability,
    AtLeast(2.2),
    COMMON_PRACTICE,
    unit="mm",
)


def found(requirement: Requirement, draws: int = 1024, **options):
    return work_out(Evaluation(read_text(CAR), draws), [requirement], **options).result("test.one")


def test_the_worst_state_is_named_and_its_numbers_are_shown() -> None:
    finding = found(STATED)

    assert (finding.verdict, finding.state) == (Verdict.holds, "laden")
    assert (finding.value.nominal, finding.margin.nominal) == pytest.approx((2300, 100))
    assert [one.state for one in finding.states] == ["laden", "as weighed"]
    assert [one.margin.nominal for one in finding.states] == pytest.approx([100, 200])
    assert finding.limits[0].state == "laden"


def test_one_state_that_fails_is_enough() -> None:
    finding = found(replace(STATED, value=lengths(2.4, 2.1)))

    assert (finding.verdict, finding.share_ok, finding.state) == (Verdict.fails, 0.0, "laden")
    assert [one.share_ok for one in finding.states] == [0.0, 1.0]


def test_a_car_must_keep_the_limit_in_all_states_at_once() -> None:
    """Each state alone is kept by 98.6 % of the draws, which would hold: both by 97.2 %, which does not."""
    nearly = AtLeast(1.4 - 2.2 * 0.005)
    finding = found(replace(STATED, value=tracks, limit=nearly), draws=4096)

    assert [one.share_ok for one in finding.states] == pytest.approx([0.986, 0.986], abs=2e-3)
    assert finding.share_ok == pytest.approx(0.986**2, abs=2e-3)
    assert finding.verdict is Verdict.unsettled
    one_alone = replace(STATED, value=lambda ev: tracks(ev).values[:, 0], limit=nearly)
    assert found(one_alone, draws=4096).verdict is Verdict.holds


def test_a_bound_can_be_in_the_same_states_while_the_value_is_not() -> None:
    bound = AtMost(lambda ev: InStates(np.full((ev.draws, 2), [2.5, 2.35]), NAMES))
    finding = found(replace(STATED, value=lambda ev: ev(ev.build.parts["car"].wheelbase), limit=bound))

    assert (finding.verdict, finding.state, finding.limit.nominal) == (Verdict.fails, "laden", 2350)
    assert found(replace(STATED, limit=bound)).verdict is Verdict.holds


def test_between_two_bounds_the_nearer_one_is_that_of_each_state() -> None:
    finding = found(replace(STATED, limit=Between(2.2, 2.45)))

    assert [(one.state, one.limit.nominal) for one in finding.states] == [("as weighed", 2450), ("laden", 2200)]


def test_a_limit_with_a_load_state_counts_in_states_of_that_name_alone() -> None:
    """The code asks for 2.35 m laden: as weighed 2.4 m would keep it, laden 2.3 m does not."""

    def code(state: str) -> Requirement:
        return replace(STATED, also=(Limit("code", AtLeast(2.35), CODE, load_state=state),))

    assert found(code("laden")).verdict is Verdict.fails
    as_weighed = found(code("as weighed"))
    assert [(one.id, one.state) for one in as_weighed.limits] == [("code", "as weighed"), ("stated", "laden")]
    assert [one.id for one in found(code("towing")).limits] == ["stated"]
    plain = replace(code("towing"), value=lambda ev: ev(ev.build.parts["car"].wheelbase))
    assert [one.id for one in found(plain).limits] == ["code", "stated"]


def test_a_limit_counts_in_every_joined_state_of_its_name() -> None:
    def value(ev: Evaluation) -> InStates:
        return crossed(
            np.full((ev.draws, 2, 2), [[9.0, 8.0], [7.0, 6.0]]), ("empty", "laden"), ("1st gear", "2nd gear")
        )

    code = Limit("code", AtLeast(6.5), CODE, load_state="laden")
    finding = found(replace(STATED, value=value, also=(code,)))

    assert (finding.verdict, finding.state) == (Verdict.fails, "laden, 2nd gear")
    assert [one.state for one in finding.states] == ["laden, 2nd gear", "laden, 1st gear"]


def test_where_a_formula_ends_in_one_state_nobody_can_say_unless_another_one_fails() -> None:
    unknown = found(replace(STATED, value=lengths(2.4, np.nan)))
    assert (unknown.verdict, unknown.state, unknown.value, unknown.share_ok) == (Verdict.unknown, "laden", None, None)

    fails = found(replace(STATED, value=lengths(2.1, np.nan)))
    assert (fails.verdict, fails.state, fails.margin.nominal) == (Verdict.fails, "as weighed", pytest.approx(-100))


def test_a_value_and_a_bound_in_different_states_are_a_defect() -> None:
    other = AtMost(lambda ev: InStates(np.zeros((ev.draws, 2)), ("empty", "laden")))
    with pytest.raises(ValueError, match="a value and its bound are in different states: .*weighed.*against.*empty"):
        found(replace(STATED, limit=other))
    with pytest.raises(ValueError, match=r"values of shape \(4, 3\) for 2 states: expected \(draws, states\)"):
        InStates(np.zeros((4, 3)), NAMES)


def test_one_draw_can_stand_for_all() -> None:
    assert as_states(InStates(np.zeros((1, 2)), NAMES), 8).values.shape == (8, 2)
    assert as_states(3.0, 8).names == ("",)


def test_the_margin_alone_is_that_of_each_draws_worst_state() -> None:
    ev = Evaluation(read_text(CAR), 64)
    margin = margin_of(ev, replace(STATED, value=tracks, limit=AtLeast(1.4)))

    assert margin == pytest.approx(tracks(ev).values.min(axis=1) - 1.4)


def test_a_figure_is_shown_in_the_state_that_a_limit_would_ask_for() -> None:
    figure = replace(STATED, limit=None, source=None)

    assert (found(figure).state, found(figure).value.nominal) == ("as weighed", pytest.approx(2400))
    least = found(replace(figure, turned_by=AtLeast))
    assert (least.state, least.value.nominal) == ("laden", pytest.approx(2300))


def test_the_states_of_what_holds_are_left_out_with_its_facts() -> None:
    assert found(STATED, all_facts=False).states == ()
    assert len(found(replace(STATED, value=lengths(2.4, 2.1)), all_facts=False).states) == 2
