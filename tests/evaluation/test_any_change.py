"""Whatever is changed in whatever build: what an evaluation keeps gives the report that a new start gives."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from changing import changed, told_apart
from hypothesis import given, settings
from hypothesis import strategies as st
from thorough import some

import trialfit as tf
from trialfit.book import Build, read_text
from trialfit.evaluation.evaluation import Evaluation
from trialfit.evaluation.finding import Report
from trialfit.evaluation.working import work_out
from trialfit.subjects.catalogue import evaluate, requirements

DEMOS = Path(__file__).parents[2] / "demos"
SMALL = """
[engine]
torque_curve = "rpm : N·m | 1000 : 210 | 3500 : 265 | 6000 : 230"
max_speed = "6500 rpm"
[clutch]
rated_torque = "400 N·m, catalogue"
[gearbox]
ratios = ["3.63", "2.36", "1.69", "1.31", "1.00"]
rated_torque = "370 N·m, catalogue"
[axle]
kind = "final_drive"
ratio = "3.73"
[car]
mass = "960 ± 20 kg, weighed"
wheelbase = "2.40 m, taped"
rear_axle_mass = "480 kg, weighed"
[shaft]
kind = "prop_shaft"
after = "gearbox"
length = "1.32 m, taped"
tube_outside_diameter = "76.2 mm, calipered"
[limit]
"driveline.whirl.shaft" = "0.65, manual"
"""


def reported(ev: Evaluation) -> Report:
    return work_out(ev, requirements(ev.build), most=1)


def assert_nothing_stale(build: Build, random, *, changes: int) -> None:
    """Changes the build one time after the other, and compares each report with that of a new start."""
    ev = Evaluation(build, 4)
    report, document = reported(ev), build.document
    names = [one.id for one in (*report.findings, *report.figures)]
    for _ in range(changes):
        new = changed(document, random, names)
        made, problems = Build.from_document(new)
        if not problems:
            made = replace(made, folder=build.folder)
            try:
                anew = reported(Evaluation(made, 4))
            except ValueError:  # a limit of another quantity
                continue
            ev, document = ev.after(made), new
            assert told_apart(reported(ev), anew) == []


@settings(max_examples=some(60))
@given(random=st.randoms(use_true_random=False))
def test_a_small_build_after_any_changes_is_that_of_a_new_start(random) -> None:
    assert_nothing_stale(read_text(SMALL), random, changes=4)


@pytest.mark.parametrize("demo", ["hillclimb", "pickup", "electric", "automatic"])
@settings(max_examples=some(10))
@given(random=st.randoms(use_true_random=False))
def test_a_demo_after_any_changes_is_that_of_a_new_start(demo, random) -> None:
    assert_nothing_stale(tf.read(DEMOS / f"{demo}.toml"), random, changes=1)


def test_a_report_of_a_changed_build_is_that_of_evaluate() -> None:
    """And most of it is kept: one mass of the axle concerns what it carries and no gap, no thread, no sender."""
    build = read_text(SMALL)
    heavier = read_text(SMALL.replace("480 kg", "520 kg"))
    ev = Evaluation(build, 256)
    first = evaluate(build, evaluation=ev)
    second = evaluate(heavier, evaluation=ev.after(heavier))

    assert told_apart(second, evaluate(heavier, 256)) == []
    kept = [one.id for one in second.findings if any(one is other for other in first.findings)]
    assert 0 < len(kept) < len(second.findings)
    assert "driveline.whirl.shaft" in kept
