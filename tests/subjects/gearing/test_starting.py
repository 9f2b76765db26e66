"""Hill starts and the heat of the clutch, against statics and against an integrated start."""

from __future__ import annotations

import math

import pytest
from scipy.integrate import quad
from scipy.optimize import brentq

from trialfit.evaluation.requirement import SourceKind
from trialfit.evaluation.verdict import Verdict

RADIUS = 1.927 / (2 * math.pi)
WEIGHT = 1200 * 9.80665
PULL = 3.3 * 3.73 * 0.96 * 0.97 / RADIUS
LAUNCH = 2200 * 2 * math.pi / 60
TORQUE_AT_LAUNCH = 180.0  # 150 N·m at 1000 rpm to 200 N·m at 3000 rpm
WHEELS_AND_SHAFTS = 1.04  # Fundamentals of Vehicle Dynamics (SAE), ch. 2, from memory


def heat_of_a_start(torque: float, slope: float) -> tuple[float, float]:
    """Time and heat of a start with the engine held: power of the slip, integrated by scipy."""
    resistance = WEIGHT * (0.013 * math.cos(slope) + math.sin(slope))
    acceleration = (torque * PULL - resistance) / (WHEELS_AND_SHAFTS * 1200)
    time = LAUNCH * RADIUS / (3.3 * 3.73) / acceleration
    heat, _ = quad(lambda t: torque * (LAUNCH - acceleration * t * 3.3 * 3.73 / RADIUS), 0, time)
    return time, heat


def test_hard_start_on_the_level_against_an_integral(base, gearing, value) -> None:
    """All the torque of 2200 rpm goes through the clutch where the tyres can take it."""
    time, heat = heat_of_a_start(TORQUE_AT_LAUNCH, 0.0)
    report = gearing(base, ("0.9 ± 0", "1.1 ± 0"))

    assert value(report, "gearing.launch.time") == pytest.approx(time, rel=1e-9)
    assert value(report, "gearing.launch.heat") == pytest.approx(heat / 1000, rel=1e-9)


def test_where_the_tyres_take_less_the_clutch_carries_less(base, gearing, value) -> None:
    """At μ = 0.9 rear drive pushes with 0.9·0.48/(1 − 0.9·0.2) of the weight: m·a is that less the rolling resistance."""
    acceleration = (0.9 * 0.48 / (1 - 0.9 * 0.2) - 0.013) * 9.80665
    torque = (WHEELS_AND_SHAFTS * 1200 * acceleration + WEIGHT * 0.013) / PULL
    time, heat = heat_of_a_start(torque, 0.0)
    report = gearing(base)

    assert torque < TORQUE_AT_LAUNCH
    assert value(report, "gearing.launch.time") == pytest.approx(time, rel=1e-9)
    assert value(report, "gearing.launch.heat") == pytest.approx(heat / 1000, rel=1e-9)


def test_easy_start_on_the_hill_against_an_integral(base, gearing, value) -> None:
    """The torque that leaves 0.5 m/s² on 20 %, from the balance of forces."""
    slope = math.atan(0.2)
    needed = (WEIGHT * (0.013 * math.cos(slope) + math.sin(slope)) + WHEELS_AND_SHAFTS * 1200 * 0.5) / PULL

    assert value(gearing(base), "gearing.hill_start.heat") == pytest.approx(
        heat_of_a_start(needed, slope)[1] / 1000, rel=1e-9
    )


@pytest.mark.parametrize(("torque", "pulls_away"), [(80, True), (60, False)])
def test_a_small_engine_starts_on_the_hill_with_all_it_has_or_not_at_all(base, gearing, torque, pulls_away) -> None:
    """82 N·m would make an easy start; 80 make a slower one; 60 do not hold the car."""
    report = gearing(base, ("1000 : 150\n3000 : 200\n", f"1000 : {torque}\n3000 : {torque}\n"))
    figure = report.figure("gearing.hill_start.heat")

    if pulls_away:
        assert figure.value.nominal == pytest.approx(heat_of_a_start(torque, math.atan(0.2))[1] / 1000, rel=1e-9)
    else:
        assert figure.value is None
        assert "outside the range of the formula" in figure.remark


def test_the_iron_warms_by_the_heat_it_takes(base, gearing, value) -> None:
    """12 kg of cast iron at 500 J/(kg·K) (from memory) take 6 kJ for each kelvin."""
    report = gearing(base)

    for start in ("launch", "hill_start"):
        heat = value(report, f"gearing.{start}.heat")
        assert value(report, f"gearing.{start}.heat_rise") == pytest.approx(heat / 6)


def test_a_steeper_hill_a_longer_gear_and_a_higher_launch_make_more_heat(base, gearing, value) -> None:
    """Each sign is pinned."""
    what = "gearing.hill_start.heat"
    as_written = value(gearing(base), what)

    for change in (("20 ± 0 %", "25 ± 0 %"), ('"3.3"', '"2.9"'), ("2200 ± 0 rpm", "2600 ± 0 rpm")):
        assert value(gearing(base, change), what) > as_written


