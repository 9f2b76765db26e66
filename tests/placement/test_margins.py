"""Margins of a pose: gradients against differences, near pairs that leave nothing out, spreads against Monte Carlo."""

from __future__ import annotations

import numpy as np
import pytest
from thorough import some

from trialfit.placement.distance import Stage
from trialfit.placement.margins import Margins
from trialfit.placement.pose import turn_of
from trialfit.placement.problem import Gap, Measures, Problem
from trialfit.placement.rocking import Motion, corners, rocking
from trialfit.placement.solids import AT_REST, Movement, Solid, box, capsule, cylinder, hull


def scene(seed=2, moving=6, fixed=10):
    """Random solids with random spreads, some of them rocking."""
    rng = np.random.default_rng(seed)

    def solid(name, spread, states):
        at, turn = rng.uniform(-spread, spread, 3), turn_of(*rng.uniform(-1, 1, 3))
        make = (
            lambda: box(*rng.uniform(0.1, 0.4, 3), at=at, turn=turn),
            lambda: cylinder(*rng.uniform(0.1, 0.4, 2), at=at, turn=turn),
            lambda: capsule(0.08, rng.uniform(0.2, 0.6), at=at, turn=turn),
            lambda: hull(rng.normal(size=(12, 3)) * 0.12, at=at, turn=turn),
        )[rng.integers(4)]
        root = rng.normal(size=(3, 3)) * 1e-3
        tilt = rng.normal(size=(3, 3)) * 2e-3
        return Solid(name, (make(),), root @ root.T, tilt @ tilt.T, at, 2e-4, states)

    motion = Motion(*np.array([[0.02], [0.004], [0.0]]), at=np.zeros((3, 1)))
    turns, shifts = rocking(motion, corners(motion.moves))
    on_mounts = tuple(Movement(turns[:, :, n, 0], shifts[:, n, 0]) for n in range(shifts.shape[1]))
    group = tuple(solid(f"m{n}", 0.3, on_mounts if n % 2 else (AT_REST,)) for n in range(moving))
    car = tuple(solid(f"f{n}", 1.2, (AT_REST,)) for n in range(fixed))
    gaps = tuple(Gap(f"{one.name}-{other.name}", one.name, other.name, 0.01) for one in group for other in car)
    return Problem(group, car, gaps, np.zeros(6), np.full(6, 0.3))


@pytest.mark.parametrize("seed", range(4))
def test_gradients_are_those_of_central_differences(seed):
    margins = Margins(scene(seed))
    pose = np.array([0.02, -0.03, 0.01, 0.05, -0.08, 0.1])
    pairs = margins.near(pose, 300.0)
    rows = margins.rows(pose, pairs)
    apart = np.flatnonzero(rows.distance > 1e-3)
    assert apart.size > 20
    for axis in range(6):
        step = np.eye(6)[axis] * 1e-6
        slope = (margins.rows(pose + step, pairs).margin - margins.rows(pose - step, pairs).margin) / 2e-6
        error = np.abs(slope - rows.gradient[:, axis])[apart] * margins.sigma[pairs][apart]
        assert np.quantile(error, 0.95) < 1e-4


@pytest.mark.parametrize("seed", range(6))
def test_no_pair_that_is_left_out_could_be_the_worst(seed):
    """The smallest margin by the near pairs is that of all pairs, at many poses."""
    margins = Margins(scene(seed))
    rng = np.random.default_rng(seed)
    for _ in range(40):
        pose = rng.uniform(-0.3, 0.3, 6)
        everything = margins.rows(pose, np.arange(margins.first.size))
        assert margins.worst(pose) == pytest.approx(everything.margin.min())
        assert (margins.bounds(pose) <= everything.margin + 1e-6).all()


def test_the_spread_to_first_order_is_that_of_monte_carlo():
    """Thousands of draws of place and tilt of both solids with exact distances, for pairs that are apart: within 12 %."""
    problem = scene(9, 4, 6)
    margins = Margins(problem)
    pose = np.array([0.0, 0.0, 0.0, 0.1, -0.05, 0.2])
    rows = margins.rows(pose, np.arange(margins.first.size))
    linear = np.sqrt(margins.variance(pose, rows))
    rng = np.random.default_rng(1)
    compared = []
    for row in np.flatnonzero((rows.distance > 0.03) & (rows.distance < 0.6))[:12]:
        one = problem.moving[margins.moving_solid[margins.first[row]]]
        other = problem.fixed[margins.fixed_solid[margins.second[row] - margins.split]]
        piece = margins._moving[margins.first[row]]  # noqa: SLF001 - the piece in its state
        found = drawn_distances(piece, one, other, pose, rng)
        compared.append(np.hypot(0, linear[row]) / np.sqrt(found.var() + one.size_sigma**2 + other.size_sigma**2))
    assert np.abs(np.median(compared) - 1) < 0.04
    assert np.max(np.abs(np.array(compared) - 1)) < 0.12


