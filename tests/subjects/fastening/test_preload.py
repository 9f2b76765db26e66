"""Torque, preload, lubrication: against sums by hand with the nut factor and the printed stress area of M10."""

from __future__ import annotations

import pytest

from trialfit.book import read_text
from trialfit.evaluation.requirement import SourceKind, Stake
from trialfit.evaluation.verdict import Verdict
from trialfit.subjects.catalogue import evaluate

AREA = 57.99e-6  # ISO 898-1: M10, 58.0 mm² printed
PROOF = 580e6 * AREA


def test_preload_and_share_of_proof_by_hand(base, fastening) -> None:
    """50 N·m at K 0.20 on 10 mm are 25 kN: 74 % of the proof load of class 8.8."""
    report = fastening(base)
    finding = report["fastening.bracket.preload_share"]

    assert report.figure("fastening.bracket.preload").value.nominal == pytest.approx(25.0)
    assert finding.value.nominal == pytest.approx(100 * 25e3 / PROOF, rel=1e-3)
    assert finding.verdict is Verdict.holds
    assert finding.stake is Stake.safety
    assert (finding.source, finding.source_kind) == ("proof load: ISO 898-1", SourceKind.published)
    assert "50 N·m, your own figure, gives 25 kN; 75 % of proof is usual" in finding.remark


def test_the_reverse_gives_the_torque_for_the_usual_share(base, fastening) -> None:
    """0.75 of proof for a joint that is taken apart again; for one that stays 0.90 of yield by pull and twist is less than 0.90 of
    proof: μ 0.1537 from K 0.20 and faces of 15 and 10 mm, 640 MPa, twist 0.363 of the pull.
    """
    again = fastening(base).figure("fastening.bracket.computed_torque")
    stays = fastening(
        base,
        ("[clicker]", '[other]\nkind = "bolted_joint"\n[clicker]'),
        ('load_type = "pull', 'service = "permanent"\nholds = "pull'),
    )

    assert again.value.nominal == pytest.approx(0.20 * 0.010 * 0.75 * PROOF, rel=1e-3)
    assert stays.figure("fastening.bracket.computed_torque").value.nominal == pytest.approx(
        0.20 * 0.010 * 0.90 * 640e6 * AREA / (1 + 3 * 0.363**2) ** 0.5, rel=2e-3
    )


def test_without_any_figure_the_one_worked_out_is_used_and_says_so(base, fastening) -> None:
    """Nobody's torque: 75 % of proof, and the page says that a maker's figure is wanted."""
    report = fastening(base, ('torque = "50 N·m"\n', ""))

    assert report["fastening.bracket.preload_share"].value.nominal == pytest.approx(75)
    assert "no maker's figure: look for one" in report.figure("fastening.bracket.computed_torque").remark


def test_a_torque_far_too_high_fails(base, fastening) -> None:
    """90 N·m pull M10 8.8 to 134 % of proof."""
    finding = fastening(base, ("50 N·m", "90 N·m"))["fastening.bracket.preload_share"]

    assert finding.verdict is Verdict.fails
    assert finding.value.nominal == pytest.approx(100 * 45e3 / PROOF, rel=1e-3)


def test_foot_pounds_and_newton_metres_are_told_apart(base, fastening) -> None:
    """The same number in lbf·ft is a third more: 68 of them are 92 N·m and too much for M10 8.8."""
    metric = fastening(base, ("50 N·m", "60 N·m"))["fastening.bracket.preload_share"]
    feet = fastening(base, ("50 N·m", "60 lbf·ft"))["fastening.bracket.preload_share"]

    assert feet.value.nominal / metric.value.nominal == pytest.approx(1.35582, rel=1e-5)
    assert (metric.verdict, feet.verdict) == (Verdict.holds, Verdict.fails)


def test_the_state_of_the_threads_decides_when_no_factor_is_written(base, fastening) -> None:
    """Fastener suppliers' nut-factor table: dry 0.20 in 0.18 to 0.27, machine oil 0.15 in 0.10 to 0.26."""
    dry = fastening(base, ('nut_factor = "0.20 ± 0, manual"\n', ""), draws=4096)
    oiled = fastening(base, ('nut_factor = "0.20 ± 0, manual"\n', ""), ('"dry"', '"oiled"'), draws=4096)

    assert dry.figure("fastening.bracket.preload").value.nominal == pytest.approx(25.0)
    assert oiled.figure("fastening.bracket.preload").value.nominal == pytest.approx(25.0 * 0.20 / 0.15)
    assert dry.figure("fastening.bracket.preload_scatter").value.nominal == pytest.approx(0.27 / 0.18)
    assert oiled.figure("fastening.bracket.preload_scatter").value.nominal == pytest.approx(0.26 / 0.10)
    assert (
        "torque wrench and guessed friction: 1.7 to 2.5 is usual"
        in dry.figure("fastening.bracket.preload_scatter").remark
    )


