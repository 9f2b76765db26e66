"""Gaps of every draw: against placing each draw anew, and where no linear formula would do."""

from __future__ import annotations

import numpy as np
import pytest

from trialfit.placement.distance import Slots, Stage
from trialfit.placement.draws import Drawn, gap_draws, lowest_draws, nominal_gap, reach_of
from trialfit.placement.pose import turn_of
from trialfit.placement.solids import box, capsule, cone, cylinder, hull

DRAWS = 300


def drawn(piece, at, rng, sizes=None, states=((0, 0, 0),), place=2e-3, tilt=5e-3):
    """A solid with a drawn place and tilt, in several shifted states; draw 0 is the nominal."""
    turns = turn_of(*(tilt * rng.normal(size=(3, DRAWS)) + 0.2))
    shifts = np.asarray(at) + place * rng.normal(size=(DRAWS, 3))
    turns[0], shifts[0] = turn_of(0.2, 0.2, 0.2), at
    steps = np.array(states, float)
    return Drawn((piece,), np.repeat(turns[:, None], len(steps), axis=1), shifts[:, None] + steps, sizes)


def one_by_one(one, other):
    """The same by new pieces for every draw and state."""
    found = []
    for draw in range(DRAWS):
        sides = [
            [p.moved(s.turns[draw, n], s.shifts[draw, n]) for n in range(s.turns.shape[1]) for p in resized(s, draw)]
            for s in (one, other)
        ]
        stage = Stage([*sides[0], *sides[1]])
        pairs = [(a, len(sides[0]) + b) for a in range(len(sides[0])) for b in range(len(sides[1]))]
        found.append(stage.distances(*map(list, zip(*pairs, strict=True)))[0].min())
    return np.array(found)


def resized(solid, draw):
    from dataclasses import replace

    if solid.sizes is None:
        return solid.pieces
    return tuple(replace(piece, size=tuple(solid.sizes[draw])) for piece in solid.pieces)


@pytest.mark.parametrize("gap", [0.004, 0.03, -0.006])
def test_every_draw_is_that_of_the_pieces_placed_anew(gap):
    rng = np.random.default_rng(4)
    sizes = np.array([0.15, 0.1, 0.05]) + 1e-3 * rng.normal(size=(DRAWS, 3))
    sizes[0] = 0.15, 0.1, 0.05
    one = drawn(box(0.3, 0.2, 0.1), (0, 0, 0), rng, sizes, ((0, 0, 0), (0, 0, 0.005), (0, 0, -0.005)))
    other = drawn(
        hull(rng.normal(size=(15, 3)) * 0.08), (0.05, 0.0, 0.05 + 0.16 + gap), rng, None, ((0, 0, 0), (0.03, 0, 0))
    )

    assert gap_draws(one, other) == pytest.approx(one_by_one(one, other), abs=2e-5)


MANY = 2000
SHAPES = {
    "box": lambda: box(0.2, 0.1, 0.1),
    "cylinder": lambda: cylinder(0.12, 0.3),
    "capsule": lambda: capsule(0.1, 0.4, along="y"),
    "cone": lambda: cone(0.1, 0.2, 0.3),
}


def scattered(piece, at, rng, turn=(0, 0, 0)):
    """A solid as a builder tapes it, in many draws: ±2 mm, ±0.4°, its size ±1 mm (2 s), rocking and heaving."""
    turns = turn_of(*(np.radians(0.2) * rng.normal(size=(3, MANY)) + np.array(turn)[:, None]))
    shifts = np.asarray(at) + 1e-3 * rng.normal(size=(MANY, 3))
    turns[0], shifts[0] = turn_of(*turn), at
    states = [turn_of(roll, 0, 0) @ turns for roll in (0.0, 0.02, -0.02)]
    drawn_sizes = np.array(piece.size) + 0.5e-3 * rng.normal(size=(MANY, len(piece.size)))
    drawn_sizes[0] = piece.size
    return Drawn(
        (piece,),
        np.stack(states, axis=1),
        np.stack([shifts, shifts + np.array([0, 0, 0.004]), shifts - np.array([0, 0, 0.004])], axis=1),
        drawn_sizes if piece.size else None,
    )


