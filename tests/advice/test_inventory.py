"""What is written, what is typical, what is missing."""

from __future__ import annotations

import pytest

from trialfit.advice.inventory import FactLine, State, inventory
from trialfit.book import BadInput, Build, read_text


def _line(build: Build, path: str) -> FactLine:
    return next(line for part in inventory(build).parts for line in part.facts if line.path == path)


def test_a_written_fact_is_shown_as_written_with_the_spread_in_use(build):
    line = _line(build(length="1190 mm, taped; to the joint centres"), "prop_shaft.length")

    assert (line.state, line.text, line.spread) == (State.written, "1190 mm, taped; to the joint centres", "± 2 mm")
    assert line.serves == 3


def test_a_typical_value_in_use_is_marked_with_its_source(build):
    line = _line(build(tyre_friction=None), "car.tyre_friction")

    assert (line.state, line.text, line.source) == (
        State.typical,
        "0.9 +0.2/-0.4",
        "from memory: 0.5 on a wet road, 1.1 for soft tyres on a dry one",
    )


def test_a_typical_value_that_nothing_reads_is_not_in_use(build):
    assert _line(build(), "car.shift_time").state is State.open


def test_a_fact_that_a_finding_asks_for_in_vain_is_missing(build):
    line = _line(build(length=None), "prop_shaft.length")

    assert (line.state, line.text, line.serves) == (State.missing, "", 3)


def test_a_word_nobody_wrote_shows_what_is_taken(build):
    line = _line(build(), "prop_shaft.front_joint")

    assert (line.state, line.text) == (State.default, "cardan")


def test_a_part_that_findings_ask_for_is_named(build):
    assert list(inventory(build(circumference=None)).missing_parts) == ["tyre"]


def test_lists_and_curves_are_shown_value_by_value_and_as_their_header():
    build = read_text(
        '[gearbox]\nratios = ["3.6", "2.1"]\n[engine]\ntorque_curve = "rpm : N·m ± 4 %, catalogue | 1000 : 180 | 3500 : 265"'
    )

    assert _line(build, "gearbox.ratios.2").text == "2.1"
    curve = _line(build, "engine.torque_curve")
    assert curve.text == "curve of 2 points; rpm : N·m ± 4 %, catalogue"
    assert curve.spread == "± 4 %"


def test_an_option_that_was_not_picked_is_marked():
    build = read_text(
        '[choice.box]\noptions = ["a", "b"]\npicked = "a"\n[a]\nkind = "gearbox"\nratios = [3]\n[b]\nkind = "gearbox"\nratios = [4]'
    )

    assert [(part.part, part.is_spare) for part in inventory(build).parts] == [("a", False), ("b", True)]


def test_a_wrong_part_name_is_answered_with_the_nearest(build):
    with pytest.raises(BadInput) as wrong:
        inventory(build(), "prop_shift")

    assert str(wrong.value) == 'bench: unknown part "prop_shift": did you mean "prop_shaft"?'
