"""Cars that drive their front wheels or all of them: statics of load transfer, worked out by hand."""

from __future__ import annotations

import pytest

G, MU, MASS, BASE, TO_CENTRE, HEIGHT, RADIUS = 9.80665, 0.95, 1250, 2.55, 1.30, 0.50, 0.31


def test_all_wheels_without_a_split_put_everything_on_the_rear_axle(report) -> None:
    """Rear axle at μ·g: μ·m·g·(l_f + μ·h)/L; the gearbox sees what all four tyres hold."""
    found = report({"car.driven_axle": "all"})
    rear = MU * MASS * G * (TO_CENTRE + MU * HEIGHT) / BASE

    assert found.figure("torque_path.steady.axle.1").value.nominal == pytest.approx(rear * RADIUS, rel=1e-3)
    assert found.figure("torque_path.steady.gearbox_input.1").value.nominal == pytest.approx(
        MU * MASS * G * RADIUS / (3.2 * 0.96 * 3.7 * 0.97), rel=1e-3
    )


def test_the_report_says_so(report) -> None:
    """The worst case is told wherever it was taken."""
    remark = report({"car.driven_axle": "all"})["torque_path.final_drive"].remark

    assert (
        "all wheels drive and the torque split is unknown: all torque is assumed at the rear axle, the worst case"
        in remark
    )


def test_front_hubs_of_all_wheel_drive_count_where_they_are_written(report) -> None:
    """In reverse the front axle is the loaded one: μ·m·g·(l_r + μ·h)/L, half of it on one wheel."""
    front_hub = '[hub_front]\nkind = "hub"\naxle = "front"\nrated_torque = "1500 ± 0 N·m, manual"\n'
    found = report({"car.driven_axle": "all"}, also=front_hub)
    front = MU * MASS * G * (BASE - TO_CENTRE + MU * HEIGHT) / BASE

    assert found["torque_path.hub.front"].value.nominal == pytest.approx(front * RADIUS / 2, rel=1e-3)
    assert "torque_path.hub.rear" in {finding.id for finding in found.findings}


def test_front_drive_pushes_with_the_front_axle(report) -> None:
    """Forward μ·m·g·(l_r/L)/(1 + μ·h/L), in reverse over (1 − μ·h/L)."""
    changes = {
        "car.driven_axle": "front",
        "tyre_rear.axle": "front",
        "hub_rear.axle": "front",
        "final_drive.after": "gearbox",
    }
    found = report(changes, without=("prop_shaft",))
    plain = MU * MASS * G * (BASE - TO_CENTRE) / BASE

    assert found.figure("torque_path.steady.axle.1").value.nominal == pytest.approx(
        plain / (1 + MU * HEIGHT / BASE) * RADIUS, rel=1e-3
    )
    assert found.figure("torque_path.steady.axle.reverse").value.nominal == pytest.approx(
        plain / (1 - MU * HEIGHT / BASE) * RADIUS, rel=1e-3
    )
    assert found["torque_path.hub.front"].value is not None
