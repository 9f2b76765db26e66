"""Fasteners and tightening against values printed or worked out elsewhere; the source stands beside each."""

from __future__ import annotations

from math import pi, radians, tan

import numpy as np
import pytest
from scipy.integrate import quad

from trialfit.handbook.constants import FOOT, INCH, POUND_FORCE
from trialfit.handbook.fastening.bolted_joints import angle_after_snug, bolt_stiffness, load_share, member_stiffness
from trialfit.handbook.fastening.fastener_classes import head_of, nut_factor_of, strength_of
from trialfit.handbook.fastening.fasteners import (
    LUBRICATED_SHARE,
    nut_factor_of_friction,
    preload_at_yield_share,
    proof_load,
    torque_by_friction,
    torque_for_preload,
)
from trialfit.handbook.fastening.screw_threads import minor_diameter, pitch_diameter, root_diameter, stress_area
from trialfit.handbook.fastening.thread_sizes import read_fastener_thread
from trialfit.handbook.fastening.tightening_order import circle_order, torque_stages
from trialfit.handbook.fastening.torque_wrenches import setting_with_adapter
from trialfit.handbook.tables import rows

KSI = 1000 * POUND_FORCE / INCH**2


AREA_METRIC, AREA_UNIFIED = "stress area [mm²]", "stress area [in²]"


def printed_areas(table: str, column: str) -> list[dict[str, str]]:
    """The rows of a thread table that have a printed area."""
    return [row for row in rows("fastening", table) if row[column]]


# ISO 898-1, ultimate tensile loads, coarse thread: A in mm², printed to 3 figures (read in a public reprint).
@pytest.mark.parametrize(
    "row", printed_areas("metric_threads", AREA_METRIC), ids=lambda row: f"M{row['diameter [mm]']}"
)
def test_stress_area_of_a_coarse_metric_thread(row) -> None:
    """Rounded to three figures it is the printed one."""
    area = read_fastener_thread(f"M{row['diameter [mm]']}").stress_area * 1e6

    assert float(f"{area:.3g}") == float(row[AREA_METRIC])


# ASME B1.1, tensile stress areas in in², from memory; ¾-10 is printed as 0.334 in Machine Design, ch. 6.
@pytest.mark.parametrize(
    "row", printed_areas("unified_threads", AREA_UNIFIED), ids=lambda row: f"{row['size']} {row['series']}"
)
def test_stress_area_of_a_unified_thread(row) -> None:
    """Within one of the last printed digit."""
    printed = row[AREA_UNIFIED]
    last_digit = 10.0 ** -len(printed.partition(".")[2])
    area = read_fastener_thread(f"{row['size']}-{row['threads per inch']}").stress_area / INCH**2

    assert area == pytest.approx(float(printed), abs=1.05 * last_digit)


# ISO 724, basic dimensions, M10 × 1.5: d₂ 9.026, D₁ 8.376; ISO 68-1 root d₃ 8.160 mm; from memory.
def test_basic_profile_of_m10() -> None:
    """To the last printed digit."""
    profile = [of(10e-3, 1.5e-3) * 1e3 for of in (pitch_diameter, minor_diameter, root_diameter)]

    assert profile == pytest.approx([9.026, 8.376, 8.160], abs=0.0006)


# Machine Design, ch. 6, examples 6.1 and 6.2: ¾-10, A 0.334 in², proof 85 ksi, preload 0.85 of proof, K 0.20, grip 5 in.
def test_torque_and_angle_of_a_three_quarter_bolt() -> None:
    """Printed 3619.7 lbf·in and, by bolt stretch alone, 43.35°, within 0.05 %."""
    area = 0.334 * INCH**2
    preload = 0.85 * proof_load(area, 85 * KSI)
    stretch = bolt_stiffness(area, area, 0.0, 5 * INCH, 30e3 * KSI)

    assert torque_for_preload(preload, 0.20, 0.75 * INCH) / (POUND_FORCE * INCH) == pytest.approx(3619.7, rel=5e-4)
    assert np.degrees(angle_after_snug(preload, INCH / 10, stretch)) == pytest.approx(43.35, rel=5e-4)


