"""The best place of a drivetrain: alternatives, what holds it, how far it can go, and what to do where nothing fits."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from trialfit.advice.placing import place
from trialfit.book import read, read_text
from trialfit.book.problems import BadInput
from trialfit.book.rewriting import with_entry

DEMOS = Path(__file__).parents[2] / "demos"


@pytest.fixture(scope="module")
def hillclimb():
    return read(DEMOS / "hillclimb.toml")


@pytest.fixture(scope="module")
def placed():
    """Both sumps weighed, on mounts that hardly give forward: with a typical 8 mm neither fits."""
    text = (DEMOS / "hillclimb.toml").read_text(encoding="utf-8")
    return place(read_text(with_entry(text, "drivetrain.fore_aft", "1 ± 0.5 mm, guess")), ["sump"], draws=16)


def test_the_shallow_sump_fits_and_the_deep_one_does_not(placed):
    assert [(one.picks["sump"], one.normalised > 0) for one in placed.alternatives] == [
        ("sump_shallow", True),
        ("sump_deep", False),
    ]
    assert placed.picks == {"sump": "sump_shallow"}


def test_what_binds_has_shares_that_sum_to_one_and_a_gain(placed):
    binding = [one for one in placed.requirements if one.share > 0]

    assert sum(one.share for one in binding) == pytest.approx(1.0, abs=0.01)
    assert all(one.gain is not None for one in binding)
    assert min(one.normalised for one in placed.requirements) == pytest.approx(placed.normalised, abs=0.05)


def test_no_pose_is_said_to_fit_beyond_the_spread_while_a_finding_there_is_unsettled(placed):
    doubtful = {one.verdict for one in placed.requirements} & {"fails", "unsettled"}

    assert ("beyond the spread of what was taped" in placed.says) == (not doubtful)


@pytest.mark.parametrize(
    ("tried", "held", "says"),
    [
        (["sumps"], [], '--try names "sumps", which is not a choice of this build: did you mean "sump"'),
        ([], ["w=1 m"], '"w=1 m" holds no coordinate: known are: x, y, z, roll, inclination, heading'),
        ([], ["x=soon"], "soon"),
    ],
)
def test_words_that_make_no_sense_are_refused(hillclimb, tried, held, says):
    with pytest.raises(BadInput) as caught:
        place(hillclimb, tried, held, draws=16)

    assert says in " ".join(caught.value.sentences())


def test_a_build_without_a_drivetrain_says_what_to_write():
    with pytest.raises(BadInput) as caught:
        place(read_text("[car]\n"), draws=16)

    assert "drivetrain" in " ".join(caught.value.sentences())


def test_an_interrupt_gives_the_best_so_far(hillclimb):
    """Control-C after the second start: the pose found until then, with its requirements and what to write."""
    told = []

    def stop(words):
        told.append(words)
        if len(told) == 2:
            raise KeyboardInterrupt

    found = place(hillclimb, ["sump"], draws=16, told=stop)

    assert found.interrupted
    assert len(told) == 2
    assert "start 2 of" in told[1]
    assert found.requirements
    assert found.write
    assert np.isfinite(found.normalised)


WAYS = ("y=0 mm", "z=400 mm", "roll=0 deg", "inclination=0 deg", "heading=0 deg")


def test_between_two_walls_the_middle_is_best_and_both_hold_it(bay):
    """10 mm to the rack and 30 mm to the wall, 12 mm wanted of both: 20 mm on each side, 8 mm from where one breaks."""
    found = place(bay(drivetrain={"x": "10 ± 0 mm"}, wall={"x": "-190 ± 0 mm"}), held=WAYS, draws=16)
    along = found.coordinates[0]
    by_id = {one.id: one for one in found.requirements}

    assert (along.name, along.unit, along.now) == ("x", "mm", pytest.approx(10))
    assert along.best == pytest.approx(0, abs=0.05)
    assert (along.down, along.up) == (pytest.approx(8, abs=0.1), pytest.approx(8, abs=0.1))
    assert (along.breaks_down, along.breaks_up) == ("clearance.gap.sump.wall", "clearance.gap.sump.rack")
    for name in ("clearance.gap.sump.rack", "clearance.gap.sump.wall"):
        assert by_id[name].value == pytest.approx(20, abs=0.05)
        assert (by_id[name].limit, by_id[name].side) == (12, "at least")
        assert by_id[name].share == pytest.approx(0.5, abs=0.01)
        assert by_id[name].gain == pytest.approx(2.5, abs=0.05)  # of 5 mm, half goes to either side; 1 s is 1 mm here
    assert all(one.held for one in found.coordinates[1:])


def test_where_the_room_is_too_small_both_walls_are_in_conflict_and_say_by_how_much(bay):
    """310 mm of room for 300 mm of sump, 12 mm wanted of both: 14 mm are missing, whichever gives them."""
    found = place(bay(rack={"x": "175 ± 0 mm"}, wall={"x": "-175 ± 0 mm"}), held=WAYS, draws=16)
    easings = {one.id: one for one in found.easings}

    assert found.normalised == pytest.approx(-7, abs=0.1)
    assert set(found.conflict) == {"clearance.gap.sump.rack", "clearance.gap.sump.wall"}
    assert [one.by for one in easings.values()] == [pytest.approx(14, abs=0.2)] * 2
    assert {one.unit for one in easings.values()} == {"mm"}


def test_an_alternative_that_lacks_a_fact_is_listed_with_it_and_the_others_are_placed(bay):
    """Of the option that was not picked nothing but its kind is written: as it is the only solid then, none is known."""
    choice = {"options": '["sump", "other"]', "picked": "sump"}
    found = place(
        bay(**{"choice.pan": choice, "other": {"kind": "solid", "fixed_to": "drivetrain"}}), ["pan"], draws=16
    )
    lacking = next(one for one in found.alternatives if one.picks == {"pan": "other"})

    assert found.picks == {"pan": "sump"}
    assert lacking.normalised is None
    assert lacking.missing.startswith("solid (")


def test_where_nothing_fits_an_option_that_would_is_named_first(bay):
    """The same sump 20 mm shorter leaves 15 mm on either side; 12 mm are wanted."""
    sizes = dict(zip(("z", "length", "width", "height"), ("-100 mm", "280 mm", "200 mm", "100 mm"), strict=True))
    still = dict.fromkeys(("x", "y"), "0 ± 0 mm") | dict.fromkeys(("roll", "inclination", "heading"), "0 ± 0 deg")
    slim = {"kind": "solid", "fixed_to": "drivetrain", **sizes, **still}
    choice = {"options": '["sump", "slim"]', "picked": "sump"}
    walls = {"rack": {"x": "175 ± 0 mm"}, "wall": {"x": "-175 ± 0 mm"}}
    found = place(bay(**walls, **{"choice.pan": choice, "slim": slim}), held=WAYS, draws=16)

    assert found.normalised < 0
    assert found.easings[0].id == "choice.pan.picked"
    assert "slim" in found.easings[0].says
    assert "licensed workshop" in found.caution


def test_a_held_coordinate_stays_where_it_is_wanted(bay):
    """Given as a builder writes it: nose up is above zero."""
    found = place(bay(), held=["x=-6 mm", "inclination=3 deg"], draws=16)
    by_name = {one.name: one for one in found.coordinates}

    assert (by_name["x"].best, by_name["x"].held) == (pytest.approx(-6), True)
    assert (by_name["inclination"].best, by_name["inclination"].held) == (pytest.approx(3), True)
    assert not by_name["z"].held


def test_the_same_build_gives_the_same_answer(bay):
    assert place(bay(), held=WAYS, draws=16) == place(bay(), held=WAYS, draws=16)
