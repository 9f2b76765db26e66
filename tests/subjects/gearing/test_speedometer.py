"""The speedometer after the change against UN Regulation No. 39, 5.3."""

from __future__ import annotations

import math

import pytest

from trialfit.evaluation.requirement import SourceKind, Stake
from trialfit.evaluation.verdict import Verdict
from trialfit.subjects.gearing.speedometer import largest_excess

SHOWN_OVER_TRUE = 1.04 * 3.73 / 3.7 * 1.90 / 1.927


# UN Regulation No. 39, 5.3: 0 ≤ V1 − V2 ≤ 0.1·V2 + 4 km/h, shown V1, true V2: 16 km/h at 120.
def test_excess_by_hand_and_the_most_it_may_be(base, gearing) -> None:
    """4 % too much before, a shorter final drive now, larger tyres now."""
    finding = gearing(base)["gearing.speedometer"]
    excess = 120 * (SHOWN_OVER_TRUE - 1)

    assert finding.value.nominal == pytest.approx(excess, rel=1e-9)
    assert finding.limit.nominal == pytest.approx(0)
    assert finding.verdict is Verdict.holds
    assert finding.stake is Stake.safety
    assert (finding.source, finding.source_kind) == ("UN Regulation No. 39, 5.3", SourceKind.published)
    assert "certifier" in finding.caution
    shown = [f"{kmh * SHOWN_OVER_TRUE:.3g} km/h" for kmh in (40, 80, 120)]
    assert finding.remark.startswith(f"at a true 40, 80 and 120 km/h it shows {shown[0]}, {shown[1]} and {shown[2]}")
    assert "times as fast" not in finding.remark


@pytest.mark.parametrize("kmh", [40, 80])
def test_the_slower_test_speeds_are_figures(base, gearing, kmh) -> None:
    """One cause, one finding: what they show stands beside it."""
    figure = gearing(base).figure(f"gearing.speedometer.{kmh}_kmh")

    assert figure.value.nominal == pytest.approx(kmh * (SHOWN_OVER_TRUE - 1), rel=1e-9)


@pytest.mark.parametrize("percent", range(80, 135))
def test_the_fastest_test_speed_decides_for_all(percent) -> None:
    """A reading that is a fixed multiple of the true speed keeps the bounds at 40, 80 and 120 km/h exactly if it does at 120."""
    factor, kmh = percent / 100, 1 / 3.6

    def keeps(true_speed: float) -> bool:
        return 0 <= true_speed * (factor - 1) <= largest_excess(true_speed)

    assert all(keeps(speed * kmh) for speed in (40, 80, 120)) == keeps(120 * kmh)


def test_a_longer_final_drive_makes_it_show_too_little(base, gearing) -> None:
    """The gearbox output turns slower at the same speed: below true speed fails at once."""
    finding = gearing(base, ('ratio = "3.73"', 'ratio = "3.31"'))["gearing.speedometer"]

    assert finding.verdict is Verdict.fails
    assert finding.value.nominal < 0
    assert finding.limit.nominal == 0
    assert "drive gears" in finding.cure


def test_the_step_that_it_takes_is_worked_out_and_does(base, gearing) -> None:
    """From true speed to 13.3 % above it at 120 km/h; written down as drive_factor, either end of it holds."""
    longer = ('ratio = "3.73"', 'ratio = "3.31"')
    factor = SHOWN_OVER_TRUE * 3.31 / 3.73
    least, largest = math.ceil(100 / factor) / 100, math.floor(100 * (1 + 16 / 120) / factor) / 100

    assert f"turned {least} to {largest} times as fast as now" in gearing(base, longer)["gearing.speedometer"].remark
    for step, verdict in ((least, "holds"), (largest, "holds"), (least - 0.02, "fails"), (largest + 0.02, "fails")):
        text = ("[speedometer]", f'[speedometer]\ndrive_factor = "{step:.2f} ± 0"')
        assert gearing(base, longer, text)["gearing.speedometer"].verdict == verdict


def test_it_may_show_too_much_at_speed(base, gearing) -> None:
    """15 % too much is 6 of 8 km/h at 40, and 18 of 16 at 120."""
    report = gearing(base, ("4 ± 0 %, manual", f"{100 * (1.15 * 1.04 / SHOWN_OVER_TRUE - 1):.6f} ± 0 %, manual"))

    assert report.figure("gearing.speedometer.40_kmh").value.nominal == pytest.approx(6)
    assert report["gearing.speedometer"].verdict is Verdict.fails
    assert report["gearing.speedometer"].limit.nominal == pytest.approx(16)


def test_larger_tyres_lower_the_reading_and_a_converter_corrects_it(base, gearing, value) -> None:
    """Both signs are pinned."""
    what = "gearing.speedometer"
    as_written = value(gearing(base), what)

    assert value(gearing(base, ("1.927", "2.0")), what) < as_written
    assert value(gearing(base, ("[speedometer]", '[speedometer]\ndrive_factor = "1.05"')), what) > as_written


def test_the_original_tyre_size_stands_in_for_its_circumference(base, gearing, value) -> None:
    """175/70 R13: 13 in and 2·175·0.7 mm are 575.2 mm, times 3.05 (ETRTO, from memory) 1.7544 m."""
    report = gearing(base, ('original_circumference = "1.90 ± 0 m"', 'original_tyre_size = "175/70 R13"'))
    excess = 120 * (1.04 * 3.73 / 3.7 * 3.05 * (13 * 0.0254 + 2 * 0.175 * 0.7) / 1.927 - 1)

    assert value(report, "gearing.speedometer") == pytest.approx(excess, rel=1e-9)


def test_without_the_original_tyre_it_is_unknown(base, gearing) -> None:
    """The size is asked for by its name."""
    finding = gearing(base, ('original_circumference = "1.90 ± 0 m"\n', ""))["gearing.speedometer"]

    assert finding.verdict is Verdict.unknown
    assert list(finding.missing) == ["speedometer.original_tyre_size"]


def test_what_it_showed_too_much_before_decides_near_the_line(base, gearing) -> None:
    """An unknown reading before the change leaves a small excess unsettled."""
    report = gearing(base, ("4 ± 0 %, manual", "1 ± 2 %"), draws=4096)

    assert report["gearing.speedometer"].verdict is Verdict.unsettled
