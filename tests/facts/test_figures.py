"""Figures in running text: nothing comes between a number and its unit."""

from __future__ import annotations

import pytest

from trialfit.facts.figures import held


@pytest.mark.parametrize(
    ("text", "joined"),
    [
        ("from 0 to 100 %.", "from 0 to 100_%."),
        ("491 ± 67 N·m, at most 1220 +480/-340 N·m", "491_±_67_N·m, at most 1220_+480/-340_N·m"),
        ("(± 0.16 mm is good enough)", "(±_0.16_mm is good enough)"),
        ("1.3 rad/s² at -3.2 °C", "1.3_rad/s² at -3.2_°C"),
        ("3 of 12 mounts fail", "3 of 12 mounts fail"),
        ("M10×1 and 1/8-27 NPT", "M10×1 and 1/8-27 NPT"),
    ],
)
def test_a_figure_is_one_piece(text, joined):
    assert held(text, "_") == joined


def test_a_figure_too_long_for_the_line_is_left_to_break():
    assert held("1220 +480/-340 N·m of 100 %", "_", room=8) == "1220 +480/-340 N·m of 100_%"