def test_thread_and_head_friction_take_the_place_of_the_factor(base, fastening) -> None:
    """VDI 2230: M10, μ 0.14 both, head 14.63 over a hole of 11 mm: 49 N·m would be 26.1 kN."""
    report = fastening(
        base,
        ('nut_factor = "0.20 ± 0, manual"', 'thread_friction = "0.14 ± 0, manual"\nhead_friction = "0.14 ± 0, manual"'),
        ('bearing_diameter = "15 ± 0 mm"', 'bearing_diameter = "14.63 ± 0 mm"'),
        ('hole_diameter = "10 ± 0 mm"', 'hole_diameter = "11 ± 0 mm"'),
    )
    arm = 0.159 * 1.5 + 0.577 * 9.026 * 0.14 + (14.63 + 11) / 4 * 0.14

    assert report.figure("fastening.bracket.preload").value.nominal == pytest.approx(50 / arm, rel=1e-3)


MAKER = 'maker_torques = ["60 N·m, manual"]\nmaker_state = "dry"'


def test_a_dry_figure_on_oiled_threads_is_found_and_said_what_it_does(base, fastening) -> None:
    """The dangerous one: 60 N·m meant dry, threads oiled. K 0.15: 40 kN, 119 % of proof."""
    report = fastening(
        base,
        ('torque = "50 N·m"', MAKER),
        ('nut_factor = "0.20 ± 0, manual"', 'nut_factor = "0.15 ± 0, manual"'),
        ('"dry"\nnut', '"oiled"\nnut'),
    )
    finding = report["fastening.bracket.dry_figure_on_oiled_thread"]

    assert finding.verdict is Verdict.fails
    assert finding.value.nominal == pytest.approx(1 / 0.75)
    assert "60 N·m on oiled threads gives about 1.33 times the intended preload" in finding.remark
    assert "set about 45 N·m" in finding.remark
    assert report["fastening.bracket.preload_share"].verdict is Verdict.fails
    assert report["fastening.bracket.preload_share"].value.nominal == pytest.approx(100 * 40e3 / PROOF, rel=1e-3)


def test_the_lowered_torque_on_oiled_threads_holds(base, fastening) -> None:
    """Three quarters of the dry figure, as lubricated charts have it."""
    report = fastening(
        base,
        ('torque = "50 N·m"', f'torque = "45 N·m"\n{MAKER}'),
        ('nut_factor = "0.20 ± 0, manual"', 'nut_factor = "0.15 ± 0, manual"'),
        ('"dry"\nnut', '"oiled"\nnut'),
    )

    assert report["fastening.bracket.dry_figure_on_oiled_thread"].verdict is Verdict.holds
    assert report["fastening.bracket.maker_figure"].verdict is Verdict.holds


def test_an_oiled_figure_on_dry_threads_clamps_too_little(base, fastening) -> None:
    report = fastening(base, ('torque = "50 N·m"', MAKER.replace('"dry"', '"oiled"')))
    finding = report["fastening.bracket.oiled_figure_on_dry_thread"]

    assert finding.verdict is Verdict.fails
    assert finding.value.nominal == pytest.approx(0.75)


def test_without_the_state_a_figure_is_meant_for_nobody_can_say(base, fastening) -> None:
    finding = fastening(base, ('torque = "50 N·m"', 'maker_torques = ["60 N·m, manual"]'))[
        "fastening.bracket.dry_figure_on_oiled_thread"
    ]

    assert finding.verdict is Verdict.unknown
    assert list(finding.missing) == ["bracket.maker_state"]


def test_the_makers_figure_outranks_and_both_are_shown_with_the_reason(base, fastening) -> None:
    """36 N·m by the maker, 50.4 worked out: his counts."""
    report = fastening(
        base, ('torque = "50 N·m"', 'maker_torques = ["20 N·m, manual", "36 N·m, manual"]\nmaker_state = "dry"')
    )
    remark = report.figure("fastening.bracket.computed_torque").remark

    assert report.figure("fastening.bracket.preload").value.nominal == pytest.approx(18.0)
    assert "the maker's 36 N·m counts; 50.5 N·m is worked out" in remark
    assert "the maker's figure means 54 % of proof at this friction" in remark
    assert "it is for" not in remark


def test_a_makers_figure_for_other_threads_is_said(base, fastening) -> None:
    """Oiled by the maker, dry on the bench."""
    report = fastening(base, ('torque = "50 N·m"', 'maker_torques = ["36 N·m, manual"]\nmaker_state = "oiled"'))

    assert "it is for oiled threads, these are dry" in report.figure("fastening.bracket.computed_torque").remark


