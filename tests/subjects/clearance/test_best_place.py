"""The best place of the demo drivetrain: alternatives, what holds it, and the pose taken over by the other subjects."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from trialfit.advice.clearances import clearances
from trialfit.advice.placing import place
from trialfit.advice.posed import moved, with_picks
from trialfit.book import read
from trialfit.book.problems import BadInput
from trialfit.placement.binding import look
from trialfit.subjects.catalogue import evaluate
from trialfit.subjects.clearance.placing import placing_of

DEMOS = Path(__file__).parents[3] / "demos"


@pytest.fixture(scope="module")
def hillclimb():
    return read(DEMOS / "hillclimb.toml")


@pytest.fixture(scope="module")
def placed(hillclimb):
    """Both sumps weighed."""
    return place(hillclimb, ["sump"], draws=256)


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


def test_where_nothing_fits_the_set_and_the_least_change_are_named(hillclimb):
    found = place(hillclimb, draws=64)

    assert found.normalised < 0
    assert "clearance.gap.sump.rack" in found.conflict
    easings = {one.id: one for one in found.easings}
    assert 0 < easings["clearance.gap.sump.rack"].by < 5
    assert easings["choice.sump.picked"].says.startswith(
        "take sump_shallow in place of sump_deep: then it fits, the tightest by"
    )
    assert "licensed workshop" in found.caution


def test_the_search_and_the_findings_speak_of_the_same_car(hillclimb):
    """At poses away from the taped one, each value of the search is that of the finding, worked out by other code."""
    build = with_picks(hillclimb, {"sump": "sump_shallow"})
    placing = placing_of(build)
    for step in ([0.004, -0.007, -0.027, 0, 0.033, 0.014], [-0.01, 0.005, -0.01, 0, 0.0, -0.01]):
        pose = placing.now + np.array(step)
        report = evaluate(moved(build, pose), 64, ("clearance", "driveline"))
        findings = {finding.id: finding for finding in report.findings}
        compared = 0
        for seen in look(placing.problem, pose):
            finding = findings.get(seen.name)
            if finding is None or finding.margin is None:
                continue
            scale = {"length": 1000.0, "angle": np.degrees(1.0), "share": 100.0}[seen.sort]
            if seen.name not in {
                "clearance.rear_share",
                "driveline.residual",
            }:  # counted otherwise: see test_unevenness
                assert seen.margin * scale == pytest.approx(finding.margin.nominal, abs=0.02), seen.name
                compared += 1
        assert compared > 20


def test_a_held_coordinate_stays(hillclimb):
    found = place(hillclimb, (), ["x=-276 mm", "inclination=3 deg"], draws=64)
    by_name = {one.name: one for one in found.coordinates}

    assert (by_name["x"].best, by_name["x"].held) == (pytest.approx(-276.0), True)
    assert by_name["inclination"].best == pytest.approx(3.0)


@pytest.mark.parametrize(
    ("tried", "held", "says"),
    [
        (["sumps"], [], '--try names "sumps", which is not a choice of this build: did you mean "sump"'),
        ([], ["w=1 m"], '"w=1 m" holds nothing: known are: x, y, z, roll, inclination, heading'),
        ([], ["x=soon"], "soon"),
    ],
)
def test_words_that_make_no_sense_are_refused(hillclimb, tried, held, says):
    with pytest.raises(BadInput) as caught:
        place(hillclimb, tried, held, draws=16)

    assert says in " ".join(caught.value.sentences())


def test_a_build_without_a_drivetrain_says_what_to_write():
    from trialfit.book import read_text

    with pytest.raises(BadInput) as caught:
        place(read_text("[car]\n"), draws=16)

    assert "drivetrain" in " ".join(caught.value.sentences())


def test_brackets_are_as_long_in_either_frame(placed):
    for one in placed.brackets:
        by_car = np.subtract(one.engine_end_in_car, one.car_end_in_car)
        by_group = np.subtract(one.engine_end_in_drivetrain, one.car_end_in_drivetrain)
        assert np.linalg.norm(by_car) == pytest.approx(one.length, abs=0.2)
        assert np.linalg.norm(by_group) == pytest.approx(one.length, abs=0.2)


def test_pairs_are_listed_the_tightest_first_with_their_nearest_points(hillclimb):
    found = clearances(hillclimb, 256)
    margins = [pair.margin.nominal for pair in found.pairs if pair.margin]

    assert margins == sorted(margins)
    rack = next(pair for pair in found.pairs if pair.id == "clearance.gap.sump.rack")
    assert "sump deep front" in rack.where
    assert "rack rear" in rack.where


def test_what_is_missing_is_named_and_the_rest_is_shown():
    found = clearances(read(DEMOS / "pickup.toml"), 128)

    assert "frame_crossmember.z" in found.missing
    assert len(found.pairs) > 4


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


def test_the_same_build_gives_the_same_answer(hillclimb, placed):
    assert place(hillclimb, ["sump"], draws=256) == placed
