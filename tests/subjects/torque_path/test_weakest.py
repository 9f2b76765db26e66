"""The weakest element of the torque path."""

from __future__ import annotations

import pytest


def test_the_weakest_is_named_with_those_that_follow(report) -> None:
    """The clutch has 400/400/1.2 = 0.833 of demand of it, the rear joint 600/630.2 = 0.952."""
    found = report().figure("torque_path.weakest")

    assert found.value.nominal == pytest.approx(400 / 400 / 1.2)
    assert "weakest element: the clutch, capacity 0.833 of demand; then the rear joint at 0.952" in found.remark


def test_another_element_takes_its_place(report) -> None:
    """A stronger clutch moves the fuse down the line."""
    found = report({"clutch.rated_torque": "600 ± 0 N·m"}).figure("torque_path.weakest")

    assert "weakest element: the rear joint" in found.remark


def test_what_is_not_known_is_not_called_strong(report) -> None:
    """An element without a capacity is listed by the fact to get."""
    found = report(without=("final_drive.rated_torque", "hub_rear.rated_torque")).figure("torque_path.weakest")

    assert "not known: the final drive (final_drive.rated_torque), the rear hubs (hub_rear.origin)" in found.remark


def test_the_spread_says_how_sure_the_order_is(report) -> None:
    """Two elements close together: each is the weakest in some draws."""
    changes = {"clutch.rated_torque": "500 ± 40 N·m", "prop_shaft.rear_joint_rated_torque": "660 ± 60 N·m"}
    found = report(changes, draws=512).figure("torque_path.weakest")

    assert "(the weakest in " in found.remark
    assert found.value.low < found.value.nominal


def test_the_weakest_is_the_smallest_of_the_findings(report) -> None:
    """Limit over value of every judged torque, and value over limit of clutch and studs, none below the figure."""
    found = report()
    shares = []
    for finding in found.findings:
        over, under = finding.limit.nominal, finding.value.nominal
        shares.append(under / over if finding.side == "at least" else over / under)

    assert found.figure("torque_path.weakest").value.nominal == pytest.approx(min(shares))


def test_studs_whose_seat_decides_are_listed_and_the_others_compared(report) -> None:
    """With a cone they hold, flat they do not: that seat is asked for, and the weakest of the rest still told."""
    text = {"hub_rear.stud_preload": "25 ± 0 kN"}
    found = report(text, without=("hub_rear.seat",))

    assert set(found["torque_path.studs.rear"].missing) == {"hub_rear.seat"}
    assert "weakest element: the clutch, capacity 0.833" in found.figure("torque_path.weakest").remark
    assert "not known: the rear wheel studs (hub_rear.seat)" in found.figure("torque_path.weakest").remark
