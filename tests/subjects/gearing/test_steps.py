"""Speed per 1000 rpm, landing after a shift, and dead gaps."""

from __future__ import annotations

import pytest

from trialfit.evaluation.requirement import SourceKind
from trialfit.evaluation.verdict import Verdict


@pytest.mark.parametrize(("gear", "ratio"), [(1, 3.3), (2, 2.0), (3, 1.4), (4, 1.0), (5, 0.82)])
def test_speed_per_1000_rpm_by_hand(base, gearing, value, gear, ratio) -> None:
    """1000 turns a minute over the total ratio, times the circumference: kinematics, by hand."""
    by_hand = 1000 / (ratio * 3.73) * 1.927 * 60 / 1000

    assert value(gearing(base), f"gearing.speed_per_1000rpm.{gear}") == pytest.approx(by_hand, rel=1e-9)


def test_a_shorter_final_drive_and_a_smaller_tyre_lower_it(base, gearing, value) -> None:
    """Both signs are pinned."""
    what = "gearing.speed_per_1000rpm.5"
    as_written = value(gearing(base), what)

    assert value(gearing(base, ('ratio = "3.73"', 'ratio = "4.10"')), what) < as_written
    assert value(gearing(base, ("1.927", "1.85")), what) < as_written


def test_the_size_on_the_side_wall_stands_in_for_a_measured_circumference(base, gearing) -> None:
    """205/55 R16 rolls 1.9273 m by the ETRTO rule (from memory); worn, new and by the rule it is 4.5 % less to 2.5 % more."""
    report = gearing(base, ('circumference = "1.927 ± 0 m"', 'size = "205/55 R16"'), draws=4096)
    figure = report.figure("gearing.speed_per_1000rpm.4")

    assert figure.value.nominal == pytest.approx(31.002, rel=5e-4)
    assert figure.value.high / figure.value.nominal == pytest.approx(1 + 0.0232, abs=1e-3)
    assert figure.value.low / figure.value.nominal == pytest.approx(1 - 0.0432, abs=1e-3)
    assert figure.typical == ("tyre.circumference_factor",)


@pytest.mark.parametrize(("step", "lands"), [("1_2", 3636.4), ("2_3", 4200.0), ("3_4", 4285.7), ("4_5", 4920.0)])
def test_rpm_after_a_shift_by_hand(base, gearing, value, step, lands) -> None:
    """6000 rpm times the ratio of the ratios."""
    assert value(gearing(base), f"gearing.rpm_after_shift.{step}") == pytest.approx(lands, abs=0.05)


def test_no_dead_gap_where_the_engine_lands_in_its_power(base, gearing) -> None:
    """The engine speed from which 60 % of the peak power is there, by hand.

    From 5000 rpm on T = 340 − 0.03·n, so T·n is largest at n = 5666.7 rpm with 170 N·m. Up to 3000 rpm T = 125 + 0.025·n,
    and 125·n + 0.025·n² = 0.6·170·5666.7 has the root 2920 rpm.
    """
    root = (-125 + (125**2 + 4 * 0.025 * 0.6 * 170 * 5666.6667) ** 0.5) / 0.05
    finding = gearing(base)["gearing.gap.1_2"]

    assert finding.verdict is Verdict.holds
    assert finding.limit.nominal == pytest.approx(root, abs=0.01)
    assert finding.value.nominal == pytest.approx(3636.4, abs=0.05)
    assert finding.source_kind is SourceKind.common_practice


def test_a_wide_step_is_a_dead_gap(base, gearing) -> None:
    """From 3.9 into 1.4 the engine falls to 2154 rpm, and the finding says what is left there."""
    finding = gearing(base, ('["3.3", "2.0", "1.4"', '["3.9", "1.4"'))["gearing.gap.1_2"]
    power_left = (125 + 0.025 * 2153.85) * 2153.85 / (170 * 5666.667)

    assert finding.verdict is Verdict.fails
    assert f"it lands at {power_left:.0%} of the peak power".replace("%", " %") in finding.remark


def test_landing_below_the_curve_is_a_gap_too(base, gearing) -> None:
    """Where the torque is not known the engine is not in its power either."""
    finding = gearing(base, ('["3.3", "2.0", "1.4", "1.0", "0.82"]', '["5.0", "0.6"]'))["gearing.gap.1_2"]

    assert finding.verdict is Verdict.fails
    assert "outside of its torque curve" in finding.remark


def test_a_limit_of_the_builder_makes_a_finding_of_a_landing(base, gearing) -> None:
    """The builder may want more than 60 %."""
    report = gearing(base + '[limit]\n"gearing.rpm_after_shift.1_2" = "4000 rpm; under it nothing happens"\n')
    finding = report["gearing.rpm_after_shift.1_2"]

    assert finding.verdict is Verdict.fails
    assert finding.source == "set by the builder: under it nothing happens"


def test_a_spread_of_the_limiter_leaves_a_near_gap_unsettled(base, gearing) -> None:
    """Lands at 2929 rpm with expected a limiter known to 100 rpm, where 2920."""
    report = gearing(base, ('"2.0"', '"1.611"'), ("6000 ± 0 rpm", "6000 ± 100 rpm"), draws=4096)

    assert report["gearing.gap.1_2"].verdict is Verdict.unsettled
