"""Loads on one eye or on two that let them turn, each bad build beside its mended twin."""

from __future__ import annotations

import pytest

from trialfit.book import read_text
from trialfit.evaluation.evaluation import Evaluation
from trialfit.evaluation.finding import Finding
from trialfit.evaluation.requirement import Stake
from trialfit.evaluation.verdict import Verdict
from trialfit.evaluation.working import work_out
from trialfit.parts import Lift
from trialfit.subjects.lifting import requirements
from trialfit.subjects.lifting.hoisting import hook_wanted, tilt

LOAD = """
[unit]
kind = "mass_part"
mass = "200 kg, weighed"
x = "-0.1 m, taped"
y = "{aside} m, taped"
z = "0.5 m, taped"
hoisted_by = "out"
[out]
kind = "lift"
hook_x = "-0.1 m, taped"
hook_y = "0 m, taped"
hook_z = "1.3 m, taped"
"""


def found(eyes: tuple[tuple[float, float], ...], *which: str, aside: float = 0.0) -> tuple[Finding, ...]:
    """Findings of a load of 200 kg on eyes 0.3 m above its centre."""
    text = LOAD.format(aside=aside)
    for number, (x, y) in enumerate(eyes):
        text += f'[leg{number}]\nkind = "sling_leg"\neye_x = "{x} m, taped"\neye_y = "{y} m, taped"\neye_z = "0.8 m, taped"\n'
    build = read_text(text)
    wanted = {f"lifting.{one}.out" for one in which}
    report = work_out(Evaluation(build, 256), [one for one in requirements(build) if one.id in wanted])
    return tuple(report[f"lifting.{one}.out"] for one in which)


def test_two_eyes_abreast_let_the_load_dip() -> None:
    """Both 0.3 m ahead of the centre and above it: the rear end falls to 45°. With eyes in front and behind it stays level."""
    (dips,) = found(((0.2, 0.25), (0.2, -0.25)), "tilt")
    (level,) = found(((0.2, 0), (-0.4, 0)), "tilt")

    assert dips.verdict is Verdict.fails
    assert dips.stake is Stake.safety
    assert dips.value.nominal == pytest.approx(45)
    assert "hangs 45°, rear end low: the load turns about its eyes" in dips.remark
    assert "left and right the load turns, wherever the hook is" in dips.cure
    assert level.verdict is Verdict.holds


def test_two_eyes_in_line_let_the_load_roll() -> None:
    """Centre of mass 0.1 m aside of them, 0.3 m below: 18.4° across; in the middle level."""
    (rolls,) = found(((0.2, 0), (-0.4, 0)), "side_tilt", aside=0.1)
    (level,) = found(((0.2, 0), (-0.4, 0)), "side_tilt")

    assert rolls.verdict is Verdict.fails
    assert rolls.value.nominal == pytest.approx(18.435, abs=0.01)
    assert "left side low" in rolls.remark
    assert "three or four eyes" in rolls.cure
    assert level.verdict is Verdict.holds


def test_one_eye_turns_the_load_until_its_centre_is_below() -> None:
    """0.3 m ahead: 45°; right above it: level."""
    (dips,) = found(((0.2, 0),), "tilt")
    (level,) = found(((-0.1, 0),), "tilt")

    assert dips.verdict is Verdict.fails
    assert dips.value.nominal == pytest.approx(45)
    assert level.verdict is Verdict.holds


def test_the_hook_that_the_figure_names_hangs_a_load_on_two_eyes_aslant_level() -> None:
    """Two eyes from corner to corner, the hook 60 mm off: at the place of the figure it hangs level along the car."""
    text = LOAD.format(aside=0.02).replace('hook_x = "-0.1 m', 'hook_x = "{} m')
    for number, (x, y) in enumerate(((0.2, 0.1), (-0.35, -0.1))):
        text += f'[leg{number}]\nkind = "sling_leg"\neye_x = "{x} m, taped"\neye_y = "{y} m, taped"\neye_z = "0.8 m, taped"\n'
    build = read_text(text.format(-0.04))
    (lift,) = build.all(Lift)
    wanted = float(hook_wanted(Evaluation(build, 4), lift)[0])
    there = read_text(text.format(wanted))

    assert abs(float(tilt(Evaluation(build, 4), lift)[0])) > 0.05
    assert float(tilt(Evaluation(there, 4), there.first(Lift))[0]) == pytest.approx(0, abs=1e-6)
