"""Builds in which something is wrong with engine, gears or tyres, each beside its mended twin."""

from __future__ import annotations

import pytest

from trialfit.book import read_text
from trialfit.evaluation.finding import Figure, Finding
from trialfit.evaluation.unusual import questions
from trialfit.evaluation.verdict import Verdict
from trialfit.subjects import evaluate

FULL_CURVE = "1000 : 175 | 2000 : 228 | 3000 : 258 | 4000 : 265 | 5000 : 256 | 5500 : 247 | 6000 : 232 | 6500 : 208"
CAR = f"""
[car]
mass = "1065 kg, weighed"
rear_axle_mass = "548 kg, weighed"
laden_mass = "1300 kg, manual"
laden_rear_axle_mass = "720 kg, manual"
wheelbase = "2402 mm, taped"
rear_suspension = "independent"
drag_area = "0.62 ± 0.08 m², guess"
[engine]
torque_curve = "rpm : N·m ± 4 %, catalogue | {FULL_CURVE}"
max_speed = "6500 rpm, manual"
launch_speed = "2400 rpm"
[clutch]
rated_torque = "400 N·m, catalogue"
[gearbox]
ratios = ["3.63", "2.36", "1.69", "1.31", "1.00", "0.79"]
[prop_shaft]
length = "1240 mm, taped"
tube_outside_diameter = "63.5 mm, calipered"
tube_wall_thickness = "1.65 mm, calipered"
[final_drive]
ratio = "3.54"
differential = "limited slip"
input_x = "-2100 mm, taped"
[tyre_rear]
kind = "tyre"
axle = "rear"
size = "205/50 R15 86W"
"""


def _found(identifier: str, *changes: tuple[str, str]) -> Finding | Figure:
    text = CAR
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new)
    found = evaluate(read_text(text), 512, [identifier.partition(".")[0]]).result(identifier)
    assert found is not None, identifier
    return found


@pytest.mark.parametrize(
    "change",
    [
        (FULL_CURVE, FULL_CURVE.partition(" | 6000")[0]),
        ("0.62 ± 0.08 m², guess", "1.4 m², guess"),
        ('mass = "1065 kg, weighed"\n', 'mass = "1065 kg, weighed"\nrolling_coefficient = "0.05, guess"\n'),
    ],
    ids=["curve ends early", "drag guessed high", "rolling guessed high"],
)
def test_a_shaft_is_not_slower_for_what_nobody_knows(change: tuple[str, str]) -> None:
    """Too long a shaft stays too long with half a curve or a guessed drag; shortened, it holds."""
    assert _found("driveline.whirl.prop_shaft", change).value == _found("driveline.whirl.prop_shaft").value
    assert _found("driveline.whirl.prop_shaft", change).verdict is not Verdict.holds
    assert _found("driveline.whirl.prop_shaft", change, ("1240 mm", "900 mm")).verdict is Verdict.holds


def test_a_clutch_for_the_ends_of_the_curve_is_none_for_its_peak() -> None:
    """300 N·m is enough for the two points that are written, and too little for the 265 N·m between them."""
    two = (FULL_CURVE, "1000 : 175 | 6500 : 208")
    peak = ("max_speed", 'peak_torque = "265 N·m, manual"\npeak_torque_speed = "4000 rpm, manual"\nmax_speed')

    assert _found("torque_path.clutch", two, ("400 N·m", "300 N·m")).verdict is not Verdict.holds
    assert _found("torque_path.clutch", two, peak, ("400 N·m", "300 N·m")).verdict is Verdict.fails
    assert _found("torque_path.clutch", two, peak).verdict is Verdict.holds


