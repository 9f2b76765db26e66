"""Clutch, shafts in torsion, torque along the drive and wheel studs against values printed or worked out elsewhere."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.optimize import brentq

from trialfit.handbook.constants import REVOLUTION_PER_MINUTE, STANDARD_GRAVITY
from trialfit.handbook.gearing import traction
from trialfit.handbook.torque_path import along_the_path, clutch, torsion, wheel_joint


# Theory of Machines, friction clutches, example 10.23: single plate, two faces, 150 and 100 mm, pressure 0.1 MPa at the
# inner edge (uniform wear), μ 0.3, 2500 rpm: load 3141.6 N, torque 235.62 N·m, power 61.685 kW.
def test_load_torque_and_power_of_a_single_plate() -> None:
    """Within 0.05 %."""
    load = clutch.clamp_load_run_in(0.1e6, 0.150, 0.100)
    torque = clutch.clutch_capacity(2, 0.3, load, clutch.facing_radius_run_in(0.150, 0.100))

    assert load == pytest.approx(3141.6, rel=5e-4)
    assert torque == pytest.approx(235.62, rel=5e-4)
    assert torque * 2500 * REVOLUTION_PER_MINUTE == pytest.approx(61.685e3, rel=5e-4)


# Theory of Machines, friction clutches, example 10.30: four faces, diameters 240 and 120 mm, μ 0.3, 25 kW at 1575 rpm with
# uniform pressure; then 10 mm of wear in all, six springs of 13 N/mm, uniform wear: R 93.33 mm, W 1353 N, 10.21 kW.
def test_power_of_a_clutch_new_and_worn() -> None:
    """Within 0.1 %."""
    speed = 1575 * REVOLUTION_PER_MINUTE
    radius = clutch.facing_radius_new(0.120, 0.060)
    load = brentq(lambda clamp: clutch.clutch_capacity(4, 0.3, clamp, radius) * speed - 25e3, 1.0, 1e4)
    worn = clutch.clamp_load_after_wear(load, 6, 13e3, 0.010)
    left = clutch.clutch_capacity(4, 0.3, worn, clutch.facing_radius_run_in(0.120, 0.060))

    assert radius == pytest.approx(93.33e-3, rel=1e-3)
    assert load == pytest.approx(1353, rel=1e-3)
    assert left * speed == pytest.approx(10.21e3, rel=1e-3)


# Theory of Machines, friction clutches, example 10.34: cone clutch, axial load 180 N, μ 0.3, half angle 15°, mean radius
# 37.5 mm; flywheel 13.5 kg, radius of gyration 150 mm, to 1000 rpm: 7.8 N·m, 4.1 s, 1674 J (the book rounds on the way:
# the exact heat is 1665.5 J). A cone works as one face whose friction is μ/sin 15°.
def test_cone_clutch_brings_a_flywheel_to_speed() -> None:
    """Torque and time within 1 %; the heat is checked with the start of a car (gearing)."""
    inertia, speed = 13.5 * 0.150**2, 1000 * REVOLUTION_PER_MINUTE
    torque = clutch.clutch_capacity(1, 0.3 / math.sin(math.radians(15)), 180.0, 0.0375)

    assert torque == pytest.approx(7.8, rel=0.01)
    assert speed * inertia / torque == pytest.approx(4.1, rel=0.01)


# The definitions behind both friction laws: T = n·μ·∫ p(r)·2πr·r dr with p even (new) or p·r even (run in).
@pytest.mark.parametrize("inner", [0.03, 0.06, 0.09])
def test_friction_radii_are_the_integrals_of_their_pressure(inner: float) -> None:
    """scipy.integrate.quad over the ring, within 1e-9."""
    outer, pressure = 0.12, 1e5
    new = quad(lambda r: pressure * 2 * math.pi * r**2, inner, outer)[0]
    run_in = quad(lambda r: pressure * inner / r * 2 * math.pi * r**2, inner, outer)[0]

    load_new, load_run_in = (law(pressure, outer, inner) for law in (clutch.clamp_load_new, clutch.clamp_load_run_in))
    assert load_new * clutch.facing_radius_new(outer, inner) == pytest.approx(new, rel=1e-9)
    assert load_run_in * clutch.facing_radius_run_in(outer, inner) == pytest.approx(run_in, rel=1e-9)


# Mechanics of Materials, example 3.2: 1200 N·m, τ 40 MPa, G 78 GPa, 0.75° per metre: solid shaft by stress 53.46 mm; tube
# of wall D/10 by stress 63.73 mm; mass of the tube over the solid shaft, both by twist, 0.47.
def test_solid_shaft_and_tube_for_one_torque() -> None:
    """Diameters within 0.4 %, mass ratio to its last digit."""

    def by_stress(share: float) -> float:
        return float(brentq(lambda d: torsion.shear_stress(1200.0, d, share * d) - 40e6, 0.01, 0.5))

    def by_twist(share: float) -> float:
        allowed = math.radians(0.75)
        return float(brentq(lambda d: torsion.twist(1200.0, 1.0, d, share * d, 78e9) - allowed, 0.01, 0.5))

    solid, tube = by_twist(0.0), by_twist(0.8)
    masses = [torsion.tube_mass(size, share * size, 1.0, 7850.0) for size, share in ((tube, 0.8), (solid, 0.0))]

    assert by_stress(0.0) == pytest.approx(53.46e-3, rel=4e-3)
    assert by_stress(0.8) == pytest.approx(63.73e-3, rel=4e-3)
    assert masses[0] / masses[1] == pytest.approx(0.47, abs=0.005)


# Closed form of elastic torsion (any textbook), worked by hand: tube 76.2 × 1.65 mm, 1500 N·m, 79.3 GPa, 1 m: 106.39 MPa,
# 2.017°. Independent: the stress of every ring, τ = G·r·φ/L, integrated over the section gives the torque back.
def test_stress_and_twist_of_a_prop_shaft_tube() -> None:
    """Printed digits within 0.1 %, the integral within 1e-9."""
    stress = torsion.shear_stress(1500.0, 0.0762, 0.0729)
    angle = torsion.twist(1500.0, 1.0, 0.0762, 0.0729, 79.3e9)
    carried = quad(lambda r: 79.3e9 * r * angle * 2 * math.pi * r**2, 0.0729 / 2, 0.0762 / 2)[0]

    assert stress / 1e6 == pytest.approx(106.39, rel=1e-3)
    assert math.degrees(angle) == pytest.approx(2.017, rel=1e-3)
    assert carried == pytest.approx(1500.0, rel=1e-9)
    assert stress == pytest.approx(79.3e9 * 0.0762 / 2 * angle, rel=1e-9)


# Distortion energy (von Mises): a bar in pure shear yields where √3·τ = σ_y; 0.577 is that to three digits.
def test_capacity_is_where_the_distortion_energy_reaches_yield() -> None:
    """Without reserve or notch, within the rounding of 0.577."""
    torque = torsion.torque_capacity(0.030, 0.0, 850e6, notch_factor=1.0, reserve=1.0)

    assert math.sqrt(3) * torsion.shear_stress(torque, 0.030) == pytest.approx(850e6, rel=1e-3)


# Statics and power balance, worked by hand: 400 N·m (no shock, clutch at its capacity), first gear 3.2 (η 0.96), axle 3.7
# (η 0.97), r 0.31 m, 1250 kg, wheelbase 2.55, front axle to centre of gravity 1.30, its height 0.50 m, μ 0.95, rear drive,
# locked: prop shaft 1228.8 by the engine and 630.2 N·m by the grip; axle 4410 and 2261.7 N·m.
def test_grip_governs_in_first_gear() -> None:
    """Within 0.1 %; the grip from moments about the front contact, worked out here by iteration."""
    grip = traction.grip_rear_drive(0.95, 1250.0, 2.55, 1.30, 0.50)
    engine = along_the_path.from_engine(400.0, 3.2, 3.7, 0.96, 0.97)
    tyres = along_the_path.from_grip(grip, 0.31, 3.2, 3.7, 0.96, 0.97)
    pull = 0.0
    for _ in range(60):  # the load that moves back raises the grip, which moves more load back
        pull = 0.95 * (1250.0 * STANDARD_GRAVITY * 1.30 + pull * 0.50) / 2.55

    assert engine.gearbox_output == pytest.approx(1228.8, rel=1e-3)
    assert tyres.gearbox_output == pytest.approx(630.2, rel=1e-3)
    assert engine.axle == pytest.approx(4410, rel=1e-3)
    assert tyres.axle == pytest.approx(2261.7, rel=1e-3)
    assert tyres.axle == pytest.approx(pull * 0.31, rel=1e-9)
    assert along_the_path.governing(engine.axle, tyres.axle) == (tyres.axle, np.True_)


# Friction on a clamped face, worked by hand: five M12×1.5 studs, preload 54.84 kN each (0.75 · 830 MPa · 88.1 mm²), μ 0.15,
# pitch radius 57 mm: 2344 N·m. Stress area and proof stress: ISO 898-1.
def test_wheel_slips_on_its_hub() -> None:
    """Within 0.1 %."""
    preload = 0.75 * 830e6 * 88.1e-6

    assert preload == pytest.approx(54.84e3, rel=1e-3)
    assert wheel_joint.wheel_slip_torque(5, preload, 0.15, 0.057) == pytest.approx(2344, rel=1e-3)
