"""The sheet of one joint: order, stages, settings, and whose figures they are."""

from __future__ import annotations

import pytest

from trialfit.advice.how_to_tighten import tightening
from trialfit.book import read_text
from trialfit.book.problems import BadInput
from trialfit.evaluation.verdict import Verdict

SUMP = """
[sump]
kind = "bolted_joint"
thread = "M6"
strength_class = "8.8"
thread_state = "dry"
threaded_into = "aluminium"
engagement = "14 mm, calipered"
pattern = "rectangle"
columns = "3"
rows = "2"
length = "300 mm"
width = "200 mm"
load_type = "a seal only"
maker_torques = ["10 N·m, manual"]
maker_state = "dry"
wrench = "small"
[small]
kind = "torque_wrench"
largest = "25 N·m, catalogue"
unit = "lbf·in"
[car]
"""


@pytest.fixture(autouse=True)
def bench() -> None:
    """The real subjects stay in their places here."""


def sheet(*changes: tuple[str, str], joint: str = "sump"):
    text = SUMP
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return tightening(read_text(text), joint, draws=64)


def test_one_torque_is_reached_in_stages_and_gone_round_once_more() -> None:
    """By hand, 30, 70, 100 % and again (flange practice, ASME PCC-1, from memory)."""
    stages = sheet().stages

    assert [stage.torque for stage in stages] == [None, pytest.approx(3), pytest.approx(7), 10, 10]
    assert stages[0].says.startswith("by hand")
    assert "until no bolt moves" in stages[-1].says


def test_settings_are_in_the_unit_of_the_wrench_and_off_its_scale_it_says_so() -> None:
    """10 N·m are 88.5 lbf·in; 3 N·m lie below a fifth of 25."""
    stages = sheet().stages

    assert stages[3].setting == pytest.approx(88.51, abs=0.01)
    assert stages[3].setting_unit == "lbf·in"
    assert [stage.in_range for stage in stages] == [None, False, True, True, True]


def test_the_makers_stages_are_taken_as_they_are_written() -> None:
    """Torque, torque, angle: no round of our own is added behind an angle."""
    got = sheet(
        ('["10 N·m, manual"]', '["5 N·m, manual", "8 N·m, manual"]\nmaker_angles = ["90 deg, manual"]'),
        ("pattern", 'head_side_thickness = "5 mm"\npattern'),
    )

    assert [stage.torque for stage in got.stages] == [None, 5, 8, None]
    assert got.stages[-1].angle == pytest.approx(90)
    assert got.stages_source == "the maker's stages"


def test_the_order_goes_outwards_and_the_makers_own_outranks_it() -> None:
    made, printed = sheet(), sheet(("pattern", 'order = "1-2-3-4-5-6"\npattern'))

    assert made.order == (2, 5, 1, 4, 6, 3)
    assert made.order_source.startswith("from the middle outwards")
    assert made.loosening == (3, 6, 4, 1, 5, 2)
    assert (printed.order, printed.order_source) == ((1, 2, 3, 4, 5, 6), "the maker's order")
    assert [place.turn for place in printed.places] == [1, 2, 3, 4, 5, 6]


def test_places_come_with_their_turn() -> None:
    places = {place.bolt: (place.turn, place.x_mm, place.y_mm) for place in sheet().places}

    assert places[2] == (1, pytest.approx(0), pytest.approx(100))
    assert places[5] == (2, pytest.approx(0), pytest.approx(-100))


def test_both_figures_stand_side_by_side() -> None:
    got = sheet()

    assert (got.figure, got.maker_torque) == ("the maker's", 10)
    assert got.computed_torque.nominal == pytest.approx(0.2 * 0.006 * 0.75 * 580 * 20.12, rel=1e-3)
    assert got.why.startswith("the maker's 10 N·m counts; 10.5 N·m is worked out")


def test_what_does_not_hold_is_on_the_sheet() -> None:
    got = sheet(('thread_state = "dry"', 'thread_state = "oiled"'))

    assert ("fastening.sump.dry_figure_on_oiled_thread", Verdict.fails) in {
        (warned.finding, warned.verdict) for warned in got.warnings
    }
    assert got.fails


def test_a_pattern_that_is_not_known_leaves_the_stages_standing() -> None:
    got = sheet(('length = "300 mm"\n', ""))

    assert (got.order, got.places) == ((), ())
    assert list(got.missing) == ["sump.length"]
    assert len(got.stages) == 5


def test_a_joint_without_a_thread_has_no_torque_yet() -> None:
    got = sheet(('thread = "M6"\n', ""), ('maker_torques = ["10 N·m, manual"]\n', ""))

    assert got.stages == ()
    assert "sump.thread" in got.missing


@pytest.mark.parametrize(
    ("joint", "says"),
    [
        ("smp", 'the build: unknown bolted joint "smp": did you mean "sump"?'),
        ("car", 'the build: "car" is a car, not a bolted joint: known are: sump'),
    ],
)
def test_another_name_is_answered_with_the_joints_there_are(joint, says) -> None:
    with pytest.raises(BadInput) as caught:
        sheet(joint=joint)

    assert caught.value.sentences() == [says] or list(caught.value.sentences()) == [says]


def test_bolts_at_one_place_are_refused() -> None:
    with pytest.raises(BadInput) as caught:
        sheet(
            ('pattern = "rectangle"', 'places_x = ["0 mm", "0 mm"]\nplaces_y = ["5 mm", "5 mm"]\npattern = "perimeter"')
        )

    assert "bolt 1 is at the place of another bolt" in next(iter(caught.value.sentences()))
