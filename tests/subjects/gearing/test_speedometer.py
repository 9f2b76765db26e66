"""The speedometer after the change against UN Regulation No. 39, 5.3."""

from __future__ import annotations

import pytest

from trialfit.evaluation.requirement import SourceKind, Stake
from trialfit.evaluation.verdict import Verdict

SHOWN_OVER_TRUE = 1.04 * 3.73 / 3.7 * 1.90 / 1.927


# UN Regulation No. 39, 5.3: 0 ≤ V1 − V2 ≤ 0.1·V2 + 4 km/h, shown V1, true V2.
@pytest.mark.parametrize(("kmh", "most"), [(40, 8.0), (80, 12.0), (120, 16.0)])
def test_excess_by_hand_and_the_most_it_may_be(base, gearing, kmh, most) -> None:
    """4 % too much before, a shorter final drive now, larger tyres now."""
    finding = gearing(base)[f"gearing.speedometer.{kmh}_kmh"]
    excess = kmh * (SHOWN_OVER_TRUE - 1)

    assert finding.value.nominal == pytest.approx(excess, rel=1e-9)
    assert finding.limit.nominal == pytest.approx(0 if excess < most / 2 else most)
    assert finding.verdict is Verdict.holds
    assert finding.stake is Stake.safety
    assert (finding.source, finding.source_kind) == ("UN Regulation No. 39, 5.3", SourceKind.published)
    assert "certifies" in finding.caution
    assert f"it shows {kmh * SHOWN_OVER_TRUE:.3g} km/h" in finding.remark


def test_a_longer_final_drive_makes_it_show_too_little(base, gearing) -> None:
    """The gearbox output turns slower at the same speed: below true speed fails at once."""
    finding = gearing(base, ('ratio = "3.73"', 'ratio = "3.31"'))["gearing.speedometer.80_kmh"]

    assert finding.verdict is Verdict.fails
    assert finding.value.nominal < 0
    assert finding.limit.nominal == 0


def test_it_may_show_too_much_at_speed_and_not_yet_in_town(base, gearing) -> None:
    """15 % too much is 6 of 8 km/h at 40, and 18 of 16 at 120."""
    report = gearing(base, ("4 ± 0 %", f"{100 * (1.15 * 1.04 / SHOWN_OVER_TRUE - 1):.6f} ± 0 %"))

    assert report["gearing.speedometer.40_kmh"].verdict is Verdict.holds
    assert report["gearing.speedometer.120_kmh"].verdict is Verdict.fails
    assert report["gearing.speedometer.120_kmh"].limit.nominal == pytest.approx(16)


def test_larger_tyres_lower_the_reading_and_a_converter_corrects_it(base, gearing, value) -> None:
    """Both signs are pinned."""
    what = "gearing.speedometer.80_kmh"
    as_written = value(gearing(base), what)

    assert value(gearing(base, ("1.927", "2.0")), what) < as_written
    assert value(gearing(base, ("[speedometer]", '[speedometer]\ndrive_factor = "1.05"')), what) > as_written


def test_the_original_tyre_size_stands_in_for_its_circumference(base, gearing, value) -> None:
    """175/70 R13: 13 in and 2·175·0.7 mm are 575.2 mm, times 3.05 (ETRTO, from memory) 1.7544 m."""
    report = gearing(base, ('original_circumference = "1.90 ± 0 m"', 'original_tyre_size = "175/70 R13"'))
    excess = 80 * (1.04 * 3.73 / 3.7 * 3.05 * (13 * 0.0254 + 2 * 0.175 * 0.7) / 1.927 - 1)

    assert value(report, "gearing.speedometer.80_kmh") == pytest.approx(excess, rel=1e-9)


def test_without_the_original_tyre_it_is_unknown(base, gearing) -> None:
    """The size is asked for by its name."""
    finding = gearing(base, ('original_circumference = "1.90 ± 0 m"\n', ""))["gearing.speedometer.80_kmh"]

    assert finding.verdict is Verdict.unknown
    assert list(finding.missing) == ["speedometer.original_tyre_size"]


def test_what_it_showed_too_much_before_decides_near_the_line(base, gearing) -> None:
    """An unknown reading before the change leaves a small excess unsettled."""
    report = gearing(base, ("4 ± 0 %", "1 ± 2 %"), draws=4096)

    assert report["gearing.speedometer.80_kmh"].verdict is Verdict.unsettled
