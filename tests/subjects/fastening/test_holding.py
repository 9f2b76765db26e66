"""Separation, bolt load, slip, threads, nuts, stretch bolts and the wrench, against sums by hand."""

from __future__ import annotations

import pytest

from trialfit.evaluation.requirement import SourceKind
from trialfit.evaluation.verdict import Verdict

SHARE = 482.3 / (482.3 + 1927)  # by quadrature of the cone of 30°, see tests/published/fastening/test_fasteners.py


def test_separation_bolt_load_and_slip_by_hand(base, fastening) -> None:
    """Four bolts, 25 kN each, 10 % settled: 22.5; pull 5 kN a bolt, of which 0.2 goes into the bolt."""
    report = fastening(base)
    separation, bolt, slip = (report[f"fastening.bracket.{what}"] for what in ("separation", "bolt_load", "slip"))

    assert separation.value.nominal == pytest.approx(4 * 22.5 / (1 - SHARE), rel=1e-3)
    assert separation.limit.nominal == pytest.approx(30)
    assert bolt.value.nominal == pytest.approx(25 + SHARE * 5, rel=1e-3)
    assert bolt.limit.nominal == pytest.approx(580 * 57.99e-3, rel=1e-3)
    assert slip.value.nominal == pytest.approx(4 * 0.15 * (22.5 - (1 - SHARE) * 5), rel=1e-3)
    assert slip.limit.nominal == pytest.approx(7.5)
    assert {separation.verdict, bolt.verdict, slip.verdict} == {Verdict.holds}
    assert "0.20 of the pull goes into the bolts" in separation.remark


def test_more_pull_parts_the_faces_and_lets_them_slide(base, fastening) -> None:
    """90 kN on 90 kN of clamp: parted before 1.5 times, and nothing left to hold the shear."""
    report = fastening(base, ("20 ± 0 kN", "115 ± 0 kN"))

    assert report["fastening.bracket.separation"].verdict is Verdict.fails
    assert report["fastening.bracket.slip"].verdict is Verdict.fails
    assert report["fastening.bracket.slip"].value.nominal == 0


def test_without_the_grip_the_safe_side_is_taken_and_said(base, fastening) -> None:
    report = fastening(base, ('head_side_thickness = "15 ± 0 mm"\n', ""))
    finding = report["fastening.bracket.separation"]

    assert finding.value.nominal == pytest.approx(90)
    assert "the grip is missing: all of the pull is taken off the clamp load" in finding.remark
    assert list(report["fastening.bracket.bolt_load"].missing) == ["bracket.head_side_thickness"]


def test_a_soft_gasket_puts_nearly_all_of_the_pull_into_the_bolts(base, fastening) -> None:
    stiff = fastening(base)["fastening.bracket.bolt_load"].value.nominal
    soft = fastening(base, ("face_friction", 'gasket_stiffness = "50 ± 0 kN/mm"\nface_friction'))

    assert soft["fastening.bracket.bolt_load"].value.nominal > stiff + 3


def test_a_torque_of_its_own_turns_on_the_circle(base, fastening) -> None:
    """T = 4·22.5 kN·0.15·50 mm = 675 N·m, against 1.5 times 400."""
    report = fastening(base, ('load_type = "pull and shear"', 'load_type = "torque"\nload_torque = "400 ± 0 N·m"'))
    finding = report["fastening.bracket.slip"]

    assert finding.value.nominal == pytest.approx(675)
    assert finding.limit.nominal == pytest.approx(600)
    assert finding.verdict is Verdict.holds


def test_two_pairs_of_faces_hold_twice_as_much(base, fastening) -> None:
    report = fastening(
        base, ('load_type = "pull and shear"', 'load_type = "torque"\nsliding_faces = "2"\nload_torque = "400 ± 0 N·m"')
    )

    assert report["fastening.bracket.slip"].value.nominal == pytest.approx(1350)


