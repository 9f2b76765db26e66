"""Torque at which the wheels slip, against a driveshaft maker's installation manual."""

from __future__ import annotations

import pytest

from trialfit.handbook.constants import FOOT, INCH, POUND_FORCE
from trialfit.handbook.torque_path.along_the_path import from_engine, from_grip, governing

POUND_FORCE_FOOT = POUND_FORCE * FOOT


# Driveshaft maker's installation manual, driveshaft torque: wheel-slip torque on the driveshaft, lb·ft,
# = 0.71·W·RR/(11.4·AR) with W axle load in lb, RR rolling radius in inches, AR axle ratio; 11.4 is 12 in/ft times 0.95.
@pytest.mark.parametrize(("load", "radius", "ratio"), [(23000, 20.0, 3.90), (3400, 13.0, 3.54)])
def test_wheel_slip_torque_in_the_driveshaft(load, radius, ratio) -> None:
    printed = 0.71 * load * radius / (11.4 * ratio)
    torques = from_grip(0.71 * load * POUND_FORCE, radius * INCH, 1.0, ratio, final_efficiency=0.95)

    assert torques.pinion / POUND_FORCE_FOOT == pytest.approx(printed, rel=1e-9)


# The same manual: low-gear torque = net engine torque × lowest forward ratio × 0.85 for a manual gearbox; the lesser of both is
# held against the rating of the universal joint.
def test_the_lesser_of_low_gear_and_wheel_slip_torque_counts() -> None:
    low_gear = from_engine(500 * POUND_FORCE_FOOT, 7.0, 3.90, gearbox_efficiency=0.85).pinion
    slip = from_grip(0.71 * 23000 * POUND_FORCE, 20 * INCH, 7.0, 3.90, 0.85, 0.95).pinion
    torque, by_grip = governing(low_gear, slip)

    assert torque / POUND_FORCE_FOOT == pytest.approx(
        min(500 * 7.0 * 0.85, 0.71 * 23000 * 20 / (11.4 * 3.90)), rel=1e-9
    )
    assert not by_grip
