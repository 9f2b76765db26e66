"""Readings and chains of tolerances, in the builder's own words."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from trialfit.book import BadInput, read_text
from trialfit.evaluation.evaluation import Evaluation
from trialfit.evaluation.finding import Report
from trialfit.evaluation.verdict import Verdict
from trialfit.evaluation.working import work_out
from trialfit.subjects.measuring import requirements

SHAFT = """
[car]
rear_suspension = "independent"
[gearbox]
ratios = ["3.5"]
output_x = "-0.9 m, manual"
output_y = "0 m, manual"
output_z = "0.4 m, manual"
output_inclination = "3°, manual"
output_surge = "0 ± 0 mm, manual"
[final_drive]
after = "prop_shaft"
input_x = "-2.1 m, manual"
input_y = "0 m, manual"
input_z = "0.4 m, manual"
input_inclination = "3°, manual"
[prop_shaft]
after = "gearbox"
slip_gap = "14 mm, taped"
"""
GAP = """
[gap]
kind = "measurement"
method = "{method}"
of = "prop_shaft.slip_gap"
serves = "driveline.slip.gap"
lengths = [{lengths}]
"""


@pytest.fixture
def measuring() -> Callable[..., Report]:
    """The report of a TOML text."""

    def work(text: str, draws: int = 256) -> Report:
        build = read_text(text)
        return work_out(Evaluation(build, draws), list(requirements(build)))

    return work


def _gap(method: str, *millimetres: float) -> str:
    return SHAFT + GAP.format(method=method, lengths=", ".join(f'"{one} mm"' for one in millimetres))


def test_a_tape_does_not_settle_what_a_caliper_does(measuring):
    """11.2 mm where 10 mm are wanted: ± 2 mm is too much, ± 0.06 mm is not."""
    tape = measuring(_gap("tape", 11.0, 11.5, 11.1))["measuring.gap.spread"]
    caliper = measuring(_gap("caliper", 11.22, 11.18, 11.2))["measuring.gap.spread"]

    assert tape.verdict is Verdict.fails
    assert tape.value.nominal == pytest.approx(2.0, abs=0.05)
    assert caliper.verdict is Verdict.holds
    assert "1.2 mm on the right side of the limit of driveline.slip.gap" in caliper.remark


def test_what_a_reading_may_be_off_is_the_guard_band_of_what_it_serves(measuring):
    """Durability, 97.5 %: U may be 2/1.960 of the 1.2 mm that it is clear of 10 mm."""
    finding = measuring(_gap("caliper", 11.2, 11.2, 11.2))["measuring.gap.spread"]

    assert finding.limit.nominal == pytest.approx(1.2 * 2 / 1.959964, rel=1e-4)


def test_a_reading_that_serves_nothing_there_is_says_so(measuring):
    """The name of the finding is asked for."""
    for serves in ("driveline.slip.gape", "nothing.at.all", "gearing.speed_per_1000rpm.1"):
        report = measuring(_gap("caliper", 11.2).replace("driveline.slip.gap", serves))
        assert list(report["measuring.gap.spread"].missing) == ["gap.serves"]


def test_a_reading_of_nothing_there_is_says_so(measuring):
    """The fact is asked for, also where it is of another sort."""
    for of in ("prop_shaft.slip_gop", "propshaft.slip_gap", "gearbox.ratios.1", "gearbox.ratios.7"):
        report = measuring(_gap("caliper", 11.2).replace("prop_shaft.slip_gap", of))
        assert list(report["measuring.gap.spread"].missing) == ["gap.of"]


def test_a_finding_that_does_not_hang_on_what_was_read_says_so(measuring):
    """The overlap has nothing to do with the gap."""
    text = (
        _gap("caliper", 11.2)
        .replace("driveline.slip.gap", "driveline.slip.overlap")
        .replace('after = "gearbox"', 'after = "gearbox"\nspline_diameter = "30 mm"\nspline_overlap = "90 mm"')
    )

    assert "driveline.slip.overlap does not" in measuring(text)["measuring.gap.spread"].missing["gap.serves"]


def test_a_misread_tape_among_five_is_pointed_out_and_still_counts(measuring):
    """A finger's breadth off: the finding fails, and the value carries it in mean and spread."""
    report = measuring(_gap("caliper", 11.2, 11.18, 11.22, 11.2, 21.2))
    finding, value = report["measuring.gap.outlier"], report.figure("measuring.gap.value").value

    assert finding.verdict is Verdict.fails
    assert "reading 5, 21.2 mm, is an outlier" in finding.remark
    assert finding.cure.startswith("Take that reading again.")
    assert value.nominal == pytest.approx(13.2)
    assert value.high - value.nominal > 4
    assert report["measuring.gap.spread"].verdict is Verdict.fails


