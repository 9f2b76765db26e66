"""Mistakes that hurt people, in the user's own text, with the finding each must yield."""

from __future__ import annotations

import pytest

from trialfit.evaluation.requirement import Stake
from trialfit.evaluation.verdict import Verdict


def fails_for_safety(finding) -> bool:
    """Whether the finding fails, has people's safety at stake, and says to beware."""
    return finding.verdict is Verdict.fails and finding.stake is Stake.safety and bool(finding.caution)


def test_a_mount_weld_at_too_small_a_throat(structure, unit) -> None:
    """A 2.5 mm run with a hollow face down two sides of the arm, under the lowest gear."""
    report = structure(
        unit
        + """
[mount_arm]
kind = "bracket"
carries = "left"
reach = "95 mm, calipered"
depth = "60 mm, calipered"
thickness = "5 mm, calipered"
plates = "2"

[mount_arm_weld]
kind = "weld"
carries = "mount_arm"
pattern = "two upright"
width = "50 mm, calipered"
depth = "60 mm, calipered"
leg = "2.5 ± 0.2 mm, calipered"
throat_deduction = "0.4 ± 0.1 mm, calipered"
thicker = "5 mm, calipered"
thinner = "2 mm, calipered"
"""
    )
    finding = report["structure.weld_throat.mount_arm_weld"]

    assert fails_for_safety(finding)
    assert fails_for_safety(report["structure.weld_yield.mount_arm_weld"])
    assert "just carries it" in finding.remark
    assert report.figure("structure.weld_leg_needed.mount_arm_weld").value.nominal > 5


def test_a_closed_rail_mended_with_an_open_channel(structure) -> None:
    """As much steel, and hardly any torsion left: a hundred times less."""
    report = structure("""
[rail]
kind = "cut_member"
shape = "box"
width = "60 mm, calipered"
height = "80 mm, calipered"
wall_thickness = "2 mm, calipered"

[repair]
kind = "reinforcement"
replaces = "rail"
shape = "channel"
width = "60 mm, calipered"
height = "80 mm, calipered"
wall_thickness = "3 mm, calipered"
""")

    assert fails_for_safety(report["structure.torsion_ratio.rail"])
    assert report["structure.torsion_ratio.rail"].value.nominal < 0.01
    assert report["structure.bending_ratio.upright.rail"].verdict is Verdict.holds


@pytest.mark.parametrize("lost", ["left", "right", "rear"])
def test_an_engine_that_nothing_holds_when_one_mount_tears(structure, unit, lost) -> None:
    """Three plain rubber mounts and no strap: two points are left."""
    finding = structure(unit)[f"structure.still_held.{lost}"]

    assert fails_for_safety(finding)
    assert finding.value.nominal == 2


def test_a_captive_mount_still_holds(structure, unit) -> None:
    """The mend of the mistake above."""
    report = structure(unit, ('kind = "mount"\n', 'kind = "mount"\ncaptive = "yes"\n'))

    assert report["structure.still_held.left"].verdict is Verdict.holds


def test_a_small_run_on_a_thick_plate(structure) -> None:
    """3 mm on 12 mm plate is quenched hard: 5 mm is the least."""
    report = structure("""
[gusset_weld]
kind = "weld"
leg = "3 mm, calipered"
thicker = "12 mm, calipered"
thinner = "6 mm, calipered"
""")
    finding = report["structure.weld_leg.gusset_weld"]

    assert fails_for_safety(finding)
    assert finding.limit.nominal == pytest.approx(5)


def test_a_bolt_hole_at_the_edge_of_a_bracket(structure) -> None:
    """A 12.5 mm hole whose centre is 14 mm from the edge."""
    report = structure("""
[strap_bracket]
kind = "bracket"
load = "900 N, guess"
reach = "60 mm, calipered"
depth = "50 mm, calipered"
thickness = "4 mm, calipered"
bolt_hole = "12.5 mm, calipered"
bolt_edge = "14 mm, calipered"
""")

    assert fails_for_safety(report["structure.bracket_edge.strap_bracket"])


def test_mounts_too_weak_for_the_lowest_gear(structure, unit) -> None:
    """Rubber for a small four under twice the clutch torque in first gear."""
    report = structure(unit, ('rated_load = "7 ± 0 kN"', 'rated_load = "3 kN, catalogue"'))

    assert fails_for_safety(report["structure.mount_load.left"])