def test_steepest_start_by_torque_against_a_root_finder(base, gearing) -> None:
    """With a small engine the torque decides: statics with 0.5 m/s² to spare, solved by scipy."""
    weak = ("1000 : 150\n3000 : 200\n", "1000 : 80\n3000 : 80\n")
    finding = gearing(base, weak)["gearing.hill_start.grade"]
    angle = brentq(
        lambda a: 80 * PULL - 1200 * 0.5 - WEIGHT * (0.013 * math.cos(a) + math.sin(a)),
        0,
        1.5,
    )

    assert finding.value.nominal == pytest.approx(100 * math.tan(angle), rel=1e-9)
    assert finding.limit.nominal == pytest.approx(20)
    assert finding.verdict is Verdict.fails
    assert f"torque is enough for {100 * math.tan(angle):.1f} %" in finding.remark


def test_steepest_start_by_grip_by_hand(base, gearing) -> None:
    """On snow the tyres decide: μ·l_f/(L − μ·h), statics."""
    finding = gearing(base, ("0.9 ± 0", "0.3 ± 0"))["gearing.hill_start.grade"]

    assert finding.value.nominal == pytest.approx(100 * 0.3 * 0.48 / (1 - 0.3 * 0.2), rel=1e-9)
    assert finding.verdict is Verdict.fails


def test_the_builder_s_hill_is_the_limit(base, gearing) -> None:
    """Written: the builder's. Not written: the typical 20 %, and shown as common practice."""
    steep = gearing(base, ("20 ± 0 %", "55 ± 0 %"))["gearing.hill_start.grade"]
    unwritten = gearing(base, ('hill_grade = "20 ± 0 %"\n', ""))["gearing.hill_start.grade"]

    assert steep.verdict is Verdict.fails
    assert steep.source_kind is SourceKind.builder
    assert unwritten.limit.nominal == pytest.approx(20)
    assert unwritten.source_kind is SourceKind.common_practice
    assert "car.hill_grade" in unwritten.typical


def test_a_launch_speed_off_the_curve_is_unknown(base, gearing) -> None:
    """What the engine gives at 900 rpm nobody has written."""
    finding = gearing(base, ("2200 ± 0 rpm", "900 ± 0 rpm"))["gearing.hill_start.grade"]

    assert finding.verdict is Verdict.unknown
    assert "outside the range of the formula" in finding.remark


def test_heat_and_hill_carry_a_caution(base, gearing) -> None:
    """A hot clutch and a car on a slope can hurt."""
    report = gearing(base)

    assert "hot" in report.figure("gearing.launch.heat").caution
    assert "brake" in report["gearing.hill_start.grade"].caution


LADEN = (
    'laden_mass = "1200 ± 0 kg"\nladen_rear_axle_mass = "576 ± 0 kg"',
    'laden_mass = "1800 ± 0 kg"\nload_on_rear = "80 ± 0 %"',
)
CARAVAN = ("[engine]", 'trailer_mass = "1500 ± 0 kg"\nnose_mass = "60 ± 0 kg"\nball_overhang = "1 ± 0 m"\n[engine]')


def test_a_hill_is_harder_for_the_laden_car(base, gearing) -> None:
    """Pulled away as weighed, not laden: torque decides, statics with all of the mass. The state is named."""
    small = ("1000 : 150\n3000 : 200\n", "1000 : 100\n3000 : 100\n")
    empty = gearing(base, small)["gearing.hill_start.grade"]
    laden = gearing(base, small, LADEN)["gearing.hill_start.grade"]
    angle = brentq(lambda a: 100 * PULL - 1800 * 0.5 - 1800 * 9.80665 * (0.013 * math.cos(a) + math.sin(a)), 0, 1.5)

    assert empty.verdict is Verdict.holds
    assert laden.verdict is Verdict.fails
    assert laden.state == "laden"
    assert laden.value.nominal == pytest.approx(100 * math.tan(angle))


def test_a_trailer_makes_the_hill_harder_still(base, gearing) -> None:
    finding = gearing(base, LADEN, CARAVAN)["gearing.hill_start.grade"]

    assert [one.state for one in finding.states] == ["towing", "laden", "as weighed"]


def test_a_trailer_that_the_torque_does_not_move_on_the_level_fails(base, gearing) -> None:
    """Less than nothing, not unknown."""
    weak = ("1000 : 150\n3000 : 200\n", "1000 : 10\n3000 : 10\n")
    finding = gearing(base, weak, CARAVAN)["gearing.hill_start.grade"]

    assert finding.verdict is Verdict.fails
    assert finding.value.nominal < 0


def test_heat_is_that_of_the_worst_state(base, gearing) -> None:
    figure = gearing(base, LADEN).figure("gearing.hill_start.heat")

    assert figure.state == "laden"
    assert figure.value.nominal > 1.4 * gearing(base).figure("gearing.hill_start.heat").value.nominal