def test_sound_readings_are_not_suspected_and_two_are_too_few_to_tell(measuring):
    """With two there is no finding at all."""
    assert measuring(_gap("caliper", 11.2, 11.18, 11.25))["measuring.gap.outlier"].verdict is Verdict.holds
    assert measuring(_gap("caliper", 11.2, 15.0)).result("measuring.gap.outlier") is None


def test_the_written_fact_and_the_readings_disagree(measuring):
    """14 ± 2 mm is written, 11.2 mm was read: one of them is wrong."""
    finding = measuring(_gap("caliper", 11.2, 11.18, 11.22))["measuring.gap.agrees.written"]

    assert finding.verdict is Verdict.fails
    assert finding.value.nominal == pytest.approx(2.8 / 2.0, abs=0.01)
    assert "read 11.2 mm, written 14 mm" in finding.remark


def test_two_methods_agree_within_what_each_is_good_for(measuring):
    """Tape against caliper agree 1 mm apart; caliper against dial do not."""
    other = '[other]\nkind = "measurement"\nmethod = "{}"\nof = "prop_shaft.slip_gap"\nlengths = ["12.2 mm"]'
    report = measuring(_gap("caliper", 11.2) + other.format("tape"))

    assert report["measuring.other.agrees.gap"].verdict is Verdict.holds
    assert (
        measuring(_gap("caliper", 11.2) + other.format("dial"))["measuring.other.agrees.gap"].verdict is Verdict.fails
    )
    assert report.result("measuring.gap.agrees.other") is None


def test_clay_under_a_sump_without_its_gasket_promises_room_that_will_not_be_there(measuring):
    """13.0 mm of clay less 1.5 mm of gasket that keeps 85 % are 11.7 mm, and the crush adds to the spread."""
    text = (
        '[clay]\nkind = "measurement"\nmethod = "clay"\nlengths = ["13.0 mm", "12.9 mm", "13.1 mm"]\n'
        'gasket = "{}"\ngasket_thickness = "1.5 ± 0.05 mm, calipered"\n'
    )
    sump, head = (
        measuring(text.format(what)).figure("measuring.clay.value").value.nominal for what in ("closes it", "opens it")
    )
    guessed = measuring(text.format("closes it")).figure("measuring.clay.spread").value.nominal
    known = (
        measuring(text.format("closes it") + 'gasket_crush = "15 ± 0 %"').figure("measuring.clay.spread").value.nominal
    )

    assert sump == pytest.approx(13.0 - 1.275)
    assert head == pytest.approx(13.0 + 1.275)
    assert guessed > known


@pytest.mark.parametrize(
    ("half", "other"),
    [
        ('gasket = "opens it"', "gasket_thickness"),
        ('gasket_thickness = "1.5 mm"', "gasket"),
        ('material = "steel"', "part_temperature"),
        ('part_temperature = "60 °C"', "material"),
    ],
)
def test_half_a_correction_asks_for_the_other_half(measuring, half, other):
    """It is not left out in silence."""
    report = measuring(f'[m]\nkind = "measurement"\nlengths = ["12 mm"]\n{half}')

    assert list(report.figure("measuring.m.value").missing) == [f"m.{other}"]


def test_a_sloping_floor_is_taken_off_an_angle(measuring):
    """5.9° on a floor of 0.6°."""
    text = '[pinion]\nkind = "measurement"\nmethod = "angle gauge"\nangles = ["5.9 deg", "5.9 deg"]\nfloor_slope = "0.6 deg, gauged"'
    report = measuring(text)

    assert report.figure("measuring.pinion.value").value.nominal == pytest.approx(5.3)
    assert report.figure("measuring.pinion.spread").value.nominal == pytest.approx((0.2**2 + 0.2**2) ** 0.5, rel=0.01)


