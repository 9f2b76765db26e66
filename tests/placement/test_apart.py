"""Lower bounds of distances, pair by pair, and the pairs that are left out because they cannot be the nearest."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from thorough import some

from trialfit.placement.apart import PILOT, Bounds, Side
from trialfit.placement.distance import Slots
from trialfit.placement.draws import BEYOND, CLOSE, Drawn, near_enough
from trialfit.placement.pose import turn_of
from trialfit.placement.solids import box, capsule, cone, cylinder, hull

DRAWS = 500
PIECES = (
    box(0.2, 0.12, 0.1),
    cylinder(0.12, 0.3, (0.02, 0, 0), along="y"),
    capsule(0.08, 0.4),
    cone(0.1, 0.2, 0.3),
    hull(np.random.default_rng(0).normal(size=(12, 3)) * 0.07),
)


def rocking(pieces, at, rng) -> Drawn:
    """Pieces in three states, each draw with its own place, tilt and rocking."""
    tilts = np.radians(0.3) * rng.normal(size=(3, DRAWS))
    rock = 0.02 + 0.002 * rng.normal(size=DRAWS)
    tilts[:, 0], rock[0] = 0, 0.02
    turns = turn_of(*tilts)
    states = [turn_of(sign * rock, 0 * rock, 0 * rock) @ turns for sign in (0, 1, -1)]
    shifts = np.asarray(at) + 1e-3 * rng.normal(size=(DRAWS, 3))
    shifts[0] = at
    return Drawn(tuple(pieces), np.stack(states, axis=1), np.repeat(shifts[:, None], 3, axis=1))


def pairs_of(one, other):
    """The two sides, every pair of their parts, nominal distances and nearest points of these."""
    slots = Slots([*one.pieces, *other.pieces])
    sides = Side(one, slots, 0), Side(other, slots, len(one.pieces))
    parts = [each.ravel() for each in np.meshgrid(*(np.arange(len(side.piece)) for side in sides), indexing="ij")]
    points = np.zeros((parts[0].size, 6))
    return sides, parts, asked(sides, parts, 0, points), points


def asked(sides, parts, draw, points=None):
    """The distances of pairs in a draw, by the distance library."""
    placed = [side.posed(part, np.full(part.size, draw)) for side, part in zip(sides, parts, strict=True)]
    numbers = [side.piece[part] for side, part in zip(sides, parts, strict=True)]
    return sides[0].slots.distances(*numbers, *placed, points=points)


def bounds_of(sides, parts, distance, points) -> Bounds:
    return Bounds(*sides, *parts, (points[:, :3] - points[:, 3:]) / distance[:, None], points)


@pytest.mark.parametrize("left", range(len(PIECES)))
@pytest.mark.parametrize("right", range(len(PIECES)))
def test_no_bound_is_above_its_distance_and_the_nominal_one_is_the_distance(left, right):
    rng = np.random.default_rng(left * 7 + right)
    way = rng.normal(size=3)
    sides, parts, distance, points = pairs_of(
        rocking(PIECES[left : left + 1], (0, 0, 0), rng),
        rocking(PIECES[right : right + 1], 0.5 * way / np.linalg.norm(way), rng),
    )
    bounds = bounds_of(sides, parts, distance, points)
    found = bounds.of(np.arange(parts[0].size))

    assert found[:, 0] == pytest.approx(distance, abs=2e-5)
    assert found[:, :PILOT] == pytest.approx(bounds.pilot, abs=1e-12)
    for draw in range(0, DRAWS, 50):
        assert (found[:, draw] <= asked(sides, parts, draw) + 1e-6).all()


@settings(max_examples=some(40))
@given(st.integers(0, 10**6))
def test_the_pairs_left_out_are_the_nearest_in_no_draw(seed):
    """Several pieces in several states: the smallest distance of the pairs that stay is that of all pairs, in every draw."""
    rng = np.random.default_rng(seed)
    chosen = [PIECES[n] for n in rng.choice(len(PIECES), size=2, replace=False)]
    way = rng.normal(size=3)
    one = rocking(chosen, (0, 0, 0), rng)
    other = rocking([PIECES[int(rng.integers(len(PIECES)))]], 0.45 * way / np.linalg.norm(way), rng)
    sides, parts, distance, points = pairs_of(one, other)
    bounds = bounds_of(sides, parts, distance, points)
    of_all = np.array([asked(sides, parts, draw) for draw in range(DRAWS)])
    off = (of_all[:PILOT].min(axis=1) - bounds.pilot.min(axis=0)).max()
    kept = near_enough(bounds.pilot, bounds.linear, off - CLOSE)

    assert of_all[:, kept].min(axis=1) == pytest.approx(of_all.min(axis=1), abs=CLOSE + 1e-6)


def test_of_pairs_that_stay_side_by_side_one_is_enough_and_one_that_crosses_stays():
    """Four pairs in 1000 draws: a second one 1 mm beyond the first, the third as near as the first, the fourth nearer in one draw alone."""
    rng = np.random.default_rng(3)
    first = 0.02 + 1e-3 * rng.normal(size=1000)
    crossing = first + 1e-3
    crossing[777] = first[777] - 1e-3
    linear = np.array([first, first + 1e-3, first, crossing])

    assert near_enough(linear[:, :PILOT], lambda: linear, -2e-5).tolist() == [0, 3]
    assert near_enough(linear[:, :PILOT], lambda: linear, 0.5e-3).tolist() == [0, 2, 3]


def test_what_first_order_does_not_explain_keeps_a_pair():
    """Bounds that scatter about the first order by a quarter of what they are beyond may well be nearer in another draw."""
    rng = np.random.default_rng(4)
    linear = np.array([np.zeros(1000), np.full(1000, 1e-3)])
    scatter = rng.normal(size=PILOT)
    for share, kept in ((0.9, [0]), (1.3, [0, 1])):
        bounds = linear[:, :PILOT].copy()
        bounds[1] += share * 1e-3 / BEYOND * (scatter - scatter.mean()) / scatter.std()
        assert near_enough(bounds, lambda: linear, 0.0).tolist() == kept
