"""The pose of the drivetrain feeds the driveline: what the gearbox does not say follows from it, what it says counts."""

from __future__ import annotations

import re
from pathlib import Path

import numpy as np
import pytest

from trialfit.advice.posed import lines_to_write, moved
from trialfit.book import read_text
from trialfit.evaluation.evaluation import Evaluation, MissingFact
from trialfit.parts import Gearbox, MassPart, OilPan
from trialfit.subjects.catalogue import evaluate
from trialfit.subjects.clearance.shaft_joints import output_of_group
from trialfit.subjects.placed import mass_centres, output_centre, pan_inclination, pose_now
from trialfit.subjects.power_unit import unit_centre

TEXT = (Path(__file__).parents[2] / "demos" / "hillclimb.toml").read_text(encoding="utf-8")
ANGLES = ("driveline.working_angle.front", "driveline.working_angle.rear")


def _centre(build):
    ev = Evaluation(build, 1)
    return ev.of(output_centre, build.first(Gearbox))[0]


@pytest.fixture(scope="module")
def follows():
    """The first demo with the output measured on the drivetrain, where it is in the demo, and nothing of it in the gearbox."""
    written = read_text(TEXT)
    x, y, z = Evaluation(written, 1).of(output_of_group)[0][0] * 1000
    text = re.sub(r"^output_\w+ = .*\n", "", TEXT, flags=re.MULTILINE)
    lines = f'[drivetrain]\noutput_x = "{x} mm, taped"\noutput_y = "{y} mm, taped"\noutput_z = "{z} mm, taped"\n'
    return read_text(text.replace("[drivetrain]\n", lines))


def test_an_output_measured_on_the_drivetrain_gives_the_same_angles(follows):
    """The same car described in two ways: gearbox output in the car's axes, or in the drivetrain's and the drivetrain placed."""
    one, other = evaluate(read_text(TEXT), 64, ("driveline",)), evaluate(follows, 64, ("driveline",))

    for name in ANGLES:
        assert other[name].value.nominal == pytest.approx(one[name].value.nominal, abs=1e-6)
    assert "drivetrain.inclination" in {fact.path for fact in other[ANGLES[0]].facts}
    assert not {fact.path for fact in other[ANGLES[0]].facts} & {"gearbox.output_inclination", "gearbox.output_x"}


def test_moving_the_drivetrain_moves_the_driveline_with_it(follows):
    pose = Evaluation(follows, 1).of(pose_now)[0] + np.array([0.01, 0, -0.02, 0, np.radians(-1), 0])
    after = evaluate(moved(follows, pose), 64, ("driveline",))
    before = evaluate(follows, 64, ("driveline",))

    assert _centre(moved(follows, pose))[2] < _centre(follows)[2] - 0.02
    assert abs(after[ANGLES[0]].value.nominal - before[ANGLES[0]].value.nominal) > 0.3


def test_what_the_gearbox_says_counts():
    """A written output is never replaced: it stays where it is written when the drivetrain's own facts say otherwise."""
    both = read_text(
        TEXT.replace("[drivetrain]\n", '[drivetrain]\noutput_x = "0 mm"\noutput_y = "0 mm"\noutput_z = "0 mm"\n')
    )

    assert _centre(both) == pytest.approx([-0.915, 0.012, 0.346])
    facts = evaluate(both, 64, ("driveline",))[ANGLES[0]].facts
    assert "gearbox.output_inclination" in {fact.path for fact in facts}


def test_the_lines_that_take_a_pose_leave_out_what_follows_from_it(follows):
    pose = Evaluation(follows, 1).of(pose_now)[0] + np.array([0, 0, -0.02, 0, 0, 0])
    lines = list(lines_to_write(follows, pose))

    assert any(line.startswith("drivetrain.z ") for line in lines)
    assert not any(line.startswith("gearbox.output") for line in lines)
    assert any(line.startswith("gearbox.output_z ") for line in lines_to_write(read_text(TEXT), pose))


HEAVY = """
[drivetrain]
x = "-0.30 ± 0 m"
y = "0.01 ± 0 m"
z = "0.40 ± 0 m"
inclination = "90 ± 0 deg"

[engine_mass]
kind = "mass_part"
mass = "150 ± 0 kg"
fixed_to = "drivetrain"
x = "0.20 ± 0 m"
y = "0 ± 0 m"
z = "0.10 ± 0 m"

[gearbox_mass]
kind = "mass_part"
mass = "50 ± 0 kg"
x = "-0.70 ± 0 m"
y = "0 ± 0 m"
z = "0.50 ± 0 m"
"""


def test_a_mass_that_is_fixed_to_the_drivetrain_goes_where_it_goes():
    """Nose up by a right angle, by hand: what was 200 mm in front is 200 mm above, what was 100 mm above is 100 mm behind."""
    build = read_text(HEAVY)
    ev = Evaluation(build, 1)
    engine, gearbox = mass_centres(ev, build.all(MassPart))[0]

    assert engine == pytest.approx([-0.30 - 0.10, 0.01, 0.40 + 0.20])
    assert gearbox == pytest.approx([-0.70, 0.0, 0.50])
    assert np.ravel(ev.of(unit_centre)) == pytest.approx((3 * engine + gearbox) / 4)


def test_a_mass_without_the_place_of_its_drivetrain_names_what_is_missing():
    build = read_text(HEAVY.replace('z = "0.40 ± 0 m"\n', ""))

    with pytest.raises(MissingFact) as missing:
        mass_centres(Evaluation(build, 1), build.all(MassPart))

    assert list(missing.value.wanted) == ["drivetrain.z"]


def test_the_floor_of_a_pan_lies_as_its_engine_unless_it_is_measured():
    """3° of the drivetrain; 5° where the floor itself was measured; without a drivetrain its own typical one."""
    placed, pan = '[drivetrain]\ninclination = "3 ± 0 deg"\n', "[oil_pan]\n"
    measured = pan + 'inclination = "5 ± 0 deg"\n'

    def degrees(text):
        build = read_text(text)
        return float(np.degrees(pan_inclination(Evaluation(build, 1), build.first(OilPan))[0]))

    assert degrees(placed + pan) == pytest.approx(degrees(pan) + 3)
    assert (degrees(placed + measured), degrees(measured)) == pytest.approx((5, 5))
