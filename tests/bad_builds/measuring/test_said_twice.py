"""What is written twice and cannot both be true: each bad build fails, and its mended twin holds."""

from __future__ import annotations

import pytest

from trialfit.book import read_text
from trialfit.evaluation.evaluation import Evaluation
from trialfit.evaluation.finding import Finding
from trialfit.evaluation.verdict import Verdict
from trialfit.evaluation.working import work_out
from trialfit.subjects.measuring.twice import relations, requirements

LINE = """
[car]
driven_axle = "rear"
rear_suspension = "independent"
[gearbox]
ratios = ["3.4"]
output_x = "-900 mm, taped"
output_y = "10 mm, taped"
output_z = "350 mm, taped"
output_inclination = "3.4 deg, gauged"
output_heading = "0 deg, gauged"
[prop_shaft]
after = "gearbox"
length = "1200 mm, taped"
inclination = "2.5 deg, gauged"
heading = "0 deg, gauged"
[final_drive]
after = "prop_shaft"
ratio = "3.73"
input_x = "-2099 mm, taped"
input_y = "10 mm, taped"
input_z = "298 mm, taped"
input_inclination = "3 deg, gauged"
[drivetrain]
x = "-260 mm, taped"
y = "10 mm, taped"
z = "388 mm, taped"
inclination = "3.4 deg, gauged"
heading = "0 deg, gauged"
output_x = "-641 mm, taped"
output_z = "0 mm, taped"
[readings]
kind = "angle_readings"
gearbox = "3.4 deg, gauged"
shaft = "2.5 deg, gauged"
final_drive = "3 deg, gauged"
floor_slope = "0 deg, gauged"
"""
WEIGHED = """
[car]
mass = "960 kg, weighed"
rear_axle_mass = "460 kg, weighed"
front_axle_mass = "500 kg, weighed"
left_front_mass = "252 kg, weighed"
right_front_mass = "248 kg, weighed"
left_rear_mass = "231 kg, weighed"
right_rear_mass = "229 kg, weighed"
laden_mass = "1300 kg, manual"
laden_front_axle_mass = "640 kg, manual"
laden_rear_axle_mass = "720 kg, manual"
trailer_mass = "800 kg, manual"
nose_mass = "60 kg, manual"
nose_share = "7.5 %, manual"
"""
WHEELS = """
[car]
driven_axle = "rear"
rear_suspension = "independent"
wheelbase = "2402 mm, taped"
rear_track = "1420 mm, taped"
[tyre]
size = "195/50 R15"
circumference = "1.79 m, taped"
[left]
kind = "half_shaft"
side = "left"
outer_x = "-2402 mm, taped"
outer_y = "620 mm, taped"
outer_z = "278 mm, taped"
bar_diameter = "26 mm, calipered"
rated_torque = "1500 N·m, catalogue"
[right]
kind = "half_shaft"
side = "right"
outer_x = "-2402 mm, taped"
outer_y = "-620 mm, taped"
outer_z = "278 mm, taped"
"""
FRONT = """
[car]
driven_axle = "front"
[half_shaft]
side = "left"
outer_x = "5 mm, taped"
"""
ENGINE = """
[engine]
torque_curve = "rpm : N·m ± 2 %, catalogue | 1000 : 180 | 2000 : 220 | 3000 : 250 | 4000 : 262 | 5000 : 250 | 5700 : 228 | 6500 : 190"
peak_torque = "264 N·m, manual"
peak_torque_speed = "4000 rpm, manual"
power = "136 kW, manual"
power_speed = "5700 rpm, manual"
idle_speed = "850 rpm, manual"
cruise_low = "1500 rpm, guess"
cruise_high = "3500 rpm, guess"
max_speed = "6500 rpm, manual"
launch_speed = "2200 rpm, guess"
"""
PARTS = """
[final_drive]
ratio = "3.73"
crown_wheel_teeth = "41"
pinion_teeth = "11"
[speedometer]
original_tyre_size = "185/70 R13"
original_circumference = "1.80 m, taped"
[clutch]
rated_torque = "150 N·m, catalogue"
clamp_load = "4.2 kN, catalogue"
facing_outside_diameter = "200 mm, calipered"
facing_inside_diameter = "130 mm, calipered"
[hub]
stud_torque = "90 N·m, manual"
stud_diameter = "12 mm, manual"
stud_preload = "30 kN, computed"
seat = "cone"
[shaft]
kind = "prop_shaft"
after = "gearbox"
rated_torque = "1800 N·m, catalogue"
tube_outside_diameter = "70 mm, calipered"
tube_wall_thickness = "2 mm, calipered"
yield_strength = "300 MPa, catalogue"
[gearbox]
ratios = ["3.4"]
[drivetrain]
mass = "180 kg, weighed"
[block]
kind = "mass_part"
mass = "132 kg, weighed"
fixed_to = "drivetrain"
[box]
kind = "mass_part"
mass = "48 kg, weighed"
fixed_to = "drivetrain"
"""
BENCH = """
[flange]
kind = "bolted_joint"
thread = "M8"
pattern = "circle"
pitch_circle_diameter = "100 mm, calipered"
places_x = ["50 mm, taped", "0 mm, taped", "-50 mm, taped", "0 mm, taped"]
places_y = ["0 mm, taped", "50 mm, taped", "0 mm, taped", "-50 mm, taped"]
length = "100 mm, taped"
width = "100 mm, taped"
nut_factor = "0.18 ± 0.03, catalogue"
thread_friction = "0.14 ± 0.02, catalogue"
head_friction = "0.14 ± 0.02, catalogue"
[crane]
kind = "workshop_crane"
hole_reaches = ["900 mm, catalogue", "1100 mm, catalogue", "1300 mm, catalogue"]
hole_ratings = ["500 kg", "400 kg", "300 kg"]
[lift]
crane = "crane"
hole = "2"
reach = "1100 mm, taped"
[arm]
kind = "bracket"
reach = "80 mm, taped"
thickness = "5 mm, calipered"
[seam]
kind = "weld"
carries = "arm"
reach = "80 mm, taped"
thicker = "5 mm, calipered"
"""
MOUNTS = """
[engine]
peak_torque = "265 N·m, manual"
[clutch]
rated_torque = "300 N·m, manual"
[gearbox]
ratios = ["3.63, manual"]
[drivetrain]
x = "-260 mm, taped"
y = "0 mm, taped"
z = "380 mm, taped"
inclination = "3 deg, gauged"
rock = "1.9 ± 0.3 deg, gauged"
[left]
kind = "mount"
x = "-200 mm, taped"
y = "250 mm, taped"
z = "350 mm, taped"
stiffness = "230 N/mm, catalogue"
[right]
kind = "mount"
x = "-200 mm, taped"
y = "-250 mm, taped"
z = "350 mm, taped"
stiffness = "230 N/mm, catalogue"
"""
CASES = {
    "car.mass": (WEIGHED, "960 kg", "1010 kg"),
    "car.rear_axle_mass": (WEIGHED, '"231 kg', '"251 kg'),
    "car.front_axle_mass": (WEIGHED, '"248 kg', '"228 kg'),
    "car.laden_mass": (WEIGHED, '"640 kg', '"540 kg'),
    "car.laden_rear_axle_mass": (WEIGHED, '"720 kg', '"420 kg'),
    "car.nose_mass": (WEIGHED, "7.5 %", "4 %"),
    "car.wheelbase": (WHEELS, 'wheelbase = "2402', 'wheelbase = "2440'),
    "car.left_wheel": (WHEELS, 'outer_y = "620', 'outer_y = "820'),
    "car.right_wheel": (WHEELS, 'outer_y = "-620', 'outer_y = "-440'),
    "tyre.circumference": (WHEELS, "1.79 m", "1.95 m"),
    "half_shaft.strength": (WHEELS, "1500 N·m", "4500 N·m"),
    "half_shaft.front_axle": (FRONT, '"5 mm', '"85 mm'),
    "engine.peak_torque": (ENGINE, "264 N·m", "230 N·m"),
    "engine.highest_torque": (ENGINE, "264 N·m", "230 N·m"),
    "engine.power": (ENGINE, "136 kW", "136 hp"),
    "engine.launch": (ENGINE, "2200 rpm", "8200 rpm"),
    "final_drive.ratio": (PARTS, '"41"', '"43"'),
    "speedometer.circumference": (PARTS, "1.80 m", "1.65 m"),
    "clutch.capacity": (PARTS, '"150 N·m', '"500 N·m'),
    "hub.stud_preload": (PARTS, "30 kN", "80 kN"),
    "prop_shaft.strength": (PARTS, "1800 N·m", "4000 N·m"),
    "drivetrain.mass": (PARTS, "180 kg", "215 kg"),
    "drivetrain.rock": (MOUNTS, "1.9 ±", "0.8 ±"),
    "gearbox.output_x": (LINE, 'x = "-260', 'x = "-220'),
    "gearbox.output_y": (LINE, 'y = "10 mm, taped"\nz = "388', 'y = "30 mm, taped"\nz = "388'),
    "gearbox.output_z": (LINE, '"388 mm', '"348 mm'),
    "gearbox.output_inclination": (
        LINE,
        'z = "388 mm, taped"\ninclination = "3.4',
        'z = "388 mm, taped"\ninclination = "5',
    ),
    "gearbox.output_heading": (LINE, 'output_heading = "0', 'output_heading = "2'),
    "final_drive.input_inclination": (LINE, 'input_inclination = "3 ', 'input_inclination = "-3 '),
    "prop_shaft.inclination": (LINE, '\ninclination = "2.5', '\ninclination = "4.5'),
    "prop_shaft.heading": (
        LINE,
        'inclination = "2.5 deg, gauged"\nheading = "0',
        'inclination = "2.5 deg, gauged"\nheading = "3',
    ),
    "bolted_joint.pitch_circle": (BENCH, "100 mm, calipered", "112 mm, calipered"),
    "bolted_joint.length": (BENCH, 'length = "100', 'length = "120'),
    "bolted_joint.width": (BENCH, 'width = "100', 'width = "80'),
    "bolted_joint.nut_factor": (BENCH, "0.18 ± 0.03", "0.30 ± 0.03"),
    "lift.reach": (BENCH, 'hole = "2"', 'hole = "3"'),
    "weld.reach": (
        BENCH,
        '[seam]\nkind = "weld"\ncarries = "arm"\nreach = "80',
        '[seam]\nkind = "weld"\ncarries = "arm"\nreach = "50',
    ),
    "weld.thickness": (BENCH, 'thicker = "5', 'thicker = "3'),
}


