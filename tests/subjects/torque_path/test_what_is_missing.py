"""Facts and parts that nobody has written yet: named, never passed over."""

from __future__ import annotations

import pytest

from trialfit.evaluation.verdict import Verdict


def test_an_empty_build_knows_nothing_and_says_of_what(report) -> None:
    """Every finding is there and unknown; each names a part or a fact."""
    found = report(text='name = "nothing yet"\n')

    assert {finding.verdict for finding in found.findings} == {Verdict.unknown}
    assert all(finding.missing for finding in found.findings)
    assert found.result("torque_path.weakest") is None


@pytest.mark.parametrize(
    ("without", "finding", "missing"),
    [
        ("gearbox.rated_torque", "gearbox", {"gearbox.rated_torque"}),
        ("final_drive.rated_torque", "final_drive", {"final_drive.rated_torque"}),
        ("prop_shaft.tube_wall_thickness", "shaft.prop_shaft", {"prop_shaft.tube_wall_thickness"}),
        ("prop_shaft.rear_joint_rated_torque", "joint.rear", {"prop_shaft.rear_joint_rated_torque"}),
        ("half_shaft_right.bar_diameter", "half_shaft.right", {"half_shaft_right.bar_diameter"}),
        ("clutch.rated_torque", "shaft.prop_shaft", {"clutch.rated_torque"}),
        ("engine.torque_curve", "clutch", {"engine.torque_curve"}),
        ("gearbox prop_shaft.after", "gearbox", {"gearbox"}),
        ("tyre_rear", "gearbox", {"tyre"}),
        ("car.mass", "gearbox", {"car.mass"}),
        ("car.wheelbase", "gearbox", {"car.wheelbase"}),
    ],
)
def test_what_is_missing_is_named(report, without, finding, missing) -> None:
    """One thing taken out, one finding unknown, and the thing named."""
    found = report(without=tuple(without.split()))[f"torque_path.{finding}"]

    assert found.verdict is Verdict.unknown
    assert set(found.missing) == missing


def test_masses_and_lengths_are_asked_for_together(report) -> None:
    """One round of measuring, not three."""
    finding = report(without=("car.mass", "car.wheelbase", "car.rear_axle_mass"))["torque_path.gearbox"]

    assert set(finding.missing) == {"car.mass", "car.wheelbase", "car.rear_axle_mass"}


def test_reverse_without_a_ratio_is_left_out_and_said(report) -> None:
    """The forward gears are judged; the figures of reverse name the fact."""
    found = report(without=("gearbox.reverse_ratio",))

    assert found["torque_path.gearbox"].verdict is Verdict.holds
    assert "reverse is left out until its ratio is written" in found["torque_path.gearbox"].remark
    assert set(found.figure("torque_path.steady.axle.reverse").missing) == {"gearbox.reverse_ratio"}


def test_a_wheel_that_lifts_leaves_the_finding_open(report) -> None:
    """A centre of mass so high that the front axle leaves the road is outside of the formula: unknown, not a number."""
    found = report({"car.centre_of_mass_height": "1.5 m ± 0 mm"})

    assert found["torque_path.final_drive"].verdict is Verdict.unknown
    assert found["torque_path.final_drive"].value is None
