"""The brakes of a build: the same caliper written in two ways."""

from __future__ import annotations

import numpy as np
import pytest

from trialfit.book import read_text
from trialfit.evaluation.evaluation import Evaluation
from trialfit.subjects.braking.brakes_fitted import fitted_of

CAR = """
[tyre_front]
kind = "tyre"
axle = "front"
circumference = "1.9 ± 0 m"
[tyre_rear]
kind = "tyre"
circumference = "1.9 ± 0 m"
[rear]
kind = "brake"
piston_area = "9 ± 0 cm²"
effective_radius = "0.1 ± 0 m"
pad_friction = "0.4 ± 0"
valve = "none"
[front]
kind = "brake"
axle = "front"
effective_radius = "0.1 ± 0 m"
pad_friction = "0.4 ± 0"
"""


def front_share(pistons):
    fitted, lacking = fitted_of(Evaluation(read_text(CAR + pistons), 1))
    assert fitted is not None, lacking
    return fitted.share.item()


def test_pistons_by_diameter_and_number_are_as_good_as_by_area():
    """Two of 38 mm on one side are 22.68 cm²; one alone is half of that."""
    area = np.pi / 4 * 3.8**2

    assert front_share('piston_diameter = "38 ± 0 mm"\npiston_count = "2"') == pytest.approx(2 * area / (2 * area + 9))
    assert front_share(f'piston_area = "{2 * area} ± 0 cm²"') == pytest.approx(2 * area / (2 * area + 9))
    assert front_share('piston_diameter = "38 ± 0 mm"\npiston_count = "1"') == pytest.approx(area / (area + 9))
