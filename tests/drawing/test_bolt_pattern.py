"""Bolt patterns: to scale, each turn once, legible up to 200 bolts."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from svg import overlapping_texts, read, texts_outside
from thorough import some

from trialfit.advice.how_to_tighten import BoltPlace
from trialfit.drawing.bolt_pattern import bolt_pattern
from trialfit.drawing.labels import meet
from trialfit.drawing.pen import SMALL, Circle, Text
from trialfit.handbook.fastening.bolt_patterns import circle, grid, rail_pair, rectangle
from trialfit.handbook.fastening.tightening_order import circle_order, outward_order


def bolts(places, order):
    """As a tightening sheet has them."""
    turns = {bolt: turn for turn, bolt in enumerate(order, 1)}
    return [BoltPlace(bolt=bolt, turn=turns[bolt], x_mm=x * 1e3, y_mm=y * 1e3) for bolt, (x, y) in enumerate(places, 1)]


def turns_of(picture):
    """The marks of the turns: circles and numbers."""
    circles = {mark.of: mark for mark in picture.marks if isinstance(mark, Circle) and mark.of.startswith("turn ")}
    texts = {mark.of: mark for mark in picture.marks if isinstance(mark, Text) and mark.of.startswith("turn ")}
    return circles, texts


PATTERNS = {
    "circle of 5": (circle(5, 0.1143), circle_order(5)),
    "circle of 200": (circle(200, 0.8), circle_order(200)),
    "rails of 100": (rail_pair(100, 1.2, 0.2), outward_order(rail_pair(100, 1.2, 0.2))),
    "grid of 10 by 20": (grid(10, 20, 0.6, 0.3), outward_order(grid(10, 20, 0.6, 0.3))),
    "sump rail": (rectangle(22, 10, 0.5, 0.25), outward_order(rectangle(22, 10, 0.5, 0.25))),
    "row of 4": (grid(1, 4, 0.2, 0.1), outward_order(grid(1, 4, 0.2, 0.1))),
    "one": (circle(1, 0.1), (1,)),
}


@pytest.mark.parametrize("name", PATTERNS)
def test_every_turn_stands_there_once_and_covers_nothing(name):
    places, order = PATTERNS[name]
    picture = bolt_pattern(bolts(places, order), 170, 120, name)
    circles, texts = turns_of(picture)

    read(picture.svg())
    assert sorted(int(text.says) for text in texts.values()) == list(range(1, len(places) + 1))
    assert len(circles) == len(places)
    assert min(text.size for text in texts.values()) >= SMALL
    assert overlapping_texts(picture) == []
    assert texts_outside(picture) == []


@pytest.mark.parametrize("name", [name for name in PATTERNS if name != "one"])
def test_the_pattern_is_to_scale(name):
    """Distances on the paper are those on the flange times one scale, whichever two bolts are taken."""
    places, order = PATTERNS[name]
    circles, _ = turns_of(bolt_pattern(bolts(places, order), 170, 120))
    turns = {bolt: turn for turn, bolt in enumerate(order, 1)}
    drawn = np.array([circles[f"turn {turns[bolt]}"].centre for bolt in range(1, len(places) + 1)])
    on_paper = np.hypot(*(drawn[1:] - drawn[0]).T)
    on_flange = np.hypot(*(places[1:] - places[0]).T)

    assert on_paper / on_flange == pytest.approx(np.full(len(places) - 1, on_paper[0] / on_flange[0]))


def test_numbers_outside_stay_clear_of_the_bolts():
    places, order = PATTERNS["circle of 200"]
    circles, texts = turns_of(bolt_pattern(bolts(places, order), 170, 120))
    for text in texts.values():
        for ring in circles.values():
            box = ring.box
            corners = ((box.left, box.top), (box.right, box.top), (box.right, box.bottom), (box.left, box.bottom))
            near = abs(box.middle[0] - text.at[0]) + abs(box.middle[1] - text.at[1]) < 8
            raised = [(x, y) for x, y in text.corners]
            low = [
                (raised[a][0] + 0.7 * (raised[b][0] - raised[a][0]), raised[a][1] + 0.7 * (raised[b][1] - raised[a][1]))
                for a, b in ((1, 2), (0, 3))
            ]
            assert not (near and meet((raised[0], raised[1], *low), corners))


def test_its_size_is_written_as_measured():
    picture = bolt_pattern(bolts(*PATTERNS["circle of 5"]), 120, 90)
    inches = bolt_pattern(bolts(*PATTERNS["circle of 5"]), 120, 90, unit="in")

    assert "⌀ 114 mm" in read(picture.svg()).texts
    assert "⌀ 4.5 in" in read(inches.svg()).texts


def test_the_bolt_to_begin_with_stands_out():
    circles, _ = turns_of(bolt_pattern(bolts(*PATTERNS["sump rail"]), 170, 120))

    assert [name for name, ring in circles.items() if ring.stroke == "thick"] == ["turn 1"]


def test_without_places_it_says_so():
    assert read(bolt_pattern([]).svg()).texts == ("the places of the bolts are missing",)


@settings(max_examples=some(30))
@given(st.lists(st.tuples(st.integers(0, 40), st.integers(0, 25)), min_size=2, max_size=60, unique=True))
def test_any_pattern_of_holes_is_legible(holes):
    places = np.array(holes, float) * 0.02
    picture = bolt_pattern(bolts(places, tuple(range(1, len(holes) + 1))), 170, 120)

    assert overlapping_texts(picture) == []
    assert texts_outside(picture) == []