def judged(text: str, relation: str) -> Finding:
    """The finding of a relation, of the first part that it is about."""
    build = read_text(text)
    kind, _, what = relation.partition(".")
    (wanted,) = [
        one for one in requirements(build) if one.id.endswith(f".{what}") and build.parts[one.about].kind == kind
    ][:1]
    return work_out(Evaluation(build, 256), [wanted]).findings[0]


def test_each_relation_has_a_bad_build():
    assert set(CASES) == {f"{one.kind}.{one.id}" for one in relations()}


@pytest.mark.parametrize("relation", CASES)
def test_what_contradicts_itself_fails_and_its_mended_twin_holds(relation):
    text, right, wrong = CASES[relation]
    assert text.count(right) == 1
    bad, mended = judged(text.replace(right, wrong), relation), judged(text, relation)

    assert bad.verdict is Verdict.fails
    assert bad.value is not None
    assert bad.limit is not None
    assert bad.value.nominal > bad.limit.nominal
    assert mended.verdict is Verdict.holds


def test_a_moved_drivetrain_is_found_and_the_shaft_supports_the_written_output():
    """The drivetrain is written 40 mm further forward than its gearbox output allows."""
    text, right, wrong = CASES["gearbox.output_x"]
    found = judged(text.replace(right, wrong), "gearbox.output_x")

    assert "gearbox.output_x -900 mm, the drivetrain's place and its own output_x -860 mm" in found.remark
    assert "40.1 mm apart" in found.remark
    assert "the pinion and the length of the shaft (-905 mm) supports gearbox.output_x" in found.remark


