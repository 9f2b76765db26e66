"""The picture of a scene: both views to one scale each, the tightest gaps numbered, nothing off the paper."""

from __future__ import annotations

import numpy as np
import pytest

from trialfit.drawing.look.pictured import MARKED, pictured
from trialfit.drawing.look.views import pair
from trialfit.drawing.pen import Circle, Line, Rule, Stroke, Text
from trialfit.sheets.press import press_png


@pytest.fixture(scope="module")
def picture(scene):
    return pictured(scene, ["a note of scans"])


def lines_of(picture, name):
    return [mark for mark in picture.marks if isinstance(mark, Line) and mark.of == name]


def test_each_body_is_drawn_in_both_views_in_its_proportions(scene, picture):
    """The wall is 900 × 40 × 120 mm: from the side 900 × 120, from above 900 × 40."""
    side, plan = (line.box for line in lines_of(picture, "wall"))

    assert {line.of for line in picture.marks if isinstance(line, Line)} >= {body.name for body in scene.bodies}
    assert side.width / side.height == pytest.approx(900 / 120, rel=1e-6)
    assert plan.width / plan.height == pytest.approx(900 / 40, rel=1e-6)


def test_what_moves_is_grey_and_what_stays_is_hatched(picture):
    hatching = [mark for mark in picture.marks if isinstance(mark, Rule) and mark.stroke is Stroke.hair]

    assert all(line.fill == "#e6e6e6" for line in lines_of(picture, "block"))
    assert all(line.fill == "none" for line in lines_of(picture, "wall"))
    assert len(hatching) == 2 * len(["rack", "bonnet", "wall"])


def test_the_tightest_gaps_are_numbered_and_told(scene, picture):
    words = [mark.says for mark in picture.marks if isinstance(mark, Text)]
    ends = [mark for mark in picture.marks if isinstance(mark, Circle) and mark.radius < 1]

    assert [words.count(str(number)) for number in range(1, MARKED + 1)] == [2] * MARKED
    assert len(ends) == 2 * 2 * MARKED
    for number, gap in enumerate(scene.marks[:MARKED], 1):
        assert any(row.startswith(f"{number} {pair(gap)}: {gap.gap}, required") for row in words), words
    assert "a note of scans" in words


def test_up_on_the_paper_is_up_in_the_car_and_right_is_forward(scene, picture):
    """The bonnet lies above the rack."""
    (bonnet, _), (rack, _) = lines_of(picture, "bonnet"), lines_of(picture, "rack")
    middle = {body.name: np.concatenate(body.pieces).mean(axis=0) for body in scene.bodies}

    assert bonnet.box.middle[1] < rack.box.middle[1]
    assert (bonnet.box.middle[0] < rack.box.middle[0]) == bool(middle["bonnet"][0] < middle["rack"][0])


def test_nothing_lies_off_the_paper(picture):
    assert all(
        picture.box.holds(mark.box) for mark in picture.marks if not (isinstance(mark, Rule) and not mark.pieces)
    )


def test_it_becomes_a_png_and_the_same_one_twice(picture):
    assert press_png(picture)[:8] == b"\x89PNG\r\n\x1a\n"
    assert press_png(picture) == press_png(picture)
