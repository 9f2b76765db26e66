"""Tyres: do they bear the axle in its heaviest state, and the speed that the car reaches.

Answers   requirements   tyre_load.AXLE, tyre_speed.AXLE for each axle whose tyres are written
Not here  the distance that they roll (../line.py)
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.evaluation.requirement import AtMost, Requirement, Source, SourceKind, Stake
from trialfit.evaluation.states import InStates
from trialfit.facts.quantity import MASS, SHARE, SPEED
from trialfit.facts.showing import show
from trialfit.facts.units import display_unit
from trialfit.handbook.gearing.tyre_ratings import load_capacity, load_share, rated_speed
from trialfit.parts import Tyre
from trialfit.subjects import line, load_states

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array

SOURCE = Source("ISO 4000-1, load index and speed symbol", SourceKind.from_memory)
_SLOWEST_LOSS = rated_speed("H")
"""Up to here every tyre bears the load by its index, m/s."""

_BURSTS = (
    "a tyre that is overloaded, soft or too fast bursts: the pressure by its maker's table for this load; the car's papers and the "
    "certifier decide which tyres may be fitted"
)


def requirements(build: Build) -> Iterator[Requirement]:
    """Load and speed of the tyres of each axle."""
    for tyre in build.all(Tyre):
        yield Requirement(
            id=f"gearing.tyre_load.{tyre.axle}",
            about=tyre.name,
            says=f"both {tyre.axle} tyres together bear their axle, loaded, at the speed the car reaches",
            value=partial(_axle_load, tyre=tyre),
            quantity=MASS,
            stake=Stake.safety,
            limit=AtMost(partial(_capacity, tyre=tyre)),
            source=SOURCE,
            formulas=(load_capacity, load_share),
            shows=partial(_index_shown, tyre=tyre),
            caution=_BURSTS,
            cure="Fit tyres of a higher load index (reinforced, XL), inflated as their maker's table says for the load, or carry "
            "less: laden_mass is what the car may weigh.",
        )
        yield Requirement(
            id=f"gearing.tyre_speed.{tyre.axle}",
            about=tyre.name,
            says=f"the {tyre.axle} tyres are made for the speed the car reaches",
            value=_speed,
            quantity=SPEED,
            stake=Stake.safety,
            limit=AtMost(partial(_rated, tyre=tyre)),
            source=SOURCE,
            formulas=(rated_speed,),
            caution=_BURSTS,
            cure="Fit tyres with a higher speed symbol, or a lower limiter or a shorter final drive, so that the car cannot go faster.",
        )


def _speed(ev: Evaluation) -> Array:
    return ev.of(line.highest_speed_reached)


def _rated(_ev: Evaluation, tyre: Tyre) -> float:
    return float(rated_speed(_symbol(tyre)))


def _axle_load(ev: Evaluation, tyre: Tyre) -> InStates:
    return load_states.axle_mass(ev, "front" if tyre.axle == "front" else "rear")


def _capacity(ev: Evaluation, tyre: Tyre) -> InStates:
    """What two tyres bear in each load state, kg. Nobody tows at full speed: with a trailer the load by the index counts."""
    service = tyre.service
    if service is None:
        raise MissingFact({f"{tyre.name}.load_index": Tyre.load_index.says})
    names = load_states.names(ev.build)
    both = 2 * load_capacity(service.index)
    share = np.asarray(_share(ev, tyre))
    return InStates(
        np.stack([both * (np.ones(ev.draws) if one == load_states.TOWING else share) for one in names], -1), names
    )


def _share(ev: Evaluation, tyre: Tyre) -> Array:
    """Share of the load that it bears at the car's speed; at the rated speed where the car is faster: the speed fails then."""
    speed = _speed(ev)
    if not tyre.speed_rating and speed.max() <= _SLOWEST_LOSS:
        return np.ones(ev.draws)
    symbol = _symbol(tyre)
    return np.asarray(load_share(np.minimum(speed, rated_speed(symbol)), symbol))


def _symbol(tyre: Tyre) -> str:
    if tyre.speed_rating is None:
        raise MissingFact({f"{tyre.name}.speed_symbol": Tyre.speed_symbol.says})
    return tyre.speed_rating


def _index_shown(ev: Evaluation, tyre: Tyre) -> str:
    index = tyre.service.index if tyre.service else 0
    share = float(_share(ev, tyre)[0])
    load = show(load_capacity(index), display_unit(MASS))
    at_speed = f", {show(share, display_unit(SHARE), 3)} of it at the speed the car reaches" if share < 1 else ""
    return f"load index {index}: {load} a tyre{at_speed}"
