"""An ordinary car that holds as it stands; a test spoils one thing of it, and mends it."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

import pytest
import tomlkit

from trialfit.book import read_text
from trialfit.book.rewriting import with_entry
from trialfit.evaluation.finding import Finding
from trialfit.subjects import evaluate

DRAWS = 800

# A rear-driven car of 900 kg with a 120 N·m engine: all that torque passes through is known, and bears it.
SOUND = """
name = "sound line"
[car]
mass = "900 kg, weighed"
rear_axle_mass = "430 kg, weighed"
laden_mass = "1150 kg, manual"
laden_rear_axle_mass = "620 kg, manual"
wheelbase = "2.30 m, taped"
rear_track = "1.30 m, taped"
front_track = "1.30 m, taped"
driven_axle = "rear"
rear_suspension = "independent"
[engine]
max_speed = "6000 rpm, manual"
torque_curve = "rpm : N·m, manual | 1000 : 95 | 1700 : 105 | 2400 : 115 | 3100 : 120 | 3800 : 118 | 4500 : 110 | 5200 : 100 | 6000 : 85"
[clutch]
rated_torque = "165 N·m, manual"
[gearbox]
ratios = ["3.6", "2.1", "1.4", "1.0"]
reverse_ratio = "3.5"
rated_torque = "150 N·m, manual"
[prop_shaft]
after = "gearbox"
tube_outside_diameter = "76.2 mm, calipered"
tube_wall_thickness = "2.0 mm, calipered"
yield_strength = "400 MPa, manual"
notch_factor = "1.4 ± 0.1, manual"
front_joint_rated_torque = "900 N·m, catalogue"
rear_joint_rated_torque = "900 N·m, catalogue"
[final_drive]
after = "prop_shaft"
ratio = "3.9"
rated_torque = "2400 N·m, manual"
[half_shaft_left]
kind = "half_shaft"
side = "left"
bar_diameter = "34 mm, calipered"
yield_strength = "1000 MPa, manual"
notch_factor = "1.4 ± 0.1, manual"
[half_shaft_right]
kind = "half_shaft"
side = "right"
bar_diameter = "34 mm, calipered"
yield_strength = "1000 MPa, manual"
notch_factor = "1.4 ± 0.1, manual"
[tyre_rear]
kind = "tyre"
size = "165/70 R13"
[hub_rear]
kind = "hub"
stud_count = "4"
stud_torque = "85 N·m, manual"
stud_diameter = "12 mm, manual"
pitch_circle_diameter = "100 mm, calipered"
seat = "cone"
origin = "as strong a car"
"""


@cache
def _findings(text: str) -> dict[str, Finding]:
    report = evaluate(read_text(text), DRAWS, ["torque_path"], all_figures=False)
    return {finding.id.removeprefix("torque_path."): finding for finding in report.findings}


@pytest.fixture
def line() -> Callable[..., dict[str, Finding]]:
    """The findings of the torque path without their subject, the sound car changed; `also` adds text, `without` takes out."""

    def work(
        changes: dict[str, str] | None = None, *, also: str = "", without: tuple[str, ...] = ()
    ) -> dict[str, Finding]:
        written = tomlkit.parse(SOUND)
        for path in without:
            part, _, entry = path.partition(".")
            del (written[part] if entry else written)[entry or part]
        text = tomlkit.dumps(written)
        for path, entry in (changes or {}).items():
            text = with_entry(text, path, entry)
        return _findings(text + also)

    return work
