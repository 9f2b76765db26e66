"""The cooling limit: its lines against sums by hand, its words, and what it lists as missing."""

from __future__ import annotations

import math

import numpy as np
import pytest

from trialfit.cli.sites import site_at
from trialfit.drawing.plots.all_plots import plot_of
from trialfit.facts.quantity import VOLUME_FLOW
from trialfit.facts.units import find_unit, to_si

CAR = """
[car]
mass = "1000 kg, computed"
rolling_coefficient = "0.012, manual"
drag_area = "0.7 m², manual"
air_density = "1.2 kg/m³, manual"
cruise_speeds = ["90 km/h", "400 km/h"]
[engine]
max_speed = "6000 rpm, manual"
torque_curve = '''
rpm : N·m
1000 : 200
6000 : 200
'''
[gearbox]
ratios = ["3"]
efficiency = "90 %, manual"
[final_drive]
ratio = "4"
efficiency = "100 %, manual"
[tyre_rear]
kind = "tyre"
circumference = "2 m, manual"
"""
RADIATOR = """
[radiator]
conductance = "1884.3 W/K, manual"
rated_air_speed = "6 m/s, manual"
face_area = "0.252 m², manual"
air_speed_ratio = "40 %, manual"
air_exponent = "0.5, manual"
coolant_flow = "94.0 l/min, manual"
cap_pressure = "0.9 bar, manual"
glycol_share = "50 %, manual"
heat_rejection_ratio = "0.8, manual"
ambient_temperature = "40.6 °C"
"""
TOP = 6000 / 60 / 12 * 2 * 3.6  # km/h, rev limit in the one gear


def plot_by(build_of, text, draws=1):
    build = build_of(text)
    return plot_of(build, "cooling", lambda: site_at(build, "demo.toml", with_findings=False), draws)


def line_of(plot, short):
    return next(series for series in plot.series if series.short == short)


def test_the_radiator_takes_what_the_sum_by_hand_says(build_of):
    """At 54 km/h the air has 6 m/s, its rating. ε 0.6096 of cross flow, air of 1.125 kg/m³ at 40.6 °C: C_min 1713 W/K.

    Half and half under 0.9 bar boils at 127.8 °C; less 2 K of error and 10 K of margin 115.8 °C: 0.6096·1713·75.2 = 78.5 kW.
    """
    plot = plot_by(build_of, CAR + RADIATOR)
    radiator = line_of(plot, "radiator")
    known = [(x, y) for x, y in zip(radiator.x, radiator.y, strict=True) if y is not None]

    assert np.interp(54.0, *zip(*known, strict=True)) == pytest.approx(78.5, rel=0.005)
    assert min(x for x, _ in known) == pytest.approx(1.5 / 0.4 * 3.6, abs=TOP / 60)
    assert to_si(94.0, find_unit(VOLUME_FLOW, "l/min")) * 1022 * 3584 == pytest.approx(5739, rel=1e-3)
    assert plot.missing == {}


def test_the_heat_is_the_share_of_the_power(build_of):
    """200 N·m at 3000 rpm, 30 km/h in this gear: 62.8 kW, times 0.8. On the level at 30 km/h 146.9 N·8.33 m/s/0.9·0.8."""
    plot = plot_by(build_of, CAR + RADIATOR)
    full, level = line_of(plot, "full throttle"), line_of(plot, "level road")
    known = [(x, y) for x, y in zip(full.x, full.y, strict=True) if y is not None]

    assert np.interp(30.0, *zip(*known, strict=True)) == pytest.approx(0.8 * 0.2 * 3000 * math.pi / 30, rel=1e-3)
    assert np.interp(30.0, level.x, level.y) == pytest.approx(0.8 * 0.146846 * 30 / 3.6 / 0.9, rel=5e-3)
    assert known[0][0] == pytest.approx(10.0, abs=TOP / 60)


def test_a_fan_counts_where_it_moves_more_than_the_road(build_of):
    """1800 m³/h over 0.25 m² are 2 m/s: as much as at 18 km/h at a share of 40 %, so the line is level up to there."""
    plot = plot_by(build_of, CAR + RADIATOR + 'fan_flow = "1800 m³/h, manual"\n')
    radiator = line_of(plot, "radiator")

    level = [y for x, y in zip(radiator.x, radiator.y, strict=True) if x < 17]
    assert level == pytest.approx([level[0]] * len(level))
    assert radiator.y[-1] > level[0]
    assert not any("no fan" in note for note in plot.notes)


