"""Sections, welds, frames and mounts against values printed or worked out elsewhere; the source stands beside each."""

from __future__ import annotations

import numpy as np
import pytest

from trialfit.finite_elements.frames import Member, solve
from trialfit.finite_elements.sections import constants_of_walls
from trialfit.handbook.constants import INCH, POUND_FORCE, STANDARD_GRAVITY
from trialfit.handbook.structure.beams import twist_of
from trialfit.handbook.structure.brackets import equivalent_stress
from trialfit.handbook.structure.mounts import torque_on_mounts, upright_loads
from trialfit.handbook.structure.sections import box
from trialfit.handbook.structure.wall_torsion import (
    closed_shear_stress,
    closed_torsion_constant,
    open_torsion_constant,
    slit_loss,
)
from trialfit.handbook.structure.walled_sections import read_walls, thin_walls
from trialfit.handbook.structure.weld_lines import weld_group
from trialfit.handbook.structure.welds import (
    allowable_shear,
    factored_strength,
    longest_leg,
    shortest_run,
    smallest_leg,
    steel,
    throat,
)

PSI = POUND_FORCE / INCH**2
KIP = 1000 * POUND_FORCE
SQUARE = [(-0.024, -0.024), (0.024, -0.024), (0.024, 0.024), (-0.024, 0.024)]


# Mechanics of Materials, ch. 3, ex. 3.5, read through a public repository of solved textbook examples.
def test_a_tube_with_sloping_sides() -> None:
    """Parallel edges 6 and 4 in, 5 in high, wall 3/8 in, 6 ft, 0.5°: 135017 lbf·in/deg and 3600 psi, within 0.1 %."""
    side = np.hypot(5.0, 1.0)
    area, around = 5.0 * 5.0 * INCH**2, (6.0 + 4.0 + 2 * side) / 0.375
    constant = closed_torsion_constant(area, around)
    per_radian = 12e6 * PSI * constant / (72 * INCH)
    torque = per_radian * np.radians(0.5)

    assert np.radians(1.0) * per_radian / (POUND_FORCE * INCH) == pytest.approx(135017, rel=1e-3)
    assert closed_shear_stress(torque, area, 0.375 * INCH) / PSI == pytest.approx(3600, rel=1e-3)


def test_the_same_tube_by_its_corners() -> None:
    """Walls between corners come to the same torsion constant, with the strips' own share on top."""
    across = np.array([-3.0, 3.0, 2.0, -2.0]) * INCH
    upright = np.array([0.0, 0.0, 5.0, 5.0]) * INCH
    lengths = np.array([6.0, np.hypot(5, 1), 4.0, np.hypot(5, 1)]) * INCH
    walls = np.full(4, 0.375 * INCH)
    closed = closed_torsion_constant(25 * INCH**2, np.sum(lengths / walls))
    whole = thin_walls(across, upright, read_walls("1-2, 2-3, 3-4, 4-1"), walls).torsion

    assert whole == pytest.approx(closed + open_torsion_constant(lengths, walls), rel=1e-9)


# Mechanics of Materials, ch. 3, ex. 3.6, read in the same place.
def test_a_half_round_tube_with_two_walls() -> None:
    """R 25 mm, 2 mm round and 3 mm flat, 40 MPa in the 2 mm wall: 157.08 N·m; 5.6° over 1.2 m, within 0.1 % and the last digit."""
    area = np.pi * 0.025**2 / 2
    torque = 40e6 * 2 * area * 0.002
    constant = closed_torsion_constant(area, np.pi * 0.025 / 0.002 + 0.050 / 0.003)

    assert torque == pytest.approx(157.08, rel=1e-3)
    assert closed_shear_stress(157.08, area, 0.002) == pytest.approx(40e6, rel=1e-3)
    assert np.degrees(twist_of(torque, 1.2, constant, 28e9)) == pytest.approx(5.6, abs=0.05)


