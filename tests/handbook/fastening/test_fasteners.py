"""Fastener formulas: signs, inverses, ranges, and what the tables promise."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from trialfit.handbook.fastening import bolted_joints, fasteners, screw_threads, torque_wrenches
from trialfit.handbook.fastening.fastener_classes import (
    BOLT_CLASSES,
    NUT_CLASSES,
    THREAD_STATES,
    head_of,
    nut_factor_of,
    nut_goes_with,
    strength_of,
)
from trialfit.handbook.fastening.thread_sizes import read_fastener_thread

FRICTION = st.floats(0.05, 0.4)
TORQUE = st.floats(1.0, 500.0)


@given(TORQUE, st.floats(0.1, 0.5), st.floats(0.004, 0.03))
def test_torque_and_preload_turn_into_each_other(torque, factor, diameter) -> None:
    """Short form."""
    preload = fasteners.preload_of_torque(torque, factor, diameter)

    assert fasteners.torque_for_preload(preload, factor, diameter) == pytest.approx(torque)


@given(TORQUE, FRICTION, FRICTION)
def test_the_long_form_turns_round_and_amounts_to_a_nut_factor(torque, thread, head) -> None:
    """Short and long form agree through K."""
    joint = (10e-3, 1.5e-3, thread, head, 12.8e-3)
    preload = fasteners.preload_by_friction(torque, *joint)
    factor = fasteners.nut_factor_of_friction(*joint)

    assert fasteners.torque_by_friction(preload, *joint) == pytest.approx(torque)
    assert fasteners.preload_of_torque(torque, factor, 10e-3) == pytest.approx(preload)


def test_oil_raises_the_preload_and_friction_twists_the_bolt() -> None:
    """Both signs are pinned."""
    assert fasteners.preload_of_torque(50, 0.15, 0.01) > fasteners.preload_of_torque(50, 0.20, 0.01)
    assert fasteners.preload_at_yield_share(0.9, 640e6, 0.01, 0.0015, 0.2) < fasteners.preload_at_yield_share(
        0.9, 640e6, 0.01, 0.0015, 0.1
    )


def test_a_finer_pitch_leaves_more_steel() -> None:
    assert screw_threads.stress_area(0.010, 0.00125) > screw_threads.stress_area(0.010, 0.0015)


def test_a_hole_in_aluminium_strips_before_an_8_8_bolt_breaks_unless_it_is_deep() -> None:
    """One diameter is too little and two are enough, which is what the trade's rule says."""
    breaks = 800e6 * screw_threads.stress_area(0.010, 0.0015)

    assert screw_threads.hole_strip_force(0.010, 0.0015, 0.010, 240e6) < breaks
    assert screw_threads.hole_strip_force(0.010, 0.0015, 0.020, 240e6) > breaks
    assert screw_threads.engagement_rule(0.010, "aluminium") == pytest.approx(0.020)
    assert screw_threads.engagement_rule(0.010, "steel") == pytest.approx(0.0125)


def test_a_standard_nut_is_deep_enough_for_its_bolt() -> None:
    """A nut of 0.8 diameters: the bolt breaks before its threads shear, from memory of ISO 898-2's intent."""
    strips = screw_threads.bolt_strip_force(0.010, 0.0015, 0.008, 800e6)

    assert strips > 800e6 * screw_threads.stress_area(0.010, 0.0015)


def test_two_layers_of_one_material_are_as_stiff_as_one_and_aluminium_is_softer() -> None:
    """However the grip is divided."""
    cone = (16e-3, 11e-3)
    whole = bolted_joints.member_stiffness(15e-3, 206e9, 15e-3, 206e9, *cone)

    assert bolted_joints.member_stiffness(4e-3, 206e9, 26e-3, 206e9, *cone) == pytest.approx(whole)
    assert bolted_joints.member_stiffness(4e-3, 70e9, 26e-3, 206e9, *cone) < whole
    assert bolted_joints.member_stiffness(4e-3, 70e9, 26e-3, 206e9, *cone) == pytest.approx(
        bolted_joints.member_stiffness(26e-3, 206e9, 4e-3, 70e9, *cone)
    )


@given(st.floats(1e3, 60e3), st.floats(0, 0.9), st.floats(0, 80e3))
def test_bolt_clamp_and_pull_are_in_balance(preload, share, pull) -> None:
    """Newton: what the bolt pulls is what the faces press and the pull takes."""
    bolt = bolted_joints.bolt_force(preload, share, pull)
    clamp = bolted_joints.clamp_force(preload, share, pull)

    assert bolt == pytest.approx(clamp + pull, rel=1e-9)
    assert (clamp > 0) == (pull < bolted_joints.separation_load(preload, share)) or clamp == pytest.approx(0, abs=1e-6)


def test_angle_and_preload_turn_into_each_other_until_the_bolt_yields() -> None:
    """Elastic the one way and back; past yield the preload stays."""
    angle = bolted_joints.angle_after_snug(20e3, 1.5e-3, 480e6, 1900e6)

    assert bolted_joints.preload_of_angle(5e3, angle, 1.5e-3, 480e6, 1900e6) == pytest.approx(25e3)
    assert bolted_joints.preload_of_angle(5e3, 10 * angle, 1.5e-3, 480e6, 1900e6, 40e3) == pytest.approx(40e3)
    assert angle > bolted_joints.angle_after_snug(20e3, 1.5e-3, 480e6)


@given(TORQUE, st.floats(0.2, 1.0), st.floats(0, 0.1), st.floats(0, np.pi / 2))
def test_an_adapter_lowers_the_setting_and_turns_round(torque, length, extension, angle) -> None:
    """At 90° it changes nothing."""
    setting = torque_wrenches.setting_with_adapter(torque, length, extension, angle)

    assert setting <= torque * (1 + 1e-12)
    assert torque_wrenches.torque_with_adapter(setting, length, extension, angle) == pytest.approx(torque)
    assert torque_wrenches.setting_with_adapter(torque, length, extension, np.pi / 2) == pytest.approx(torque)


