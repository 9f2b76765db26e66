"""Does each formula keep to the range that its paper states: nan outside of it, a value at an end that belongs to it?

The arguments are those of the formula's own example; one of them after the other is put at the ends of its range and past them.
"""

from __future__ import annotations

import contextlib
import dataclasses
import doctest
import importlib
import inspect
import io
import re
from collections.abc import Callable, Iterator
from typing import Any

import numpy as np
import pytest

from trialfit import handbook

UNLIKE = {
    "cooling.coolant.boiling_point-glycol_share": "the printed end is a rounded one: the range is by mass",
    "driveline.axle_travel.outward_at-droop": "the wheel of the example is below ride height",
    "driveline.joint_angle_limits.largest_joint_angle-speed": "the printed ends are rounded ones: the table is in rpm",
    "gearing.acceleration.acceleration_run-speeds": "a target that cannot be reached is an error",
    "gearing.acceleration.acceleration_run-distances": "a target that cannot be reached is an error",
    "lifting.hoisting.centre_of_mass-masses": "all masses are put to 0 together",
    "structure.sections.box-wall": "the share of the wall in the size of the section ends elsewhere",
    "structure.sections.channel-wall": "the share of the wall in the size of the section ends elsewhere",
    "torque_path.along_the_path.half_shaft_share-bias_ratio": "the differential of the example has none",
    "torque_path.clutch.clamp_load_after_wear-clamp_load": "the worn springs of the example hang loose without it",
}
"""What this test leaves to the formula's own tests, and why."""
_NUMBER = r"-?[0-9]+(?:\.[0-9]+)?"
_ROW = re.compile(r"^(?P<names>[a-z]\w*(?:, [a-z]\w*)*)  +\S.*$")
_ABOVE = re.compile(rf"  (?P<sign>[>≥]) (?P<low>{_NUMBER})(?![\w.°·/*])")
_BETWEEN = re.compile(rf"  (?P<low>{_NUMBER}) (?P<sign>[<≤]) [^\s<≤]+ (?P<upper>[<≤]) (?P<high>{_NUMBER})(?![\w.°·/*])")


@dataclasses.dataclass(frozen=True)
class Ranged:
    """A formula, one of its arguments, the values that must give nan and those that must not."""

    formula: Callable[..., Any]
    name: str
    outside: tuple[float, ...]
    inside: tuple[float, ...]


def ranges(formula: Callable[..., Any]) -> Iterator[Ranged]:
    """Every argument whose row states a plain range, in a formula that says it gives nan outside of that."""
    paper = (inspect.getdoc(formula) or "").partition(">>> ")[0]
    if "nan outside" not in paper:
        return
    for line in paper.splitlines():
        row = _ROW.match(line)
        if not row or row["names"] in {"returns", "errors"}:
            continue
        if found := _BETWEEN.search(line):
            low, high = float(found["low"]), float(found["high"])
            ends = [(low, found["sign"] == "≤", low - 0.001), (high, found["upper"] == "≤", high + 0.001)]
        elif found := _ABOVE.search(line):
            low = float(found["low"])
            ends = [(low, found["sign"] == "≥", low - 0.001), (low, found["sign"] == "≥", low - 1.0)]
        else:
            continue
        outside = {past for _, _, past in ends} | {end for end, belongs, _ in ends if not belongs}
        inside = {end for end, belongs, _ in ends if belongs}
        for name in row["names"].split(", "):
            if name in inspect.signature(formula).parameters:
                yield Ranged(formula, name, tuple(sorted(outside)), tuple(sorted(inside)))


def formulas() -> list[Any]:
    """Every public function of the handbook."""
    found = []
    for module in (module for room in handbook.rooms() for module in handbook.modules(room)):
        for name, value in vars(module).items():
            if inspect.isfunction(value) and not name.startswith("_") and value.__module__ == module.__name__:
                where = f"{module.__name__.removeprefix('trialfit.handbook.')}.{name}"
                found += [
                    pytest.param(one, id=f"{where}-{one.name}")
                    for one in ranges(value)
                    if f"{where}-{one.name}" not in UNLIKE
                ]
    return found


def example(formula: Callable[..., Any]) -> dict[str, Any] | None:
    """The arguments of the first call in the formula's example."""
    calls: list[dict[str, Any]] = []

    def watched(*given: Any, **named: Any) -> Any:
        calls.append(dict(inspect.signature(formula).bind(*given, **named).arguments))
        return formula(*given, **named)

    module = importlib.import_module(formula.__module__)
    names = {**vars(module), formula.__name__: watched}
    for part in doctest.DocTestParser().get_examples(inspect.getdoc(formula) or ""):
        with contextlib.redirect_stdout(io.StringIO()):
            exec(compile(part.source, "example", "single"), names)  # noqa: S102 - our own examples
        if calls:
            return calls[0]
    return None


def first(result: Any) -> Any:
    """The floats of a result; of a group of values those of its first one, which the others go with."""
    while dataclasses.is_dataclass(result) or isinstance(result, tuple):
        result = getattr(result, dataclasses.fields(result)[0].name) if dataclasses.is_dataclass(result) else result[0]
    return np.asarray(result, float)


@pytest.mark.parametrize("ranged", formulas())
def test_a_formula_gives_nan_outside_the_range_of_its_paper_and_a_value_at_its_ends(ranged: Ranged) -> None:
    given = example(ranged.formula)
    assert given is not None, "its example does not call it"
    if ranged.name not in given:
        given[ranged.name] = inspect.signature(ranged.formula).parameters[ranged.name].default
    shape = np.shape(given[ranged.name])

    for value in ranged.outside:
        assert np.isnan(first(ranged.formula(**{**given, ranged.name: np.full(shape, value)[()]}))).all(), value
    for value in ranged.inside:
        assert not np.isnan(first(ranged.formula(**{**given, ranged.name: np.full(shape, value)[()]}))).any(), value
