"""Feet of brackets, faces under heads, twist in tightening, fit of threads, eye bolts: signs, ends and round trips."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from trialfit.handbook.fastening import bracket_feet, eye_bolts, fasteners, joint_faces, thread_fit, tightening_stress
from trialfit.handbook.fastening.fastener_classes import head_of, nut_against_bolt, strength_of

PAIR = np.array([[0.0, -0.03], [0.0, 0.03]])


def test_a_pull_without_a_lever_is_shared_alike() -> None:
    """And one bolt takes it whole."""
    assert bracket_feet.hardest_pull(PAIR, 0.02, 4e3, 0.0) == pytest.approx(2e3)
    assert bracket_feet.hardest_pull(PAIR[:1], 0.02, 4e3, 0.0) == pytest.approx(4e3)


def test_one_bolt_is_levered_about_the_edge() -> None:
    """Balance about the edge by hand: F·e = M + P·e."""
    assert bracket_feet.hardest_pull(PAIR[:1], 0.02, 1e3, 100.0) == pytest.approx(1e3 + 100 / 0.02)
    assert np.isinf(bracket_feet.hardest_pull(PAIR[:1], 0.0, 1e3, 100.0))
    assert bracket_feet.hardest_pull(PAIR[:1], 0.0, 1e3, 0.0) == pytest.approx(1e3)


def test_the_upper_bolt_of_two_by_hand() -> None:
    """Edge 20 mm below the lower one: M·80/(80² + 20²); a nearer edge makes it harder."""
    by_hand = 300 * 0.080 / (0.080**2 + 0.020**2)

    assert bracket_feet.hardest_pull(PAIR, 0.02, 0.0, 300.0) >= by_hand * (1 - 1e-12)
    assert bracket_feet.hardest_pull(PAIR, 0.01, 0.0, 300.0) > bracket_feet.hardest_pull(PAIR, 0.03, 0.0, 300.0)


def test_a_great_pull_lifts_the_edge_off() -> None:
    """Then the moment is shared about the middle of the bolts."""
    line = np.array([[0.0, 0.0], [0.0, 0.06]])

    assert bracket_feet.hardest_pull(line, 0.02, 10e3, 30.0) >= 5e3 + 30 / 0.06 - 1e-6


@settings(max_examples=25)
@given(st.floats(0.1, 20e3), st.floats(0.0, 2e3), st.floats(0.001, 0.1))
def test_a_longer_lever_never_relieves_a_bolt(pull, moment, edge) -> None:
    """Of the same pull."""
    few, more = (bracket_feet.hardest_pull(PAIR, edge, pull, times * moment) for times in (1.0, 1.5))

    assert more >= few * (1 - 1e-12) >= pull / 2 * (1 - 1e-9)


def test_shear_at_a_lever_turns_the_joint() -> None:
    """Two bolts 60 mm apart: V/2 + V·e/60 mm; one bolt cannot hold a lever."""
    assert bracket_feet.turned_shear(PAIR, 2e3, 0.03) == pytest.approx(1e3 + 2e3 * 0.03 / 0.06)
    assert bracket_feet.turned_shear(PAIR[:1], 2e3, 0.0) == pytest.approx(2e3)
    assert np.isnan(bracket_feet.turned_shear(PAIR[:1], 2e3, 0.03))


def test_a_stiff_foot_does_not_pry_and_a_far_edge_does_not_help() -> None:
    """Prying ends at the hinge of the bolt line, and beyond 1.25 of the web's distance the edge counts no more."""
    foot = {"web_distance": 0.02, "bolt_diameter": 0.01, "hole_diameter": 0.011, "width": 0.04}
    at = {use: float(bracket_feet.prying_share(use, edge_distance=0.02, **foot)) for use in (0.5, 1.0, 1.3, 3.0, 9.0)}

    assert at[0.5] == at[1.0] == 0
    assert 0 < at[1.3] < at[3.0] == at[9.0]
    assert bracket_feet.prying_share(3.0, edge_distance=0.025, **foot) == bracket_feet.prying_share(
        3.0, edge_distance=0.05, **foot
    )


def test_a_washer_spreads_as_far_as_its_thickness_lets_it() -> None:
    """A thin one bends up; one smaller than the head leaves its own size."""
    assert joint_faces.washer_face(0.0146, 0.030, 0.001) == pytest.approx(0.0162)
    assert joint_faces.washer_face(0.0146, 0.015, 0.003) == pytest.approx(0.015)
    assert joint_faces.washer_face(0.0146, 0.013, 0.003) == pytest.approx(0.013)


