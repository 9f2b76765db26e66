"""What holds a pose, what relaxing gives, how far one can go, and what cannot hold together: cases with closed answers."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from trialfit.placement import infeasible
from trialfit.placement.binding import look, relaxations, room
from trialfit.placement.infeasible import changes, conflict
from trialfit.placement.problem import Gap, Problem
from trialfit.placement.search import improve, search
from trialfit.placement.solids import Solid, box


def between(play_y, play_z=0.2, wanted=0.01):
    """A box between two walls and under a roof; it may move across and up, the rest is held."""
    walls = {
        "left": box(1, 0.1, 1, (0, 0.1 + play_y / 2 + 0.05, 0)),
        "right": box(1, 0.1, 1, (0, -0.1 - play_y / 2 - 0.05, 0)),
        "roof": box(1, 1, 0.1, (0, 0, 0.1 + play_z + 0.05)),
        "far": box(0.1, 0.1, 0.1, (3, 0, 0)),
    }
    fixed = tuple(Solid(name, (piece,)) for name, piece in walls.items())
    gaps = tuple(Gap(name, "body", name, wanted) for name in walls)
    reach = np.array([0, 0.05, 0.05, 0, 0, 0])
    return Problem((Solid("body", (box(0.2, 0.2, 0.2),)),), fixed, gaps, np.zeros(6), reach)


def test_two_walls_hold_the_middle_half_each():
    best = search(between(0.05))

    assert best.margin == pytest.approx(15.0, abs=0.01)
    assert best.shares == pytest.approx({"left": 0.5, "right": 0.5}, abs=0.01)


def test_relaxing_one_of_two_walls_by_5_mm_gives_half_of_it():
    """The box moves 2.5 mm over: 2.5 standard deviations of 1 mm."""
    problem = between(0.05)
    found = relaxations(problem, search(problem))

    assert {one.name for one in found} == {"left", "right"}
    assert [one.gain for one in found] == pytest.approx([2.5, 2.5], abs=0.02)


def test_the_room_ends_where_a_wall_is_too_near():
    problem = between(0.05)
    across, up = room(problem, np.zeros(6))

    assert (across.axis, across.breaks_down, across.breaks_up) == ("y", "right", "left")
    assert (across.down, across.up) == pytest.approx((0.015, 0.015), abs=1e-5)
    assert (up.down, up.up, up.breaks_up) == (0.05, 0.05, "")


def test_everything_is_seen_with_its_nearest_points_in_words():
    seen = {one.name: one for one in look(between(0.05), np.zeros(6))}

    assert seen["left"].margin == pytest.approx(0.015)
    assert seen["left"].where.startswith("body ")
    assert "left" in seen["left"].where.split(",")[0]
    assert seen["far"].value == pytest.approx(2.85)


def test_too_narrow_names_the_two_walls_and_no_more():
    """12 mm of play for two gaps of 10 mm: 8 mm are missing."""
    problem = between(0.012)
    best = search(problem)

    assert best.margin == pytest.approx(-4.0, abs=0.01)
    assert set(conflict(problem, best)) == {"left", "right"}


def test_the_least_change_is_what_is_missing():
    problem = between(0.012)
    found = changes(problem, search(problem), ("left", "right"))

    assert [one.by for one in found] == pytest.approx([0.008, 0.008], abs=2e-5)


def test_one_requirement_can_be_impossible_alone():
    """The roof is lower than the window lets the box go down."""
    problem = between(0.1, play_z=-0.06)
    best = search(problem)

    assert conflict(problem, best) == ("roof",)
    (change,) = changes(problem, best, ("roof",))
    assert change.by == pytest.approx(0.02, abs=2e-5)


def test_what_no_single_change_cures_is_said():
    """Both pairs of walls are too narrow: easing one wall alone leaves the other pair."""
    problem = between(0.012)
    ends = (Solid("front", (box(0.1, 1, 1, (0.155, 0, 0)),)), Solid("rear", (box(0.1, 1, 1, (-0.155, 0, 0)),)))
    both = replace(
        problem,
        fixed=(*problem.fixed, *ends),
        gaps=(*problem.gaps, Gap("front", "body", "front", 0.01), Gap("rear", "body", "rear", 0.01)),
    )

    (change,) = changes(both, search(both), ("left",))
    assert change.by is None


def test_nothing_is_in_conflict_where_everything_fits():
    problem = between(0.05)

    assert conflict(problem, search(problem)) == ()


def test_a_search_for_any_place_that_fits_stops_at_the_first():
    """Whether there is one is answered with fewer poses than which is the best; where there is none the answer is the same."""
    roomy, narrow = between(0.05), between(0.012)
    best, any_place = search(roomy), search(roomy, enough=0.0)

    assert any_place.margin == pytest.approx(best.margin)
    assert any_place.evaluations < best.evaluations
    assert search(narrow, enough=0.0).margin == pytest.approx(search(narrow).margin)


def test_the_least_change_takes_few_trials(monkeypatch):
    """Each trial is a search of its own: secants need a handful, where halving takes a dozen and more."""
    problem, trials = between(0.012), []
    best = search(problem)
    monkeypatch.setattr(infeasible, "improve", lambda *asked: trials.append(asked) or improve(*asked))
    (change,) = changes(problem, best, ("left",))

    assert change.by == pytest.approx(0.008, abs=2e-5)
    assert len(trials) <= 6


def test_a_tie_is_broken_towards_lower():
    """Up and down are free while the walls decide: the lowest place of the window is taken."""
    best = search(between(0.05))

    assert best.pose[2] == pytest.approx(-0.05, abs=1e-4)
