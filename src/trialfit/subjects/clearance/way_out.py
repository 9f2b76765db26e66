"""The way in and out on the hoist: the drivetrain past everything that stays on the car.

Answers   requirements    hoist
          path_of         the path that was found: how far forward, and how much it is tilted, in the first third of the lift
          Path            these two
Not here  gaps at rest (gaps.py); whether the sling holds (lifting)
Method    Straight up is tried first. Where that does not pass, paths are searched that go forward or back and tilt while they rise
          through the first third and then go straight up: the one with the widest narrowest place at the nominal, sampled, is
          judged by draws. Another path may pass too. A path that is found does not prove that there is room for hands.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import Evaluation, MissingFact
from trialfit.evaluation.requirement import COMMON_PRACTICE, AtLeast, Requirement, Stake
from trialfit.facts.quantity import LENGTH
from trialfit.parts import Drivetrain
from trialfit.placement.draws import gap_draws, nominal_gap
from trialfit.placement.pose import turn_of
from trialfit.subjects.clearance.gaps import HANGING, narrowest_way
from trialfit.subjects.clearance.moving import drawn_solid
from trialfit.subjects.clearance.pairs import are_joined
from trialfit.subjects.clearance.shapes import group, on_a_way, surroundings
from trialfit.subjects.placed import pose_now

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.handbook.arrays import Array
    from trialfit.parts import Solid
    from trialfit.placement.drawn import Drawn


ENOUGH = 0.010
STEP, COARSE = 0.02, 0.05
FORWARD = (0.0, 0.1, 0.2, 0.3, -0.1)
TILTS = (0.0, -10.0, 10.0, -20.0, 20.0)
_FIRST_PART = 1 / 3


@dataclass(frozen=True)
class Path:
    """How far forward, m, and how far its nose is up, rad, when a third of the lift is done."""

    forward: float = 0.0
    nose_up: float = 0.0

    def steps(self, lift: float, step: float) -> tuple[Array, Array]:
        """Turns (n, 3, 3) and shifts (n, 3) in the car's axes."""
        count = max(int(np.ceil(lift / step)), 1)
        done = np.arange(count + 1) / count
        early = np.minimum(done / _FIRST_PART, 1.0)
        shifts = np.stack([self.forward * early, 0 * done, lift * done], axis=-1)
        return turn_of(0 * early, -self.nose_up * early, 0 * early), shifts

    def __str__(self) -> str:
        """In words."""
        words = []
        if self.forward:
            words.append(f"{abs(self.forward) * 1000:.0f} mm {'forward' if self.forward > 0 else 'back'}")
        if self.nose_up:
            words.append(f"nose {'up' if self.nose_up > 0 else 'down'} by {abs(np.degrees(self.nose_up)):.0f}°")
        return (
            f"{' and '.join(words)} while it rises through the first third, then straight up"
            if words
            else "straight up"
        )


def requirements(build: Build) -> Iterator[Requirement]:
    """The way on the hoist, where the builder says how far it must be lifted."""
    drivetrain = build.first(Drivetrain)
    if drivetrain is None or drivetrain.removal_height.written is None:
        return
    yield Requirement(
        id="clearance.hoist",
        about=drivetrain.name,
        says="the drivetrain goes in and out on the hoist: the smallest gap on the best path found, checked every 20 "
        "mm, removable parts taken off",
        value=narrowest,
        quantity=LENGTH,
        stake=Stake.comfort,
        limit=AtLeast(ENOUGH),
        source=COMMON_PRACTICE,
        formulas=(gap_draws,),
        shows=lambda ev: f"the way out is {ev.of(path_of)}",
        caution=HANGING,
    )


def narrowest(ev: Evaluation) -> Array:
    """The smallest gap of any solid of the drivetrain on its way to what stays on the car, (draws,), m."""
    path, staying = ev.of(path_of), _staying(ev)
    gaps = [narrowest_way(ev, one, _on_the_way(ev, one, path, STEP), staying, ENOUGH) for one in _hung(ev)]
    return np.asarray(np.min(gaps, axis=0))


def path_of(ev: Evaluation) -> Path:
    """The path with the widest narrowest place at the nominal, of those that are tried; straight up where that passes. Raises MissingFact."""
    nominal = Evaluation(ev.build, 1)
    best, widest = Path(), _width(nominal, Path(), -np.inf)
    for forward, degrees in product(FORWARD, TILTS):
        if widest >= ENOUGH:
            break
        path = Path(forward, float(np.radians(degrees)))
        width = _width(nominal, path, widest)
        if width > widest:
            best, widest = path, width
    return best


def _width(nominal: Evaluation, path: Path, least: float) -> float:
    """The narrowest place of a path at the nominal, m; no more is looked at once it is below `least`."""
    found = np.inf
    staying = [(other, nominal.of(drawn_solid, other)) for other in _staying(nominal)]
    for one in _hung(nominal):
        way = _on_the_way(nominal, one, path, COARSE)
        for other, shape in staying:
            if not are_joined(nominal.build, one, other):
                found = min(found, nominal_gap(way, shape, found))
                if found <= least:
                    return found
    return found


def _hung(ev: Evaluation) -> list[Solid]:
    hung = [solid for solid in group(ev.build) if solid.neighbour != "access"]
    if not hung:
        raise MissingFact({"solid": 'no solid with fixed_to = "drivetrain" is written'})
    return hung


def _staying(ev: Evaluation) -> tuple[Solid, ...]:
    return tuple(other for other in surroundings(ev.build) if other.taken_off != "yes")


def _on_the_way(ev: Evaluation, solid: Solid, path: Path, step: float) -> Drawn:
    """A solid at every step of a path, in the car's axes: turned about the measuring point of the drivetrain, then shifted."""
    lift = float(ev(ev.part(Drivetrain).removal_height)[0])
    return on_a_way(ev, solid, *path.steps(lift, step), pose=ev.of(pose_now))
