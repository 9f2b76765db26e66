"""How sections behave: signs, limits of validity, and one way of working them out against another."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from trialfit.handbook.structure.sections import box, channel, flat, round_tube, same_mass
from trialfit.handbook.structure.wall_torsion import closed_torsion_constant
from trialfit.handbook.structure.walled_sections import read_walls, thin_walls


@given(width=st.floats(0.02, 0.2), height=st.floats(0.02, 0.2), share=st.floats(0.02, 0.09))
def test_a_box_by_its_corners_is_the_same_box(width: float, height: float, share: float) -> None:
    """Mid-lines between corners against the difference of two rectangles: the corners' own share is small."""
    wall = share * min(width, height)
    half_width, half_height = (width - wall) / 2, (height - wall) / 2
    across = np.array([-1, 1, 1, -1]) * half_width
    upright = np.array([-1, -1, 1, 1]) * half_height
    by_walls = thin_walls(across, upright, read_walls("1-2, 2-3, 3-4, 4-1"), np.full(4, wall))
    whole = box(width, height, wall)

    assert by_walls.area == pytest.approx(whole.area, rel=1e-9)
    assert by_walls.upright == pytest.approx(whole.upright, rel=0.02)
    assert by_walls.torsion == pytest.approx(whole.torsion, rel=0.02)


def test_a_wall_right_through_the_middle_bears_no_torsion() -> None:
    """By symmetry the flows of both halves cancel in it: only its own strip is added."""
    across = np.array([0.0, 0.05, 0.10, 0.10, 0.05, 0.0])
    upright = np.array([0.0, 0.0, 0.0, 0.05, 0.05, 0.05])
    open_box = read_walls("1-2, 2-3, 3-4, 4-5, 5-6, 6-1")
    divided = thin_walls(across, upright, (*open_box, (1, 4)), np.full(7, 0.002)).torsion
    plain = thin_walls(across, upright, open_box, np.full(6, 0.002)).torsion

    assert divided - plain == pytest.approx(0.05 * 0.002**3 / 3, rel=1e-6)


def test_where_the_section_stands_does_not_matter() -> None:
    """Moved across and up, everything stays: the centroid moves along."""
    across, upright = np.array([0.03, 0.0, 0.0, 0.03]), np.array([0.0, 0.0, 0.077, 0.077])
    joins, walls = read_walls("1-2, 2-3, 3-4"), np.full(3, 0.003)
    here, there = thin_walls(across, upright, joins, walls), thin_walls(across + 1, upright - 2, joins, walls)

    assert [there.upright, there.sideways, there.torsion] == pytest.approx([here.upright, here.sideways, here.torsion])


def test_a_channel_against_its_three_strips() -> None:
    """The same channel by outside sizes and by mid-lines: apart by its corners."""
    across, upright = np.array([0.0285, 0.0, 0.0, 0.0285]), np.array([0.0, 0.0, 0.077, 0.077])
    strips = thin_walls(across, upright, read_walls("1-2, 2-3, 3-4"), np.full(3, 0.003))
    whole = channel(0.030, 0.080, 0.003)

    assert strips.area == pytest.approx(whole.area, rel=1e-6)
    assert strips.upright == pytest.approx(whole.upright, rel=0.02)
    assert strips.sideways == pytest.approx(whole.sideways, rel=0.03)
    assert strips.torsion == pytest.approx(whole.torsion, rel=1e-6)


def test_a_channel_is_a_bar_with_a_smaller_bar_cut_out_of_it() -> None:
    """About its back b³·h/3 less the hollow, then moved to the middle of its area."""
    width, height, wall = 0.030, 0.040, 0.0048
    hollow = height - 2 * wall
    area = width * height - hollow * (width - wall)
    first = (height * width**2 - hollow * (width**2 - wall**2)) / 2
    about_back = (height * width**3 - hollow * (width**3 - wall**3)) / 3
    found = channel(width, height, wall)

    assert found.area == pytest.approx(area)
    assert found.sideways == pytest.approx(about_back - first**2 / area)
    assert found.sideways_modulus == pytest.approx(found.sideways / (width - first / area))


