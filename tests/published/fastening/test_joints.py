"""Stripping, bearing pressure, settlement, prying, cones and eye bolts against printed figures and examples."""

from __future__ import annotations

import numpy as np
import pytest

from trialfit.handbook.fastening import bracket_feet, fasteners, joint_faces, screw_threads, thread_fit
from trialfit.handbook.tables import rows


def test_the_handbook_example_of_a_thread_in_aluminium() -> None:
    """A bolting handbook: M10×1.5 6H in aluminium, shear 130 MPa, bolt of 1200 MPa and 58 mm²: 21.6 mm of engagement.

    Its shear area is 24.84 mm² for each millimetre, at 9.968 outside and 9.206 inside; ours spans it.
    """
    basic = screw_threads.hole_strip_force(10e-3, 1.5e-3, 1e-3, 1e6, 1.0)
    least, most = thread_fit.thread_left(10e-3, 1.5e-3)

    assert least * basic < 24.84 < most * basic
    needed = 1200 * 58 / (130 * np.array([most, least]) * basic)
    assert needed[0] < 21.6 < needed[1]


@pytest.mark.parametrize(
    ("size", "pitch", "outside", "inside"),
    # ISO 965-2 6g and 6H: least major diameter of the bolt, greatest pitch diameter of the hole, mm
    [(6, 1.0, 5.794, 5.500), (8, 1.25, 7.760, 7.348), (10, 1.5, 9.732, 9.206), (12, 1.75, 11.701, 11.063)],
)
def test_the_loosest_thread_is_that_of_the_printed_limits(size, pitch, outside, inside) -> None:
    """The formulas of ISO 965-1 against its rounded table: within 1 %."""
    left = (pitch / 2 + 0.57735 * (outside - inside)) * outside / (0.875 * pitch * size)

    assert thread_fit.hole_thread_left(size * 1e-3, pitch * 1e-3) == pytest.approx(left, rel=0.01)


def test_the_pressure_under_an_m10_head() -> None:
    """27 kN on 14.6 over 11 mm: 373 MPa; under a stiff washer of 20 mm 123."""
    assert joint_faces.bearing_pressure(27e3, 14.6e-3, 11e-3) / 1e6 == pytest.approx(373, abs=0.5)
    assert joint_faces.bearing_pressure(27e3, 20e-3, 11e-3) / 1e6 == pytest.approx(123, abs=0.5)


@pytest.mark.parametrize(("compliance", "lost"), [(1.365e-9, 6.7), (2.235e-9, 4.1), (4.721e-9, 1.9)])
def test_settlement_of_an_m10_joint_by_its_grip(compliance, lost) -> None:
    """VDI 2230 table 5, M10 through bolt, one inner face, Rz 10 to 40, joint 0.2 of the bolt's compliance: grips 6, 20, 60 mm."""
    bedded, _ = joint_faces.bedding_in("machined", 1, 0, sideways=False)

    assert joint_faces.bedding_loss(bedded, compliance, 0.2 * compliance) / 1e3 == pytest.approx(lost, abs=0.05)


def test_prying_of_a_thin_foot() -> None:
    """AISC: M10, b 25, a 20, p 40, hole 11 mm, double curvature: Q/T 0.336; at 5 kN and 355 MPa nothing pries from 5.31 mm."""
    assert bracket_feet.prying_share(5.0, 25e-3, 20e-3, 10e-3, 11e-3, 40e-3) == pytest.approx(0.336, abs=5e-4)
    assert bracket_feet.foot_use(5e3, 25e-3, 10e-3, 40e-3, 5.31e-3, 355e6) == pytest.approx(1, abs=2e-3)


@pytest.mark.parametrize(
    ("friction", "flat", "cone"), [(0.10, 0.140, 0.206), (0.15, 0.199, 0.299), (0.20, 0.259, 0.393)]
)
def test_nut_factors_of_a_conical_seat(friction, flat, cone) -> None:
    """M12×1.5, seat mean 16 mm, included angle 60°: the arm of the seat's friction is doubled."""
    thread = (12e-3, 1.5e-3, friction)

    assert fasteners.nut_factor_of_friction(*thread, friction, 16e-3) == pytest.approx(flat, abs=6e-4)
    assert fasteners.nut_factor_of_friction(*thread, friction, 32e-3) == pytest.approx(cone, abs=6e-4)


def test_eye_bolts_of_din_580() -> None:
    """Two legs at 45° bear 0.70 to 0.74 of the axial mass each, in every size of the leaflet."""
    for row in rows("fastening", "eye_bolts"):
        assert float(row["pair_at_45_kg"]) / float(row["axial_kg"]) == pytest.approx(0.72, abs=0.03), row["thread"]


@pytest.mark.parametrize(
    ("size", "threads", "bolt", "nut"),
    # ANSI inch size thread stress and shear areas, a public table: stripping areas in² over one diameter, 2A and 2B
    [
        (0.19, 24, 0.050, 0.076),
        (0.25, 20, 0.092, 0.135),
        (0.375, 16, 0.216, 0.310),
        (0.5, 13, 0.389, 0.562),
        (0.375, 24, 0.217, 0.299),
        (0.5, 20, 0.400, 0.541),
        (0.75, 10, 0.910, 1.29),
        (1.0, 8, 1.66, 2.33),
    ],
)
def test_stripping_areas_of_inch_threads(size, threads, bolt, nut) -> None:
    """The metric tolerances come within 3 % of 2A and 2B."""
    thread = (size * 0.0254, 0.0254 / threads)
    square_inches = 1 / 0.0254**2
    on_bolt = screw_threads.bolt_strip_force(*thread, thread[0], 1.0, 1.0) * thread_fit.bolt_thread_left(*thread)
    in_nut = screw_threads.hole_strip_force(*thread, thread[0], 1.0, 1.0) * thread_fit.hole_thread_left(*thread)

    assert on_bolt * square_inches == pytest.approx(bolt, rel=0.03)
    assert in_nut * square_inches == pytest.approx(nut, rel=0.03)