@pytest.mark.parametrize("finish", joint_faces.FINISHES)
def test_paint_and_faces_bed_in_and_more_so_sideways(finish) -> None:
    """Each adds; the half-width stays below the value."""
    bare, half = joint_faces.bedding_in(finish, 1, 0, sideways=False)

    assert joint_faces.bedding_in(finish, 2, 0, sideways=False)[0] > bare > half > 0
    assert joint_faces.bedding_in(finish, 1, 1, sideways=False)[0] == pytest.approx(bare + 12.5e-6)
    assert joint_faces.bedding_in(finish, 1, 0, sideways=True)[0] > bare


def test_an_unknown_finish_or_material_or_make_is_an_error() -> None:
    """With the word as it was given."""
    with pytest.raises(KeyError, match="mirror"):
        joint_faces.bedding_in("mirror", 1, 0, sideways=False)
    with pytest.raises(KeyError, match="wood"):
        joint_faces.bearing_limit("wood")
    with pytest.raises(KeyError, match="bent"):
        eye_bolts.share_at_angle("bent", 0.1)
    with pytest.raises(KeyError, match="77"):
        nut_against_bolt("77", strength_of("8.8", 0.01))


@given(st.floats(0.03, 0.4), st.sampled_from([(0.006, 0.001), (0.01, 0.0015), (0.016, 0.002)]))
def test_friction_and_nut_factor_turn_into_each_other(friction, thread) -> None:
    """The same friction in thread and under the head."""
    factor = fasteners.nut_factor_of_friction(*thread, friction, friction, 1.28 * thread[0])

    assert tightening_stress.friction_of_nut_factor(factor, *thread, 1.28 * thread[0]) == pytest.approx(friction)


@given(st.floats(0.3, 1.0), st.floats(0.05, 0.4))
def test_stress_in_tightening_is_the_reverse_of_the_preload_at_yield(share, friction) -> None:
    """Pull and twist come back to the share they were made from."""
    preload = fasteners.preload_at_yield_share(share, 640e6, 0.01, 0.0015, friction)

    assert tightening_stress.stress_in_tightening(preload, 57.99e-6, 0.01, 0.0015, friction) / 640e6 == pytest.approx(
        share, rel=1e-3
    )


@pytest.mark.parametrize("thread", [(0.003, 0.0005), (0.006, 0.001), (0.012, 0.00125), (0.02, 0.0025), (0.0381, 0.004)])
def test_threads_to_their_tolerance_keep_most_of_their_metal(thread) -> None:
    """More than half, never all of it."""
    least, most = thread_fit.thread_left(*thread)

    assert 0.6 < least < 0.9 < most == 1


def test_an_eye_bolt_bears_less_the_further_it_is_pulled_off_its_axis() -> None:
    """A collar gives nothing beyond 45°, a plain one a quarter at 90°."""
    angles = np.radians([0.0, 10.0, 20.0, 40.0, 45.0, 60.0, 90.0])
    collar, plain = (eye_bolts.share_at_angle(make, angles) for make in eye_bolts.MAKES)

    assert np.all(np.diff(collar) <= 0)
    assert np.all(np.diff(plain) <= 0)
    assert collar.tolist()[-2:] == [0.0, 0.0]
    assert plain[-1] == pytest.approx(0.25)
    assert eye_bolts.share_at_angle("collar", np.radians(45), 0.25) == pytest.approx(0.25)
    assert eye_bolts.axial_rating("M12×1.75") == 340
    assert eye_bolts.axial_rating("M7") is None


def test_nuts_of_one_system_go_by_class_and_across_by_stress() -> None:
    """A class 8 nut bears 800 by class and proves 855."""
    metric, inch = strength_of("8.8", 0.01), strength_of("grade 5", 0.01)

    assert [stress / 1e6 for stress in nut_against_bolt("8", metric)] == [800, 800]
    assert [stress / 1e6 for stress in nut_against_bolt("8", inch)] == [855, 827]
    assert [stress / 1e6 for stress in nut_against_bolt("grade 8", metric)] == [1034, 800]


def test_a_head_has_its_washer() -> None:
    """ISO 7089."""
    head = head_of(0.012)

    assert head is not None
    assert head.washer_thickness == pytest.approx(2.5e-3)
