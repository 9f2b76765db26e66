"""The clutch: rated by its maker, or worked out from clamp load and facing."""

from __future__ import annotations

import pytest

from trialfit.evaluation.requirement import SourceKind
from trialfit.evaluation.verdict import Verdict

# Theory of Machines (textbook), example 10.23: two faces, radii 150 and 100 mm, friction 0.3; 0.1 MPa at the inside is a
# clamp load of 3141.6 N; torque 235.62 N·m with even wear.
FACING = {
    "clutch.clamp_load": "3141.6 ± 0 N",
    "clutch.facing_outside_diameter": "300 mm ± 0 mm",
    "clutch.facing_inside_diameter": "200 mm ± 0 mm",
    "clutch.facing_friction": "0.3 ± 0",
    "engine.torque_curve": "rpm : N·m ± 0 %\n1000 : 150\n3000 : 180\n",
}


def test_capacity_from_clamp_load_and_facing(report) -> None:
    """The printed example, over 180 N·m of peak torque."""
    text = (
        '[clutch]\nclamp_load = "3141.6 N"\n[engine]\ntorque_curve = "rpm : N·m ± 0 %\\n1000 : 150\\n3000 : 180\\n"\n'
    )
    found = report(FACING, text=text)

    assert found.figure("torque_path.capacity.clutch").value.nominal == pytest.approx(235.62, rel=5e-4)
    assert found["torque_path.clutch"].value.nominal == pytest.approx(235.62 / 180, rel=5e-4)
    assert found["torque_path.clutch"].verdict is Verdict.holds
    assert found["torque_path.clutch"].source_kind is SourceKind.common_practice
    assert (
        "2 faces × 0.3 × 3142 N × 125 mm = 236 N·m, over 180 N·m of peak torque" in found["torque_path.clutch"].remark
    )


def test_a_new_facing_carries_a_little_more(report) -> None:
    """Even pressure has the larger radius: ⅔·(150³ − 100³)/(150² − 100²) = 126.67 mm in place of 125 mm."""
    text = '[clutch]\ncondition = "new"\n[engine]\ntorque_curve = "rpm : N·m ± 0 %\\n1000 : 150\\n3000 : 180\\n"\n'
    found = report(FACING, text=text)

    assert found.figure("torque_path.capacity.clutch").value.nominal == pytest.approx(235.62 * 126.67 / 125, rel=5e-4)


def test_the_makers_rating_outranks_the_facing(report) -> None:
    """Both are known: the rating is judged, the facing is a figure beside it."""
    found = report(FACING | {"clutch.rated_torque": "400 ± 0 N·m, manual"})

    assert found["torque_path.clutch"].value.nominal == pytest.approx(400 / 180)
    assert found.figure("torque_path.worked_out.clutch").value.nominal == pytest.approx(235.62, rel=5e-4)


def test_a_rated_clutch_with_half_a_facing_has_nothing_worked_out_beside_the_rating(report) -> None:
    """A clamp load alone is half of it."""
    half = {name: text for name, text in FACING.items() if "diameter" not in name}

    assert report(FACING).result("torque_path.worked_out.clutch") is not None
    assert report(half).result("torque_path.worked_out.clutch") is None


def test_a_clutch_with_too_little_over_fails(report) -> None:
    """400 N·m of clutch on 400 N·m of engine: less than 1.2 times."""
    finding = report()["torque_path.clutch"]

    assert finding.verdict is Verdict.fails
    assert finding.limit.nominal == pytest.approx(1.2)
    assert finding.margin.nominal == pytest.approx(-0.2)


def test_a_clutch_of_which_nothing_is_known_names_both_ways(report) -> None:
    """The rating, or clamp load and facing: the builder picks what he can find."""
    finding = report(text='[clutch]\ncondition = "new"\n')["torque_path.clutch"]

    assert finding.verdict is Verdict.unknown
    assert finding.missing == {
        "clutch.rated_torque": "torque that it carries before it slips, as its maker states it; or clamp_load, "
        "facing_outside_diameter, facing_inside_diameter to work it out"
    }


def test_half_a_facing_names_the_other_half(report) -> None:
    """Who has begun to measure hears what is left to measure."""
    finding = report(text='[clutch]\nclamp_load = "6300 N, catalogue"\n')["torque_path.clutch"]

    assert set(finding.missing) == {"clutch.facing_outside_diameter", "clutch.facing_inside_diameter"}


def test_a_motor_without_a_clutch_needs_none(report) -> None:
    """Torque from standstill and no clutch written: no finding about one, and its pulses alone make the shock."""
    text = '[engine]\nruns_on = "electricity"\ntorque_curve = "rpm : N·m ± 0 %\\n0 : 300\\n3000 : 300\\n"\n'
    found = report(text=text)

    assert found.result("torque_path.clutch") is None


def test_clamp_loads_may_be_written_in_pounds(report) -> None:
    """The builder's units: 1416 lbf are 6300 N."""
    changes = FACING | {"clutch.clamp_load": "1416.3 ± 0 lbf"}
    text = '[clutch]\ncondition = "run in"\n[engine]\ntorque_curve = "rpm : N·m ± 0 %\\n1000 : 150\\n3000 : 180\\n"\n'

    assert report(changes, text=text).figure("torque_path.capacity.clutch").value.nominal == pytest.approx(
        2 * 0.3 * 6300 * 0.125, rel=1e-3
    )


def test_a_point_at_zero_speed_makes_no_motor_of_an_engine(report) -> None:
    """An invented point at rest drops no finding: the clutch is asked for, and nothing holds at plain engine torque."""
    text = '[engine]\ntorque_curve = "rpm : N·m ± 0 %\\n0 : 300\\n3000 : 300\\n"\n'

    assert report(text=text)["torque_path.clutch"].verdict is Verdict.unknown


def test_a_guess_takes_the_place_of_nothing(report) -> None:
    """Worked out 235.62 N·m, guessed 500: the lesser counts for what it holds, the greater for what it lets through."""
    found = report(FACING | {"clutch.rated_torque": "500 ± 0 N·m, guess; should be plenty"})

    assert found["torque_path.clutch"].value.nominal == pytest.approx(235.62 / 180, rel=5e-4)
    assert found["torque_path.clutch_excess"].value.nominal == pytest.approx(500 / 180)
    assert found["torque_path.clutch_excess"].verdict is Verdict.fails
    assert found.result("torque_path.worked_out.clutch") is None