# Closed form of Bredt, and sectionproperties 3.10 (finite elements), a square tube 50 × 50 × 2 with sharp corners.
def test_a_square_tube_closed_and_slit() -> None:
    """Closed 221184 (mid-line) and 225648 (elements); slit along its length 512 and 514 mm⁴, within 0.5 %: 430 times less."""
    joins = read_walls("1-2, 2-3, 3-4, 4-1")
    slit = [
        *SQUARE,
        (-0.02399, -0.024),
    ]  # the last wall stops 0.01 mm beside the first corner, and no wall is closed there
    closed = constants_of_walls(SQUARE, joins, [0.002] * 4).torsion
    opened = open_torsion_constant(np.full(4, 0.048), np.full(4, 0.002))

    assert box(0.05, 0.05, 0.002).torsion * 1e12 == pytest.approx(221184, rel=1e-6)
    assert closed * 1e12 == pytest.approx(225648, rel=5e-3)
    assert opened * 1e12 == pytest.approx(512, rel=1e-6)
    assert thin_walls(*np.array(slit).T, read_walls("1-2, 2-3, 3-4, 4-5"), np.full(4, 0.002)).torsion == pytest.approx(
        opened, rel=5e-3
    )
    assert slit_loss(0.048**2, 4 * 0.048, 0.002) == pytest.approx(432, rel=1e-6)


def test_a_slit_by_elements() -> None:
    """The same square tube slit in the middle of one side, by elements: 514 mm⁴, within 0.5 %."""
    # square ends reach half a wall past a corner: from ±1.5 mm they leave a slit of 1 mm
    corners = [
        (-0.0015, -0.024),
        *((x * 0.024, z * 0.024) for x, z in ((-1, -1), (-1, 1), (1, 1), (1, -1))),
        (0.0015, -0.024),
    ]
    found = constants_of_walls(corners, read_walls("1-2, 2-3, 3-4, 4-5, 5-6"), [0.002] * 5)

    assert found.torsion * 1e12 == pytest.approx(514, rel=5e-3)


# Mechanical Engineering Design, 9th ed., tables 9-1 and 9-2 (the first from memory); a numeric line integral gives the same.
def test_a_weld_in_the_shape_of_a_channel() -> None:
    """Vertical run 80, two legs of 30 mm: x̄ 6.429 mm, I_u 138667 mm³, J_u 150881 mm³, within 0.1 %."""
    group = weld_group("channel", 0.030, 0.080)

    assert group.across_centre * 1e3 == pytest.approx(6.429, rel=1e-3)
    assert group.upright * 1e9 == pytest.approx(138667, rel=1e-3)
    assert group.polar * 1e9 == pytest.approx(150881, rel=1e-3)


# Mechanical Engineering Design, 9th ed., tables 9-1 and 9-2; Design of Modern Steel Railway Bridges, table 9.1.
@pytest.mark.parametrize(
    ("pattern", "upright", "polar"),
    [
        ("one upright", lambda _, d: d**3 / 12, lambda _, d: d**3 / 12),
        ("two upright", lambda _, d: d**3 / 6, lambda b, d: d * (3 * b**2 + d**2) / 6),
        ("two level", lambda b, d: b * d**2 / 2, lambda b, d: b * (3 * d**2 + b**2) / 6),
        (
            "channel",
            lambda b, d: d**2 * (6 * b + d) / 12,
            lambda b, d: (8 * b**3 + 6 * b * d**2 + d**3) / 12 - b**4 / (2 * b + d),
        ),
        ("all round", lambda b, d: d**2 * (3 * b + d) / 6, lambda b, d: (b + d) ** 3 / 6),
        ("circle", lambda _, d: np.pi * (d / 2) ** 3, lambda _, d: 2 * np.pi * (d / 2) ** 3),
    ],
)
@pytest.mark.parametrize(("width", "depth"), [(0.030, 0.080), (0.055, 0.040)])
def test_line_moments_are_those_of_the_printed_table(pattern, upright, polar, width, depth) -> None:
    """Each pattern of the table, at two sizes."""
    group = weld_group(pattern, width, depth)

    assert group.upright == pytest.approx(upright(width, depth), rel=1e-9)
    assert group.polar == pytest.approx(polar(width, depth), rel=1e-9)


# AISC 360 J2.4 as quoted on a weld-strength page; a public page prints 2.78 for the first, wrong by 2.
def test_a_quarter_inch_fillet() -> None:
    """E70, per inch: 5.568 kip factored; 0.928 kip for each sixteenth allowable, within 0.1 %."""
    metal = 70 * KIP / INCH**2

    assert factored_strength(metal, 0.25 * INCH) * INCH / KIP == pytest.approx(5.568, rel=1e-3)
    assert allowable_shear(metal) * throat(INCH / 16) * INCH / KIP == pytest.approx(0.928, rel=1e-3)


