"""Gauges on senders, lamps on switches, in the builder's own words."""

from __future__ import annotations

import pytest

from trialfit.book import BadInput, read_text
from trialfit.evaluation.verdict import Verdict

FUEL = """
[tank_sender]
kind = "sender"
level_curve = "% : Ω ± 0 % | 0 : {sender} | 100 : {full}"
earth_resistance = "0 ± 0 Ω"

[tank_gauge]
kind = "gauge"
sender = "tank_sender"
measures = "level"
level_curve = "% : Ω ± 0 % | 0 : 75 | 100 : 10"
limit_level = "10 %"
supply_voltage = "13.8 ± 0 V"
"""
WATER = '''
[water_sender]
kind = "sender"
temperature_curve = """
°C : Ω ± 3 %, catalogue
0 : 5975
20 : 2502
40 : 1152
60 : 575.8
80 : 308.6
100 : 175.7
120 : 105.4
140 : 66.2
"""

[water_gauge]
kind = "gauge"
sender = "water_sender"
temperature_curve = "°C : Ω ± 3 %, catalogue | 40 : 287 | 60 : 134 | 80 : 69 | 100 : 38.5 | 120 : 22.7"
limit_temperature = "112 °C, manual"
'''
OIL = """
[switch]
kind = "sender"
switch_pressure = "{threshold}, catalogue"
contact = "{contact}"

[lamp]
kind = "gauge"
sender = "switch"
measures = "pressure"
limit_pressure = "0.4 bar, manual"
normal_pressure = "1.2 ± 0.3 bar, guess"
"""


def test_a_temperature_gauge_that_shows_normal_while_the_engine_boils(senders):
    """The dash gauge stands at 60 °C, in the middle of its scale, when the coolant is at 112 °C."""
    finding = senders(WATER)["senders.water_gauge.reading_at_limit"]

    assert finding.verdict is Verdict.fails
    assert finding.value.nominal < -45
    assert "at 112 °C the gauge gets 129 Ω and shows 61.1 °C" in finding.remark
    assert finding.cure.startswith("Fit the sender that the gauge was made for")
    assert "Hot coolant scalds" in finding.caution


def test_its_own_sender_puts_it_right(senders):
    """The same curve on both sides."""
    own = WATER.replace(
        WATER[WATER.index("°C : Ω ± 3 %, catalogue\n0") : WATER.index('"""\n\n[water_gauge]')],
        "°C : Ω ± 3 %, catalogue\n40 : 287\n60 : 134\n80 : 69\n100 : 38.5\n120 : 22.7\n",
    )
    report = senders(own)

    assert report["senders.water_gauge.reading_at_limit"].verdict is Verdict.holds
    assert report["senders.water_gauge.over_range"].verdict is Verdict.holds
    assert report.figure("senders.water_gauge.best_series").value.nominal == 0


def test_an_oil_gauge_that_shows_pressure_when_there_is_none(senders):
    """A 180 Ω sender on a 90 Ω gauge: at 0.5 bar it shows 1.1."""
    report = senders("""
[s]
kind = "sender"
pressure_curve = "bar : Ω ± 2 % | 0 : 10 | 10 : 180"
[g]
kind = "gauge"
sender = "s"
measures = "pressure"
pressure_curve = "bar : Ω ± 2 % | 0 : 5 | 10 : 90"
limit_pressure = "0.5 bar, manual"
""")
    finding = report["senders.g.reading_at_limit"]

    assert finding.verdict is Verdict.fails
    assert report.figure("senders.g.shown_at_limit").value.nominal == pytest.approx(
        10 * (18.5 + 0.3 - 5) / 85, abs=0.01
    )


def test_seal_tape_on_the_thread_makes_a_cold_engine_of_a_hot_one(senders):
    """A bad earth adds to the sender: the needle falls."""
    earthed = WATER.replace("[water_gauge]", 'earth_resistance = "40 ± 5 Ω, gauged"\n[water_gauge]')

    def shows(text: str) -> float:
        return senders(text).figure("senders.water_gauge.shown_at_limit").value.nominal

    assert shows(earthed) < shows(WATER) - 3