def test_a_rating_says_the_same_as_the_conductance_it_stands_for(build_of):
    """Made from it by hand: ε·C_min at 1.20 kg/m³, C_min 1827 W/K, C_r 0.3184, NTU 1.0313, ε 0.5856: 64.19 kW at 60 K."""
    rating = (
        'rated_heat = "64.19 kW, manual"\nrated_difference = "60 K, manual"\nrated_coolant_flow = "94.0 l/min, manual"'
    )
    by_rating = plot_by(build_of, CAR + RADIATOR.replace('conductance = "1884.3 W/K, manual"', rating))
    by_conductance = plot_by(build_of, CAR + RADIATOR)

    found, wanted = ([y for y in line_of(plot, "radiator").y if y is not None] for plot in (by_rating, by_conductance))
    assert found == pytest.approx(wanted, rel=2e-3)


def test_the_words_say_where_it_is_kept_and_what_it_carries(build_of):
    """A small radiator holds the level road and not full throttle; nothing is opened hot."""
    small = (CAR + RADIATOR).replace("1884.3 W/K", "400 W/K").replace('"90 km/h",', '"50 km/h",')
    said = plot_by(build_of, small).notes

    assert "on a level road at a steady speed the top hose stays below the limit from 14 km/h to 60 km/h" in said
    assert "at full throttle the top hose stays below the limit at no speed" in said
    assert said[0] == "limit: top hose at 116 °C, 10 K below boiling, with 40.6 °C outside"
    assert any(note.startswith("50 km/h: carries a steady ") and "top hose" in note for note in said)
    assert not any(note.startswith("400 km/h") for note in said)
    assert "no fan in the build, so none is counted" in said
    assert "never open its cap before it is cold" in said[-1]


def test_the_words_count_the_draws(build_of):
    """With a spread the sure stretch is no longer than the nominal one."""
    plot = plot_by(build_of, (CAR + RADIATOR).replace('"0.8, manual"', '"0.80 ± 0.20, guess"'), draws=257)

    assert any(" at the nominal values; in 39 draws of 40 " in note for note in plot.notes)
    assert line_of(plot, "full throttle").low


def test_without_a_radiator_it_lists_it_and_draws_nothing(build_of):
    plot = plot_by(build_of, CAR)

    assert plot.is_empty
    assert list(plot.missing) == ["radiator"]


def test_without_its_facts_the_heat_is_drawn_and_the_rest_is_listed(build_of):
    plot = plot_by(build_of, CAR + "[radiator]\n")

    assert [series.short for series in plot.series] == ["full throttle", "level road"]
    assert list(plot.missing) == [
        *("radiator.rated_heat", "radiator.rated_temperature_difference", "radiator.rated_coolant_flow"),
        *("radiator.rated_air_speed", "radiator.face_area", "radiator.coolant_flow", "radiator.cap_pressure"),
    ]


def test_a_rating_that_cannot_be_is_named(build_of):
    rating = (
        'rated_heat = "640 kW, manual"\nrated_difference = "60 K, manual"\nrated_coolant_flow = "94.0 l/min, manual"'
    )
    plot = plot_by(build_of, CAR + RADIATOR.replace('conductance = "1884.3 W/K, manual"', rating))

    assert plot.missing == {
        "radiator.rated_heat": "more than air and coolant at the rating can carry: check the rating"
    }


def test_the_typical_share_of_heat_is_for_petrol_alone(build_of):
    """A diesel or a motor wants its own; the radiator is drawn anyway."""
    text = (CAR + RADIATOR).replace("[engine]", '[engine]\nruns_on = "diesel"')
    without = plot_by(build_of, text.replace('heat_rejection_ratio = "0.8, manual"\n', ""))

    assert [series.short for series in without.series] == ["radiator"]
    assert list(without.missing) == ["radiator.heat_rejection_ratio"]
    assert len(plot_by(build_of, text).series) == 3
