"""Oil in a pan: volumes against an independent hull, balance of the surface, signs, and what is refused."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.spatial import ConvexHull, HalfspaceIntersection

from trialfit.handbook.constants import STANDARD_GRAVITY as G
from trialfit.handbook.oil.oil_pan import (
    mouth_gap,
    pickup_cover,
    slosh_frequency,
    surface_level,
    surface_slopes,
    uncovered_at,
    volume_below,
)

SIDES = st.tuples(st.floats(0.1, 0.6), st.floats(0.1, 0.6), st.floats(0.05, 0.3))
SLOPES = st.tuples(st.floats(-2.0, 2.0), st.floats(-2.0, 2.0))
BOX = (0.30, 0.24, 0.16)


def hull_volume(box, slopes, level):
    """Volume of box and half-space by scipy; the point inside lies a little off the lowest corner of the oil."""
    length, width, depth = box
    fall_x, fall_y = slopes
    spaces = np.array(
        [
            [1, 0, 0, -length / 2],
            [-1, 0, 0, -length / 2],
            [0, 1, 0, -width / 2],
            [0, -1, 0, -width / 2],
            [0, 0, 1, -depth],
            [0, 0, -1, 0],
            [fall_x, fall_y, 1, -level],
        ]
    )
    deep = np.array([-np.copysign(length / 2, fall_x), -np.copysign(width / 2, fall_y), 0.0])
    over = level - fall_x * deep[0] - fall_y * deep[1]
    inward = np.array([-np.copysign(length, deep[0]), -np.copysign(width, deep[1]), depth])
    share = min(0.25, 0.25 * over / (abs(fall_x) * length + abs(fall_y) * width + depth))
    corners = HalfspaceIntersection(spaces, deep + share * inward).intersections
    return ConvexHull(corners).volume


@given(box=SIDES, slopes=SLOPES, filled=st.floats(0.03, 0.97))
def test_volume_is_that_of_the_hull(box, slopes, filled) -> None:
    """Scipy's half-space intersection and convex hull share nothing with the counting of corners."""
    assume(min(map(abs, slopes)) > 1e-3)
    lean = (abs(slopes[0]) * box[0] + abs(slopes[1]) * box[1]) / 2
    level = -lean + filled * (2 * lean + box[2])
    expected = hull_volume(box, slopes, level)

    assert volume_below(*box, *slopes, level) == pytest.approx(expected, rel=1e-6, abs=1e-11)


@given(box=SIDES, slopes=SLOPES, filled=st.floats(0.001, 0.999))
def test_level_holds_the_oil_there_is(box, slopes, filled) -> None:
    """The surface found has the volume under it that was asked for."""
    volume = filled * np.prod(box)

    assert volume_below(*box, *slopes, surface_level(volume, *box, *slopes)) == pytest.approx(
        volume, rel=1e-8, abs=1e-11
    )


@given(
    x=st.floats(-0.1, 0.1), y=st.floats(-0.08, 0.08), heading=st.floats(0, 2 * np.pi), inclination=st.floats(-0.2, 0.2)
)
def test_cover_is_used_up_at_the_end_that_was_found(x, y, heading, inclination) -> None:
    """Two ways to it: halving the acceleration, and halving the level at that acceleration."""
    mouth = (x, y, 0.008, 0.05)
    end = uncovered_at(0.004, BOX, mouth, heading, inclination=inclination, cover=0.01)
    assume(0 < end < np.inf)
    slopes = surface_slopes(end * np.cos(heading), end * np.sin(heading), inclination)

    assert pickup_cover(surface_level(0.004, *BOX, *slopes), *slopes, *mouth) == pytest.approx(0.01, abs=1e-6)


def test_slow_or_fast_the_first_end_is_found() -> None:
    """Against a fine walk along each direction with the level found anew at each step."""
    rates = np.linspace(0, 2 * G, 2001)
    mouth = (0.05, 0.03, 0.012, 0.04)
    for heading in np.linspace(0, 2 * np.pi, 9):
        slopes = surface_slopes(rates * np.cos(heading), rates * np.sin(heading))
        bare = np.asarray(pickup_cover(surface_level(0.0035, *BOX, *slopes), *slopes, *mouth)) < 0
        walked = rates[np.argmax(bare)] if bare.any() else np.inf

        assert uncovered_at(0.0035, BOX, mouth, heading) == pytest.approx(walked, abs=0.0011 * G)


def test_oil_goes_where_a_passenger_is_pushed() -> None:
    """Braking bares a pickup at the back, a left-hand bend one on the left; pulling away covers the one at the back."""
    behind, left = (-0.10, 0.0, 0.01, 0.0), (0.0, 0.08, 0.01, 0.0)

    assert uncovered_at(0.004, BOX, behind, np.pi) < uncovered_at(0.004, BOX, behind, 0.0)
    assert uncovered_at(0.004, BOX, left, np.pi / 2) < uncovered_at(0.004, BOX, left, -np.pi / 2)
    assert uncovered_at(0.004, BOX, behind, 0.0) == np.inf


def test_a_pan_that_drops_rearwards_keeps_its_oil_behind() -> None:
    """At rest the surface is level in the world: in the pan it rises by tan i towards the rear."""
    assert surface_slopes(0.0, 0.0, np.radians(5.0)) == pytest.approx((np.tan(np.radians(5.0)), 0.0))
    level, tilted = (uncovered_at(0.004, BOX, (-0.1, 0, 0.01, 0), np.pi, inclination=i) for i in (0.0, 0.08))
    assert tilted > level


def test_bare_at_rest_is_nothing_and_draws_stay_apart() -> None:
    """2 l in 720 cm² stand 27.8 mm high: a mouth at 30 mm is bare at rest, one at 20 mm is not."""
    ends = uncovered_at(0.002, BOX, (0.0, 0.0, np.array([0.030, 0.020, 0.2]), 0.0), 0.0)

    assert ends[0] == 0
    assert ends[1] > 0
    assert np.isnan(ends[2])


@pytest.mark.parametrize(
    "value",
    [
        surface_slopes(0.0, 0.0, 0.5)[0],
        surface_slopes(3 * G, 0.0)[0],
        volume_below(-0.1, 0.2, 0.1, 0.0, 0.0, 0.05),
        surface_level(0.02, *BOX, 0.0, 0.0),
        surface_level(0.0, *BOX, 0.0, 0.0),
        pickup_cover(0.06, 0, 0, 0, 0, -0.01, 0.05),
        uncovered_at(0.02, BOX, (0, 0, 0.01, 0.05), 0.0),
        uncovered_at(0.004, BOX, (0.2, 0, 0.01, 0.05), 0.0),
        uncovered_at(0.004, BOX, (0, 0, 0.01, 0.05), 0.0, inclination=0.5),
        uncovered_at(0.004, BOX, (0, 0, 0.01, 0.05), np.nan),
        slosh_frequency(0.0, 0.05),
        slosh_frequency(0.3, -0.05),
        mouth_gap(0.019, 0.0),
    ],
)
def test_outside_of_its_range_a_formula_gives_nan(value) -> None:
    """No clip, no extrapolation."""
    assert np.isnan(value)


def test_more_oil_than_a_leaning_surface_leaves_room_for_fills_the_box() -> None:
    """A level far above is the whole box, one far below is nothing."""
    assert volume_below(*BOX, 0.5, 0.8, np.array([9.0, -9.0])) == pytest.approx([np.prod(BOX), 0.0], abs=1e-12)
