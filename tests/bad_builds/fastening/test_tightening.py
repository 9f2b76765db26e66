"""Torques that a sane engineer would not set, each beside its mended twin that holds."""

from __future__ import annotations

import pytest

from trialfit.evaluation.verdict import Verdict
from trialfit.parts import BoltedJoint

HOLDS, FAILS, UNSETTLED = Verdict.holds, Verdict.fails, Verdict.unsettled
OF = "fastening.flange."


def test_the_makers_torque_on_the_very_threads_it_is_meant_for_holds(joint) -> None:
    """The maker has allowed for the scatter of friction; a torque that is far too much for the bolt fails."""
    sound = joint()
    too_much = joint(maker_torques=["140 N·m, manual"])

    assert {finding.verdict for finding in sound.findings} == {HOLDS}
    assert "outranks the scatter of their friction" in sound[f"{OF}preload_share"].remark
    assert too_much[f"{OF}preload_share"].verdict is FAILS
    assert too_much[f"{OF}pull_and_twist"].verdict is FAILS


def test_a_makers_torque_for_a_stronger_bolt_is_judged_with_its_scatter(joint) -> None:
    """50 N·m is 94 % of proof of an 8.8 where the maker had a 10.9: his word was for that one."""
    assert joint(strength_class="8.8", maker_torques=["50 N·m, manual"])[f"{OF}preload_share"].verdict is UNSETTLED
    assert joint(strength_class="8.8", maker_torques=["38 N·m, manual"])[f"{OF}preload_share"].verdict is HOLDS


def test_the_same_torque_by_telephone_is_judged_with_its_scatter(joint) -> None:
    """A guess takes nobody's place."""
    assert joint(maker_torques=["55 N·m, guess"])[f"{OF}preload_share"].verdict is UNSETTLED


def test_a_makers_torque_is_never_turned_up(joint) -> None:
    """For oiled threads, set on dry ones: too little clamp, and the threads are what is put right. 0.15 over 0.20."""
    dry = joint(thread_state="dry")[f"{OF}oiled_figure_on_dry_thread"]
    turned_up = joint(thread_state="dry", torque="73 N·m")[f"{OF}maker_figure"]

    assert dry.verdict is FAILS
    assert dry.value.nominal == pytest.approx(0.75)
    assert "bring the threads to the maker's state, oiled" in dry.remark
    assert "set about" not in dry.remark
    assert turned_up.verdict is FAILS
    assert turned_up.limit.nominal == pytest.approx(60.5)
    assert joint(thread_state="dry", torque="55 N·m")[f"{OF}maker_figure"].verdict is HOLDS


@pytest.mark.parametrize("state", ["cadmium plated", "phosphated and oiled"])
def test_each_coating_has_its_own_factor(joint, state) -> None:
    """55 N·m for dry threads on these is 64 % of proof or less: nothing breaks. On bare oiled steel 84 N·m for dry would."""
    mild = joint(thread_state=state, maker_state="dry")
    strong = joint(maker_state="dry", maker_torques=["84 N·m, manual"])

    assert mild[f"{OF}dry_figure_on_oiled_thread"].verdict is HOLDS
    assert mild[f"{OF}preload_share"].verdict is HOLDS
    assert strong[f"{OF}dry_figure_on_oiled_thread"].verdict is FAILS


def test_stainless_on_stainless_is_twisted_off_before_it_is_pulled_off(joint) -> None:
    """M8 A2-70 at 39.5 N·m: 75 % of proof by pull alone, beyond yield with the twist; suppliers set 25.5 to 30."""
    stainless = {
        "thread": "M8",
        "strength_class": "A2-70",
        "nut_class": "A2-70",
        "thread_state": "stainless on stainless",
        "maker_torques": None,
        "maker_state": None,
    }
    twisted = joint(**stainless, torque="39.5 N·m")
    computed = joint(**stainless)

    assert twisted[f"{OF}preload_share"].value.nominal == pytest.approx(75, abs=1)
    assert twisted[f"{OF}pull_and_twist"].verdict is FAILS
    assert 25 < computed.figure(f"{OF}computed_torque").value.nominal < 30
    assert computed[f"{OF}pull_and_twist"].verdict is HOLDS


