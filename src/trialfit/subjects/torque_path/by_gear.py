"""The torque at each place in each gear, and whether the engine or the tyres set it: figures for a table.

Answers   requirements   torque_path.steady.PLACE.GEAR, torque_path.shock.PLACE.GEAR with the places gearbox_input,
                         prop_shaft, axle, wheel; torque_path.grip_governs.LOAD.GEAR
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.requirement import Requirement, Stake
from trialfit.evaluation.states import InStates
from trialfit.facts.quantity import SHARE, TORQUE
from trialfit.handbook.torque_path.along_the_path import governing
from trialfit.parts import Gearbox
from trialfit.subjects.shaft_line import find_line
from trialfit.subjects.torque_path import loads, sentences
from trialfit.subjects.torque_path.behind import ALL, torque_formulas
from trialfit.subjects.torque_path.element import SUBJECT
from trialfit.subjects.torque_path.events import Load
from trialfit.subjects.torque_path.gears import driven_axle, gear_list
from trialfit.subjects.torque_path.loads import at, state_names

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.subjects.torque_path.behind import Formulas
    from trialfit.subjects.torque_path.loads import Sides

    Place = Callable[[Evaluation], Sides]

_CALLED = {Load.steady: "full torque", Load.shock: "shock torque"}


def requirements(build: Build) -> Iterator[Requirement]:
    """One figure per load, place and gear; none for a build without gears."""
    gearbox = build.first(Gearbox)
    if gearbox is None:
        return
    for column, gear, spoken in sentences.gear_names(build):
        for load in (Load.steady, Load.shock):
            for place, (where, sides) in _places(build, load).items():
                yield Requirement(
                    id=f"{SUBJECT}.{load}.{place}.{gear}",
                    about=gearbox.name,
                    says=f"{_CALLED[load]} {where} in {spoken}",
                    value=partial(_seen, sides=sides, column=column),
                    quantity=TORQUE,
                    stake=Stake.durability,
                    formulas=_formulas(build, load, place),
                    shows=partial(_who, sides=sides, column=column),
                )
            yield Requirement(
                id=f"{SUBJECT}.grip_governs.{load}.{gear}",
                about=gearbox.name,
                says=f"share of the draws in which the tyres' grip, not the engine, sets the {_CALLED[load]} in {spoken}",
                value=partial(_grip_share, sides=at(loads.axle, load, driven_axle(build)), column=column),
                quantity=SHARE,
                stake=Stake.durability,
                formulas=(*torque_formulas(build, load), governing),
            )


def _places(build: Build, load: Load) -> dict[str, tuple[str, Place]]:
    """The places of the line by their name in ids: how each is called, and both sides there."""
    end = driven_axle(build)
    found: dict[str, tuple[str, Place]] = {"gearbox_input": ("at the gearbox's input", at(loads.gearbox_input, load))}
    if find_line(build) is not None:
        found["prop_shaft"] = ("in the prop shaft", at(loads.pinion, load))
    found["axle"] = (f"at the {end} axle", at(loads.axle, load, end))
    found["wheel"] = (f"at one {end} wheel", at(loads.wheel, load, end))
    return found


def _formulas(build: Build, load: Load, place: str) -> Formulas:
    return torque_formulas(build, load, ALL if place == "gearbox_input" else "", at_wheel=place == "wheel")


def _in_gear(ev: Evaluation, sides: Place, column: int) -> Sides:
    """The states of one gear; reverse is the one gear that may be asked for while its ratio is not written."""
    if column == len(gear_list(ev.build)):
        ev(ev.part(Gearbox).reverse_ratio)
    return sides(ev).only(column)


def _seen(ev: Evaluation, sides: Place, column: int) -> InStates:
    found = _in_gear(ev, sides, column)
    return InStates(found.seen, state_names(ev.build, found.states))


def _who(ev: Evaluation, sides: Place, column: int) -> str:
    found = sides(ev).only(column)
    return sentences.who_sets_it(found, int(np.argmax(found.seen[0])))


def _grip_share(ev: Evaluation, sides: Place, column: int) -> float:
    found = _in_gear(ev, sides, column)
    governs = found.grip_governs[:, int(np.argmax(found.seen[0]))]
    return float(np.mean(governs[1:] if governs.size > 1 else governs))
