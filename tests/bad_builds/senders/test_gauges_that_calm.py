"""Gauges that keep a driver calm, and their mended twins."""

from __future__ import annotations

from functools import cache

import pytest

from trialfit.book import read_text
from trialfit.book.problems import BadInput
from trialfit.evaluation.evaluation import Evaluation
from trialfit.evaluation.finding import Report
from trialfit.evaluation.requirement import Stake
from trialfit.evaluation.verdict import Verdict
from trialfit.evaluation.working import work_out
from trialfit.subjects.senders import requirements

# A sender of 10 to 184 Ω on a gauge for 240 to 33 Ω: the curves run in opposite directions.
OIL = """
[pressure]
kind = "sender"
pressure_curve = "bar : Ω ± 5 %, catalogue | 0 : 10 | 2 : 52 | 5 : 124 | 10 : 184"
earth_resistance = "0.1 ± 0.1 Ω, gauged"
[oil]
kind = "gauge"
sender = "pressure"
measures = "pressure"
pressure_curve = "bar : Ω ± 5 %, catalogue | 0 : 240 | 2.75 : 153 | 5.5 : 33"
limit_pressure = "2 bar, manual"
"""
FREEZING = (
    'series_resistor = "180 Ω, catalogue"\nparallel_resistor = "1 Ω, catalogue"\nresistor_rating = "5 W, catalogue"\n'
)

WATER = """
[bulb]
kind = "sender"
temperature_curve = "°C : Ω ± 2 %, gauged | 40 : 287 | 60 : 134 | 80 : 69 | 100 : 38.5 | 110 : 30"
earth_resistance = "0.1 ± 0.1 Ω, gauged"
[water]
kind = "gauge"
sender = "bulb"
temperature_curve = "°C : Ω ± 2 %, gauged | 40 : 287 | 60 : 134 | 80 : 69 | 100 : 38.5 | 120 : 22.7"
limit_temperature = "LIMIT"
"""


@cache
def look(text: str) -> Report:
    build = read_text(text)
    return work_out(Evaluation(build, 256), list(requirements(build)))


def test_no_pair_of_resistors_is_offered_that_freezes_the_needle():
    """180 Ω in series and a fraction of an ohm across would leave the needle standing where it looks right."""
    report = look(OIL)
    left = report.figure("senders.oil.best_over_range")

    assert report.figure("senders.oil.best_series").value.nominal == 0
    assert report.figure("senders.oil.best_parallel").value is None
    assert "no pair of resistors" in left.remark
    assert "other_sender" in left.remark


def test_a_needle_that_stands_still_at_the_right_place_does_not_hold():
    finding = look(OIL + FREEZING)["senders.oil.reading_at_limit"]

    assert finding.verdict is Verdict.fails
    assert "of its way" in finding.remark


def test_a_wrong_oil_gauge_is_a_matter_of_durability():
    assert look(OIL + FREEZING)["senders.oil.over_range"].verdict is Verdict.fails
    assert look(OIL + FREEZING)["senders.oil.over_range"].stake is Stake.durability


def test_the_sender_of_the_gauge_holds():
    own = OIL.replace("0 : 10 | 2 : 52 | 5 : 124 | 10 : 184", "0 : 240 | 2.75 : 153 | 5.5 : 33").replace(
        "± 5 %", "± 2 %"
    )
    report = look(own)

    assert report["senders.oil.reading_at_limit"].verdict is Verdict.holds
    assert report["senders.oil.over_range"].verdict is Verdict.holds


def test_one_ohm_across_the_sender_that_puts_the_needle_on_its_hot_stop_does_not_hold():
    """The gauge ends where the driver must act: a needle that is always there is right once, by luck."""
    shorted = (
        WATER.replace("LIMIT", "110 °C, manual")
        + 'parallel_resistor = "1 Ω, catalogue"\nresistor_rating = "300 W, catalogue"\n'
    )
    finding = look(shorted)["senders.water.reading_at_limit"]

    assert finding.verdict is Verdict.fails
    assert "its needle on the stop" in finding.remark
    assert look(WATER.replace("LIMIT", "108 °C, manual"))["senders.water.reading_at_limit"].verdict is Verdict.holds


def test_a_reading_on_the_stop_near_the_limit_does_not_hold():
    """A gauge to 120 °C, and a driver who must act at 122 °C: it shows 120 from there to the end of the engine."""
    wider = WATER.replace("110 : 30", "120 : 22.7 | 140 : 14").replace("LIMIT", "123 ± 0 °C, manual")
    finding = look(wider)["senders.water.reading_at_limit"]

    assert finding.verdict is Verdict.fails
    assert look(wider.replace("123 ±", "117 ±"))["senders.water.reading_at_limit"].verdict is Verdict.holds


def test_a_gauge_that_goes_with_its_sender_is_offered_no_resistor():
    report = look(WATER.replace("LIMIT", "108 °C, manual"))

    assert report.figure("senders.water.best_series").value.nominal == 0
    assert report.figure("senders.water.best_parallel").value is None
    assert report.figure("senders.water.best_over_range").remark.startswith("best is no resistor")


