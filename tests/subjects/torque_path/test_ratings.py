"""Ratings of gearbox, final drive, joints and hubs: carried to one place, and held against full torque."""

from __future__ import annotations

import pytest

from trialfit.evaluation.requirement import SourceKind
from trialfit.evaluation.verdict import Verdict


def test_a_gearbox_rated_at_its_input_is_held_against_the_engine(report) -> None:
    """400 N·m in the gears where the tyres hold it, 450 N·m allowed."""
    finding = report()["torque_path.gearbox"]

    assert finding.value.nominal == pytest.approx(400)
    assert finding.limit.nominal == pytest.approx(450)
    assert finding.verdict is Verdict.holds
    assert finding.source_kind is SourceKind.manual
    assert (
        "least reserve in 3rd gear, as weighed, full torque, where the engine sets the torque; rated 450 N·m at the input"
        in finding.remark
    )


def test_a_gearbox_rated_at_its_output_is_converted_gear_by_gear(report) -> None:
    """650 N·m at the output are 650/(3.2·0.96) = 211.6 N·m at the input in first gear, where the tyres let 205.1 N·m through."""
    finding = report({"gearbox.rated_at": "output", "gearbox.rated_torque": "650 ± 0 N·m, manual"})[
        "torque_path.gearbox"
    ]

    assert finding.limit.nominal == pytest.approx(211.6, rel=1e-3)
    assert finding.value.nominal == pytest.approx(630.2 / (3.2 * 0.96), rel=1e-3)
    assert "rated 650 N·m at the output: ÷ (3.2 × 0.96) = 212 N·m at the input in 1st gear" in finding.remark


def test_a_final_drive_rated_at_the_wheels_is_converted_to_the_pinion(report) -> None:
    """3000/(3.7·0.97) = 835.9 N·m at the pinion against 630.2 N·m."""
    finding = report()["torque_path.final_drive"]

    assert finding.value.nominal == pytest.approx(630.2, rel=1e-3)
    assert finding.limit.nominal == pytest.approx(835.9, rel=1e-3)
    assert "rated 3000 N·m at the wheels: ÷ (3.7 × 0.97) = 836 N·m at the pinion" in finding.remark


def test_a_final_drive_rated_at_the_pinion_is_taken_as_it_is(report) -> None:
    """600 N·m at the pinion are too few for 630.2 N·m."""
    changes = {"final_drive.rated_at": "pinion", "final_drive.rated_torque": "600 ± 0 N·m"}
    finding = report(changes)["torque_path.final_drive"]

    assert finding.limit.nominal == pytest.approx(600)
    assert finding.verdict is Verdict.fails
    assert "rated 600 N·m at the pinion" in finding.remark


def test_ratings_are_held_against_full_torque_and_the_shock_is_a_figure(report) -> None:
    """A dropped clutch changes no verdict on a rating; how far it goes over is told: 520 N·m over 450 N·m."""
    found = report({"clutch.rated_torque": "520 ± 0 N·m"})

    assert found["torque_path.gearbox"].value.nominal == pytest.approx(400)
    assert found.figure("torque_path.shock_over_rating.gearbox").value.nominal == pytest.approx(520 / 450)


def test_the_word_of_a_builder_is_not_the_makers(report) -> None:
    """A guessed rating stays a guess in the source of the limit."""
    found = report()

    assert found["torque_path.joint.front"].source_kind is SourceKind.manual
    assert found["torque_path.joint.rear"].source_kind is SourceKind.builder


def test_each_joint_has_its_own_rating(report) -> None:
    """630.2 N·m pass through both: the front one is good for 1400 N·m, the rear one for 600 N·m."""
    found = report()

    assert found["torque_path.joint.front"].verdict is Verdict.holds
    assert found["torque_path.joint.rear"].verdict is Verdict.fails
    assert found["torque_path.joint.rear"].margin.nominal == pytest.approx(600 - 630.2, abs=0.1)


def test_a_limit_of_the_builders_own_stands_in_for_a_rating(report) -> None:
    """No rating is written, but the builder knows what he wants to allow: it is held against the most that is seen."""
    text = '[limit]\n"torque_path.gearbox" = "350 N·m; a heavier box of the same family broke at 400"\n'
    finding = report(without=("gearbox.rated_torque",), also=text)["torque_path.gearbox"]

    assert finding.value.nominal == pytest.approx(400)
    assert finding.limit.nominal == pytest.approx(350)
    assert finding.verdict is Verdict.fails
    assert finding.source_kind is SourceKind.builder
    assert "most torque in 3rd gear, as weighed, full torque" in finding.remark


def test_an_own_limit_is_held_against_the_most_torque_even_beside_a_rating_at_the_output(report) -> None:
    """The rating is tightest in first gear, the builder's limit in top gear, where the whole engine arrives."""
    changes = {"gearbox.rated_at": "output", "gearbox.rated_torque": "650 ± 0 N·m, manual"}
    finding = report(changes, also='[limit]\n"torque_path.gearbox" = "390 N·m"\n')["torque_path.gearbox"]

    assert finding.value.nominal == pytest.approx(400)
    assert finding.verdict is Verdict.fails