def test_every_class_and_state_has_its_word() -> None:
    """None is read as the next stronger one."""
    specs = BoltedJoint.specs()

    assert {"4.6", "5.6", "9.8", "A2-50", "A4-70"} <= set(specs["strength_class"].words)
    assert {"anti-seize", "greased", "thread locker"} <= set(specs["thread_state"].words)
    assert specs["maker_state"].words == specs["thread_state"].words


def test_a_weaker_class_bears_less(joint) -> None:
    """20 N·m on M8, dry: too much for 4.6, right for 8.8."""
    base = {"thread": "M8", "thread_state": "dry", "maker_torques": None, "maker_state": None, "torque": "20 N·m"}

    assert joint(**base, strength_class="4.6")[f"{OF}preload_share"].verdict is FAILS
    assert joint(**base, strength_class="8.8")[f"{OF}preload_share"].verdict is HOLDS


@pytest.mark.parametrize(
    ("bolt", "nut", "verdict"),
    [
        ("grade 5", "8", HOLDS),
        ("10.9", "grade 8", HOLDS),
        ("grade 8", "8", FAILS),
        ("10.9", "grade 5", FAILS),
        ("8.8", "05", FAILS),
        ("A2-70", "8", HOLDS),
        ("8.8", "A2-70", FAILS),
    ],
)
def test_nuts_and_bolts_of_two_systems_are_compared_by_stress(joint, bolt, nut, verdict) -> None:
    """A nut of class 8 proves 855 MPa, a bolt of grade 5 breaks at 827."""
    assert joint(strength_class=bolt, nut_class=nut)[f"{OF}nut_grade"].verdict is verdict


def test_a_cone_takes_more_of_the_torque_than_a_flat_seat(joint) -> None:
    """M12×1.5, seat of 16 mm in the mean, μ 0.15: K 0.199 flat and 0.299 on a cone; 100 N·m give 42 kN and 28 kN."""
    wheel = {
        "thread": "M12×1.5",
        "thread_friction": "0.15 ± 0",
        "head_friction": "0.15 ± 0",
        "bearing_diameter": "18 ± 0 mm",
        "hole_diameter": "14 ± 0 mm",
        "maker_torques": ["100 N·m, manual"],
    }

    assert joint(**wheel).figure(f"{OF}preload").value.nominal == pytest.approx(42, abs=0.3)
    assert joint(**wheel, seat="cone of 60°").figure(f"{OF}preload").value.nominal == pytest.approx(28, abs=0.3)


def test_the_strongest_bolt_of_its_class_strips_a_hole_that_holds_the_weakest(joint) -> None:
    """M10 10.9 in aluminium of 217 MPa: 20.2 mm held before, a handbook asks for 21.6 with the strongest bolt."""
    hard = {"strength_class": "10.9", "hole_strength": "217 ± 3 MPa, catalogue"}
    short, long = (
        joint("tapped", **hard, engagement="20.2 mm, calipered"),
        joint("tapped", **hard, engagement="36 mm, calipered"),
    )

    assert short[f"{OF}stripping"].verdict is UNSETTLED
    assert joint("tapped", **hard, engagement="12 mm, calipered")[f"{OF}stripping"].verdict is FAILS
    assert long[f"{OF}stripping"].verdict is HOLDS


def test_the_rule_of_diameters_gives_way_where_the_bolt_breaks_first(joint) -> None:
    """M12 8.8 with 13 mm, 1.08 diameters: in steel of 600 MPa the bolt breaks first, in one of 400 nobody can say."""
    steel = {"thread": "M12", "threaded_into": "steel", "engagement": "13 mm, calipered"}
    strong = joint("tapped", **steel, hole_strength="600 ± 20 MPa, catalogue")
    plain = joint("tapped", **steel, hole_strength="400 ± 20 MPa, catalogue")

    assert strong[f"{OF}engagement"].verdict is HOLDS
    assert plain[f"{OF}engagement"].verdict is UNSETTLED
    assert joint("tapped", **{**steel, "engagement": "7 mm, calipered"})[f"{OF}engagement"].verdict is FAILS


def test_a_locking_nut_that_was_used_often_no_longer_locks(joint) -> None:
    """It is asked only where the nut locks and its uses are written."""
    uses = {"running_torque": "3 N·m, gauged"}

    assert joint(**uses, times_used="12")[f"{OF}reused_lock_nut"].verdict is FAILS
    assert joint(**uses, times_used="2")[f"{OF}reused_lock_nut"].verdict is HOLDS
    assert joint(times_used="12").result(f"{OF}reused_lock_nut") is None