@pytest.mark.parametrize("limit", ["230 °F", "110 °C", "229 °F"])
def test_the_end_of_a_curve_is_on_the_curve_in_any_unit(limit):
    """230 °F are 110 °C but for rounding."""
    finding = look(WATER.replace("LIMIT", f"{limit}, manual"))["senders.water.reading_at_limit"]

    assert finding.verdict is Verdict.holds


def test_another_sender_is_named_where_none_fits():
    """The fuel gauge needs 240 Ω empty and 33 Ω full, the tank has 75 and 10: no resistor turns one into the other."""
    text = """
[tank]
kind = "sender"
level_curve = "% : Ω ± 2 %, gauged | 0 : 75 | 100 : 10"
[fuel]
kind = "gauge"
sender = "tank"
measures = "level"
level_curve = "% : Ω ± 2 %, gauged | 0 : 240 | 100 : 33"
limit_level = "10 %"
"""
    other = look(text).figure("senders.fuel.other_sender")

    assert look(text)["senders.fuel.over_range"].verdict is Verdict.fails
    assert other.value.nominal == pytest.approx(0, abs=1e-6)
    assert "ask for a sender of 240 Ω empty, 33 Ω full" in other.remark
    assert (
        look(text.replace("0 : 75 | 100 : 10", "0 : 240 | 100 : 33"))["senders.fuel.over_range"].verdict
        is Verdict.holds
    )


def test_a_gauge_without_a_sender_is_told_which_to_buy():
    text = (
        '[fuel]\nkind = "gauge"\nmeasures = "level"\nlevel_curve = "% : Ω | 0 : 240 | 100 : 33"\nlimit_level = "10 %"\n'
    )

    assert "240 Ω empty, 33 Ω full" in look(text).figure("senders.fuel.other_sender").remark


def test_a_sender_known_over_a_corner_of_the_scale_says_nothing_of_the_needle():
    """From 100 to 110 °C on a gauge from 40 to 120 °C even a needle that stands still is nowhere far off."""
    corner = WATER.replace("40 : 287 | 60 : 134 | 80 : 69 | 100 : 38.5 | 110 : 30", "100 : 38.5 | 110 : 30", 1)

    assert look(corner.replace("LIMIT", "108 °C, manual"))["senders.water.over_range"].verdict is Verdict.unknown
    whole = look(WATER.replace("LIMIT", "108 °C, manual"))["senders.water.over_range"]
    assert whole.verdict is Verdict.holds
    assert "judged from 40 °C to 110 °C, where both curves are known" in whole.remark


def test_tape_on_a_sender_asks_for_its_earth():
    """Tape can lift the earth of a sender altogether: a hot engine then reads cold."""
    port = '[hole]\nkind = "port"\nthread = "1/8-27 NPT"\nfitted = "bulb"\nsealant = "tape"\n'
    taped = WATER.replace("LIMIT", "108 °C, manual").replace('earth_resistance = "0.1 ± 0.1 Ω, gauged"\n', "") + port

    assert list(look(taped)["senders.water.reading_at_limit"].missing) == ["bulb.earth_resistance"]
    measured = taped.replace('kind = "sender"', 'kind = "sender"\nearth_resistance = "0.1 ± 0.1 Ω, gauged"')
    assert look(measured)["senders.water.reading_at_limit"].verdict is Verdict.holds


def test_two_points_do_not_say_what_lies_between_them():
    """A gauge within 5 K at 80 °C by a curve of 40 and 120 °C alone is not settled; with the points in between it holds."""
    five = WATER.replace("LIMIT", "80 °C, manual")
    two = five.replace("| 60 : 134 | 80 : 69 | 100 : 38.5 | 110 : 30", "| 110 : 30")

    assert look(five)["senders.water.reading_at_limit"].verdict is Verdict.holds
    assert look(two)["senders.water.reading_at_limit"].verdict is Verdict.unsettled
    assert "bulb.between_points" in look(two)["senders.water.reading_at_limit"].remark


def test_a_driver_cannot_have_to_act_below_the_normal_value():
    """60 °C to act and 95 °C normal contradict each other."""
    with pytest.raises(BadInput, match="expected the value at which the driver must act above the normal one"):
        read_text(WATER.replace("LIMIT", '60 °C, manual"\nnormal_temperature = "95 °C, manual'))
    read_text(WATER.replace("LIMIT", '108 °C, manual"\nnormal_temperature = "95 °C, manual'))


def test_where_no_resistors_help_the_finding_names_the_sender_to_ask_for():
    """Curves in opposite directions: a sender with its curve, not resistors of 0 Ω; with its own curve nothing is said."""
    wrong = look(OIL)["senders.oil.over_range"]

    assert wrong.verdict is Verdict.fails
    assert "no pair of resistors brings it right: the nearest is a sender of" in wrong.remark
    assert "best_series" not in wrong.cure
    own = "bar : Ω ± 1 %, catalogue | 0 : 240 | 2.75 : 153 | 5.5 : 33"
    like = OIL.replace("bar : Ω ± 5 %, catalogue | 0 : 10 | 2 : 52 | 5 : 124 | 10 : 184", own)
    mended = look(like.replace("bar : Ω ± 5 %, catalogue | 0 : 240 | 2.75 : 153 | 5.5 : 33", own))[
        "senders.oil.over_range"
    ]

    assert mended.verdict is Verdict.holds
    assert "resistors" not in mended.remark
