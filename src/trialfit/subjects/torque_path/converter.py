"""The torque converter in front of an automatic gearbox: what engine it is made for.

Answers   elements        torque_path.converter
          requirements    the figures torque_path.stall_speed, torque_path.multiplied_torque
Not here  where these come from (multiplying.py); its slip heat and oil cooler (cooling)
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.requirement import AtMost, Requirement, Stake
from trialfit.facts.quantity import ROTATIONAL_SPEED, TORQUE
from trialfit.parts import TorqueConverter
from trialfit.subjects import line
from trialfit.subjects.torque_path.element import SUBJECT, Element, lacking, rating_source
from trialfit.subjects.torque_path.multiplying import FORMULAS, multiplied, stall_speed

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array


def elements(build: Build) -> Iterator[Element]:
    """The converter against the engine that it is made for."""
    converter = build.first(TorqueConverter)
    if converter is None:
        return
    requirement = Requirement(
        id=f"{SUBJECT}.converter",
        about=converter.name,
        says="the engine's peak torque stays within what the torque converter is made for",
        value=lambda ev: ev.of(line.peak_torque),
        quantity=TORQUE,
        stake=Stake.durability,
        limit=AtMost(lambda ev: ev(ev.part(TorqueConverter).rated_torque)),
        source=rating_source(converter.rated_torque),
        cure="Fit a converter made for that torque.",
    )
    yield Element(requirement, "the torque converter", reserve, lacking(converter.rated_torque))


def requirements(build: Build) -> Iterator[Requirement]:
    """Stall speed behind this engine, and the torque that leaves it."""
    converter = build.first(TorqueConverter)
    if converter is None:
        return
    yield Requirement(
        id=f"{SUBJECT}.stall_speed",
        about=converter.name,
        says="engine speed at full throttle with the output of the torque converter held still",
        value=stall_speed,
        quantity=ROTATIONAL_SPEED,
        stake=Stake.durability,
        formulas=FORMULAS[1:],
    )
    yield Requirement(
        id=f"{SUBJECT}.multiplied_torque",
        about=converter.name,
        says="most torque that leaves the torque converter",
        value=multiplied,
        quantity=TORQUE,
        stake=Stake.durability,
        formulas=FORMULAS,
    )


def reserve(ev: Evaluation) -> Array:
    """Rating over peak torque."""
    return np.asarray(ev(ev.part(TorqueConverter).rated_torque) / ev.of(line.peak_torque))
