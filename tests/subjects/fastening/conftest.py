"""One bolted joint in the user's own words, exact to the last digit, so that a test changes only what it is about."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from trialfit.evaluation.finding import Report
from trialfit.subjects.fastening import requirements

BASE = """
[bracket]
kind = "bolted_joint"
thread = "M10"
strength_class = "8.8"
nut_class = "8"
thread_state = "dry"
nut_factor = "0.20 ± 0, manual"
bolts = "4"
pattern = "circle"
pitch_circle_diameter = "100 ± 0 mm, calipered"
torque = "50 N·m"
head_side_thickness = "15 ± 0 mm"
thread_side_thickness = "15 ± 0 mm"
shank_length = "20 ± 0 mm"
bearing_diameter = "15 ± 0 mm"
hole_diameter = "10 ± 0 mm"
load_type = "pull and shear"
pull = "20 ± 0 kN"
shear = "5 ± 0 kN"
face_friction = "0.15 ± 0, manual"
embedment_loss = "10 ± 0 %, manual"
wrench = "clicker"

[clicker]
kind = "torque_wrench"
largest = "200 ± 0 N·m"
reading_error = "0 ± 0 %"
length = "400 ± 0 mm"
"""

TAPPED = """
[bracket]
kind = "bolted_joint"
thread = "M10"
strength_class = "8.8"
thread_state = "dry"
nut_factor = "0.20 ± 0, manual"
threaded_into = "aluminium"
engagement = "20 ± 0 mm, calipered"
hole_strength = "220 ± 0 MPa, catalogue"
hole_shear_share = "0.6 ± 0"
thread_left = "1 ± 0, manual"
torque = "50 N·m"
load_type = "a seal only"
"""


@pytest.fixture
def base() -> str:
    """Four M10 bolts through 30 mm of steel, every fact exact."""
    return BASE


@pytest.fixture
def tapped() -> str:
    """An M10 bolt screwed two diameters deep into aluminium."""
    return TAPPED


@pytest.fixture
def fastening(worked) -> Callable[..., Report]:
    """Works out the fastening of a TOML text, with pairs of what is written and what is to stand there instead."""
    return worked(requirements)
