"""A build with its drivetrain at another pose, or with other options picked, and what to write and cut for it.

Answers   with_picks       the build with other options picked
          moved            the build with its drivetrain, and gearbox output and slip with it, at another pose
          facts_at         the facts that change with the pose
          brackets         the mounts there, from bolt to bolt, in both axes
          lines_to_write   what to write into the build to take the pose
Not here  where it sits best (placing.py)
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from trialfit.advice.placement_shapes import Bracket
from trialfit.book.build import Build
from trialfit.book.problems import BadInput
from trialfit.evaluation.evaluation import Evaluation, MissingFact
from trialfit.facts.quantity import ANGLE, LENGTH
from trialfit.facts.showing import plain
from trialfit.facts.units import display_unit, from_si
from trialfit.parts import Drivetrain, Gearbox, Mount
from trialfit.placement.pose import to_car, to_group
from trialfit.subjects.clearance.placing import COORDINATES, SIGNS
from trialfit.subjects.clearance.shaft_joints import output_at, shaft_at
from trialfit.subjects.placed import nominal_slope, pose_now

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from trialfit.facts.fact import Fact
    from trialfit.handbook.arrays import Array
    from trialfit.parts.declaring import Part, Value


def with_picks(build: Build, picks: Mapping[str, str]) -> Build:
    """The build with other options picked. Raises BadInput where that is not sound."""
    if all(build.choices[name].picked == option for name, option in picks.items()):
        return build
    choices = {
        name: choice.model_copy(update={"picked": picks.get(name, choice.picked)})
        for name, choice in build.choices.items()
    }
    changed, problems = Build.from_document(build.document.model_copy(update={"choices": choices}))
    if problems:
        raise BadInput(f"{build.name} with {', '.join(picks.values())}", problems)
    return changed


def moved(build: Build, pose: Array) -> Build:
    """The build with its drivetrain at a pose, the gearbox output where that puts it, and the slip joint drawn out by as much; spreads stay as written."""
    facts = facts_at(build, pose)
    parts = dict(build.parts)
    for name, values in facts.items():
        part = parts[name]
        parts[name] = type(part)(
            name, {**part.values, **{key: _with(build, part, key, value) for key, value in values.items()}}
        )
    return replace(build, parts=parts)


def facts_at(build: Build, pose: Array) -> dict[str, dict[str, float]]:
    """The facts that change with the pose, SI, by part and name."""
    drivetrain, gearbox = build.first(Drivetrain), build.first(Gearbox)
    if drivetrain is None:
        return {}
    ev = Evaluation(build, 1)
    now = dict(zip(COORDINATES, (ev.of(pose_now)[0] * SIGNS).tolist(), strict=True))
    there = dict(zip(COORDINATES, (pose * SIGNS).tolist(), strict=True))
    found = {drivetrain.name: {name: value for name, value in there.items() if abs(value - now[name]) > 1e-9}}  # noqa: PLR2004 - rounding
    if gearbox is not None:
        try:
            found[gearbox.name] = output_at(ev, pose)
            shaft, facts = shaft_at(ev, pose)
        except MissingFact:
            return found
        found[shaft] = facts
    return found


def _with(build: Build, part: Part, key: str, value: float) -> Value:
    """The fact with another value; an inclination that was gauged as a gauge would show it there, with the slope of the floor."""
    ref = getattr(part, key)
    fact: Fact = ref.known
    return replace(fact, value=float(from_si(value + nominal_slope(build, ref), fact.unit)))


def brackets(build: Build, pose: Array) -> Iterator[Bracket]:
    """Every mount whose two bolts are known, with its ends at a pose."""
    ev = Evaluation(build, 1)
    for mount in build.all(Mount):
        try:
            engine = np.array([ev(ref)[0] for ref in (mount.engine_x, mount.engine_y, mount.engine_z)])
            car = np.array([ev(ref)[0] for ref in (mount.car_x, mount.car_y, mount.car_z)])
        except MissingFact:
            continue
        there, back = to_car(pose, engine[None])[0], to_group(pose, car[None])[0]
        yield Bracket(
            mount=mount.name,
            engine_end_in_car=_mm(there),
            car_end_in_car=_mm(car),
            engine_end_in_drivetrain=_mm(engine),
            car_end_in_drivetrain=_mm(back),
            length=float(np.linalg.norm(there - car) * 1000),
        )


def _mm(point: Array) -> tuple[float, float, float]:
    x, y, z = (round(float(value) * 1000, 1) for value in point)
    return x, y, z


def lines_to_write(build: Build, pose: Array) -> Iterator[str]:
    """Path and value of every fact that the pose changes."""
    for name, values in facts_at(build, pose).items():
        for key, value in values.items():
            unit = display_unit(ANGLE if key.endswith(("inclination", "heading", "roll")) else LENGTH)
            digits = 2 if unit.quantity == ANGLE.name else 1
            yield f'{name}.{key} "{plain(float(from_si(value, unit)), digits)} {"deg" if digits == 2 else "mm"}, computed"'  # noqa: PLR2004
