"""The oil pan: what a builder writes of it, and what contradicts itself."""

from __future__ import annotations

import pytest

from trialfit.parts import OilPan
from trialfit.parts.reading import read_part

WRITTEN = {
    "length": "300 mm, taped",
    "width": "240 mm, taped",
    "depth": "160 mm, taped",
    "oil_fill": "4.5 l, manual",
    "pickup_x": "90 mm, taped",
    "pickup_y": "60 mm, taped",
    "pickup_diameter": "50 mm, calipered",
}


def test_a_pan_keeps_what_is_written_of_it():
    """Litres come in as cubic metres; what is up in the engine and the cover kept are typical until written."""
    pan, problems = read_part("pan", OilPan, WRITTEN)

    assert problems == []
    assert pan.oil_fill.written.si == pytest.approx(0.0045)
    assert pan.oil_in_circulation.is_typical
    assert pan.minimum_submergence.known.si == pytest.approx(0.010)
    assert pan.minimum_submergence.known.spread.is_zero


@pytest.mark.parametrize(
    ("key", "text", "says"),
    [
        (
            "pickup_x",
            "-160 mm",
            "is -160 mm, outside of the pan (300 mm, taped): measure it from the middle of the floor",
        ),
        (
            "pickup_y",
            "130 mm",
            "is 130 mm, outside of the pan (240 mm, taped): measure it from the middle of the floor",
        ),
        ("pickup_height", "170 mm", "is 170 mm, not lower than pan.depth (160 mm, taped)"),
        ("oil_fill", "15 l", "is 15 l, more than pan holds (11.5 l): check length, width and depth"),
        ("inclination", "30 deg", "20"),
        ("oil_in_circulation", "95 %", "90"),
    ],
)
def test_what_cannot_be_is_refused_with_its_reason(key, text, says):
    """The sentence names the other fact."""
    _, (problem,) = read_part("pan", OilPan, WRITTEN | {key: text})

    assert problem.path == f"pan.{key}"
    assert says in problem.says
