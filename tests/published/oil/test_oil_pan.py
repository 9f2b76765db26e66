"""Oil in a pan against volumes of scipy's HalfspaceIntersection and ConvexHull, and against formulas worked by hand.

The check sump is 0.30 × 0.24 × 0.16 m. Levels and ends were found beforehand by halving on the volumes of
scipy.spatial (1.17.1): HalfspaceIntersection for the corners of the oil, ConvexHull for its volume.
"""

from __future__ import annotations

import numpy as np
import pytest

from trialfit.handbook.constants import STANDARD_GRAVITY as G
from trialfit.handbook.oil.oil_pan import (
    mouth_gap,
    pickup_cover,
    slosh_frequency,
    surface_level,
    surface_slopes,
    uncovered_at,
)

BOX = (0.30, 0.24, 0.16)


# scipy.spatial volumes; the first is also 4.5 l over 720 cm².
@pytest.mark.parametrize(
    ("litres", "forward", "left", "level"),
    [
        (4.5, 0.0, 0.0, 62.50),
        (4.5, 0.5, 0.0, 61.93),
        (4.5, 0.5, 0.8, 55.19),
        (4.5, -1.0, 0.0, 47.19),
        (3.0, 1.0, 0.0, 8.11),
    ],
)
def test_level_over_the_middle_of_the_floor(litres, forward, left, level) -> None:
    """In mm, to the two places that were written down."""
    slopes = surface_slopes(forward * G, left * G)

    assert 1000 * surface_level(litres / 1000, *BOX, *slopes) == pytest.approx(level, abs=0.006)


# scipy.spatial volumes: level 61.93 mm, less 0.5 × 90 mm, less 10 mm.
def test_cover_of_a_pickup_in_front() -> None:
    """A point 90 mm in front of the middle, 10 mm over the floor, at 0.5 g forwards: 6.93 mm."""
    level = surface_level(0.0045, *BOX, 0.5, 0.0)

    assert 1000 * pickup_cover(level, 0.5, 0.0, 0.09, 0.0, 0.010, 0.0) == pytest.approx(6.93, abs=0.006)


# scipy.spatial volumes.
@pytest.mark.parametrize(("litres", "end"), [(4.5, 0.5646), (3.0, 0.3457)])
def test_end_of_the_cover_forwards(litres, end) -> None:
    """In g, to four places."""
    assert uncovered_at(litres / 1000, BOX, (0.09, 0.0, 0.010, 0.0), 0.0) / G == pytest.approx(end, abs=6e-5)


# scipy.spatial volumes: at 0, 0.4, 0.8 g to the left the cover ends at 0.565, 0.309, 0.010 g forwards.
@pytest.mark.parametrize(("left", "forward"), [(0.0, 0.565), (0.4, 0.309), (0.8, 0.010)])
def test_the_envelope_is_not_a_box(left, forward) -> None:
    """Along the ray through both, to 0.5 % of the whole."""
    end = uncovered_at(0.0045, BOX, (0.09, 0.06, 0.010, 0.0), np.arctan2(left, forward)) / G

    assert end == pytest.approx(np.hypot(left, forward), abs=1e-3)


# Linear theory of waves in a rectangular basin, from memory; worked by hand.
def test_first_slosh() -> None:
    """0.30 m from wall to wall, 62.5 mm deep: 1.223 Hz."""
    assert slosh_frequency(0.30, 0.0625) == pytest.approx(1.223, abs=5e-4)


# Geometry: 19²/(4 × 60) = 1.504; worked by hand.
def test_gap_of_the_same_area_as_the_bore() -> None:
    """A bore of 19 mm and a mouth of 60 mm: 1.504 mm."""
    assert 1000 * mouth_gap(0.019, 0.060) == pytest.approx(1.504, abs=5e-4)
