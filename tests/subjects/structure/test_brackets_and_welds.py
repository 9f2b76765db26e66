"""Brackets and welds in the user's words, against beam theory and line integrals by hand."""

from __future__ import annotations

import pytest

from trialfit.evaluation.requirement import SourceKind
from trialfit.evaluation.verdict import Verdict

BRACKET = """
[arm]
kind = "bracket"
load = "500 ± 0 N"
reach = "100 ± 0 mm"
depth = "60 ± 0 mm"
thickness = "5 ± 0 mm"
bolt_hole = "12 ± 0 mm"
bolt_edge = "20 ± 0 mm"

[seam]
kind = "weld"
carries = "arm"
pattern = "two upright"
width = "5 ± 0 mm"
depth = "60 ± 0 mm"
leg = "4 ± 0 mm"
thicker = "5 ± 0 mm"
thinner = "4 ± 0 mm"
torch_access = "150 ± 0 mm"
"""


def test_a_bracket_by_hand(structure) -> None:
    """1500 N on 100 mm: M/Z with Z = 3000 mm³, V/A with 300 mm², von Mises; bearing 1500/(12·5); edge 20/12; 60/5."""
    report = structure(BRACKET)

    assert report["structure.bracket_stress.arm"].value.nominal == pytest.approx((50**2 + 3 * 5**2) ** 0.5)
    assert report["structure.bracket_stress.arm"].limit.nominal == pytest.approx(60)
    assert report["structure.bracket_bearing.arm"].value.nominal == pytest.approx(25)
    assert report["structure.bracket_edge.arm"].value.nominal == pytest.approx(20 / 12)
    assert report["structure.bracket_slender.arm"].value.nominal == pytest.approx(12)
    assert report["structure.bracket_thickness.arm"].source_kind is SourceKind.published


def test_the_weld_of_that_bracket_by_hand(structure) -> None:
    """√((M·c/I_u)² + (F/L)²) over 0.707·4 mm: I_u = 60³/6, L = 120 mm; the bracket's load repeats: 180/3 MPa."""
    report = structure(BRACKET)
    q = ((1500 * 100 * 30 / (60**3 / 6)) ** 2 + (1500 / 120) ** 2) ** 0.5
    shear = q / (4 / 2**0.5)

    assert report["structure.weld_throat.seam"].value.nominal == pytest.approx(shear)
    assert report["structure.weld_throat.seam"].limit.nominal == pytest.approx(0.3 * 480)
    assert report["structure.weld_yield.seam"].value.nominal == pytest.approx(3**0.5 * shear)
    assert report.figure("structure.weld_leg_needed.seam").value.nominal == pytest.approx(q / (60 / 3**0.5) * 2**0.5)


def test_a_root_that_is_not_reached_has_to_be_made_up_for_by_the_leg(structure) -> None:
    """1 mm off the throat is 1.41 mm more leg."""
    whole = structure(BRACKET).figure("structure.weld_leg_needed.seam").value.nominal
    poor = structure(BRACKET, ("torch_access", 'throat_deduction = "1 ± 0 mm"\ntorch_access'))

    assert poor.figure("structure.weld_leg_needed.seam").value.nominal == pytest.approx(whole + 2**0.5)


def test_a_bracket_under_a_mount_takes_the_mount_s_worst_load(structure, unit) -> None:
    """Bearing is load over d·t, so it shows the load; the margin is that of a load once in life."""
    report = structure(unit + BRACKET, ('load = "500 ± 0 N"', 'carries = "left"'))
    load = report["structure.mount_load.left"].value.nominal

    assert report["structure.bracket_bearing.arm"].value.nominal == pytest.approx(load / 60)
    assert report["structure.bracket_stress.arm"].limit.nominal == pytest.approx(120)


def test_the_everyday_load_of_a_mount_by_hand(structure, unit) -> None:
    """Full torque in first gear without a shock, 250·3.5 over 0.56 m, and the weight on it: 80 kg. Judged at a third of yield."""
    report = structure(unit + BRACKET, ('load = "500 ± 0 N"', 'carries = "left"'))
    finding = report["structure.bracket_stress.arm"]
    of_load = (50**2 + 3 * 5**2) ** 0.5 / 1500
    by_state = {state.state: state for state in finding.states}

    everyday, worst = by_state["everyday load, repeated"], by_state["worst load, once"]
    assert everyday.value.nominal == pytest.approx((250 * 3.5 / 0.56 + 80 * 9.80665) * of_load, rel=1e-6)
    assert (everyday.limit.nominal, worst.limit.nominal) == (pytest.approx(60), pytest.approx(120))
    assert worst.value.nominal > everyday.value.nominal


def test_a_load_beside_the_pattern_twists_the_weld(structure) -> None:
    """The sign is pinned."""
    straight, beside = structure(BRACKET), structure(BRACKET, ("torch_access", 'offset = "40 ± 0 mm"\ntorch_room'))

    assert beside["structure.weld_throat.seam"].value.nominal > straight["structure.weld_throat.seam"].value.nominal


def test_a_stiffened_edge_is_not_asked_for_slenderness(structure) -> None:
    """A flange or rib holds it."""
    report = structure(BRACKET, ("bolt_hole", 'stiffened = "yes"\nbolt_hole'))

    assert report.result("structure.bracket_slender.arm") is None


def test_a_weld_along_an_edge_must_leave_the_edge(structure) -> None:
    """5 mm leg on a 4 mm edge."""
    report = structure(
        BRACKET, ("torch_access", 'on_edge = "yes"\ntorch_room'), ('leg = "4 ± 0 mm"', 'leg = "5 ± 0 mm"')
    )

    assert report["structure.weld_edge.seam"].verdict is Verdict.fails


def test_a_weld_in_a_corner_that_is_too_tight_fails(structure) -> None:
    """40° between the faces, and 60 mm of room."""
    report = structure(BRACKET, ("torch_access", 'face_angle = "40 ± 1 deg"\ntorch_room'), ("150 ± 0 mm", "60 ± 5 mm"))

    assert report["structure.weld_angle.seam"].verdict is Verdict.fails
    assert report["structure.torch_access.seam"].verdict is Verdict.fails


def test_a_weld_without_pattern_or_leg_names_them(structure) -> None:
    """Each by its path."""
    assert "seam.pattern" in structure(BRACKET, ('pattern = "two upright"\n', ""))["structure.weld_throat.seam"].missing
    assert "seam.leg" in structure(BRACKET, ('leg = "4 ± 0 mm"\n', ""))["structure.weld_leg.seam"].missing
