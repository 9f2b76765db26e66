"""One car as a builder would write it, and its report; a test changes the entries it is about."""

from __future__ import annotations

from collections.abc import Callable

import pytest
import tomlkit

from trialfit.book import read_text
from trialfit.book.rewriting import with_entry
from trialfit.evaluation.finding import Report
from trialfit.subjects import evaluate

# The car of the hand sums in test_governing_side.py: everything exact, so that a finding is one number. A shock swings over
# nothing here; test_shocks.py lets it.
CAR = """
name = "hand sums"

[car]
mass = "1250 ± 0 kg"
rear_axle_mass = "637.2549 ± 0 kg"   # 1250 kg times 1.30 m over 2.55 m
wheelbase = "2.55 m ± 0 mm"
centre_of_mass_height = "0.50 m ± 0 mm"
laden_mass = "1250 ± 0 kg"
laden_rear_axle_mass = "637.2549 ± 0 kg"
upper_grip = "0.95 ± 0, manual"
clutch_drop_factor = "1 ± 0"
clutch_drop_grip_factor = "1 ± 0"
regained_grip_factor = "1 ± 0"
careful_grip_factor = "1 ± 0"
driven_axle = "rear"
rear_suspension = "independent"

[engine]
application_factor = "1 ± 0"
curve_bulge = "0 ± 0 %"
torque_curve = \"\"\"
rpm : N·m ± 0 %
1000 : 300
3000 : 400
6000 : 350
\"\"\"

[clutch]
rated_torque = "400 ± 0 N·m, manual"

[gearbox]
ratios = ["3.2", "2.0", "1.0"]
reverse_ratio = "3.0"
efficiency = "96 ± 0 %"
rated_torque = "450 ± 0 N·m, manual"

[prop_shaft]
after = "gearbox"
length = "1.3 m"
tube_outside_diameter = "76.2 mm ± 0 mm, calipered"
tube_wall_thickness = "1.65 mm ± 0 mm, calipered"
yield_strength = "300 ± 0 MPa"
notch_factor = "1 ± 0"
front_joint_rated_torque = "1400 ± 0 N·m, catalogue"
rear_joint_rated_torque = "600 ± 0 N·m, guess"

[final_drive]
after = "prop_shaft"
ratio = "3.7"
efficiency = "97 ± 0 %"
differential = "open"
rated_torque = "3000 ± 0 N·m, manual"
rated_at = "wheels"

[half_shaft_left]
kind = "half_shaft"
side = "left"
rated_torque = "1200 ± 0 N·m, catalogue"

[half_shaft_right]
kind = "half_shaft"
side = "right"
bar_diameter = "30 mm ± 0 mm"
yield_strength = "900 ± 0 MPa"
notch_factor = "1.5 ± 0"

[hub_rear]
kind = "hub"
stud_count = "5"
stud_preload = "54.84 ± 0 kN, manual"
face_friction = "0.15 ± 0, manual"
stud_diameter = "12 mm ± 0 mm, manual"
seat = "flat"
pitch_circle_diameter = "114 mm ± 0 mm, manual"
rated_torque = "1500 ± 0 N·m, manual"

[tyre_rear]
kind = "tyre"
circumference = "1.947787 m ± 0 mm"   # 2π times 0.31 m
"""


@pytest.fixture
def report() -> Callable[..., Report]:
    """Works the torque path of the car out, changed as a test wants it.

    `changes` sets entries, `without` takes entries or whole parts out, `also` adds text at the end; `text` is another car.
    """

    def work(
        changes: dict[str, str] | None = None,
        *,
        without: tuple[str, ...] = (),
        also: str = "",
        text: str = CAR,
        draws: int = 1,
    ) -> Report:
        written = tomlkit.parse(text)
        for path in without:
            part, _, entry = path.partition(".")
            del (written[part] if entry else written)[entry or part]
        text = tomlkit.dumps(written)
        for path, entry in (changes or {}).items():
            text = with_entry(text, path, entry)
        return evaluate(read_text(text + also), draws, ["torque_path"])

    return work
