"""Engine speed at cruise, and what is left for a hill."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.optimize import brentq

from trialfit.evaluation.requirement import SourceKind
from trialfit.evaluation.verdict import Verdict


@pytest.mark.parametrize(("number", "kmh"), [(1, 90), (2, 120)])
def test_cruise_rpm_by_hand(base, gearing, number, kmh) -> None:
    """Metres a minute over metres a turn, times the total ratio of the highest gear."""
    finding = gearing(base)[f"gearing.cruise.{number}"]

    assert finding.value.nominal == pytest.approx(kmh * 1000 / 60 / 1.927 * 0.82 * 3.73, rel=1e-9)
    assert finding.value.unit == "rpm"
    assert finding.verdict is Verdict.holds
    assert finding.source_kind is SourceKind.builder
    assert f"{kmh} km/h" in finding.says


def test_a_shorter_final_drive_raises_cruise_rpm(base, gearing) -> None:
    """The sign is pinned, and far enough it leaves the band at the top."""
    as_written = gearing(base)["gearing.cruise.2"]
    short = gearing(base, ('ratio = "3.73"', 'ratio = "4.56"'))["gearing.cruise.2"]

    assert short.value.nominal > as_written.value.nominal
    assert short.verdict is Verdict.fails
    assert short.limit.nominal == pytest.approx(3500)


def test_a_longer_top_gear_drops_below_the_band(base, gearing) -> None:
    """At 90 km/h in 0.55 the engine lugs, and the lower bound is the one shown."""
    finding = gearing(base, ('"0.82"', '"0.55"'))["gearing.cruise.1"]

    assert finding.verdict is Verdict.fails
    assert finding.limit.nominal == pytest.approx(1800)


def test_a_larger_tyre_lowers_cruise_rpm(base, gearing, value) -> None:
    """The sign is pinned."""
    assert value(gearing(base, ("1.927", "2.0")), "gearing.cruise.1") < value(gearing(base), "gearing.cruise.1")


def test_slope_at_cruise_against_a_root_finder(base, gearing, value) -> None:
    """Balance of forces at 120 km/h in the highest gear, solved for the slope by scipy."""
    speed, total = 120 / 3.6, 0.82 * 3.73
    rpm = speed / 1.927 * 60 * total
    torque = np.interp(rpm, [1000, 3000, 5000, 6000], [150, 200, 190, 160])
    force = torque * total * 0.96 * 0.97 * 2 * math.pi / 1.927
    weight, drag = 1200 * 9.80665, 0.5 * 1.2 * 0.65 * speed**2
    angle = brentq(lambda a: force - drag - weight * (0.013 * math.cos(a) + math.sin(a)), -0.5, 0.5)

    assert value(gearing(base), "gearing.pull_at_cruise.2") == pytest.approx(100 * math.tan(angle), rel=1e-9)


def test_a_tired_engine_in_a_long_gear_does_not_hold_the_slope(base, gearing) -> None:
    """The finding fails at less than 2 %, and a negative slope means that it slows down on the level."""
    weak = ("1000 : 150\n3000 : 200\n5000 : 190\n6000 : 160", "1000 : 25\n3000 : 35\n5000 : 30\n6000 : 20")
    finding = gearing(base, weak)["gearing.pull_at_cruise.2"]

    assert finding.verdict is Verdict.fails
    assert finding.value.nominal < 0
    assert finding.limit.nominal == pytest.approx(2)
    assert gearing(base)["gearing.pull_at_cruise.2"].verdict is Verdict.holds


def test_cruising_below_the_torque_curve_is_unknown(base, gearing) -> None:
    """What the engine pulls there nobody has written."""
    finding = gearing(base, ("90 ± 0 km/h", "30 ± 0 km/h"))["gearing.pull_at_cruise.1"]

    assert finding.verdict is Verdict.unknown
    assert "outside the range of the formula" in finding.remark


def test_a_heavier_car_holds_less_of_a_slope(base, gearing, value) -> None:
    """The sign is pinned."""
    heavy = gearing(base, ("1200 ± 0 kg", "1500 ± 0 kg"))

    assert value(heavy, "gearing.pull_at_cruise.1") < value(gearing(base), "gearing.pull_at_cruise.1")


def test_without_a_cruise_speed_the_builder_is_asked_for_one(base, gearing) -> None:
    """Both findings stay in the list and name the fact."""
    report = gearing(base, ('cruise_speeds = ["90 ± 0 km/h", "120 ± 0 km/h"]\n', ""))

    for finding in (report["gearing.cruise.1"], report["gearing.pull_at_cruise.1"]):
        assert finding.verdict is Verdict.unknown
        assert "car.cruise_speeds" in finding.missing
    assert report.result("gearing.cruise.2") is None
