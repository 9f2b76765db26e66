"""The frame solver behind our own words: against beam formulas, statics, and in every direction."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest

from trialfit.finite_elements.frames import Member, solve
from trialfit.handbook.structure.frame_work import work_of_members

YOUNG, SHEAR = 200e9, 77e9
AREA, UPRIGHT, SIDEWAYS, TORSION = 384e-6, 150e-9, 90e-9, 220e-9


RECORDED = json.loads(Path(__file__).with_name("library_frames.json").read_text(encoding="utf-8"))


@pytest.mark.parametrize("frame", RECORDED, ids=lambda frame: frame["name"])
def test_frames_in_space_answer_as_another_library_found(frame) -> None:
    """Within six figures of the largest of each kind: posts, arms on the way of others, scattered nodes. See SOURCES.md."""
    found = solve(
        np.array(frame["places"]),
        frame["held"],
        [Member(*member) for member in frame["members"]],
        [tuple(load) for load in frame["loads"]],
    )

    assert list(found.member) == frame["member"]
    for kind in ("length", "inside", "moved", "turned", "reactions"):
        wanted = np.array(frame[kind])
        assert np.abs(getattr(found, kind).ravel() - wanted).max() < 1e-6 * np.abs(wanted).max(), kind


def arm(start=0, end=1):
    """A member of one section."""
    return Member(start, end, AREA, UPRIGHT, SIDEWAYS, TORSION, YOUNG, SHEAR)


@pytest.mark.parametrize(("axis", "moment"), [("z", UPRIGHT), ("y", SIDEWAYS)])
def test_an_arm_bends_as_the_beam_formula_says(axis, moment) -> None:
    """F·L³/(3·E·I), with the I that belongs to the direction of the load."""
    frame = solve(np.array([[0.0, 0, 0], [0.7, 0, 0]]), ["fixed", "free"], [arm()], [(1, axis)])

    assert frame.moved[0, 1]["xyz".index(axis)] == pytest.approx(0.7**3 / (3 * YOUNG * moment), rel=1e-6)


def test_a_pull_stretches_and_the_root_answers() -> None:
    """F·L/(E·A); the reaction is the load turned round."""
    frame = solve(np.array([[0.0, 0, 0], [0.0, 0.7, 0]]), ["fixed", "free"], [arm()], [(1, "y")])

    assert frame.moved[0, 1] == pytest.approx([0, 0.7 / (YOUNG * AREA), 0], rel=1e-6, abs=1e-15)
    assert frame.reactions[0, 0] == pytest.approx([0, -1, 0], abs=1e-9)


def test_a_load_on_a_side_arm_twists_the_member() -> None:
    """An L in plan: the first leg carries the torque F·b and the moment F·L, the end drops by bending, twist and bending."""
    places = np.array([[0.0, 0, 0], [0.6, 0, 0], [0.6, 0.3, 0]])
    frame = solve(places, ["fixed", "free", "free"], [arm(0, 1), arm(1, 2)], [(2, "z")])
    bending = (0.6**3 + 0.3**3) / (3 * YOUNG * UPRIGHT)
    twist = 0.3**2 * 0.6 / (SHEAR * TORSION)

    assert frame.moved[0, 2, 2] == pytest.approx(bending + twist, rel=1e-6)
    assert np.abs(frame.inside[0, 0, 1]) == pytest.approx([0.3, 0.3], rel=1e-6)
    assert np.abs(frame.inside[0, 0, 3]) == pytest.approx([0.6, 0.0], rel=1e-6, abs=1e-9)


def test_work_of_the_members_adds_up_to_the_movement() -> None:
    """Virtual work over the forces inside gives the displacement the solver found, in a frame that is over-held."""
    places = np.array([[0.0, 0, 0], [0.5, 0.1, 0.2], [1.0, 0, 0], [0.5, 0.6, 0.0]])
    members = [arm(0, 1), arm(1, 2), arm(1, 3)]
    frame = solve(places, ["fixed", "free", "fixed", "pinned"], members, [(1, "z"), (1, "x")])
    stiffness = np.array([YOUNG * AREA, SHEAR * TORSION, YOUNG * SIDEWAYS, YOUNG * UPRIGHT])
    parts = work_of_members(frame.inside[0], frame.inside[1], frame.length[:, None], stiffness)

    assert parts.sum() == pytest.approx(frame.moved[0, 1, 0], rel=1e-6)


def test_a_node_on_the_way_of_a_member_is_joined_to_it() -> None:
    """A beam with a node in its middle is one member in two pieces: F·L³/(192·E·I)."""
    places = np.array([[0.0, 0, 0], [0.8, 0, 0], [0.4, 0, 0]])
    frame = solve(places, ["fixed", "fixed", "free"], [arm(0, 1)], [(2, "z")])

    assert list(frame.member) == [0, 0]
    assert frame.length == pytest.approx([0.4, 0.4])
    assert frame.moved[0, 2, 2] == pytest.approx(0.8**3 / (192 * YOUNG * UPRIGHT), rel=1e-6)


def test_a_frame_that_can_move_is_refused_in_one_sentence() -> None:
    """Nothing holds the member against turning about its one held end."""
    with pytest.raises(ValueError, match="not held fast"):
        solve(np.array([[0.0, 0, 0], [0.7, 0, 0]]), ["pinned", "free"], [arm()], [(1, "z")])


def test_a_node_that_no_member_meets_is_refused_in_one_sentence() -> None:
    """A loose node has no stiffness at all."""
    with pytest.raises(ValueError, match="join what hangs loose"):
        solve(np.array([[0.0, 0, 0], [0.7, 0, 0], [0, 1, 0]]), ["fixed", "free", "free"], [arm()], [(1, "z")])


def test_members_without_any_length_are_refused_in_one_sentence() -> None:
    """Both nodes of the only member lie in one place."""
    with pytest.raises(ValueError, match="not held fast"):
        solve(np.zeros((2, 3)), ["fixed", "free"], [arm()], [(1, "z")])


def test_a_short_stub_at_the_end_of_a_long_arm_is_no_mechanism() -> None:
    """2 m and 1 mm: far apart in stiffness, and held fast all the same."""
    frame = solve(
        np.array([[0.0, 0, 0], [2.0, 0, 0], [2.001, 0, 0]]),
        ["fixed", "free", "free"],
        [arm(), arm(1, 2)],
        [(2, "z")],
    )

    assert frame.moved[0, 2, 2] == pytest.approx(2.001**3 / (3 * YOUNG * UPRIGHT), rel=1e-4)