# AISC/AWS table of least fillet sizes, steel-design page.
@pytest.mark.parametrize(("thicker", "leg"), [(6, 3), (6.5, 5), (13, 5), (14, 6), (19, 6), (25, 8)])
def test_least_leg_by_the_thicker_part(thicker, leg) -> None:
    """Up to 6 mm 3, up to 13 mm 5, up to 19 mm 6, more 8 mm."""
    assert smallest_leg(thicker * 1e-3, thicker * 1e-3) * 1e3 == pytest.approx(leg)


# The same page: on an edge the thickness, or 2 mm less from 6 mm up; a run of four legs and at least 38 mm.
def test_longest_leg_on_an_edge_and_shortest_run() -> None:
    """Both sides of the step."""
    assert longest_leg(np.array([0.003, 0.0059, 0.006, 0.010])) * 1e3 == pytest.approx([3, 5.9, 4, 8])
    assert shortest_run(np.array([0.005, 0.012])) * 1e3 == pytest.approx([38, 48])


# Student racing-car competition rules, F.3.4.2: mild steel for calculation.
def test_steel_as_welded() -> None:
    """305 and 365 MPa plain, 180 and 300 MPa at welds, E 200 GPa."""
    assert [steel(what) / 1e6 for what in ("parent_yield", "parent_ultimate", "welded_yield", "welded_ultimate")] == [
        305,
        365,
        180,
        300,
    ]
    assert steel("youngs_modulus") == pytest.approx(200e9)


# A First Course in the Finite Element Method, 4th ed., ex. 5.8, as tested in an open frame library.
def test_a_space_frame_of_three_members() -> None:
    """Node at the origin, −50 kip and −1000 kip·in: 7.098e−5, −0.01400, −0.002352 in; −3.996e−3, 1.780e−5, −1.033e−4 rad; 0.1 %."""
    section = 10 * INCH**2, 100 * INCH**4, 100 * INCH**4, 50 * INCH**4
    young, shear = 30000 * KIP / INCH**2, 10000 * KIP / INCH**2
    # the book's second axis is up, ours the third: its X, Y, Z are our x, z, −y
    places = np.array([[0.0, 0, 0], [-100, 0, 0], [0, 100, 0], [0, 0, -100]]) * INCH
    members = [Member(0, far, *section, young, shear) for far in (1, 2, 3)]
    frame = solve(places, ["free", *["fixed"] * 3], members, [(0, "z"), (0, "about x")])
    loads = np.array([-50 * KIP, -1000 * KIP * INCH])
    moved, turned = loads @ frame.moved[:, 0] / INCH, loads @ frame.turned[:, 0]

    assert [moved[0], moved[2], -moved[1]] == pytest.approx([7.098e-5, -0.01400, -0.002352], rel=1e-3)
    assert [turned[0], turned[2], -turned[1]] == pytest.approx([-3.996e-3, 1.780e-5, -1.033e-4], rel=1e-3)


# Statics.
def test_mounts_in_the_lowest_gear() -> None:
    """400 N·m, gear 3.2, 0.55 m apart, 90 kg on each: ±2327 N; 3210 N on one and −1445 N, up, on the other, within 0.1 %."""
    couple = torque_on_mounts(400.0, 3.2) / 0.55
    share = 90 * STANDARD_GRAVITY

    assert couple == pytest.approx(2327, rel=1e-3)
    assert share + couple == pytest.approx(3210, rel=1e-3)
    assert share - couple == pytest.approx(-1445, rel=1e-3)


def test_the_same_mounts_with_a_third_far_behind() -> None:
    """Three mounts, the load over the two: the solver of any number of mounts finds the same couple."""
    loads = upright_loads(
        np.array([0.0, 0.0, -1.0]),
        np.array([0.275, -0.275, 0.0]),
        np.array([3e5, 2e5, 1e5]),
        180 * STANDARD_GRAVITY,
        0.0,
        0.0,
        -1280.0,
        0.0,
    )

    assert loads == pytest.approx([3210, -1445, 0], rel=1e-3, abs=1e-6)


# Mechanics of Materials, distortion energy: pure shear yields at 1/√3 of the pull.
def test_equivalent_stress_in_pure_shear() -> None:
    """√3·τ."""
    assert equivalent_stress(0.0, 100e6) == pytest.approx(173.205e6, rel=1e-5)