def test_without_a_strength_class_the_makers_figure_stands_alone(base, fastening) -> None:
    """Nothing can be worked out beside it."""
    report = fastening(
        base,
        ('strength_class = "8.8"\n', ""),
        ('torque = "50 N·m"', 'torque = "36 N·m"\nmaker_torques = ["36 N·m, manual"]'),
    )

    assert report["fastening.bracket.maker_figure"].remark == "the maker's 36 N·m counts"


def test_a_limit_of_your_own_on_the_preload_is_a_least_one(base) -> None:
    """25 kN are enough for 20 and too little for 30."""
    verdicts = [
        evaluate(read_text(f'{base}\n[limit]\n"fastening.bracket.preload" = "{least} kN"'), 16, ("fastening",))[
            "fastening.bracket.preload"
        ].verdict
        for least in (20, 30)
    ]

    assert verdicts == [Verdict.holds, Verdict.fails]


def test_a_torque_of_your_own_beside_the_makers_must_be_his(base, fastening) -> None:
    finding = fastening(base, ('torque = "50 N·m"', f'torque = "50 N·m"\n{MAKER}'))["fastening.bracket.maker_figure"]

    assert finding.verdict is Verdict.fails
    assert (finding.source, finding.source_kind) == ("maker's manual, within 10 %", SourceKind.manual)
    assert finding.limit.nominal == pytest.approx(54)


def test_angle_stages_give_the_preload_by_stiffness(base, fastening) -> None:
    """k_b 482.3, k_m 1927 N/µm: 20 N·m seat with 10 kN, 10° more give 16.1 kN; worked out by hand."""
    report = fastening(
        base, ('torque = "50 N·m"', 'maker_torques = ["20 N·m, manual"]\nmaker_angles = ["10 deg, manual"]')
    )
    gained = 10 / 360 * 1.5e-3 / (1 / 482.3e6 + 1 / 1927e6)

    assert report.figure("fastening.bracket.preload").value.nominal == pytest.approx(10 + gained / 1e3, rel=2e-3)
    assert report.figure("fastening.bracket.angle_after_snug").value.nominal == pytest.approx(15.70, rel=2e-3)
    assert "the angle behind it gives the preload" in report.figure("fastening.bracket.computed_torque").remark


def test_a_bolt_turned_past_yield_is_held_by_its_yield_point(base, fastening) -> None:
    """VDI 2230 form at R_p0.2 640 MPa and μ 0.14: 37.1 kN over √(1 + 3·0.338²), whatever the torque before."""
    report = fastening(
        base,
        (
            'torque = "50 N·m"',
            'maker_torques = ["20 N·m, manual"]\nmaker_angles = ["90 deg, manual", "90 deg, manual"]',
        ),
        ("face_friction", 'thread_friction = "0.14 ± 0, manual"\nbolt_kind = "stretch"\nface_friction'),
    )

    assert report.figure("fastening.bracket.preload").value.nominal == pytest.approx(37.11 / 1.343**0.5, rel=1e-3)
    assert report.result("fastening.bracket.preload_share") is None


def test_angle_stages_without_thicknesses_are_unknown(tapped, fastening) -> None:
    report = fastening(
        tapped, ('torque = "50 N·m"', 'maker_torques = ["20 N·m, manual"]\nmaker_angles = ["90 deg, manual"]')
    )

    assert list(report["fastening.bracket.preload_share"].missing) == ["bracket.head_side_thickness"]


def test_what_is_not_written_is_named(fastening) -> None:
    """A joint with nothing but a name asks for its thread and class first."""
    report = fastening('[bracket]\nkind = "bolted_joint"')

    assert {finding.verdict for finding in report.findings} == {Verdict.unknown}
    assert set(report["fastening.bracket.preload_share"].missing) == {"bracket.thread", "bracket.strength_class"}
    assert "bracket.load_type" in report["fastening.bracket.slip"].missing
    assert list(report["fastening.bracket.nut_grade"].missing) == ["bracket.nut_class"]


def test_a_class_that_is_not_made_in_that_size_is_said(base, fastening) -> None:
    finding = fastening(base, ('"M10"', '"M30×3.5"'), ('"8.8"', '"A2-70"'), ('nut_class = "8"\n', ""))[
        "fastening.bracket.preload_share"
    ]

    assert finding.verdict is Verdict.unknown
    assert finding.missing == {
        "bracket.strength_class": "a class whose strength is known for M30×3.5: the table of A2-70 does not reach that size"
    }


@pytest.mark.parametrize(
    ("loss", "stake"),
    [("somebody is hurt", Stake.safety), ("something breaks", Stake.durability), ("it leaks", Stake.comfort)],
)
def test_the_stake_is_the_worst_that_follows(base, fastening, loss, stake) -> None:
    report = fastening(base, ('load_type = "pull', f'failure_consequence = "{loss}"\nholds = "pull'))

    assert {finding.stake for finding in report.findings} == {stake}
