"""A solid whose middle is taped from datum points: closed answers, the spread by each reading, and the reading that is wrong."""

from __future__ import annotations

import numpy as np
import pytest

from trialfit.book.problems import BadInput
from trialfit.evaluation.verdict import Verdict
from trialfit.subjects.catalogue import evaluate

GAP, READINGS = "clearance.gap.sump.rack", "clearance.readings.rack_middle"
DATUMS = np.array([[0.0, -0.5, 0.0], [0.0, 0.5, 0.0], [0.6, -0.5, 0.0], [0.6, 0.5, 0.0]])
MIDDLE = np.array([0.19, 0.0, 0.3])


def point(wrong=None, count=4, **more):
    """Distances from corners of a rectangle on the floor to the rack's middle, ±2 mm each, one of them wrong by so much."""
    true = np.linalg.norm(MIDDLE - DATUMS, axis=1)[:count] + (np.arange(count) == 1) * (wrong or 0.0)
    lists = {
        f"from_{axis}": "[" + ", ".join(f'"{1000 * row[n]} ± 0 mm"' for row in DATUMS[:count]) + "]"
        for n, axis in enumerate("xyz")
    }
    distances = "[" + ", ".join(f'"{1000 * length:.4f} ± 2 mm"' for length in true) + "]"
    return {"kind": "taped_point", **lists, "distances": distances, "roughly_z": "250 mm", **more}


def worked(build, taped, draws=2048):
    rack = {"x": None, "y": None, "z": None, "place_taped": "rack_middle"}
    return evaluate(build(rack=rack, rack_middle=taped), draws, ("clearance",))


def test_the_middle_is_where_the_tapes_meet(build):
    """The same rack as in the other tests: 20 mm before the sump."""
    found = worked(build, point(z="300 ± 1 mm"))

    assert found[GAP].value.nominal == pytest.approx(20.0, abs=0.01)
    assert found[READINGS].verdict is Verdict.holds
    assert {"rack_middle.distances.1", "rack_middle.distances.4"} <= {fact.path for fact in found[GAP].facts}


def test_the_spread_is_that_of_the_least_squares_fit(build):
    """Against (JᵀWJ)⁻¹ written out: four distances ±2 mm and a height ±1 mm (k = 2)."""
    slopes = np.vstack([(MIDDLE - DATUMS) / np.linalg.norm(MIDDLE - DATUMS, axis=1)[:, None], [0, 0, 1]])
    weights = np.diag([1 / 0.001**2] * 4 + [1 / 0.0005**2])
    sigma = np.sqrt(np.linalg.inv(slopes.T @ weights @ slopes)[0, 0]) * 1000
    value = worked(build, point(z="300 ± 1 mm"), 4096)[GAP].value

    assert (value.high - value.low) / 2 == pytest.approx(1.96 * sigma, rel=0.03)


def test_the_reading_that_disagrees_is_named(build):
    finding = worked(build, point(wrong=0.03, z="300 ± 1 mm"))[READINGS]

    assert finding.verdict is Verdict.fails
    assert "distance 2 does not fit the others" in finding.remark + finding.says


def test_a_reading_a_millimetre_off_is_within_what_a_tape_is_good_for(build):
    """± 2 mm each."""
    assert worked(build, point(wrong=0.001, z="300 ± 1 mm"), 256)[READINGS].verdict is Verdict.holds


def test_without_a_reading_to_spare_one_more_is_asked_for(build):
    finding = worked(build, point(count=3))[READINGS]

    assert finding.verdict is Verdict.unknown
    assert "one more reading" in " ".join(finding.missing.values())


def test_a_distance_without_its_point_is_refused(build):
    with pytest.raises(BadInput, match="expected as many of each"):
        build(rack_middle={**point(), "from_x": '["0 mm"]'})
