"""Sections by finite elements against the closed forms they stand in for."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest

from trialfit.finite_elements.sections import constants_of_walls
from trialfit.handbook.structure.sections import box, channel
from trialfit.handbook.structure.walled_sections import read_walls, thin_walls

SQUARE = [(-0.024, -0.024), (0.024, -0.024), (0.024, 0.024), (-0.024, 0.024)]
ROUND = read_walls("1-2, 2-3, 3-4, 4-1")
RECORDED = json.loads(Path(__file__).with_name("library_sections.json").read_text(encoding="utf-8"))


@pytest.mark.parametrize("section", RECORDED, ids=lambda section: section["name"])
def test_open_and_closed_sections_are_worth_what_another_library_found(section) -> None:
    """Torsion within 0.35 % of its finest mesh and 0.3 % of its usual one, the rest within seven figures. See SOURCES.md."""
    corners = [(x * 1e-3, y * 1e-3) for x, y in section["corners"]]
    found = constants_of_walls(corners, read_walls(section["walls"]), [wall * 1e-3 for wall in section["thickness"]])

    assert found.area * 1e6 == pytest.approx(section["area"], rel=1e-6)
    assert found.upright * 1e12 == pytest.approx(section["upright"], rel=1e-6)
    assert found.sideways * 1e12 == pytest.approx(section["sideways"], rel=1e-6)
    assert 0.9999 < found.torsion * 1e12 / section["torsion_fine"] < 1.0035
    assert found.torsion * 1e12 == pytest.approx(section["torsion"], rel=0.003)


# Closed form for a rectangle: J = a·b³·(1/3 − 0.21·(b/a)·(1 − b⁴/(12·a⁴))), within 0.3 %. Roark's Formulas, table of torsion (from memory).
def test_a_flat_bar_twists_as_the_closed_form_says() -> None:
    """60 × 6 mm with square ends."""
    found = constants_of_walls([(0.0, 0.0), (0.0, 0.054)], read_walls("1-2"), [0.006])
    long, wide = 60.0, 6.0
    closed = long * wide**3 * (1 / 3 - 0.21 * wide / long * (1 - wide**4 / (12 * long**4)))

    assert found.torsion * 1e12 == pytest.approx(closed, rel=3e-3)


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