DRIVE = '''
[car]
mass = "1200 ± 0 kg"
rear_axle_mass = "576 ± 0 kg"
wheelbase = "2.5 ± 0 m"
centre_of_mass_height = "0.5 ± 0 m"
tyre_friction = "1.6 ± 0"
driven_axle = "rear"
rear_suspension = "independent"
[engine]
max_speed = "6000 ± 0 rpm"
application_factor = "1.5 ± 0"
torque_curve = """
rpm : N·m ± 0 %
1000 : 150
6000 : 200
"""
[clutch]
rated_torque = "250 ± 0 N·m"
[gearbox]
ratios = ["3.0", "2.0"]
reverse_ratio = "2.5"
efficiency = "100 ± 0 %"
[final_drive]
ratio = "4.0"
efficiency = "100 ± 0 %"
[tyre]
circumference = "1.9 ± 0 m"
'''


@pytest.mark.parametrize(
    ("place", "load"),
    [("gearbox torque", 437.5), ("prop shaft torque", 1312.5), ("axle torque", 5250), ("wheel torque", 2625)],
)
def test_the_drivetrain_sets_the_torque_on_its_joints(base, fastening, place, load) -> None:
    """A dropped clutch of 250 N·m swings to 1.75 times that, and the tyres hold it: times 3 behind the gearbox, times 4 at the axle."""
    report = fastening(base + DRIVE, ('load_type = "pull and shear"', f'load_type = "{place}"'))

    assert report["fastening.bracket.slip"].limit.nominal == pytest.approx(1.5 * load)


def test_a_joint_on_a_drivetrain_that_is_not_written_is_unknown(base, fastening) -> None:
    finding = fastening(base, ('load_type = "pull and shear"', 'load_type = "prop shaft torque"'))[
        "fastening.bracket.slip"
    ]

    assert finding.verdict is Verdict.unknown
    assert finding.missing


def test_a_seal_only_holds_against_nothing(tapped, fastening) -> None:
    report = fastening(tapped)

    assert [finding.id for finding in report.findings if "separation" in finding.id or "slip" in finding.id] == []


def test_a_short_thread_in_aluminium_strips_before_the_bolt_breaks(tapped, fastening) -> None:
    """The dangerous one: one diameter in aluminium. 0.6·220 MPa·7/8·π·10·10 mm² = 36.3 kN; the strongest 8.8 bolt breaks at
    1030 MPa, 59.7 kN: 16.5 mm would do, less than the rule's 20.
    """
    report = fastening(tapped, ("20 ± 0 mm", "10 ± 0 mm"))
    engagement, stripping = report["fastening.bracket.engagement"], report["fastening.bracket.stripping"]

    assert engagement.verdict is Verdict.fails
    assert engagement.limit.nominal == pytest.approx(10 * 59.7 / 36.3, abs=0.02)
    assert engagement.source_kind is SourceKind.published
    assert stripping.verdict is Verdict.fails
    assert stripping.value.nominal == pytest.approx(36.3, abs=0.1)
    assert stripping.limit.nominal == pytest.approx(59.7, abs=0.1)
    assert "engagement is 1.00 diameters, 16.5 mm would do" in stripping.remark
    assert stripping.state == "the threads of the hole shear"


def test_two_diameters_in_aluminium_hold(tapped, fastening) -> None:
    report = fastening(tapped)

    assert report["fastening.bracket.engagement"].verdict is Verdict.holds
    assert report["fastening.bracket.stripping"].verdict is Verdict.holds
    assert report.result("fastening.bracket.nut_grade") is None


def test_a_soft_nut_on_a_hard_bolt_fails(base, fastening) -> None:
    """The dangerous one: a class 8 nut on a 10.9 bolt strips before anybody feels it."""
    finding = fastening(base, ('"8.8"', '"10.9"'))["fastening.bracket.nut_grade"]

    assert finding.verdict is Verdict.fails
    assert "a nut of class 8 on a bolt of class 10.9" in finding.remark


@pytest.mark.parametrize(
    ("bolt", "nut"), [("8.8", "10"), ("grade 5", "grade 8"), ("grade 8", "grade 8"), ("12.9", "12")]
)
def test_a_nut_as_strong_or_stronger_holds(base, fastening, bolt, nut) -> None:
    report = fastening(base, ('"8.8"', f'"{bolt}"'), ('nut_class = "8"', f'nut_class = "{nut}"'))

    assert report["fastening.bracket.nut_grade"].verdict is Verdict.holds