def test_an_empty_tank_that_reads_three_quarters(senders):
    """75 to 10 Ω on a gauge of 240 to 33 Ω."""
    text = FUEL.format(sender=75, full=10).replace('0 : 75 | 100 : 10"\nlimit', '0 : 240 | 100 : 33"\nlimit')
    finding = senders(text)["senders.tank_gauge.reading_at_limit"]

    assert finding.verdict is Verdict.fails
    assert finding.value.nominal == pytest.approx(100 * (240 - 68.5) / 207 - 10, abs=0.01)


def test_resistors_that_are_fitted_count_in_the_reading(senders):
    """126.4 Ω across and 0.73 Ω in series: half a tank reads 0.308, so the error is 0.192 there."""
    fitted = FUEL.format(sender=180, full=10) + 'series_resistor = "0.733 ± 0 Ω"\nparallel_resistor = "126.43 ± 0 Ω"\n'
    report = senders(fitted.replace("10 %", "50 %"))

    assert report["senders.tank_gauge.reading_at_limit"].value.nominal == pytest.approx(30.8 - 50, abs=0.05)
    assert report["senders.tank_gauge.over_range"].verdict is Verdict.fails


def test_a_small_resistor_behind_the_dash_that_will_burn(senders):
    """13.8 V across 126 Ω are 1.5 W: a quarter-watt resistor chars, a five-watt one does not."""
    base = FUEL.format(sender=180, full=10) + 'parallel_resistor = "126.4 ± 0 Ω"\n'
    quarter = senders(base + 'resistor_rating = "0.25 W, manual"')["senders.tank_gauge.resistor_power"]
    five = senders(base + 'resistor_rating = "5 W, manual"')["senders.tank_gauge.resistor_power"]

    assert quarter.verdict is Verdict.fails
    assert quarter.value.nominal == pytest.approx(13.8**2 / 126.4, rel=1e-6)
    assert (quarter.limit.nominal, quarter.limit.unit) == (0.125, "W")
    assert "gets hot" in quarter.caution
    assert five.verdict is Verdict.holds
    assert senders(base)["senders.tank_gauge.resistor_power"].missing.keys() == {"tank_gauge.resistor_rating"}


def test_the_best_pair_is_named_with_what_it_leaves(senders):
    """As one would ask for it over the counter."""
    report = senders(FUEL.format(sender=180, full=10))
    left = report.figure("senders.tank_gauge.best_over_range")

    assert "Ω across the sender" in left.remark
    assert "no pair brings it within 10 %" in left.remark
    assert left.value.nominal < report["senders.tank_gauge.over_range"].value.nominal
    assert abs(report.figure("senders.tank_gauge.best_at_limit").value.nominal) < left.value.nominal


def test_curves_without_a_place_in_common_leave_it_unknown(senders):
    """A sender for an oven and a gauge for a pond."""
    report = senders("""
[s]
kind = "sender"
temperature_curve = "°C : Ω | 200 : 50 | 300 : 10"
[g]
kind = "gauge"
sender = "s"
temperature_curve = "°C : Ω | 0 : 500 | 40 : 200"
limit_temperature = "30 °C"
""")

    assert {report[f"senders.g.{what}"].verdict for what in ("reading_at_limit", "over_range")} == {Verdict.unknown}


def test_a_gauge_without_a_sender_names_it(senders):
    """So does one without a curve."""
    bare = '[g]\nkind = "gauge"\nlimit_temperature = "110 °C"\n'
    report = senders(bare)
    with_curve = senders(bare + 'temperature_curve = "°C : Ω | 0 : 500 | 40 : 200"')

    assert set(report["senders.g.over_range"].missing) == {"g.temperature_curve"}
    assert set(with_curve["senders.g.over_range"].missing) == {"g.sender"}
    assert report["senders.g.reading_at_limit"].verdict is Verdict.unknown


