"""The smaller of what the engine sends and what the tyres hold, place by place.

Expected figures: arithmetic from power balance and the statics of load transfer, worked out by hand for 400 N·m, first gear
3.2 (0.96), axle 3.7 (0.97), radius 0.31 m, 1250 kg, wheelbase 2.55 m, centre of mass 1.30 m behind the front axle and 0.50 m
high, friction 0.95: prop shaft 1228.8 N·m by the engine and 630.2 N·m by grip; axle 4410 and 2261.7 N·m.
"""

from __future__ import annotations

import pytest

from trialfit.evaluation.requirement import Stake


def test_grip_sets_the_torque_in_first_gear(report) -> None:
    """On a dry road the tyres slip long before 1228.8 N·m reach the prop shaft."""
    found = report()

    assert found.figure("torque_path.steady.prop_shaft.1").value.nominal == pytest.approx(630.2, rel=1e-3)
    assert found.figure("torque_path.steady.axle.1").value.nominal == pytest.approx(2261.7, rel=1e-3)
    assert found.figure("torque_path.steady.gearbox_input.1").value.nominal == pytest.approx(
        630.2 / (3.2 * 0.96), rel=1e-3
    )
    assert found.figure("torque_path.grip_governs.steady.1").value.nominal == 100
    assert "the tyres' grip sets the torque" in found.figure("torque_path.steady.axle.1").remark


def test_the_engine_sets_it_where_the_tyres_stick(report) -> None:
    """With friction that no tyre has, the engine's side is left."""
    found = report(
        {
            "car.upper_grip": "1.9 ± 0, manual",
            "car.centre_of_mass_height": "0.1 m ± 0 mm",
            "car.mass": "2500 ± 0 kg",
            "car.rear_axle_mass": "1274.51 ± 0 kg",
            "car.laden_mass": "2500 ± 0 kg",
            "car.laden_rear_axle_mass": "1274.51 ± 0 kg",
        }
    )

    assert found.figure("torque_path.steady.prop_shaft.1").value.nominal == pytest.approx(1228.8, rel=1e-3)
    assert found.figure("torque_path.steady.axle.1").value.nominal == pytest.approx(4410, rel=1e-3)
    assert found.figure("torque_path.grip_governs.steady.1").value.nominal == 0
    assert "the engine sets the torque" in found.figure("torque_path.steady.axle.1").remark


def test_the_engine_sets_it_in_top_gear(report) -> None:
    """400 N·m through a direct gear: 384 N·m in the prop shaft, below what the tyres hold."""
    found = report()

    assert found.figure("torque_path.steady.prop_shaft.3").value.nominal == pytest.approx(384.0)
    assert found.figure("torque_path.steady.gearbox_input.3").value.nominal == pytest.approx(400.0)
    assert found.figure("torque_path.grip_governs.steady.3").value.nominal == 0


def test_a_weak_engine_hands_the_lead_back(report) -> None:
    """The side flips with the torque: 100 N·m in first gear spin no wheel."""
    found = report({"engine.torque_curve": "rpm : N·m ± 0 %\n1000 : 90\n3000 : 100\n"})

    assert found.figure("torque_path.grip_governs.steady.1").value.nominal == 0
    assert found.figure("torque_path.steady.prop_shaft.1").value.nominal == pytest.approx(100 * 3.2 * 0.96)


def test_reverse_has_the_load_on_the_other_axle(report) -> None:
    """Backwards, the rear axle is the light one: μ·m·g·(l_f/L)/(1 + μ·h/L)·r = 1551.4 N·m (statics)."""
    found = report()

    assert found.figure("torque_path.steady.axle.reverse").value.nominal == pytest.approx(1551.4, rel=1e-3)


def test_a_clutch_is_the_fuse_of_a_shock(report) -> None:
    """Pulses of 400 × 1.5 N·m slip a clutch of 520 N·m; used with care, those of 400 × 1.25 do not."""
    dropped = report({"engine.application_factor": "1.5 ± 0", "clutch.rated_torque": "520 ± 0 N·m"})
    weak = {"engine.application_factor": "1.25 ± 0", "clutch.rated_torque": "520 ± 0 N·m"}
    careful = report(weak | {"car.clutch_use": "with care"})

    assert careful.figure("torque_path.shock.gearbox_input.3").state == "as weighed, 3rd gear, low to high grip"
    assert dropped.figure("torque_path.shock.gearbox_input.3").value.nominal == pytest.approx(520.0)
    assert dropped.figure("torque_path.steady.gearbox_input.3").value.nominal == pytest.approx(400.0)


def test_grip_limits_a_shock_too(report) -> None:
    """However hard the clutch is dropped, the tyres let go at the same torque."""
    found = report({"engine.application_factor": "2 ± 0"})

    assert found.figure("torque_path.shock.axle.1").value.nominal == pytest.approx(2261.7, rel=1e-3)


def test_the_share_of_draws_that_grip_governs_carries_the_spread(report) -> None:
    """Where both sides lie close together, some draws go one way and some the other, and the words say how many."""
    found = report({"car.upper_grip": "0.62 ± 0.10, manual"}, draws=512)

    share = found.figure("torque_path.grip_governs.steady.3").value.nominal
    assert 5 < share < 95
    assert "of the draws)" in found.figure("torque_path.steady.axle.3").remark


def test_a_live_axle_with_an_open_differential_holds_less(report) -> None:
    """The prop shaft lifts one wheel: what the axle can see falls, forward and in reverse."""
    independent = report()
    live = report(
        {"car.rear_suspension": "live axle", "car.rear_track": "1.45 m ± 0 mm", "car.front_roll_share": "60 ± 0 %"}
    )

    for gear in ("1", "reverse"):
        name = f"torque_path.steady.axle.{gear}"
        assert live.figure(name).value.nominal < independent.figure(name).value.nominal


def test_a_live_axle_with_a_locked_differential_loses_nothing(report) -> None:
    """With both wheels tied together, the lifted one's share goes to the other."""
    changes = {"final_drive.differential": "locked"}
    independent = report(changes)
    live = report(changes | {"car.rear_suspension": "live axle", "car.rear_track": "1.45 m ± 0 mm"})

    name = "torque_path.steady.axle.1"
    assert live.figure(name).value.nominal == pytest.approx(independent.figure(name).value.nominal)


def test_every_finding_of_the_line_is_there(report) -> None:
    """From clutch to studs, each with its stake."""
    found = report()

    assert {finding.id.removeprefix("torque_path."): finding.stake for finding in found.findings} == {
        "clutch": Stake.durability,
        "clutch_excess": Stake.durability,
        "gearbox": Stake.durability,
        "final_drive": Stake.durability,
        "shaft.prop_shaft": Stake.durability,
        "joint.front": Stake.durability,
        "joint.rear": Stake.durability,
        "half_shaft.left": Stake.durability,
        "half_shaft.right": Stake.durability,
        "hub.rear": Stake.safety,
        "studs.rear": Stake.safety,
    }