def test_power_and_peak_torque_are_enough_to_begin() -> None:
    """No curve: a gap, a hill and the clutch are judged, and none of them asks for the curve."""
    line = f'torque_curve = "rpm : N·m ± 4 %, catalogue | {FULL_CURVE}"\n'
    peaks = """peak_torque = "265 N·m, manual"
peak_torque_speed = "4000 rpm, manual"
power = "146 kW, manual"
power_speed = "6000 rpm, manual"
"""
    for identifier in ("gearing.gap.1_2", "gearing.hill_start.grade", "torque_path.clutch"):
        assert "engine.torque_curve" in _found(identifier, (line, "")).missing
        assert not _found(identifier, (line, peaks)).missing

    assert _found("torque_path.clutch", (line, peaks)).verdict is Verdict.holds
    assert _found("torque_path.clutch", (line, peaks), ("400 N·m", "280 N·m")).verdict is Verdict.fails


def test_a_farm_truck_needs_no_taller_first_gear() -> None:
    crawler = ('"3.63", ', '"6.9", "3.63", ')
    judged = ("[gearbox]\n", '[gearbox]\nfirst_gear = "driving"\n')

    assert isinstance(_found("gearing.first_gear.grip", crawler), Figure)
    assert _found("gearing.first_gear.grip", crawler, judged).verdict is not Verdict.holds


def test_a_hill_that_the_laden_car_does_not_start_on() -> None:
    """Towing a caravan up the ramp: as weighed it starts, and the finding does not stop there."""
    ramp = (
        "[engine]\n",
        'hill_grade = "35 %"\ntyre_friction = "0.8 ± 0.05, guess"\ntrailer_mass = "1500 kg, manual"\n[engine]\n',
    )
    alone = (ramp[0], ramp[1].replace('trailer_mass = "1500 kg, manual"\n', ""))
    found = _found("gearing.hill_start.grade", ramp)

    assert (found.verdict, found.state) == (Verdict.fails, "towing")
    assert _found("gearing.hill_start.grade", alone).verdict is Verdict.holds


def test_tyres_of_the_small_car_under_the_laden_one() -> None:
    """Index 66 bears 600 kg a pair: the axle as weighed, not laden. T is for 190 km/h, and the car does 240."""
    assert _found("gearing.tyre_load.rear", ("86W", "66W")).verdict is Verdict.fails
    assert _found("gearing.tyre_load.rear").verdict is Verdict.holds
    assert _found("gearing.tyre_speed.rear", ("86W", "86T")).verdict is Verdict.fails
    assert _found("gearing.tyre_speed.rear").verdict is Verdict.holds


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('"-2100 mm', '"2040 mm'),
        ('"-2100 mm', '"210 mm'),
        ('"1240 mm', '"2.935 m'),
        ('"3.54"', '"35.4"'),
        ('"548 kg', '"1054 kg'),
    ],
)
def test_a_slip_of_a_sign_or_a_digit_is_asked_about(old: str, new: str) -> None:
    assert old in CAR
    assert list(questions(read_text(CAR))) == []
    assert list(questions(read_text(CAR.replace(old, new))))


def test_a_transfer_case_takes_part_in_every_speed_and_on_a_hill_in_low_range() -> None:
    """A high range of 1.2 turns the engine 1.2 times as fast at cruise; low range of 2.4 doubles the hill by torque."""
    speed = ("[car]", '[car]\ncruise_speeds = ["100 km/h"]')
    case = ("[prop_shaft]", '[transfer_case]\nratio = "1.2"\nlow_ratio = "2.4"\n[prop_shaft]')
    cruise = (
        'max_speed = "6500 rpm, manual"',
        'max_speed = "6500 rpm, manual"\ncruise_low = "1300 rpm"\ncruise_high = "4200 rpm"',
    )
    speeds = [_found("gearing.cruise.1", speed, cruise, *more).value.nominal for more in ((), (case,))]
    high, low = (
        _found("gearing.hill_start.grade", case, *more).remark
        for more in ((("low_ratio", 'low_range = "none"\n#'),), ())
    )

    assert speeds[1] == pytest.approx(1.2 * speeds[0])
    assert "in low range" in low
    assert "in low range" not in high
