"""The brakes that are written in a build: how they share the braking, calculated without a verdict.

Answers   fitted_of   front share and valve, or what is missing for them
Not here  formulas (handbook/braking/brakes.py); the plot (drawing/plots/brake_share.py)
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.handbook.braking.brakes import NO_VALVE, force_over_pressure, front_share
from trialfit.handbook.constants import STANDARD_GRAVITY
from trialfit.parts import Brake, Car, Tyre
from trialfit.subjects import line

if TYPE_CHECKING:
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array


@dataclass(frozen=True)
class Fitted:
    """Front share of the brake force without the valve; the rate of braking at its knee point, and its slope: (draws,)."""

    share: Array
    valve_rate: Array
    valve_slope: Array
    valve: str


def fitted_of(ev: Evaluation) -> tuple[Fitted | None, dict[str, str]]:
    """What the brakes do, None where facts are missing; and all that is missing, with its meaning.

    For an axle without tyres, those of the other axle are assumed, and the axle is named as missing.
    """
    lacking: dict[str, str] = {}
    gains = []
    for axle in ("front", "rear"):
        try:
            gains.append(_gain(ev, axle, lacking))
        except MissingFact as missing:
            lacking |= missing.wanted
    try:
        brakes = _valve(ev, gains)
    except MissingFact as missing:
        return None, lacking | missing.wanted
    return (brakes if len(gains) == 2 else None), lacking  # noqa: PLR2004 - front and rear


def _brake_of(ev: Evaluation, axle: str) -> Brake:
    for brake in ev.build.all(Brake):
        if brake.axle == axle:
            return brake
    raise MissingFact({f"{axle} brakes": f'none are written: kind = "brake", axle = "{axle}"'})


def _gain(ev: Evaluation, axle: str, lacking: dict[str, str]) -> Array:
    """Force at the road over line pressure, N/Pa. What could be better is added to `lacking`."""
    brake = _brake_of(ev, axle)
    drum, whole = brake.design == "drum", brake.piston_area.written is not None
    wanted = [brake.effective_radius, brake.brake_factor if drum else brake.pad_friction]
    wanted += [brake.piston_area] if whole else [brake.piston_diameter]
    wanted += [] if whole or drum else [brake.piston_count]
    radius, friction, size, *count = ev.each(*wanted)
    area = size if whole else np.pi / 4 * size**2 * (count[0] if count else 1.0)
    factor = friction if drum else 2 * friction
    return np.asarray(force_over_pressure(area, radius, factor, _tyre_radius(ev, axle, lacking)))


def _tyre_radius(ev: Evaluation, axle: str, lacking: dict[str, str]) -> Array:
    found = {tyre.axle: tyre for tyre in ev.build.all(Tyre)}
    if not found:
        raise MissingFact({"tyre": 'none is written: kind = "tyre"'})
    if axle not in found:
        (other,) = found
        lacking[f"{axle} tyres"] = f"missing: assumed the same as on the {other} axle"
    tyre = found.get(axle) or next(iter(found.values()))
    if tyre.circumference.written is not None:
        return ev(tyre.circumference) / (2 * np.pi)
    return line.circumference_by_size(tyre.size, tyre.name) * ev(tyre.circumference_factor) / (2 * np.pi)


def _valve(ev: Evaluation, gains: list[Array]) -> Fitted | None:
    """With the valve of the rear brakes; None where the force of an axle is not known. Raises MissingFact."""
    rear = next((brake for brake in ev.build.all(Brake) if brake.axle == "rear"), None)
    if rear is None:
        return None
    if rear.valve is None:
        raise MissingFact({f"{rear.name}.valve": f'{Brake.valve.says}; "none" where there is none'})
    wanted = [] if rear.valve == "none" else [rear.valve_pressure]
    wanted += [rear.valve_slope] if rear.valve == "reducing" else []
    read = ev.each(*wanted)
    if len(gains) < 2:  # noqa: PLR2004 - front and rear
        return None
    share = np.asarray(front_share(*gains))
    if rear.valve == "none":
        return Fitted(share, np.full(ev.draws, NO_VALVE), np.ones(ev.draws), ", no valve")
    rate = sum(gains) * read[0] / (ev(ev.part(Car).mass) * STANDARD_GRAVITY)
    slope = read[1] if rear.valve == "reducing" else np.zeros(ev.draws)
    return Fitted(share, np.asarray(rate), slope, f" up to the knee point of the {rear.valve} valve")
