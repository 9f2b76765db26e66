"""A build at another pose: what moves with the drivetrain, what stays, and what to write down for it."""

from __future__ import annotations

import re
from pathlib import Path

import numpy as np
import pytest

from trialfit.advice.clearances import clearances
from trialfit.advice.posed import brackets, facts_at, lines_to_write, moved, with_picks
from trialfit.book import BadInput, read, read_text
from trialfit.evaluation.evaluation import Evaluation
from trialfit.subjects.placed import pose_now

HILLCLIMB = Path(__file__).parents[2] / "demos" / "hillclimb.toml"
MOUNT = {
    "kind": "mount",
    "engine_x": "100 mm",
    "engine_y": "200 mm",
    "engine_z": "-50 mm",
    "car_x": "100 mm",
    "car_y": "300 mm",
    "car_z": "350 mm",
}


@pytest.fixture(scope="module")
def hillclimb():
    return read(HILLCLIMB)


def _pose(build):
    return Evaluation(build, 1).of(pose_now)[0]


def test_what_is_fixed_to_the_drivetrain_moves_with_it_and_the_build_given_stays_as_it_was(bay):
    """5 mm forward: of the 20 mm to the rack 15 are left."""
    build = bay()
    there = moved(build, _pose(build) + np.array([0.005, 0, 0, 0, 0, 0]))

    def gap(one):
        return next(pair for pair in clearances(one, 16).pairs if pair.id == "clearance.gap.sump.rack").gap.nominal

    assert gap(there) == pytest.approx(15)
    assert gap(build) == pytest.approx(20)


def test_spreads_and_provenance_stay_as_written(bay):
    build = bay(drivetrain={"z": "400 ± 7 mm, taped"})
    there = moved(build, _pose(build) + np.array([0, 0, 0.01, 0, 0, 0])).parts["drivetrain"]

    assert there.z.written.value == pytest.approx(410)
    assert there.z.written.spread == build.parts["drivetrain"].z.written.spread
    assert there.z.written.provenance == build.parts["drivetrain"].z.written.provenance
    assert there.x.written == build.parts["drivetrain"].x.written


def test_facts_that_stay_are_not_named(bay):
    build = bay()

    assert facts_at(build, _pose(build)) == {"drivetrain": {}}
    assert facts_at(build, _pose(build) + np.array([0, 0, 0.01, 0, 0, 0])) == {"drivetrain": {"z": pytest.approx(0.41)}}
    assert facts_at(read_text("[car]"), np.zeros(6)) == {}


def test_gearbox_output_and_slip_go_with_the_drivetrain(hillclimb):
    """20 mm towards the front: the output is there too, and the slip joint of the shaft is drawn out by nearly as much."""
    facts = facts_at(hillclimb, _pose(hillclimb) + np.array([0.02, 0, 0, 0, 0, 0]))
    gearbox, shaft = hillclimb.parts["gearbox"], hillclimb.parts["prop_shaft"]

    assert facts["gearbox"]["output_x"] == pytest.approx(gearbox.output_x.known.si + 0.02, abs=1e-6)
    assert facts["gearbox"]["output_z"] == pytest.approx(gearbox.output_z.known.si, abs=1e-6)
    for name, sign in (("length", 1), ("slip_gap", 1), ("spline_overlap", -1)):
        assert facts["prop_shaft"][name] == pytest.approx(getattr(shaft, name).known.si + sign * 0.02, abs=1e-4)


def test_what_is_to_be_written_is_read_back_as_that_pose(hillclimb):
    """To the digits that are shown: tenths of a millimetre, hundredths of a degree. Nose up is written above zero."""
    pose = _pose(hillclimb) + np.array([0.004, -0.007, -0.027, 0, -0.033, 0.014])
    text = HILLCLIMB.read_text(encoding="utf-8")
    lines = list(lines_to_write(hillclimb, pose))
    for line in lines:
        path, value = re.fullmatch(r'(\S+) ("[^"]+, computed")', line).groups()
        part, name = path.split(".")
        text, count = re.subn(
            rf"(^\[{part}\]\n(?:(?!\[).*\n)*?{name} = ).*", rf"\g<1>{value}", text, flags=re.MULTILINE
        )
        assert count == 1, path

    assert any(line.startswith("drivetrain.inclination ") for line in lines)
    assert _pose(read_text(text)) == pytest.approx(pose, abs=2e-4)


def test_a_bracket_spans_from_bolt_to_bolt_at_the_pose(bay):
    """The engine's bolt at y 200, z 400 - 50; the car's at y 300: 100 mm across. 30 mm higher it is √(100² + 30²)."""
    build = bay(left_mount=MOUNT)
    (now,) = brackets(build, _pose(build))
    (higher,) = brackets(build, _pose(build) + np.array([0, 0, 0.03, 0, 0, 0]))

    assert (now.mount, now.engine_end_in_car, now.car_end_in_car) == ("left_mount", (100, 200, 350), (100, 300, 350))
    assert now.length == pytest.approx(100)
    assert higher.length == pytest.approx(np.hypot(100, 30))
    assert higher.car_end_in_drivetrain == pytest.approx((100, 300, -80))


def test_a_mount_without_both_bolts_has_no_bracket(bay):
    build = bay(left_mount={**MOUNT, "car_y": None})

    assert list(brackets(build, _pose(build))) == []


def test_another_option_is_picked_and_one_that_is_none_is_refused(hillclimb):
    assert with_picks(hillclimb, {"sump": "sump_shallow"}).choices["sump"].picked == "sump_shallow"
    assert hillclimb.choices["sump"].picked == "sump_deep"
    assert with_picks(hillclimb, {"sump": "sump_deep"}) is hillclimb
    with pytest.raises(BadInput, match="sump_wide"):
        with_picks(hillclimb, {"sump": "sump_wide"})


def test_brackets_are_as_long_in_either_frame(hillclimb):
    found = list(brackets(hillclimb, _pose(hillclimb) + np.array([0.01, -0.005, 0.02, 0.01, 0.03, -0.02])))

    assert found
    for one in found:
        by_car = np.subtract(one.engine_end_in_car, one.car_end_in_car)
        by_group = np.subtract(one.engine_end_in_drivetrain, one.car_end_in_drivetrain)
        assert np.linalg.norm(by_car) == pytest.approx(one.length, abs=0.2)
        assert np.linalg.norm(by_group) == pytest.approx(one.length, abs=0.2)
