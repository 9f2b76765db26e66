"""Works out the structure of a build in the user's own words."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from trialfit.evaluation.finding import Report
from trialfit.subjects.structure import requirements

UNIT = '''
[engine]
torque_curve = """
rpm : N·m ± 0 %
1000 : 200
3000 : 250
6000 : 200
"""

[clutch]
rated_torque = "320 ± 0 N·m"

[gearbox]
ratios = ["3.5", "2.0", "1.0"]
reverse_ratio = "3.2"

[power_unit]
layout = "longitudinal"
torque_factor = "2 ± 0"

[engine_mass]
kind = "mass_part"
mass = "150 ± 0 kg"
x = "0 ± 0 m"
y = "0 ± 0 m"
z = "0.50 ± 0 m"

[gearbox_mass]
kind = "mass_part"
mass = "50 ± 0 kg"
x = "-0.8 ± 0 m"
y = "0 ± 0 m"
z = "0.50 ± 0 m"

[left]
kind = "mount"
x = "0 ± 0 m"
y = "0.28 ± 0 m"
z = "0.50 ± 0 m"
rated_load = "7 ± 0 kN"
rated_pull = "4 ± 0 kN"
breaking_load = "10 ± 0 kN"

[right]
kind = "mount"
x = "0 ± 0 m"
y = "-0.28 ± 0 m"
z = "0.50 ± 0 m"
rated_load = "7 ± 0 kN"
rated_pull = "4 ± 0 kN"
breaking_load = "10 ± 0 kN"

[rear]
kind = "mount"
x = "-1 ± 0 m"
y = "0 ± 0 m"
z = "0.50 ± 0 m"
rated_load = "4 ± 0 kN"
rated_pull = "2 ± 0 kN"
breaking_load = "10 ± 0 kN"
'''


@pytest.fixture
def unit() -> str:
    """An in-line engine and gearbox on three mounts at the height of its centre, every fact exact."""
    return UNIT


@pytest.fixture
def structure(worked) -> Callable[..., Report]:
    """Works out a TOML text, with pairs of what is written and what is to stand there instead."""
    return worked(requirements)