def test_a_hot_head_is_longer_than_a_cold_one(measuring):
    """500 mm of aluminium at 90 °C are 0.8 mm less at 20 °C."""
    text = (
        '[head]\nkind = "measurement"\nmethod = "caliper"\nlengths = ["500 mm"]\nmaterial = "aluminium"\n'
        'part_temperature = "90 °C, gauged"\ntool_temperature = "20 ± 0 °C"\n'
    )
    hot_wanted = measuring(text + 'reference_temperature = "90 °C"').figure("measuring.head.value").value.nominal

    assert measuring(text).figure("measuring.head.value").value.nominal == pytest.approx(
        500 * (1 - 23e-6 * 70), abs=1e-3
    )
    assert hot_wanted == pytest.approx(500)


def test_scales_read_a_share_of_what_they_weigh(measuring):
    """Half a percent of 600 kg."""
    report = measuring('[axle]\nkind = "measurement"\nmethod = "scales"\nmasses = ["600 kg", "600 kg"]')

    assert report.figure("measuring.axle.spread").value.nominal == pytest.approx(3.0, rel=0.01)


def test_what_stands_behind_a_reading_outranks_the_method(measuring):
    """A better caliper, or another tool than the word says."""
    report = measuring('[a]\nkind = "measurement"\nlengths = ["600 ± 0.5 mm", "600 ± 0.5 mm"]')

    assert report.figure("measuring.a.spread").value.nominal == pytest.approx(0.5, rel=0.01)


def test_a_measurement_without_readings_names_its_list(measuring):
    """The one that belongs to its method."""
    report = measuring('[a]\nkind = "measurement"\nmethod = "scales"\nserves = "gearing.gap.1_2"')

    assert list(report["measuring.a.spread"].missing) == ["a.masses"]


def test_a_chain_that_fits_by_the_odds_and_not_at_worst(measuring):
    """Four members: 1.9 mm with ± 0.6 by the odds and ± 1.1 at worst."""
    report = measuring(
        '[shims]\nkind = "stack"\nmembers = ["62.4 ± 0.3 mm", "-38.0 ± 0.4 mm", "-22.5 ± 0.4 mm"]\n'
        'smallest = "1 mm"\nlargest = "4 mm"'
    )

    assert report["measuring.shims.smallest"].verdict is Verdict.holds
    assert report["measuring.shims.smallest_at_worst"].verdict is Verdict.fails
    assert report["measuring.shims.smallest_at_worst"].value.nominal == pytest.approx(0.8)
    assert report["measuring.shims.largest"].verdict is Verdict.holds
    assert report["measuring.shims.largest_at_worst"].value.nominal == pytest.approx(3.0)
    assert report.figure("measuring.shims.root_sum_square").value.nominal == pytest.approx(0.41**0.5)
    assert report.figure("measuring.shims.shifted").value.nominal == pytest.approx(1.5 * 0.41**0.5)


def test_a_tolerance_to_one_side_counts_on_that_side_only(measuring):
    """+0.2/-0: at worst larger, never smaller."""
    report = measuring(
        '[s]\nkind = "stack"\nmembers = ["10 +0.2/-0 mm", "-9 ± 0 mm"]\nsmallest = "1 mm"\nlargest = "1.1 mm"'
    )

    assert report["measuring.s.smallest_at_worst"].verdict is Verdict.holds
    assert report["measuring.s.largest_at_worst"].value.nominal == pytest.approx(1.2)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        (
            'method = "scales"\nlengths = ["3 mm"]',
            'm.lengths are not read with "scales", which reads a mass: write masses = [...]',
        ),
        ('floor_slope = "1 deg"', 'm.floor_slope corrects an angle, and "tape" reads a length'),
        ('of = "slip gap"', 'is "slip gap": expected the path of a fact, as in prop_shaft.slip_gap'),
        (
            'serves = "measuring.m.spread"',
            "expected the id of a finding of another subject, as in driveline.plunge.left.in",
        ),
    ],
)
def test_what_does_not_belong_together_is_said_in_one_sentence(text, says):
    with pytest.raises(BadInput) as wrong:
        read_text(f'[m]\nkind = "measurement"\n{text}')

    assert says in str(wrong.value)


def test_a_value_says_how_often_and_with_what_it_was_read(measuring):
    """Three readings by caliper: nearly all of the uncertainty is the caliper's, so the factor is about 2."""
    several = measuring(_gap("caliper", 11.22, 11.18, 11.2)).figure("measuring.gap.value").remark
    one = measuring(_gap("caliper", 11.2)).figure("measuring.gap.value").remark

    assert several.startswith("3 readings with caliper, coverage factor 2")
    assert one == "1 reading with caliper, coverage factor 2.00"
