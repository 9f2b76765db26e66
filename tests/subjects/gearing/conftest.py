"""One build in the user's own words, exact to the last digit, so that a test changes only what it is about."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from trialfit.evaluation.finding import Report
from trialfit.subjects.gearing import requirements

BASE = '''
[car]
mass = "1200 ± 0 kg"
laden_mass = "1200 ± 0 kg"
laden_rear_axle_mass = "576 ± 0 kg"
rear_axle_mass = "576 ± 0 kg"
wheelbase = "2.5 ± 0 m"
rear_track = "1.4 ± 0 m"
centre_of_mass_height = "0.5 ± 0 m"
drag_area = "0.65 ± 0 m²"
rolling_coefficient = "0.013 ± 0, manual"
air_density = "1.2 ± 0 kg/m³"
tyre_friction = "0.9 ± 0"
driven_axle = "rear"
rear_suspension = "independent"
front_roll_share = "60 ± 0 %"
cruise_speeds = ["90 ± 0 km/h", "120 ± 0 km/h"]
hill_grade = "20 ± 0 %"
shift_time = "0.4 ± 0 s"

[engine]
max_speed = "6000 ± 0 rpm"
idle_speed = "850 ± 0 rpm"
cruise_low = "1800 ± 0 rpm"
cruise_high = "3500 ± 0 rpm"
launch_speed = "2200 ± 0 rpm"
rotating_inertia = "0.15 ± 0 kg·m²"
curve_bulge = "0 ± 0 %, manual"
torque_curve = """
rpm : N·m ± 0 %
1000 : 150
3000 : 200
5000 : 190
6000 : 160
"""

[clutch]
thermal_mass = "12 ± 0 kg"

[gearbox]
ratios = ["3.3", "2.0", "1.4", "1.0", "0.82"]
reverse_ratio = "3.4"
efficiency = "96 ± 0 %"

[final_drive]
ratio = "3.73"
efficiency = "97 ± 0 %"

[tyre]
circumference = "1.927 ± 0 m"

[speedometer]
original_final_drive = "3.7"
original_circumference = "1.90 ± 0 m"
original_over_reading = "4 ± 0 %, manual"
'''

MOTOR = '''
[car]
mass = "1300 ± 0 kg"
laden_mass = "1300 ± 0 kg"
laden_rear_axle_mass = "650 ± 0 kg"
rear_axle_mass = "650 ± 0 kg"
wheelbase = "2.5 ± 0 m"
centre_of_mass_height = "0.5 ± 0 m"
drag_area = "0.65 ± 0 m²"
rolling_coefficient = "0.012 ± 0, manual"
air_density = "1.2 ± 0 kg/m³"
tyre_friction = "0.9 ± 0"
driven_axle = "front"
cruise_speeds = ["100 ± 0 km/h"]
hill_grade = "20 ± 0 %"
shift_time = "0 ± 0 s"

[engine]
runs_on = "electricity"
max_speed = "12000 ± 0 rpm"
cruise_low = "500 ± 0 rpm"
cruise_high = "9000 ± 0 rpm"
rotating_inertia = "0.04 ± 0 kg·m²"
curve_bulge = "0 ± 0 %, manual"
torque_curve = """
rpm : N·m ± 0 %
0 : 250
4000 : 250
8000 : 125
12000 : 80
"""

[gearbox]
ratios = ["2.6"]
efficiency = "97 ± 0 %"

[final_drive]
ratio = "3.6"
efficiency = "97 ± 0 %"

[tyre]
axle = "front"
circumference = "1.95 ± 0 m"
load_index = "88H"
'''


@pytest.fixture
def base() -> str:
    """A rear-driven car with a five-speed gearbox, every fact exact."""
    return BASE


@pytest.fixture
def motor() -> str:
    """A front-driven car with an electric motor and one gear, every fact exact."""
    return MOTOR


@pytest.fixture
def gearing(worked) -> Callable[..., Report]:
    """Works out the gearing of a TOML text, with pairs of what is written and what is to stand there instead."""
    return worked(requirements)


@pytest.fixture
def value() -> Callable[[Report, str], float]:
    """The nominal value of a finding or figure in the unit it is shown in."""

    def look_up(report: Report, identifier: str) -> float:
        found = report.result(identifier)
        assert found is not None, identifier
        assert found.value is not None, f"{identifier}: {found.missing or found.remark}"
        return found.value.nominal

    return look_up
