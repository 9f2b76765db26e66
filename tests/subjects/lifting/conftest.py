"""Works out the lifting of a build in the user's own words."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from trialfit.evaluation.finding import Report
from trialfit.subjects.lifting import requirements

HOIST = """
[car]
mass = "1200 ± 0 kg"
rear_axle_mass = "560 ± 0 kg"
wheelbase = "2.4 ± 0 m"
load_share = "0 ± 0 %"

[engine_alone]
kind = "mass_part"
mass = "165 ± 0 kg"
x = "0 ± 0 m"
y = "0 ± 0 m"
z = "0.5 ± 0 m"
hoisted_by = "hoist"

[gearbox_alone]
kind = "mass_part"
mass = "62 ± 0 kg"
x = "-0.78 ± 0 m"
y = "0 ± 0 m"
z = "0.5 ± 0 m"
hoisted_by = "hoist"

[hoist]
kind = "lift"
hook_x = "-0.21304 ± 0 m"
hook_y = "0 ± 0 m"
hook_z = "1.2 ± 0 m"
dynamic_factor = "1 ± 0"
hole = "2"

[front_leg]
kind = "sling_leg"
eye_x = "0.03696 ± 0 m"
eye_y = "0 ± 0 m"
eye_z = "0.7 ± 0 m"
rated_mass = "500 ± 0 kg"

[rear_leg]
kind = "sling_leg"
eye_x = "-0.56304 ± 0 m"
eye_y = "0 ± 0 m"
eye_z = "0.7 ± 0 m"
rated_mass = "500 ± 0 kg"

[workshop_crane]
hole_reaches = ["0.9 m", "1.1 m", "1.3 m", "1.5 m"]
hole_ratings = ["2000 kg", "1500 kg", "1000 kg", "500 kg"]

[stands_rear]
kind = "stands"
under = "rear"
rated_mass = "1000 ± 0 kg"
spacing = "0.9 ± 0 m"
push_height = "1 ± 0 m"
inboard = "0 ± 0 m"
off_centre = "0 ± 0 m"
"""


@pytest.fixture
def hoist() -> str:
    """Engine and gearbox on two legs with the hook over their centre; eyes 0.25 and 0.35 m from below it; every fact exact."""
    return HOIST


@pytest.fixture
def lifting(worked) -> Callable[..., Report]:
    """Works out a TOML text, with pairs of what is written and what is to stand there instead."""
    return worked(requirements)