def drawn_distances(piece, one, other, pose, rng):
    """Distances with both solids shifted and tilted about their own point, each draw placed anew."""
    stage = Stage([piece, *other.pieces])
    group = turn_of(*pose[3:])
    found = np.empty(some(4000))
    for draw in range(found.size):
        for number, solid, outer, shift in ((0, one, group, pose[:3]), (1, other, np.eye(3), np.zeros(3))):
            tilt = turn_of(*rng.multivariate_normal(np.zeros(3), solid.turn_covariance))
            away = rng.multivariate_normal(np.zeros(3), solid.place_covariance)
            turn = outer @ tilt
            stage.place(slice(number, number + 1), turn, outer @ (solid.about - tilt @ solid.about + away) + shift)
        found[draw] = stage.distances([0], [1])[0][0]
    return found


def test_at_contact_a_direction_is_still_known():
    """Two faces that just touch: the gradient is finite and points apart."""
    problem = Problem(
        (Solid("a", (box(0.2, 0.2, 0.2),)),),
        (Solid("b", (box(0.2, 0.2, 0.2, (0.2, 0, 0)),)),),
        (Gap("g", "a", "b", 0.0),),
        np.zeros(6),
        np.ones(6),
    )
    rows = Margins(problem).rows(np.zeros(6), np.array([0]))

    assert np.isfinite(rows.gradient).all()
    assert rows.gradient[0, 0] < 0


def test_a_spread_below_a_millimetre_is_not_believed():
    problem = Problem(
        (Solid("a", (box(0.2, 0.2, 0.2),)),),
        (Solid("b", (box(0.2, 0.2, 0.2, (0.5, 0, 0)),)),),
        (Gap("g", "a", "b", 0.1),),
        np.zeros(6),
        np.ones(6),
    )

    assert Margins(problem).worst(np.zeros(6)) == pytest.approx((0.3 - 0.1) / 1e-3)


def test_measures_count_towards_their_side_and_can_be_eased():
    block = Measures(
        ("x least", "z most"),
        lambda poses: poses[:, [0, 2]],
        np.array([0.1, 0.4]),
        np.array([1.0, -1.0]),
        np.array([0.01, 0.02]),
        ("length", "length"),
    )
    problem = Problem(
        (Solid("a", (box(0.1, 0.1, 0.1),)),),
        (Solid("b", (box(0.1, 0.1, 0.1, (9, 0, 0)),)),),
        (),
        np.zeros(6),
        np.ones(6),
        (block,),
    )
    pose = np.array([0.13, 0, 0.3, 0, 0, 0])

    assert Margins(problem).rows(pose, np.zeros(0, int)).margin == pytest.approx([3.0, 5.0])
    assert Margins(problem.with_eased("x least", 0.02)).rows(pose, np.zeros(0, int)).margin == pytest.approx([5.0, 5.0])
    assert Margins(problem.only(["z most"])).rows(pose, np.zeros(0, int)).margin == pytest.approx([5.0])


def test_near_pairs_are_never_missed_on_a_walk():
    """The boxes are looked at now and then only: what lies below the ceiling is among the near pairs at every step."""
    rng = np.random.default_rng(11)
    moving = tuple(Solid(f"m{n}", (box(*rng.uniform(0.05, 0.2, 3), rng.uniform(-0.3, 0.3, 3)),)) for n in range(6))
    fixed = tuple(Solid(f"f{n}", (box(*rng.uniform(0.05, 0.2, 3), rng.uniform(-0.8, 0.8, 3)),)) for n in range(12))
    gaps = tuple(Gap(f"{a.name} {b.name}", a.name, b.name, 0.01) for a in moving for b in fixed)
    margins = Margins(Problem(moving, fixed, gaps, np.zeros(6), np.full(6, 0.2)))
    every = np.arange(margins.first.size)
    pose = np.zeros(6)
    for _ in range(60):
        pose = pose + 2e-3 * rng.normal(size=6)
        below = np.flatnonzero(margins.rows(pose, every).margin < 30)
        assert np.isin(below, margins.near(pose, 30.0)).all()
