"""`why` lists the formulas that were used for this build, no more and no fewer: the calls are watched."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from types import CodeType, FrameType

import pytest

from trialfit.book import Build, read_text
from trialfit.evaluation.evaluation import Evaluation
from trialfit.evaluation.requirement import Between, Requirement
from trialfit.subjects.catalogue import evaluate, requirements

DEMOS = Path(__file__).parents[3] / "demos"
WATCHED = (
    "torque_path.along_the_path",
    "gearing.traction",
    "gearing.axle_grip",
    "torque_path.wheel_joint",
    "torque_path.torsion",
    "torque_path.clutch",
)
"""The handbook modules whose formulas make a torque or what carries it."""


@contextmanager
def calls_of(called: set[CodeType], modules: tuple[str, ...]) -> Iterator[None]:
    """Notes which functions of these handbook modules the subjects call themselves."""

    def watch(frame: FrameType, event: str, _: object) -> None:
        caller = frame.f_back.f_globals.get("__name__", "") if frame.f_back else ""
        module = frame.f_globals.get("__name__", "")
        if event == "call" and caller.startswith("trialfit.subjects") and module in modules:
            called.add(frame.f_code)

    sys.setprofile(watch)
    try:
        yield
    finally:
        sys.setprofile(None)


def used(build: Build, one: Requirement, watched: tuple[str, ...]) -> set[str]:
    """The formulas that working the requirement out calls, in an evaluation of its own."""
    called: set[CodeType] = set()
    ev = Evaluation(build, 2)
    bounds = () if one.limit is None or isinstance(one.limit, Between) else (one.limit.bound,)
    with calls_of(called, tuple(f"trialfit.handbook.{name}" for name in watched)):
        for work in (one.value, *bounds):
            if callable(work):
                work(ev)
    return {code.co_name for code in called}


def listed(one: Requirement, watched: tuple[str, ...]) -> set[str]:
    """The formulas that stand under it, of the modules watched."""
    return {
        formula.__name__ for formula in one.formulas if formula.__module__.removeprefix("trialfit.handbook.") in watched
    }


def demo(name: str, *changes: tuple[str, str]) -> Build:
    """A demo build with lines of it exchanged."""
    text = (DEMOS / f"{name}.toml").read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    return read_text(text)


REAR = 'driven_axle = "rear"'
BUILDS = {
    "independent": lambda: demo("hillclimb"),
    "live axle, open": lambda: demo("pickup"),
    "live axle, limited slip": lambda: demo("pickup", ('differential = "open"', 'differential = "limited slip"')),
    "all wheels": lambda: demo("hillclimb", (REAR, 'driven_axle = "all"')),
    "no reverse, no track": lambda: demo("hillclimb", ("reverse_ratio", "# "), ("rear_track", "# ")),
}


@pytest.mark.parametrize("name", BUILDS)
def test_every_torque_lists_the_formulas_that_it_was_worked_out_by(name):
    """Grip forward and in reverse, the share of one wheel, the clutch: by the build, not by habit."""
    make: Callable[[], Build] = BUILDS[name]
    build = make()
    known = _known(build)
    pairs = {
        one.id: (listed(one, WATCHED), used(build, one, WATCHED))
        for one in requirements(build, ("torque_path",))
        if one.id in known and one.id != "torque_path.weakest"  # it takes those of all elements
    }

    assert len(pairs) > 50
    assert {key: pair for key, pair in pairs.items() if pair[0] != pair[1]} == {}


@pytest.mark.parametrize(("name", "moves"), [("hillclimb", False), ("pickup", True)])
def test_only_a_live_axle_moves_the_pinion_under_the_slip_joint(name, moves):
    build = demo(name)
    slips = [one for one in requirements(build, ("driveline",)) if one.id.startswith("driveline.slip.")]

    assert slips
    for one in slips:
        names = {formula.__name__ for formula in one.formulas}
        assert ("pinion_joint_moved" in names) is moves, one.id


def _known(build: Build) -> set[str]:
    report = evaluate(build, 2, ("torque_path",))
    return {one.id for one in (*report.findings, *report.figures) if one.value is not None}
