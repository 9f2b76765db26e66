"""Prop shafts: rated, or worked out from the tube; joints by their place in the line."""

from __future__ import annotations

import pytest

from trialfit.evaluation.requirement import SourceKind
from trialfit.evaluation.verdict import Verdict

TWO_PIECES = """
[gearbox]
ratios = ["3.2"]
[front_shaft]
kind = "prop_shaft"
after = "gearbox"
rear_joint = "rigid"
front_joint_rated_torque = "1100 N·m, catalogue"
[rear_shaft]
kind = "prop_shaft"
after = "front_shaft"
front_joint_rated_torque = "1200 N·m, catalogue"
rear_joint_rated_torque = "1300 N·m, catalogue"
[final_drive]
after = "rear_shaft"
"""


def test_a_tube_without_a_rating_is_worked_out(report) -> None:
    """Closed form of torsion: 1500 N·m in this tube are 106.39 MPa; 0.577·300/1.5 MPa are allowed: 1627 N·m."""
    finding = report()["torque_path.shaft.prop_shaft"]

    assert finding.limit.nominal == pytest.approx(1500 * (0.577 * 300 / 1.5) / 106.39, rel=1e-4)
    assert finding.value.nominal == pytest.approx(630.2, rel=1e-3)
    assert finding.source_kind is SourceKind.common_practice
    shown = "tube 76.2 mm × 1.65 mm, yield 300 MPa, reserve 1.5 on yield under full torque: 1627 N·m allowed"
    assert shown in finding.remark


@pytest.mark.parametrize(("notch", "share"), [("1 ± 0", 1.0), ("1.4 ± 0", 1.0), ("2 ± 0", 1.5 / 2), ("3 ± 0", 1.5 / 3)])
def test_a_notch_counts_where_it_is_worse_than_the_reserve(report, notch, share) -> None:
    """Yield at the notch and the reserve of the plain section are two limits, not one upon the other."""
    plain = report()["torque_path.shaft.prop_shaft"].limit.nominal
    notched = report({"prop_shaft.notch_factor": notch})["torque_path.shaft.prop_shaft"].limit.nominal

    assert notched == pytest.approx(plain * share)


def test_what_is_worked_out_is_held_against_the_shock(report) -> None:
    """A clutch that holds a quarter more sends a quarter more, where the tyres let it."""
    found = report({"clutch.rated_torque": "500 ± 0 N·m"})

    assert found["torque_path.shaft.prop_shaft"].value.nominal == pytest.approx(630.2, rel=1e-3)
    assert found.figure("torque_path.shock.prop_shaft.3").value.nominal == pytest.approx(500 * 0.96)


def test_the_makers_rating_outranks_the_tube(report) -> None:
    """Both are known: the rating is judged against full torque, the tube becomes a figure."""
    found = report({"prop_shaft.rated_torque": "900 ± 0 N·m, catalogue"})

    assert found["torque_path.shaft.prop_shaft"].limit.nominal == pytest.approx(900)
    assert found["torque_path.shaft.prop_shaft"].source_kind is SourceKind.manual
    assert "rated 900 N·m; worked out beside it: tube 76.2 mm × 1.65 mm" in found["torque_path.shaft.prop_shaft"].remark
    assert found.figure("torque_path.worked_out.shaft.prop_shaft").value.nominal == pytest.approx(1627, rel=1e-3)
    assert found.figure("torque_path.shock_over_rating.shaft.prop_shaft").value.nominal == pytest.approx(
        630.2 / 900, rel=1e-3
    )


def test_a_very_thin_tube_crumples_before_it_yields(report) -> None:
    """Thin-tube buckling, from memory: 0.272·E·(t/r)^1.5 is below the yield of strong steel at t/r = 0.01."""
    changes = {"prop_shaft.tube_outside_diameter": "101 mm ± 0 mm", "prop_shaft.tube_wall_thickness": "0.5 mm ± 0 mm"}
    weak = report(changes)["torque_path.shaft.prop_shaft"].limit.nominal
    strong = report(changes | {"prop_shaft.yield_strength": "900 ± 0 MPa"})[
        "torque_path.shaft.prop_shaft"
    ].limit.nominal
    radius, wall = 0.05025, 0.0005
    crumples = 2 * 3.14159265 * radius**2 * wall * 0.272 * 206e9 * (wall / radius) ** 1.5 / 1.5

    assert strong == pytest.approx(crumples, rel=1e-3)
    assert weak <= strong


def test_the_strength_of_an_aluminium_tube_has_to_be_written(report) -> None:
    """The typical yield strength is that of steel: it must not stand in for another metal."""
    finding = report({"prop_shaft.material": "aluminium"}, without=("prop_shaft.yield_strength",))[
        "torque_path.shaft.prop_shaft"
    ]

    assert finding.verdict is Verdict.unknown
    assert finding.missing == {
        "prop_shaft.yield_strength": "yield strength of the tube: the typical one is that of steel"
    }


def test_joints_are_named_by_their_place(report) -> None:
    """Two pieces with a centre bearing: three joints, one of them between the tubes and written once."""
    found = report(text=TWO_PIECES)

    assert {finding.id for finding in found.findings if ".joint." in finding.id} == {
        "torque_path.joint.front",
        "torque_path.joint.centre",
        "torque_path.joint.rear",
    }
    assert found["torque_path.joint.front"].about == "front_shaft"
    assert found["torque_path.joint.centre"].about == "rear_shaft"
    assert {finding.id for finding in found.findings if ".shaft." in finding.id} == {
        "torque_path.shaft.front_shaft",
        "torque_path.shaft.rear_shaft",
    }


def test_a_shaft_keeps_its_id_when_the_pick_changes(report) -> None:
    """Options of a choice go by the name of the choice."""
    text = """
[gearbox]
ratios = ["3.2"]
[choice.shaft]
options = ["thin", "thick"]
picked = "thick"
[thin]
kind = "prop_shaft"
after = "gearbox"
[thick]
kind = "prop_shaft"
after = "gearbox"
[final_drive]
after = "shaft"
"""
    assert report(text=text)["torque_path.shaft.shaft"].about == "thick"


def test_front_drive_has_no_prop_shaft(report) -> None:
    """No shaft, no joint, no figure of one; hubs and studs of the front axle."""
    text = '[car]\ndriven_axle = "front"\n[gearbox]\nratios = ["3.2"]\n[final_drive]\nratio = "3.9"\n'
    found = report(text=text)

    names = {finding.id for finding in found.findings}
    assert not {name for name in names if ".shaft." in name or ".joint." in name}
    assert {"torque_path.hub.front", "torque_path.studs.front"} <= names
    assert found.result("torque_path.steady.prop_shaft.1") is None


def test_a_line_without_a_shaft_asks_for_it(report) -> None:
    """Rear drive and nothing between gearbox and final drive."""
    finding = report(text='[gearbox]\nratios = ["3.2"]\n')["torque_path.shaft.prop_shaft"]

    assert finding.verdict is Verdict.unknown
    assert finding.missing
