"""A member before and after, against beam theory worked by hand."""

from __future__ import annotations

import pytest

from trialfit.evaluation.verdict import Verdict

MEMBER = """
[old]
kind = "cut_member"
shape = "box"
width = "50 ± 0 mm, calipered"
height = "50 ± 0 mm, calipered"
wall_thickness = "2 ± 0 mm, calipered"

[new]
kind = "reinforcement"
replaces = "old"
shape = "box"
width = "50 ± 0 mm, calipered"
height = "50 ± 0 mm, calipered"
wall_thickness = "3 ± 0 mm, calipered"
length = "800 ± 0 mm, calipered"
load = "1000 ± 0 N"
torque = "100 ± 0 N·m"
"""
NEW_MOMENT = (50**4 - 44**4) / 12  # mm⁴
OLD_MOMENT = (50**4 - 46**4) / 12


def test_a_thicker_tube_gives_more_than_was_cut(structure) -> None:
    """Ratios of (b⁴ − b_i⁴) and of b_m³·t."""
    report = structure(MEMBER)

    assert report["structure.bending_ratio.upright.old"].value.nominal == pytest.approx(NEW_MOMENT / OLD_MOMENT)
    assert report["structure.torsion_ratio.old"].value.nominal == pytest.approx(47**3 * 3 / (48**3 * 2))
    assert report["structure.torsion_ratio.old"].verdict is Verdict.holds
    assert report.figure("structure.mass_ratio.old").value.nominal == pytest.approx((2500 - 44**2) / (2500 - 46**2))


def test_stress_and_movement_by_hand(structure) -> None:
    """F·L/4 at three times the load at rest, twisted at the same time; von Mises; F·L³/(48·E·I) and T·L/(G·J)."""
    report = structure(MEMBER)
    bending = 3 * 1000 * 800 / 4 / (NEW_MOMENT / 25)
    shear = 3 * 100e3 / (2 * 47**2 * 3)
    finding = report["structure.stress.new"]

    assert finding.value.nominal == pytest.approx((bending**2 + 3 * shear**2) ** 0.5)
    assert finding.limit.nominal == pytest.approx(180 / 3)
    assert report.figure("structure.deflection.new").value.nominal == pytest.approx(
        3000 * 800**3 / (48 * 200e3 * NEW_MOMENT)
    )
    assert report.figure("structure.twist.new").value.nominal == pytest.approx(
        3 * 100e3 * 800 / (77e3 * 47**3 * 3) * 57.29578, rel=1e-6
    )


def test_a_load_that_comes_once_is_allowed_more(structure) -> None:
    """180 MPa over 1.5 instead of over 3."""
    report = structure(MEMBER, ("load =", 'repeats = "once"\nonce_as = "by its manual"\nload ='))

    assert report["structure.stress.new"].limit.nominal == pytest.approx(120)


def test_walls_at_any_angle_are_corrected_by_finite_elements(structure) -> None:
    """The same tube by its corners: second moment exact, torsion 2 % above the mid-line formula."""
    walls = """shape = "walls"
corner_y = ["-23.5 ± 0 mm", "23.5 ± 0 mm", "23.5 ± 0 mm", "-23.5 ± 0 mm"]
corner_z = ["-23.5 ± 0 mm", "-23.5 ± 0 mm", "23.5 ± 0 mm", "23.5 ± 0 mm"]
walls = "1-2, 2-3, 3-4, 4-1"
wall_thicknesses = ["3 ± 0.1 mm", "3 ± 0 mm", "3 ± 0 mm", "3 ± 0 mm"]
"""
    new = MEMBER.replace(
        'shape = "box"\nwidth = "50 ± 0 mm, calipered"\nheight = "50 ± 0 mm, calipered"\nwall_thickness = "3 ± 0 mm, calipered"\n',
        walls,
    )
    report = structure(new, draws=64)
    ratio = report["structure.bending_ratio.upright.old"].value

    assert ratio.nominal == pytest.approx(NEW_MOMENT / OLD_MOMENT, rel=1e-6)
    assert ratio.low < ratio.nominal < ratio.high
    torsion = report["structure.torsion_ratio.old"].value.nominal
    assert 1.01 < torsion / (47**3 * 3 / (48**3 * 2)) < 1.05


def test_a_cut_that_was_not_closed_is_unknown(structure) -> None:
    """Nothing replaces it: the finding names what is missing."""
    finding = structure(MEMBER.split("[new]", maxsplit=1)[0])["structure.torsion_ratio.old"]

    assert finding.verdict is Verdict.unknown
    assert finding.missing == {"reinforcement": "no part of this kind replaces old: what was welded in for it"}


def test_a_section_nobody_measured_is_unknown_and_names_all(structure) -> None:
    """Width and wall at once."""
    report = structure(
        MEMBER, ('width = "50 ± 0 mm, calipered"\n', ""), ('wall_thickness = "2 ± 0 mm, calipered"\n', "")
    )

    assert set(report["structure.torsion_ratio.old"].missing) >= {"new.width"}


def test_every_finding_carries_the_caution_for_welding_on_cars(structure, unit) -> None:
    """And says that the certifier decides."""
    report = structure(MEMBER + unit)

    assert all("certifier" in one.caution and "earth clamp" in one.caution for one in report.findings)
    assert all("certifier" in one.caution for one in report.figures)


def test_a_build_without_such_parts_is_asked_nothing(structure) -> None:
    """No cut, no mount, no weld: no finding."""
    report = structure('[car]\nmass = "1200 kg"\n')

    assert not report.findings
    assert not report.figures