def test_a_thin_round_tube_agrees_with_the_closed_thin_wall() -> None:
    """Exact and Bredt meet when the wall is thin."""
    radius, wall = 0.030, 0.0005
    thin = closed_torsion_constant(np.pi * radius**2, 2 * np.pi * radius / wall)

    assert round_tube(2 * radius + wall, wall).torsion == pytest.approx(thin, rel=1e-3)


def test_draws_go_through_together_and_a_bad_one_is_nan() -> None:
    """A wall of no thickness among sound ones."""
    found = box(0.05, 0.05, np.array([0.002, 0.0, 0.02]))

    assert np.isfinite(found.torsion).tolist() == [True, False, False]
    assert np.isfinite(found.area).tolist() == [True, False, False]


def test_walls_with_spread_are_worked_out_for_every_draw() -> None:
    """Two draws at once are each what they are alone."""
    across, upright = np.array([0.0, 0.05, 0.05, 0.0]), np.array([0.0, 0.0, 0.04, 0.04])
    joins = read_walls("1-2, 2-3, 3-4, 4-1")
    walls = np.array([[0.002] * 4, [0.0025, 0.002, 0.0015, 0.002]])
    both = thin_walls(np.stack([across, across * 1.1]), np.stack([upright, upright]), joins, walls)
    second = thin_walls(across * 1.1, upright, joins, walls[1])

    assert both.torsion[1] == pytest.approx(second.torsion)
    assert both.torsion_modulus[1] == pytest.approx(second.torsion_modulus)


def test_a_square_bar_twists_as_the_series_says() -> None:
    """0.1406·a⁴, textbook series solution for a square, from memory."""
    assert flat(0.02, 0.02).torsion == pytest.approx(0.1406 * 0.02**4, rel=2e-3)


def test_the_same_steel_is_worth_most_in_a_closed_shape() -> None:
    """Closed shapes beat open ones a hundred times; all weigh the same."""
    shapes = same_mass(384e-6, 0.05)

    assert shapes["square tube"].torsion > shapes["round tube"].torsion > 50 * shapes["channel"].torsion
    assert [shape.area for shape in shapes.values()] == pytest.approx([384e-6] * 4, rel=1e-9)


@pytest.mark.parametrize("text", ["", "1", "1-1", "0-1", "1-2; 2-3", "a-b"])
def test_walls_that_cannot_be_read_say_what_is_wanted(text: str) -> None:
    """One sentence with an example."""
    with pytest.raises(ValueError, match="expected the two corners of each wall, for example"):
        read_walls(text)


def test_a_wall_to_nowhere_is_named() -> None:
    """Corner 3 of two."""
    with pytest.raises(ValueError, match="a wall ends at corner 3: there are 2 corners"):
        thin_walls(np.array([0.0, 0.1]), np.array([0.0, 0.0]), read_walls("1-2, 2-3"), np.full(2, 0.002))


@pytest.mark.parametrize("shape", [box, channel])
def test_a_wall_is_thin_by_the_smaller_side_of_the_mid_line(shape) -> None:
    """A low wide section and a high narrow one end alike: 3 mm of 20 mm is too thick for a box, 4 mm for a channel."""
    thin, thick = (0.0025, 0.0030) if shape is box else (0.0032, 0.0040)

    for width, height in ((0.1, 0.02), (0.02, 0.1)):
        assert np.isfinite(shape(width, height, thin).area)
        assert np.isnan(shape(width, height, thick).area)


def test_the_outside_of_walls_lies_half_a_wall_beyond_their_corners() -> None:
    """So that a strip has the modulus of a flat bar, b·h²/6, both ways."""
    strip = thin_walls(np.array([0.0, 0.0]), np.array([-0.03, 0.03]), read_walls("1-2"), np.array([0.004]))

    assert strip.upright == pytest.approx(0.004 * 0.06**3 / 12)
    assert strip.upright_modulus == pytest.approx(strip.upright / 0.032)
    assert strip.sideways_modulus == pytest.approx(0.06 * 0.004**2 / 6)


def test_a_flat_bar_laid_down_is_the_same_bar() -> None:
    """b·h³/12 each way, and the same twist."""
    up, down = flat(0.01, 0.06), flat(0.06, 0.01)

    assert (up.upright, up.sideways) == pytest.approx((0.01 * 0.06**3 / 12, 0.06 * 0.01**3 / 12))
    assert (down.upright, down.sideways, down.torsion) == pytest.approx((up.sideways, up.upright, up.torsion))