def test_a_stretch_bolt_used_before_fails_and_a_new_one_holds(base, fastening) -> None:
    """The dangerous one."""
    stretch = ('load_type = "pull', 'bolt_kind = "stretch"\ntimes_used = "{}"\nholds = "pull')
    used, new = (fastening(base, (stretch[0], stretch[1].format(times))) for times in (1, 0))

    assert used["fastening.bracket.reused_stretch_bolt"].verdict is Verdict.fails
    assert "a bolt that has yielded stays longer" in used["fastening.bracket.reused_stretch_bolt"].remark
    assert new["fastening.bracket.reused_stretch_bolt"].verdict is Verdict.holds


def test_a_stretch_bolt_of_unknown_past_is_unknown(base, fastening) -> None:
    finding = fastening(base, ('load_type = "pull', 'bolt_kind = "stretch"\nholds = "pull'))[
        "fastening.bracket.reused_stretch_bolt"
    ]

    assert (finding.verdict, list(finding.missing)) == (Verdict.unknown, ["bracket.times_used"])


def test_a_crow_foot_lowers_what_is_set(base, fastening) -> None:
    """50·400/(400 + 100) = 40 N·m straight on; square to the wrench it stays 50."""
    crow = ('wrench = "clicker"', 'wrench = "clicker"\nadapter_extension = "100 ± 0 mm"')
    straight = fastening(base, crow)
    square = fastening(base, (crow[0], f'{crow[1]}\nadapter_angle = "90 ± 0 deg"'))

    assert straight.figure("fastening.bracket.wrench_setting").value.nominal == pytest.approx(40)
    assert square.figure("fastening.bracket.wrench_setting").value.nominal == pytest.approx(50)


def test_a_locking_nut_takes_its_running_torque_from_a_figure_that_is_set_as_it_is(base, fastening) -> None:
    """50 N·m of a maker, 6 to turn the nut: 50 are set, 44 clamp, and whether his figure includes them is to be looked up."""
    report = fastening(base, ('wrench = "clicker"', 'wrench = "clicker"\nrunning_torque = "6 ± 0 N·m"'))
    setting = report.figure("fastening.bracket.wrench_setting")

    assert setting.value.nominal == pytest.approx(50)
    assert report.figure("fastening.bracket.preload").value.nominal == pytest.approx(22)


def test_the_setting_is_shown_in_the_unit_of_the_wrench(base, fastening) -> None:
    """50 N·m are 36.88 lbf·ft (NIST SP 811)."""
    value = (
        fastening(base, ('[clicker]\nkind = "torque_wrench"', '[clicker]\nkind = "torque_wrench"\nunit = "lbf·ft"'))
        .figure("fastening.bracket.wrench_setting")
        .value
    )

    assert (value.unit, round(value.nominal, 2)) == ("lbf·ft", 36.88)


@pytest.mark.parametrize(
    ("scale", "verdict"),
    [
        ('largest = "200 ± 0 N·m"', Verdict.holds),
        ('largest = "300 ± 0 N·m"', Verdict.fails),
        ('largest = "40 ± 0 N·m"', Verdict.fails),
        ('largest = "300 ± 0 N·m"\nsmallest = "30 ± 0 N·m"', Verdict.holds),
    ],
)
def test_a_setting_off_the_usable_scale_fails(base, fastening, scale, verdict) -> None:
    """50 N·m on 300 is below a fifth of full scale, where nobody tests a wrench; its maker may say otherwise."""
    assert fastening(base, ('largest = "200 ± 0 N·m"', scale))["fastening.bracket.wrench_range"].verdict is verdict


def test_without_a_wrench_nothing_is_said_of_one(base, fastening) -> None:
    assert fastening(base, ('wrench = "clicker"\n', "")).result("fastening.bracket.wrench_range") is None


def test_a_wrench_that_reads_high_spreads_the_preload(base, fastening) -> None:
    report = fastening(base, ('"0 ± 0 %"', '"0 ± 4 %"'), draws=4096)

    assert report.figure("fastening.bracket.preload_scatter").value.nominal == pytest.approx(1.04 / 0.96)
