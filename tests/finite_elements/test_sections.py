"""Sections by finite elements against the closed forms they stand in for."""

from __future__ import annotations

import numpy as np
import pytest

from trialfit.finite_elements.sections import constants_of_walls
from trialfit.handbook.structure.sections import box, channel
from trialfit.handbook.structure.walled_sections import read_walls, thin_walls

SQUARE = [(-0.024, -0.024), (0.024, -0.024), (0.024, 0.024), (-0.024, 0.024)]
ROUND = read_walls("1-2, 2-3, 3-4, 4-1")


def test_a_square_tube_is_worth_what_geometry_says() -> None:
    """Area and second moments are exact; torsion is what thin walls say and a little more."""
    found, closed = constants_of_walls(SQUARE, ROUND, [0.002] * 4), box(0.050, 0.050, 0.002)

    assert found.area == pytest.approx(closed.area, rel=1e-9)
    assert found.upright == pytest.approx(closed.upright, rel=1e-9)
    assert found.sideways == pytest.approx(closed.sideways, rel=1e-9)
    assert 1.0 < found.torsion / closed.torsion < 1.03


def test_upright_and_sideways_are_not_mixed_up() -> None:
    """A channel with its web upright is stiffer against an upright load."""
    corners = [(0.030, 0.0), (0.0, 0.0), (0.0, 0.077), (0.030, 0.077)]
    found = constants_of_walls(corners, read_walls("1-2, 2-3, 3-4"), [0.003] * 3)

    assert found.upright > 3 * found.sideways
    assert found.upright == pytest.approx(channel(0.033, 0.080, 0.003).upright, rel=1e-9)


def test_two_cells_agree_with_the_flow_round_each() -> None:
    """A box with a wall through it: thin-wall flows and finite elements know nothing of each other."""
    corners = [(0.0, 0.0), (0.06, 0.0), (0.10, 0.0), (0.10, 0.05), (0.06, 0.05), (0.0, 0.05)]
    joins = read_walls("1-2, 2-3, 3-4, 4-5, 5-6, 6-1, 2-5")
    walls = [0.0015, 0.0015, 0.002, 0.0015, 0.0015, 0.0015, 0.001]
    found = constants_of_walls(corners, joins, walls)
    across, upright = np.array(corners).T

    assert thin_walls(across, upright, joins, np.array(walls)).torsion == pytest.approx(found.torsion, rel=0.03)


def test_walls_that_do_not_meet_are_refused_in_one_sentence() -> None:
    """Two sheets side by side are not a section."""
    with pytest.raises(ValueError, match="do not hang together"):
        constants_of_walls([(0, 0), (0.05, 0), (0, 0.03), (0.05, 0.03)], read_walls("1-2, 3-4"), [0.001, 0.001])
