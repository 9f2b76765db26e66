"""How gears, torques and sides are put into a sentence or an id.

Answers   gear_names     the gears for ids and in a sentence
          in_state       a load state, gear and event in a sentence
          who_sets_it    the engine or the tyres' grip, and how surely
          torque, ratio  a number with its unit
          share          a share in per cent
          left_out       what was left out, for the reader
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.facts.quantity import RATIO, TORQUE
from trialfit.facts.showing import show
from trialfit.facts.units import display_unit
from trialfit.parts import Car
from trialfit.subjects.torque_path.gears import REVERSE, driven_axle, drives_all, gear_list, has_reverse

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

    from trialfit.book.build import Build
    from trialfit.subjects.torque_path.loads import Sides


_AS_GOOD_AS_ALL = 0.995  # would be shown as 100 %


def gear_names(build: Build) -> tuple[tuple[int, str, str], ...]:
    """Column, name in ids and name in a sentence of each gear; reverse, too, while its ratio is not written: it may be asked for."""
    gears = gear_list(build)
    found = [(column, gear.in_ids, gear.spoken) for column, gear in enumerate(gears)]
    missing = [] if not gears or has_reverse(build) else [(len(gears), REVERSE, REVERSE)]
    return (*found, *missing)


def in_state(build: Build, sides: Sides, column: int) -> str:
    """A state in a sentence: "laden, in 1st gear, dropped clutch"."""
    state = sides.states[column]
    gear = f"in {gear_list(build)[state.gear].spoken}"
    return ", ".join(filter(None, (gear, state.load, state.event)))


def torque(values: ArrayLike) -> str:
    """The nominal of a torque in N·m, as text."""
    return show(float(np.ravel(values)[0]), display_unit(TORQUE))


def ratio(values: ArrayLike, digits: int = 3) -> str:
    """The nominal of a ratio or a factor, as text."""
    return show(float(np.ravel(values)[0]), display_unit(RATIO), digits)


def share(of_draws: float) -> str:
    """A share of the draws, as text."""
    return f"{100 * of_draws:.0f} % of the draws"


def who_sets_it(sides: Sides, column: int) -> str:
    """Which side sets the torque in the gear of that column; with the share of draws where they do not agree."""
    governs = sides.grip_governs[:, column]
    by_grip = bool(governs[0])
    words = "the tyres' grip sets the torque" if by_grip else "the engine sets the torque"
    agreeing = float(np.mean(governs == by_grip))
    return words if agreeing >= _AS_GOOD_AS_ALL else f"{words} (in {share(agreeing)})"


def left_out(build: Build) -> tuple[str, ...]:
    """What every finding of a build leaves out: reverse without a ratio, the split of an all-wheel drive."""
    found = []
    if not has_reverse(build):
        found.append("reverse is left out until its ratio is written")
    if drives_all(build):
        found.append(
            f"all wheels drive and the torque split is unknown: all torque is assumed at the {driven_axle(build)} axle, the worst case"
        )
    car = build.first(Car)
    if car is not None and car.clutch_use is not None:
        found.append(f'a dropped clutch is left out: {car.name}.clutch_use is "{car.clutch_use}"')
    return tuple(found)
