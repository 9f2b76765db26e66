"""The envelope of the oil pickup: its places, its words, and what it says where it cannot be drawn."""

from __future__ import annotations

import numpy as np
import pytest
from svg import overlapping_texts, read, texts_outside

from trialfit.drawing.pen import Fill, Line
from trialfit.drawing.plot_picture import picture_of
from trialfit.drawing.plots.all_plots import plot_of

PAN = """
[oil_pan]
length = "300 ± 0 mm, taped"
width = "240 ± 0 mm, taped"
depth = "160 ± 0 mm, taped"
oil_fill = "4.5 ± 0 l, manual"
oil_in_circulation = "0 ± 0 %, guess"
pickup_x = "90 ± 0 mm, taped"
pickup_y = "60 ± 0 mm, taped"
pickup_height = "10 ± 0 mm, taped"
pickup_diameter = "0.001 ± 0 mm, taped"
minimum_submergence = "0 mm"
inclination = "0 ± 0 deg, gauged"
"""


def drawn(build, draws=1):
    return plot_of(build, "oil_pickup", lambda: None, draws)


def test_the_envelope_passes_through_the_check_values(build_of):
    """Volumes of scipy's half-space intersections: forwards 0.565 g; 0.309 g forwards with 0.4 g to the left.

    To the left is a left-hand bend, drawn to the left.
    """
    line, _ = drawn(build_of(PAN)).series
    headings = np.arctan2([-x for x in line.x[:-1]], line.y[:-1])
    ends = np.hypot(line.x[:-1], line.y[:-1])

    assert (line.x[0], line.y[0]) == pytest.approx((0.0, 0.565), abs=1e-3)
    order = np.argsort(headings)
    assert np.interp(np.arctan2(0.4, 0.309), headings[order], ends[order]) == pytest.approx(0.5055, abs=0.004)
    assert (line.x[0], line.y[0]) == (line.x[-1], line.y[-1])


def test_a_pan_leans_with_the_drivetrain_where_its_own_lean_is_not_written(build_of):
    """Nose up by 4° of the drivetrain is 4° of the pan; what is written of the pan counts before it."""
    unwritten = PAN.replace('inclination = "0 ± 0 deg, gauged"\n', "")
    place = '[drivetrain]\ninclination = "4 ± 0 deg, gauged"\n'
    leaning = drawn(build_of(PAN.replace('"0 ± 0 deg', '"4 ± 0 deg'))).series[0]
    level = drawn(build_of(PAN)).series[0]

    assert drawn(build_of(unwritten + place)).series[0].y == pytest.approx(leaning.y)
    assert drawn(build_of(PAN + place)).series[0].y == pytest.approx(level.y)
    assert leaning.y[0] < level.y[0] - 0.03


def test_the_dashed_line_is_what_is_asked(build_of):
    """0.5 g pulling away, 0.9 g cornering and braking; on the ellipse between."""
    _, asked = drawn(build_of(PAN)).series
    x, y = np.array(asked.x), np.array(asked.y)

    assert (x.min(), x.max(), y.min(), y.max()) == pytest.approx((-0.9, 0.9, -0.9, 0.5))
    assert (x / 0.9) ** 2 + (y / np.where(y > 0, 0.5, 0.9)) ** 2 == pytest.approx(np.ones(len(x)), abs=1e-5)


def test_the_words_name_the_direction_that_is_bare_first(build_of):
    """The pickup sits in front and on the left: pulling away in a left-hand bend bares it."""
    plot = drawn(build_of(PAN))
    (spot,) = plot.spots
    line = plot.series[0]

    assert spot.says.startswith("uncovered first pulling away in a left-hand bend, at 0.48 g")
    assert np.hypot(spot.x, spot.y) == pytest.approx(np.hypot(line.x, line.y).min(), rel=1e-5)
    assert plot.notes[0].startswith(spot.says)
    assert "braking: covered up to 2 g" in plot.notes[0]
    assert plot.notes[1] == "covered everywhere inside the dashed line in 0 % of the draws"