@pytest.mark.parametrize(
    "worked",
    [
        fasteners.torque_for_preload(-1.0, 0.2, 0.01),
        fasteners.preload_of_torque(10.0, 0.0, 0.01),
        fasteners.torque_by_friction(1e3, 0.01, 0.02, 0.1, 0.1, 0.013),
        fasteners.preload_at_yield_share(0.9, -1.0, 0.01, 0.0015, 0.1),
        fasteners.tightening_factor(1.0),
        fasteners.share_of_proof(-1.0, 58e-6, 580e6),
        screw_threads.stress_area(0.01, 0.0),
        screw_threads.hole_strip_force(0.01, 0.0015, -1.0, 240e6),
        bolted_joints.bolt_stiffness(0.0, 58e-6, 0.02, 0.01, 206e9),
        bolted_joints.member_stiffness(0.01, 206e9, 0.01, 206e9, 0.010, 0.011),
        bolted_joints.load_share(0.0, 1e9),
        bolted_joints.separation_load(1e4, 1.0),
        bolted_joints.slip_force(0, 1e4, 0.15),
        bolted_joints.angle_after_snug(1e4, 0.0, 1e8),
        bolted_joints.preload_of_angle(-1.0, 1.0, 0.0015, 1e8, 1e9),
        torque_wrenches.setting_with_adapter(10.0, 0.0, 0.05),
        torque_wrenches.usable_range(-1.0)[0],
    ],
)
def test_outside_its_range_a_formula_is_undefined(worked) -> None:
    """Never a clip, never an exception."""
    assert np.isnan(worked)


def test_one_bad_draw_leaves_the_others_alone() -> None:
    preload = fasteners.preload_of_torque(np.array([50.0, -1.0, 60.0]), 0.2, 0.01)

    assert np.isnan(preload).tolist() == [False, True, False]


@pytest.mark.parametrize("strength_class", BOLT_CLASSES)
def test_every_class_has_its_strengths_in_order_and_a_nut_of_its_own(strength_class) -> None:
    """Proof below yield (for stainless: at it) below tensile; a nut of the right class goes with it."""
    strength = strength_of(strength_class, 0.010)

    assert strength.proof <= strength.yielding < strength.tensile
    assert strength.wants in {nut_goes_with(nut)[0] for nut in NUT_CLASSES}
    assert strength.source


def test_a_class_beyond_its_sizes_and_an_unknown_class() -> None:
    assert strength_of("grade 5", 0.030) is None
    with pytest.raises(KeyError):
        strength_of("7.7", 0.010)


def test_a_thick_8_8_bolt_is_a_little_stronger() -> None:
    assert strength_of("8.8", 0.016).proof == 580e6
    assert strength_of("8.8", 0.018).proof == 600e6


@pytest.mark.parametrize("state", THREAD_STATES)
def test_a_usual_nut_factor_lies_in_its_range(state) -> None:
    factor = nut_factor_of(state)

    assert factor.low <= factor.usual <= factor.high


def test_heads_by_size() -> None:
    """5/8 in lies within a hundredth of M16; 3/8 in has no head in the table."""
    assert head_of(0.015875) == head_of(0.016)
    assert head_of(0.009525) is None


@pytest.mark.parametrize(
    ("text", "called", "pitch_mm"),
    [
        ("M10", "M10×1.5", 1.5),
        ("M10×1,25", "M10×1.25", 1.25),
        ("m12 x 1.5", "M12×1.5", 1.5),
        ("3/8-16 UNC", "3/8-16", 25.4 / 16),
        ("7/16-20", "7/16-20", 1.27),
        ("10-32", "10-32", 25.4 / 32),
    ],
)
def test_designations_read_as_they_are_written(text, called, pitch_mm) -> None:
    thread = read_fastener_thread(text)

    assert thread.designation == called
    assert thread.pitch * 1e3 == pytest.approx(pitch_mm)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        (
            "M11",
            '"M11" has no coarse pitch in the table: write the pitch too, for example "M10", "M10×1.25" or "3/8-16"',
        ),
        ("M10×8", '"M10×8" has a pitch of 8 mm, which is unknown for that diameter:'),
        ("M10×3.2", '"M10×3.2" has a pitch of 3.2 mm, which no fastener of that diameter has:'),
        ("3/8", '"3/8" is not a known thread: expected metric or unified,'),
        ("3/8-20 UNC", '"3/8-20 UNC" contradicts itself: 3/8 UNC has 16 threads per inch, not 20'),
        ("3/8-80", '"3/8-80" has 80 threads per inch: 3/8 has 16 (coarse) or 24 (fine)'),
        ("11/16-12", '"11/16-12" has a size that is not in the table:'),
    ],
)
def test_a_designation_that_cannot_be_is_refused_in_a_sentence(text, says) -> None:
    with pytest.raises(ValueError, match="M|3/8|11/16") as caught:
        read_fastener_thread(text)

    assert str(caught.value).startswith(says)


@given(st.floats(10, 200), st.floats(0.1, 0.4), st.floats(0.008, 0.02))
def test_more_friction_in_the_thread_leaves_less_preload(torque: float, factor: float, diameter: float) -> None:
    """So does a thicker stud at the same torque; and F·K·d is the torque again."""
    here = fasteners.preload_of_torque(torque, factor, diameter)

    assert fasteners.preload_of_torque(torque, 1.1 * factor, diameter) < here
    assert fasteners.preload_of_torque(torque, factor, 1.1 * diameter) < here
    assert here * factor * diameter == pytest.approx(torque)