@pytest.mark.parametrize(
    ("threshold", "warning", "false_alarm"),
    [
        ("0.6 ± 0.1 bar", Verdict.holds, Verdict.holds),
        ("0.2 ± 0.1 bar", Verdict.fails, Verdict.holds),
        ("0.4 ± 0.1 bar", Verdict.unsettled, Verdict.holds),
        ("2.0 ± 0.1 bar", Verdict.holds, Verdict.fails),
    ],
)
def test_a_lamp_that_comes_too_late_and_one_that_never_goes_out(senders, threshold, warning, false_alarm):
    """Between the pressure that harms and the one at hot idle."""
    report = senders(OIL.format(threshold=threshold, contact="closed below"))

    assert report["senders.lamp.warning"].verdict is warning
    assert report["senders.lamp.false_alarm"].verdict is false_alarm


def test_a_lamp_that_goes_dark_when_the_oil_is_gone(senders):
    """A switch for another circuit closes above its threshold: the lamp is lit as long as all is well."""
    right = senders(OIL.format(threshold="0.6 bar", contact="closed below"))["senders.lamp.sense"]
    wrong = senders(OIL.format(threshold="0.6 bar", contact="closed above"))["senders.lamp.sense"]

    assert right.verdict is Verdict.holds
    assert wrong.verdict is Verdict.fails
    assert "the contact of switch is closed above its threshold, and the lamp is lit when it is closed" in wrong.remark
    assert "put a relay between" in wrong.cure


def test_a_temperature_lamp_closes_above(senders):
    """The other side of the danger."""
    text = '[sw]\nkind = "sender"\nswitch_temperature = "105 ± 2 °C"\ncontact = "{}"\n[l]\nkind = "gauge"\nsender = "sw"\nlimit_temperature = "112 °C"'

    assert senders(text.format("closed above"))["senders.l.sense"].verdict is Verdict.holds
    assert senders(text.format("closed below"))["senders.l.sense"].verdict is Verdict.fails
    assert senders(text.format("closed above"))["senders.l.warning"].verdict is Verdict.holds


def test_a_limit_of_the_builders_own_takes_the_place_of_common_practice(senders):
    """3 K, from the manual."""
    text = WATER + '[limit]\n"senders.water_gauge.reading_at_limit" = "-60 K, manual"'
    finding = senders(text)["senders.water_gauge.reading_at_limit"]

    assert finding.verdict is Verdict.holds
    assert finding.source == "maker's manual"


@pytest.mark.parametrize(
    ("text", "says"),
    [
        (
            '[g]\nkind = "gauge"\nlevel_curve = "% : Ω | 0 : 10 | 50 : 90 | 100 : 20"',
            "g.level_curve changes direction: expected resistances that all rise or all fall",
        ),
        (
            '[s]\nkind = "sender"\ntemperature_curve = "°C : Ω | 0 : 500 | 100 : 0"',
            "s.temperature_curve has a resistance below 0, or of 0 at a temperature",
        ),
        (
            '[s]\nkind = "sender"\nlevel_curve = "% : Ω | 0 : 10 | 100 : 20"\nswitch_level = "10 %"',
            "s.switch_level is written beside a curve of the same quantity: write sender and switch as two parts",
        ),
    ],
)
def test_what_cannot_be_is_said_in_one_sentence(text, says):
    with pytest.raises(BadInput) as wrong:
        read_text(text)

    assert says in str(wrong.value)


@pytest.mark.parametrize(
    ("text", "name", "limit", "side"),
    [
        (WATER, "water_gauge", "105 °C", "at least"),
        (FUEL.format(sender=75, full=10), "tank_gauge", "12 %", "at most"),
    ],
)
def test_a_limit_of_the_builders_own_keeps_the_needle_from_playing_the_danger_down(senders, text, name, limit, side):
    """Where the water is too hot it must show that much at least; where the tank runs dry, that much at most."""
    report = senders(f'{text}\n[limit]\n"senders.{name}.shown_at_limit" = "{limit}"')
    ours = report[f"senders.{name}.reading_at_limit"]

    assert report[f"senders.{name}.shown_at_limit"].side == side
    assert ours.side == side
    assert ("below it" in ours.says) is (side == "at least")
    assert ("above it" in ours.says) is (side == "at most")
