"""The plot of the brakes: curves by hand, words for what locks first, and what is missing by name."""

from __future__ import annotations

import numpy as np
import pytest
from svg import overlapping_texts, read, texts_outside

from trialfit.drawing.plot_picture import picture_of
from trialfit.drawing.plots.all_plots import plot_of
from trialfit.drawing.plots.brake_share import brake_share
from trialfit.evaluation.evaluation import Evaluation

CAR = """
[car]
mass = "1240 ± 0 kg"
rear_axle_mass = "548.4615 ± 0 kg"
wheelbase = "2.6 ± 0 m"
centre_of_mass_height = "0.54 ± 0 m"
tyre_friction = "0.8 ± 0"
"""
TYRES = """
[tyre_front]
kind = "tyre"
axle = "front"
circumference = "1.9 ± 0 m"
[tyre_rear]
kind = "tyre"
circumference = "1.9 ± 0 m"
"""
FRONT = """
[front]
kind = "brake"
axle = "front"
piston_area = "21 ± 0 cm²"
effective_radius = "0.1 ± 0 m"
pad_friction = "0.4 ± 0"
"""
REAR = """
[rear]
kind = "brake"
piston_area = "9 ± 0 cm²"
effective_radius = "0.1 ± 0 m"
pad_friction = "0.4 ± 0"
"""
FREE = 'valve = "none"\n'


@pytest.fixture
def plotted(build_of):
    def make(text, draws=1):
        return brake_share(Evaluation(build_of(text), draws))

    return make


def at(plot, number, rate):
    series = plot.series[number]
    return np.interp(rate, series.x, series.y)


def test_the_curves_are_force_over_load_and_the_rear_locks_first(plotted):
    """21 to 9 cm²: β 0.70; z 0.8 uses 0.7736 and 0.8691, locks at 0.759, together at 0.685: worked out by hand."""
    plot = plotted(CAR + TYRES + FRONT + REAR + FREE)

    assert (at(plot, 0, 0.8), at(plot, 1, 0.8)) == pytest.approx((0.7736, 0.8691), abs=5e-5)
    assert at(plot, 2, 0.8) == pytest.approx(0.8)
    assert [spot.x for spot in plot.spots] == pytest.approx([0.7591, 0.6852], abs=5e-5)
    assert [limit.value for limit in plot.limits] == pytest.approx([0.8, 0.6])
    assert "the rear axle locks first, at a deceleration of 0.759 g" in plot.notes[0]
    assert "both axles lock together at 0.685 g" in plot.notes[1]
    assert "brake force 70 %, no valve" in plot.notes[2]
    assert plot.missing == {}


def test_a_limiting_valve_holds_the_rear_where_it_was(plotted):
    """The valve begins at z = 0.3: p·(G_f + G_r) = 0.3·m·g. From there on all that is added is added in front."""
    gains = 4 * 0.4 * 30e-4 * 0.1 / (1.9 / (2 * np.pi))
    pressure = 0.3 * 1240 * 9.80665 / gains / 1e5
    plot = plotted(CAR + TYRES + FRONT + REAR + f'valve = "limiting"\nvalve_pressure = "{pressure:.6f} ± 0 bar"\n')

    assert at(plot, 1, 0.2) == pytest.approx(0.3 * 0.2 * 2.6 / (1.15 - 0.2 * 0.54), rel=1e-4)
    assert at(plot, 1, 0.8) == pytest.approx(0.09 * 2.6 / (1.15 - 0.8 * 0.54), rel=1e-4)
    assert "the front axle locks first" in plot.notes[0]
    assert "the valve holds back from 0.3 g on" in plot.notes[1]


def test_a_drum_takes_its_brake_factor_in_place_of_twice_the_friction(plotted):
    """C 0.8 on the same piston and radius is a disc with μ 0.4."""
    drum = REAR.replace('pad_friction = "0.4 ± 0"', 'design = "drum"\nbrake_factor = "0.8 ± 0"')

    assert plotted(CAR + TYRES + FRONT + drum + FREE).series == plotted(CAR + TYRES + FRONT + REAR + FREE).series


def test_a_tyre_of_one_axle_alone_stands_in_and_is_named(plotted):
    plot = plotted(CAR + TYRES.partition("[tyre_rear]")[0] + FRONT + REAR + FREE)

    assert at(plot, 0, 0.8) == pytest.approx(0.7736, abs=5e-5)
    assert plot.missing == {"rear tyres": "missing: assumed the same as on the front axle"}


@pytest.mark.parametrize(
    ("brakes", "missing"),
    [
        (FRONT, {"rear brakes"}),
        (REAR + FREE, {"front brakes"}),
        (FRONT + REAR, {"rear.valve"}),
        (FRONT + REAR + 'valve = "limiting"\n', {"rear.valve_pressure"}),
        (FRONT + REAR + 'valve = "reducing"\n', {"rear.valve_pressure", "rear.valve_slope"}),
        (FRONT.replace("piston_area", "#") + REAR, {"front.piston_diameter", "front.piston_count", "rear.valve"}),
    ],
)
def test_what_is_missing_is_named_and_the_ideal_is_drawn(plotted, brakes, missing):
    """All of it at once; nothing of the brakes is drawn by half."""
    plot = plotted(CAR + TYRES + brakes)

    assert set(plot.missing) == missing
    assert [series.short for series in plot.series] == ["front"]
    assert plot.y.unit == "%"


def test_without_a_car_everything_is_missing(build_of):
    plot = plot_of(build_of(FRONT), "brakes", lambda: None, 16)

    assert plot.is_empty
    assert {"car", "rear brakes", "tyre"} <= plot.missing.keys()


def test_the_demos_with_brakes_are_drawn_with_bands_and_a_caution(demo):
    """Nothing in words or marks judges the brakes."""
    plot = plot_of(demo, "brakes", lambda: None, 257)
    picture = picture_of(plot)
    said = " ".join(read(picture.svg()).texts)

    assert (overlapping_texts(picture), texts_outside(picture)) == ([], [])
    assert "maker's manual, local codes and licensed practice" in said
    assert "safe" not in said
    assert all(spot.verdict is None for spot in plot.spots)
    if demo.parts.keys() >= {"brake_front", "brake_rear"}:
        assert "locks first" in plot.notes[0]
        assert plot.series[0].low
        assert plot.series[1].high