# Fastener supplier's torque-tension chart, ⅜-16 grade 5 at 75 % of proof: 4940 lbf, 30 lbf·ft dry, 23 lbf·ft lubricated.
def test_chart_of_a_three_eighths_grade_5_bolt() -> None:
    """Within 3 %, the rounding of the chart."""
    thread, strength = read_fastener_thread("3/8-16"), strength_of("grade 5", 0.375 * INCH)
    preload = 0.75 * proof_load(thread.stress_area, strength.proof)

    assert preload / POUND_FORCE == pytest.approx(4940, rel=0.03)
    for factor, printed in ((0.20, 30), (0.15, 23)):
        torque = torque_for_preload(preload, factor, thread.diameter) / (POUND_FORCE * FOOT)
        assert torque == pytest.approx(printed, rel=0.03)


# Fastener suppliers' torque-tension note: lubricated charts are 0.75 of the dry figure, K 0.15 against 0.20.
def test_lubricated_charts_are_three_quarters_of_dry_ones() -> None:
    """The usual values of the table keep the printed step."""
    assert nut_factor_of("oiled").usual / nut_factor_of("dry").usual == pytest.approx(LUBRICATED_SHARE)


# VDI 2230:2001, fine threads, as a tool maker's catalogue quotes it: hexagon head, medium hole, 90 % of yield.
@pytest.mark.parametrize(
    ("size", "strength_class", "friction", "kilonewtons", "newton_metres"),
    [
        ("M8x1", "8.8", 0.10, 20.7, 22.8),
        ("M10x1.25", "10.9", 0.12, 46.4, 75.0),
        ("M12x1.25", "8.8", 0.14, 46.8, 101.0),
    ],
)
def test_preload_and_torque_of_fine_threads(size, strength_class, friction, kilonewtons, newton_metres) -> None:
    """Within 0.9 %: the table rounds, and prints whole newton metres."""
    thread = read_fastener_thread(size)
    strength, head = strength_of(strength_class, thread.diameter), head_of(thread.diameter)
    preload = preload_at_yield_share(0.9, strength.yielding, thread.diameter, thread.pitch, friction)
    face = (head.bearing_diameter + head.hole_diameter) / 2
    torque = torque_by_friction(preload, thread.diameter, thread.pitch, friction, friction, face)

    assert preload / 1e3 == pytest.approx(kilonewtons, rel=0.009)
    assert torque == pytest.approx(newton_metres, rel=0.009)


# ISO 898-1, proof loads, coarse thread, on two fastener pages.
@pytest.mark.parametrize(
    ("size", "strength_class", "kilonewtons"), [("M8", "8.8", 21.2), ("M10", "10.9", 48.1), ("M6", "12.9", 19.5)]
)
def test_proof_loads(size, strength_class, kilonewtons) -> None:
    """Within 0.3 %."""
    thread = read_fastener_thread(size)
    load = proof_load(thread.stress_area, strength_of(strength_class, thread.diameter).proof)

    assert load / 1e3 == pytest.approx(kilonewtons, rel=3e-3)


# Torque-wrench manual, worked example: wrench 16 in, in-line adapter 2 in, wanted 50 lbf·ft, set 44.44 lbf·ft.
def test_setting_with_an_adapter() -> None:
    """Within 0.05 %."""
    assert setting_with_adapter(50.0, 16 * INCH, 2 * INCH) == pytest.approx(44.44, rel=5e-4)


# scipy.integrate.quad over the cone of 30°, written out without the handbook.
def test_stiffness_load_share_and_angle_of_an_m10_joint() -> None:
    """Grip 30 mm of steel: k_b 482.3, k_m 1927 N/µm, Φ 0.2002, 15.70° from snug, within 0.2 %."""
    bolt = bolt_stiffness(pi / 4 * 0.010**2, stress_area(0.010, 0.0015), 20e-3, 10e-3, 206e9)
    members = member_stiffness(15e-3, 206e9, 15e-3, 206e9, 15e-3, 10e-3)

    def gives(depth: float) -> float:
        return 1 / (206e9 * pi / 4 * ((15e-3 + 2 * depth * tan(radians(30))) ** 2 - 10e-3**2))

    assert members == pytest.approx(1 / (2 * quad(gives, 0, 15e-3)[0]), rel=1e-9)
    assert bolt / 1e6 == pytest.approx(482.3, rel=2e-3)
    assert members / 1e6 == pytest.approx(1927, rel=2e-3)
    assert load_share(bolt, members) == pytest.approx(0.2002, rel=2e-3)
    assert np.degrees(angle_after_snug(25.23e3, 1.5e-3, bolt, members)) == pytest.approx(15.70, rel=2e-3)