def test_a_drivetrain_without_an_output_of_its_own_is_held_against_the_line_of_its_crank():
    text = LINE.replace('output_x = "-641 mm, taped"\noutput_z = "0 mm, taped"\n', "")

    assert judged(text, "gearbox.output_z").verdict is Verdict.holds
    assert judged(text.replace('"388 mm', '"348 mm'), "gearbox.output_z").verdict is Verdict.fails


def test_without_a_third_fact_it_says_so():
    text = '[car]\nmass = "960 kg, weighed"\nrear_axle_mass = "460 kg, weighed"\nfront_axle_mass = "440 kg, weighed"\n'

    assert "no third fact says which of them is right" in judged(text, "car.mass").remark


def test_scales_are_believed_within_their_spread():
    """Half a percent of 960 kg, and of both axles: 8 kg are no contradiction, 30 kg are one."""
    text = '[car]\nmass = "960 kg, weighed"\nrear_axle_mass = "460 kg, weighed"\nfront_axle_mass = "{} kg, weighed"\n'

    assert judged(text.format(505), "car.mass").verdict is Verdict.holds
    assert judged(text.format(530), "car.mass").verdict is Verdict.fails


def test_two_guesses_contradict_each_other_only_beyond_both():
    text = '[car]\nmass = "960 kg, guess"\nrear_axle_mass = "460 kg, guess"\nfront_axle_mass = "{} kg, guess"\n'

    assert judged(text.format(600), "car.mass").verdict is Verdict.holds
    assert judged(text.format(900), "car.mass").verdict is Verdict.fails
