"""A maker's figure replaces what is worked out; anything else that is written only makes it worse."""

from __future__ import annotations

import numpy as np
import pytest

from trialfit.book import read_text
from trialfit.evaluation.evaluation import Evaluation, MissingFact
from trialfit.evaluation.ranks import outranked
from trialfit.evaluation.states import InStates


def rated(text: str) -> Evaluation:
    return Evaluation(read_text(f"[clutch]\n{text}"), 3)


def rating(ev: Evaluation):
    return ev.build.parts["clutch"].rated_torque


@pytest.mark.parametrize(
    ("written", "side", "used"),
    [
        ("500 ± 0 N·m, manual", "strength", 500),
        ("500 ± 0 N·m, catalogue", "strength", 500),
        ("500 ± 0 N·m, guess", "strength", 281),
        ("500 ± 0 N·m", "strength", 281),
        ("500 ± 0 N·m, computed", "strength", 281),
        ("200 ± 0 N·m, guess", "strength", 200),
        ("500 ± 0 N·m, guess", "load", 500),
        ("200 ± 0 N·m, guess", "load", 281),
        ("200 ± 0 N·m, manual", "load", 200),
    ],
)
def test_only_a_maker_takes_the_place_of_what_is_worked_out(written, side, used) -> None:
    ev = rated(f'rated_torque = "{written}"')

    assert outranked(ev, rating(ev), lambda _: np.full(3, 281.0), side).tolist() == [used] * 3
    assert outranked(ev, rating(ev), np.full(3, 281.0), side).tolist() == [used] * 3


def test_what_is_missing_on_one_side_leaves_the_other() -> None:
    def nothing(ev: Evaluation):
        return ev(ev.build.parts["clutch"].clamp_load)

    written, bare = rated('rated_torque = "500 ± 0 N·m, guess"'), rated("")

    assert outranked(written, rating(written), nothing)[0] == 500
    assert outranked(written, rating(written), None)[0] == 500
    assert outranked(bare, rating(bare), np.full(3, 281.0))[0] == 281
    assert outranked(bare, None, np.full(3, 281.0))[0] == 281
    with pytest.raises(MissingFact) as both:
        outranked(bare, rating(bare), nothing)
    assert list(both.value.wanted) == ["clutch.rated_torque", "clutch.clamp_load"]
    with pytest.raises(MissingFact) as one:
        outranked(bare, None, nothing)
    assert list(one.value.wanted) == ["clutch.clamp_load"]


def test_each_state_and_each_gear_is_compared_by_itself() -> None:
    ev = rated('rated_torque = "300 ± 0 N·m, guess"')
    worked_out = np.full((3, 2), [281.0, 400.0])

    assert outranked(ev, rating(ev), worked_out).tolist() == [[281, 300]] * 3
    in_states = outranked(ev, rating(ev), InStates(worked_out, ("laden", "towing")), "load")
    assert (in_states.names, in_states.values.tolist()) == (("laden", "towing"), [[300, 400]] * 3)
