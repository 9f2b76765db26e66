"""The place of a finding on the car: from the finding to its part, from the part to its place.

Answers   places_of    the place of every part that has one
          place_of     the place of a finding; None if it has none
Not here  what is drawn there (scene.py)

A part without points of its own has the place of the part it belongs to: a weld that of its bracket, a bolted joint that of
the mount that it carries.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.parts import Car, Clutch, Drivetrain, Engine, Hub, Lift, SlingLeg, Solid, Stands, Tyre
from trialfit.parts.declaring import RefSpec
from trialfit.parts.fact_refs import FactRef

if TYPE_CHECKING:
    from collections.abc import Mapping

    from trialfit.book.build import Build
    from trialfit.drawing.arrangement.scene import Place, Scene
    from trialfit.evaluation.finding import Finding
    from trialfit.parts import Part

_TRIPLES = (("x", "y", "z"), ("car_x", "car_y", "car_z"))
_HOPS = 3
_HANGING = (Lift, SlingLeg, Stands)  # in the workshop, not on the car


def places_of(build: Build, scene: Scene) -> dict[str, Place]:
    """The places by the name of the part, m."""
    found: dict[str, Place] = {body.name: body.middle for body in scene.bodies}
    for shaft in scene.shafts:
        found[shaft.name] = _between(shaft.start, shaft.end)
    for stub in scene.stubs:
        found[stub.name] = _between(stub.start, stub.end)
    found |= {wheel.name: wheel.middle for wheel in scene.wheels}
    for part in build.parts.values():
        if part.name not in found and not isinstance(part, _HANGING):
            at = _of_kind(part, scene) or _written(part)
            if at is not None:
                found[part.name] = at
    for part in build.parts.values():
        if part.name not in found and not isinstance(part, _HANGING):
            at = _by_reference(build, part, found)
            if at is not None:
                found[part.name] = at
    return found


def place_of(finding: Finding, scene: Scene, places: Mapping[str, Place]) -> Place | None:
    """The place of the joint that its id names, else of the part that the finding is about."""
    which = finding.id.split(".")[-1]
    joint = next((joint for joint in scene.joints if joint.name == which), None)
    if joint is not None and finding.subject in ("driveline", "torque_path"):
        return joint.at
    return places.get(finding.about)


def _of_kind(part: Part, scene: Scene) -> Place | None:
    if isinstance(part, Car):
        return scene.mass_centre
    if isinstance(part, Drivetrain | Engine | Clutch):
        return scene.measuring_point
    if isinstance(part, Hub | Tyre) and scene.wheelbase:
        axle = str(part.axle)
        height = next((wheel.radius for wheel in scene.wheels), None)
        side = scene.tracks.get(axle, 0.0) / 2
        return None if height is None else (0.0 if axle == "front" else -scene.wheelbase, side, height)
    return None


def _written(part: Part) -> Place | None:
    if isinstance(part, Solid) and part.fixed_to == "drivetrain":
        return None  # in the drivetrain's axes, and the place of the drivetrain is not known
    for names in _TRIPLES:
        refs = [getattr(part, name, None) for name in names]
        facts = [ref.known for ref in refs if isinstance(ref, FactRef)]
        if len(facts) == len(names) and all(fact is not None for fact in facts):
            return _place([fact.si for fact in facts if fact is not None])
    return None


def _place(values: list[float]) -> Place:
    x, y, z = values
    return x, y, z


def _by_reference(build: Build, part: Part, found: Mapping[str, Place]) -> Place | None:
    seen = {part.name}
    edge = [part]
    for _ in range(_HOPS):
        named = [
            other
            for one in edge
            for name, spec in one.specs().items()
            if isinstance(spec, RefSpec) and (other := build.named(getattr(one, name))) is not None
        ]
        for other in named:
            if other.name in found:
                return found[other.name]
        edge = [other for other in named if other.name not in seen]
        seen |= {other.name for other in edge}
    return None


def _between(start: Place, end: Place) -> Place:
    return (start[0] + end[0]) / 2, (start[1] + end[1]) / 2, (start[2] + end[2]) / 2
