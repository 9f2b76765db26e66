"""Points from tape readings."""

from __future__ import annotations

import numpy as np
import pytest
from thorough import some

from trialfit.placement.taping import BadReadings, Reading, position_from

DATUMS = {"left stud": (0.0, 0.6, 0.5), "right stud": (0.0, -0.6, 0.5), "bonnet latch": (0.7, 0.0, 0.75)}
POINT = np.array([0.25, -0.12, 0.3])


def readings(noise=0.0, wrong="", by=0.0, rng=None):
    found = []
    for name, at in DATUMS.items():
        length = float(np.linalg.norm(POINT - at)) + (rng.normal() * noise if rng else 0.0)
        found.append(Reading(name, "distance", length + (by if name == wrong else 0.0), 0.001, at))
    height = POINT[2] + (rng.normal() * noise if rng else 0.0)
    along = POINT[0] + (by if wrong == "along" else 0.0)
    found.append(Reading("along", "x", float(along) + (rng.normal() * noise if rng else 0.0), 0.001))
    return [*found, Reading("height", "z", float(height) + (by if wrong == "height" else 0.0), 0.001)]


def test_exact_readings_give_the_point():
    found = position_from(readings(), (0.2, 0, 0.2))

    assert found.position == pytest.approx(POINT, abs=1e-9)
    assert found.disagrees == ""
    assert found.checked


def test_the_spread_is_that_of_many_repetitions():
    """Many repetitions with 1 mm of noise against the covariance of one."""
    rng = np.random.default_rng(1)
    points = np.array([position_from(readings(0.001, rng=rng), POINT).position for _ in range(some(2000))])

    assert np.cov(points.T) == pytest.approx(position_from(readings(), POINT).covariance, abs=2.5e-7)


@pytest.mark.parametrize("wrong", ["left stud", "bonnet latch", "height", "along"])
def test_the_reading_that_disagrees_is_named_and_the_point_is_right_without_it(wrong):
    found = position_from(readings(wrong=wrong, by=0.03), POINT + 0.05)

    assert found.disagrees == wrong
    assert found.without == pytest.approx(POINT, abs=1e-6)


def test_small_disagreement_is_the_tape():
    assert position_from(readings(wrong="height", by=0.001), POINT).disagrees == ""


def test_with_one_spare_reading_a_disagreement_is_seen_but_not_whose_it_is():
    found = position_from([one for one in readings(wrong="height", by=0.03) if one.name != "along"], POINT + 0.05)

    assert not found.fits
    assert found.disagrees == ""


def test_three_readings_cannot_disagree():
    found = position_from(readings()[:3], POINT + 0.02)

    assert not found.checked
    assert found.fits
    assert found.disagrees == ""
    assert found.position == pytest.approx(POINT, abs=1e-6)


@pytest.mark.parametrize(
    ("given", "says"),
    [
        (readings()[:2], "2 readings do not fix a point: expected three"),
        (
            [
                Reading("a", "z", 0.3, 0.001),
                Reading("b", "z", 0.3, 0.001),
                Reading("c", "y", 0.1, 0.001),
            ],
            "do not fix the point",
        ),
        ([Reading("a", "z", 0.3, 0.0), *readings()[:2]], "a reading has no spread"),
    ],
)
def test_readings_that_make_no_point_are_refused_with_a_sentence(given, says):
    with pytest.raises(BadReadings, match=says):
        position_from(given, POINT)
