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
        ("tyre_rear", "final_drive", {"tyre"}),
        ("car.mass", "final_drive", {"car.mass"}),
        ("car.wheelbase", "final_drive", {"car.wheelbase"}),
    ],
)
def test_what_is_missing_is_named(report, without, finding, missing) -> None:
    """One thing taken out, one finding unknown, and the thing named."""
    found = report(without=tuple(without.split()))[f"torque_path.{finding}"]

    assert found.verdict is Verdict.unknown
    assert set(found.missing) == missing


def test_masses_and_lengths_are_asked_for_together(report) -> None:
    """One round of measuring, not three."""
    finding = report(without=("car.mass", "car.wheelbase", "car.rear_axle_mass"))["torque_path.final_drive"]

    assert set(finding.missing) == {"car.mass", "car.wheelbase", "car.rear_axle_mass"}


def test_reverse_without_a_ratio_is_left_out_and_said(report) -> None:
    """The forward gears are judged; the figures of reverse name the fact."""
    found = report(without=("gearbox.reverse_ratio",))

    assert found["torque_path.gearbox"].verdict is Verdict.holds
    assert "reverse is left out until its ratio is written" in found["torque_path.gearbox"].remark
    assert set(found.figure("torque_path.steady.axle.reverse").missing) == {"gearbox.reverse_ratio"}


@pytest.mark.parametrize("without", ["tyre_rear", "car.mass", "car.wheelbase"])
def test_what_is_certain_without_the_missing_fact_is_said(report, without) -> None:
    """400 N·m on 450: no tyre can make it more. And on 360 it fails in top gear, where no car of this mass spins its wheels."""
    holds = report(without=(without,))["torque_path.gearbox"]
    weak = report({"gearbox.rated_torque": "360 ± 0 N·m, manual"}, without=(without,))["torque_path.gearbox"]

    assert holds.verdict is Verdict.holds
    assert "whatever " in holds.remark
    assert weak.verdict is (Verdict.fails if without == "car.wheelbase" else Verdict.unknown)


def test_a_wheel_that_lifts_leaves_the_whole_car_on_the_other_axle(report) -> None:
    """A centre of mass so high that the front axle leaves the road: 0.95·1250 kg·g on the rear wheels."""
    found = report({"car.centre_of_mass_height": "1.5 m ± 0 mm"})

    assert found.figure("torque_path.steady.axle.1").value.nominal == pytest.approx(
        0.95 * 1250 * 9.80665 * 0.31, rel=1e-3
    )