def test_it_says_that_a_swing_goes_beyond_the_steady_surface(build_of):
    """Up to twice as far without baffles, with the frequency along the car: 1.2 Hz for 300 mm and 62.5 mm, from linear theory."""
    notes = " ".join(drawn(build_of(PAN)).notes)

    assert "up to twice as far without baffles" in notes
    assert "first slosh without baffles: 1.2 Hz along the car" in notes
    assert "gap under the mouth" not in notes


def test_the_gap_under_the_mouth_is_told_where_the_bore_is_written(build_of):
    """3 × 19²/(4 × 60) = 4.51 mm, worked by hand."""
    text = PAN.replace('"0.001 ± 0 mm, taped"', '"60 mm, calipered"') + 'suction_bore = "19 mm, calipered"\n'

    assert (
        "gap under the mouth 10 mm; 3 times the area of its bore, which is common practice, needs 4.51 mm"
        in drawn(build_of(text)).notes
    )


def test_the_band_lies_round_the_line_and_is_tinted(build_of):
    """With a spread of the fill the band is drawn as one closed tint, and nothing leaves the frame."""
    plot = drawn(build_of(PAN.replace('"4.5 ± 0 l', '"4.5 ± 0.5 l')), 257)
    line = plot.series[0]
    ends = np.hypot(line.x, line.y)
    picture = picture_of(plot)
    tints = [mark for mark in picture.marks if isinstance(mark, Line) and mark.of.endswith(": spread")]

    assert np.all(np.array(line.low) <= ends + 1e-5)
    assert np.all(np.array(line.high) >= ends - 1e-5)
    assert [mark.fill for mark in tints] == [Fill.light]
    assert overlapping_texts(picture) == []
    assert texts_outside(picture) == []
    frame = next(mark for mark in picture.marks if isinstance(mark, Line) and len(mark.points) == 3)
    (left, top), (_, bottom), (right, _) = frame.points
    assert all(left - 1e-6 <= x <= right + 1e-6 and top - 1e-6 <= y <= bottom + 1e-6 for x, y in tints[0].points)


def test_too_little_oil_is_said_in_words(build_of):
    """1 l stands 14 mm high: less than the 10 mm kept over a mouth at 10 mm."""
    text = PAN.replace("4.5 ± 0 l", "1 ± 0 l").replace('minimum_submergence = "0 mm"', 'minimum_submergence = "10 mm"')
    plot = drawn(build_of(text), 257)

    assert plot.notes[0].startswith("the oil is too low over the pickup even at rest: check oil_fill")
    assert plot.spots == ()
    read(picture_of(plot).svg())


def test_a_pickup_that_stays_covered_is_said_in_words(build_of):
    """A pan filled to nine tenths with its pickup in the middle."""
    text = PAN.replace("4.5 ± 0 l", "10.4 ± 0 l").replace('"90 ± 0 mm', '"0 ± 0 mm').replace('"60 ± 0 mm', '"0 ± 0 mm')
    plot = drawn(build_of(text))

    assert plot.notes[0].startswith("the pickup stays covered up to 2 g in every direction")
    assert plot.notes[1] == "covered everywhere inside the dashed line in 100 % of the draws"
    read(picture_of(plot).svg())


def test_what_is_not_written_is_listed(build_of):
    """Of a pan with its size alone: fill and pickup, without those that are typical."""
    plot = drawn(build_of('[oil_pan]\nlength = "300 mm"\nwidth = "240 mm"\ndepth = "160 mm"\n'))

    assert plot.is_empty
    assert list(plot.missing) == [f"oil_pan.{key}" for key in ("oil_fill", "pickup_x", "pickup_y", "pickup_diameter")]


def test_the_first_demo_has_its_pan(demo):
    """The hill-climb coupe's pickup sits behind the middle: braking bares it first."""
    plot = drawn(demo, 257)
    if demo.name == "hillclimb coupe":
        assert plot.spots[0].says.startswith("uncovered first braking, at 0.3")
    else:
        assert plot.is_empty
