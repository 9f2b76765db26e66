"""Gaps of surfaces in draws: against placing the surfaces anew; crossing, swallowed and concave ones."""

from __future__ import annotations

import numpy as np
import pytest
import trimesh

from trialfit.placement.draws import Drawn, gap_draws
from trialfit.placement.meshes import Triangles
from trialfit.placement.pose import turn_of
from trialfit.placement.solids import box, cylinder
from trialfit.placement.surfaces import mesh_gap, surface_of

DRAWS = 200
ARMS = (box(0.3, 0.1, 0.1), box(0.1, 0.3, 0.1, (-0.1, 0.2, 0)))
FAT_ARMS = (box(0.32, 0.12, 0.12), box(0.12, 0.32, 0.12, (-0.1, 0.2, 0)))
"""Pieces that stick out by 10 mm, as those of a scan do."""


def _l_shape() -> Triangles:
    parts = [
        trimesh.creation.box(2 * np.array(arm.size), trimesh.transformations.translation_matrix(arm.position))
        for arm in ARMS
    ]
    mesh = trimesh.util.concatenate(parts)
    return Triangles(np.array(mesh.vertices, float), np.array(mesh.faces, np.int64), closed=True)


def _still(pieces, at, surface=None, draws=DRAWS):
    return Drawn(
        pieces, np.tile(np.eye(3), (draws, 1, 1, 1)), np.tile(np.asarray(at, float), (draws, 1, 1)), surface=surface
    )


def _moving(rng, at, states=1):
    turns = turn_of(*(0.004 * rng.normal(size=(3, DRAWS))))
    shifts = np.asarray(at) + 1e-3 * rng.normal(size=(DRAWS, 3))
    turns[0], shifts[0] = np.eye(3), at
    steps = np.array([[0, 0, 0], [0.004, 0, 0]])[:states]
    return Drawn(FAT_ARMS, np.repeat(turns[:, None], states, axis=1), shifts[:, None] + steps, surface=_l_shape())


@pytest.mark.parametrize("states", [1, 2])
def test_each_draw_is_that_of_the_surfaces_placed_anew(states):
    """An L round a post: the pieces stick out by 10 mm, the gap of the surface is right to 0.2 mm, and exact near the limit."""
    one, post = (
        _moving(np.random.default_rng(1), (0.0, 0.0, 0.0), states),
        _still((cylinder(0.05, 0.4, along="z"),), (0.05, 0.15, 0)),
    )
    surface = surface_of(post.pieces)
    truth = np.array(
        [
            min(
                mesh_gap(
                    Triangles(
                        one.surface.points @ one.turns[n, s].T + one.shifts[n, s], one.surface.triangles, closed=True
                    ),
                    Triangles(surface.points + post.shifts[n, 0], surface.triangles, closed=True),
                )
                for s in range(states)
            )
            for n in range(DRAWS)
        ]
    )
    found = gap_draws(one, post, float(truth[0]))

    assert found == pytest.approx(truth, abs=2e-4)
    near = np.abs(truth - truth[0]).argsort()[:50]
    assert found[near] == pytest.approx(truth[near], abs=1e-6)
    assert found[0] == pytest.approx(0.075 - 0.004 * (states - 1), abs=3e-4)


def test_the_pieces_alone_would_have_judged_otherwise():
    """What the surface settles, the pieces would have failed: they stick out by 10 mm."""
    one, post = (
        _moving(np.random.default_rng(1), (0.0, 0.0, 0.0)),
        _still((cylinder(0.05, 0.4, along="z"),), (0.05, 0.15, 0)),
    )
    pieces = Drawn(one.pieces, one.turns, one.shifts)

    assert gap_draws(one, post, 0.07)[0] > 0.07 > gap_draws(pieces, post, 0.07)[0]


def test_crossing_surfaces_have_the_depth_of_their_pieces():
    one = _still(ARMS, (0, 0, 0), _l_shape())

    assert gap_draws(one, _still((box(0.1, 0.1, 0.1),), (0.19, 0, 0)), 0.01) == pytest.approx(
        np.full(DRAWS, -0.01), abs=1e-6
    )


def test_a_part_swallowed_whole_is_no_gap():
    one = _still(ARMS, (0, 0, 0), _l_shape())

    assert (gap_draws(one, _still((box(0.02, 0.02, 0.02),), (0.1, 0, 0)), 0.01) < 0).all()
    assert (gap_draws(_still((box(0.02, 0.02, 0.02),), (-0.1, 0.2, 0)), one, 0.01) < 0).all()


def test_the_surface_of_pieces_is_closed_and_as_large_as_they_are():
    found = surface_of((box(0.3, 0.2, 0.1),))

    assert trimesh.Trimesh(found.points, found.triangles).is_watertight
    assert found.size.tolist() == pytest.approx([0.3, 0.2, 0.1])