# Machine design textbook: closed fit of finite-element cones, k_m = E·d·0.787·exp(0.629·d/l), another way to the same joint.
def test_member_stiffness_lies_near_another_closed_fit() -> None:
    """2000 N/µm by the fit: within 5 % of the cone."""
    fit = 206e9 * 10e-3 * 0.78715 * np.exp(0.62873 * 10 / 30)

    assert fit / 1e6 == pytest.approx(2000, rel=2e-3)
    assert member_stiffness(15e-3, 206e9, 15e-3, 206e9, 15e-3, 10e-3) == pytest.approx(fit, rel=0.05)


# Derived from the long form of VDI 2230: K for μ 0.10 to 0.20, M8 to M12 within 2 % (M12 at μ 0.14: 2.07 %).
@pytest.mark.parametrize(("size", "tolerance"), [("M8", 0.02), ("M10", 0.02), ("M12", 0.021)])
def test_nut_factor_by_friction(size, tolerance) -> None:
    """0.141, 0.164, 0.188, 0.211 and 0.257."""
    thread = read_fastener_thread(size)
    head = head_of(thread.diameter)
    face = (head.bearing_diameter + head.hole_diameter) / 2
    friction = np.array([0.10, 0.12, 0.14, 0.16, 0.20])
    factor = nut_factor_of_friction(thread.diameter, thread.pitch, friction, friction, face)

    assert factor == pytest.approx([0.141, 0.164, 0.188, 0.211, 0.257], rel=tolerance)


# Derived from the long form of VDI 2230 at μ 0.12.
def test_where_the_torque_goes() -> None:
    """The pitch takes 15 %, the thread 38 %, the head 47 % (M10)."""
    whole = torque_by_friction(1.0, 10e-3, 1.5e-3, 0.12, 0.12, 12.815e-3)
    pitch = torque_by_friction(1.0, 10e-3, 1.5e-3, 0.0, 0.0, 12.815e-3) / whole
    thread = torque_by_friction(1.0, 10e-3, 1.5e-3, 0.12, 0.0, 12.815e-3) / whole - pitch

    assert [pitch, thread, 1 - pitch - thread] == pytest.approx([0.15, 0.38, 0.47], abs=0.01)


# Machine maker's manual, torque table at μ 0.14, prints 49 N·m for M10 8.8; VDI 2230:2001 gives 53.7: editions differ by 9 %.
def test_editions_of_torque_tables_differ() -> None:
    """The long form gives the later figure within 0.5 %, the older one is 9 % lower."""
    head = head_of(0.010)
    preload = preload_at_yield_share(0.9, 640e6, 10e-3, 1.5e-3, 0.14)
    torque = torque_by_friction(preload, 10e-3, 1.5e-3, 0.14, 0.14, (head.bearing_diameter + head.hole_diameter) / 2)

    assert torque == pytest.approx(53.7, rel=5e-3)
    assert 49 / torque == pytest.approx(0.91, abs=0.01)


# Car manuals' printed sequences for 4, 5, 6 and 8 bolts on a circle: common practice, no source.
@pytest.mark.parametrize("printed", ["1-3-2-4", "1-3-5-2-4", "1-4-2-5-3-6", "1-5-3-7-2-6-4-8"])
def test_order_on_a_circle(printed) -> None:
    """Numbered round the circle."""
    order = circle_order(len(printed.split("-")))

    assert "-".join(map(str, order)) == printed


# ASME PCC-1, cross pattern for 12 and 16 bolts, and stages of 30, 70 and 100 %: from memory.
def test_order_and_stages_of_flange_practice() -> None:
    """The pairs of 12 and 16 bolts, and a last round at full torque."""
    assert circle_order(12) == (1, 7, 4, 10, 2, 8, 5, 11, 3, 9, 6, 12)
    assert circle_order(16) == (1, 9, 5, 13, 3, 11, 7, 15, 2, 10, 6, 14, 4, 12, 8, 16)
    assert [stage.share for stage in torque_stages()] == [0.0, 0.3, 0.7, 1.0, 1.0]