@pytest.mark.parametrize("seed", range(12))
def test_the_verdict_of_few_distances_is_that_of_all(seed):
    """With a limit, each draw is on the side that the distance itself is on, and the middle 95 % end within 0.15 mm."""
    rng = np.random.default_rng(seed)
    names = list(SHAPES)
    one = scattered(SHAPES[names[seed % 4]](), (0, 0, 0), rng, (0, 0.05 * (seed % 3), 0.1 * (seed % 2)))
    way = rng.normal(size=3)
    other_piece = SHAPES[names[(seed // 4 + seed) % 4]]()
    other = scattered(other_piece, 0.28 * way / np.linalg.norm(way), rng, (0, 0, 0.0 if seed % 2 else 0.3))
    exact = gap_draws(one, other)

    for limit in (exact[0] - 0.01, exact[0] - 0.003, exact[0], exact[0] + 0.012):
        quick = gap_draws(one, other, limit)
        in_doubt = np.abs(exact - limit) < 3e-5  # pairs that could lower a gap by 0.02 mm are not asked
        assert ((quick >= limit) == (exact >= limit))[~in_doubt].all()
        assert np.quantile(quick, [0.025, 0.975]) == pytest.approx(np.quantile(exact, [0.025, 0.975]), abs=1.5e-4)
        assert quick.std() == pytest.approx(exact.std(), rel=0.05)
        assert quick[0] == pytest.approx(exact[0], abs=2e-5)


@pytest.mark.parametrize("beside", [box(0.2, 0.2, 0.1), capsule(0.1, 0.9)], ids=["box", "rod"])
def test_most_distances_of_a_clear_gap_are_not_asked(monkeypatch, beside):
    """A box 40 mm or more under another or under a rod in line with an edge, 12 mm wanted: a few hundred distances, not thousands."""
    asked = []
    distances = Slots.distances

    def counted(self, firsts, *rest):
        asked.append(len(firsts))
        return distances(self, firsts, *rest)

    monkeypatch.setattr(Slots, "distances", counted)
    rng = np.random.default_rng(2)
    gap_draws(scattered(box(0.3, 0.2, 0.1), (0, 0, 0), rng), scattered(beside, (0, 0, 0.14), rng), 0.012)

    assert sum(asked) < MANY / 4


def test_a_nominal_gap_is_that_of_draw_0_and_a_far_one_a_bound():
    rng = np.random.default_rng(8)
    one, other = drawn(box(0.3, 0.2, 0.1), (0, 0, 0), rng), drawn(box(0.2, 0.2, 0.1), (0, 0, 0.3), rng)

    assert nominal_gap(one, other) == pytest.approx(gap_draws(one, other)[0], abs=1e-9)
    assert 0.01 < nominal_gap(one, other, 0.01) <= nominal_gap(one, other)


def test_parallel_faces_hide_a_turn_from_every_linear_formula():
    """A 0.4 x 0.2 m box 20 mm over a plate, turned about x and y with 0.3° (1 s): mean and spread of the lowest corner in closed form."""
    rng = np.random.default_rng(0)
    count = 20000
    roll, pitch = np.radians(0.3) * rng.normal(size=(2, count))
    turns, shifts = turn_of(roll, pitch, 0 * roll), np.tile([0, 0, 0.07], (count, 1))
    turns[0] = np.eye(3)
    plate = Drawn((box(2, 2, 0.1, (0, 0, -0.05)),), np.tile(np.eye(3), (count, 1, 1, 1)), np.zeros((count, 1, 3)))
    found = gap_draws(Drawn((box(0.4, 0.2, 0.1),), turns[:, None], shifts[:, None]), plate)
    corner = 0.02 - (0.2 * np.abs(pitch) + 0.1 * np.abs(roll))

    assert found[1:] == pytest.approx(corner[1:], abs=2e-5)
    assert found.mean() < 0.0193
    assert found.std() > 0.0004


def test_the_lowest_point_of_each_shape():
    """Support functions against the deepest vertex of a finely drawn surface."""
    rng = np.random.default_rng(3)
    for piece in (box(0.3, 0.2, 0.1), cylinder(0.2, 0.4, along="y"), capsule(0.1, 0.4), hull(rng.normal(size=(9, 3)))):
        one = drawn(piece, (0, 0, 1), rng)
        ground = Drawn((box(20, 20, 2, (0, 0, -1)),), np.tile(np.eye(3), (DRAWS, 1, 1, 1)), np.zeros((DRAWS, 1, 3)))
        assert lowest_draws(one)[:20] == pytest.approx(gap_draws(one, ground)[:20], abs=1e-5)


def test_the_reach_of_a_solid_holds_all_its_states():
    rng = np.random.default_rng(3)
    low, high = reach_of(drawn(capsule(0.1, 0.4, along="z"), (0, 0, 0), rng, None, ((0, 0, 0), (0.1, 0, 0)), tilt=0))

    assert high[0] - low[0] > 0.2
    assert low[2] < -0.19


def test_a_solid_moving_in_states_is_turned_and_shifted_by_each_after_its_place():
    """Against products of the matrices one by one; what carries its points is that of a solid made of the same turns and shifts."""
    rng = np.random.default_rng(11)
    still = drawn(box(0.3, 0.2, 0.1), (0.1, 0.2, 0.3), rng)
    turns = np.stack([turn_of(*(0.1 * rng.normal(size=(3, DRAWS)))) for _ in range(3)], axis=1)
    shifts = rng.normal(size=(DRAWS, 3, 3))
    moved = still.moving(turns, shifts)

    assert moved.turns == pytest.approx(turns @ still.turns)
    assert moved.shifts == pytest.approx((turns @ still.shifts[..., None])[..., 0] + shifts)
    assert (moved.features == Drawn(moved.pieces, moved.turns.copy(), moved.shifts.copy()).features).all()


@pytest.mark.parametrize("limit", [None, 0.0, -0.002, 0.005])
def test_touching_hulls_whose_own_axes_are_one_are_as_far_apart_as_they_are_moved(limit):
    """Two cubes on a plate, given as vertices in the same axes, moved without turning: the gap is how far they are moved up."""
    rng = np.random.default_rng(0)
    cube = np.array([[x, y, z] for x in (-0.1, 0.1) for y in (-0.1, 0.1) for z in (-0.1, 0.1)])
    still = np.tile(np.eye(3), (300, 1, 1, 1))
    moved = 1e-3 * rng.normal(size=(300, 1, 3))
    moved[0] = 0
    plate = Drawn((hull(np.add(cube * (15, 15, 1), (0, 0, -0.1))),), still, np.zeros((300, 1, 3)))
    two = Drawn((hull(np.add(cube, (0.2, 0, 0.1))), hull(np.add(cube, (-0.6, 0, 0.1)))), still, moved)
    found = gap_draws(two, plate, limit)

    up = moved[:, 0, 2]
    sure = np.abs(up - (limit or 0.0)) > 3e-5
    assert limit is None or ((found >= limit) == (up >= limit))[sure].all()
    assert limit is not None or found == pytest.approx(up, abs=3e-5)
