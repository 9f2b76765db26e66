"""The cooling limit in words: the speeds at which it is kept, the steady load that the radiator carries, the temperature of the top hose.

Answers   in_words   the notes of the plot
Not here  the heat flows (subjects/cooling/radiator.py)
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from trialfit.facts.quantity import POWER, SPEED, TEMPERATURE, TEMPERATURE_DIFFERENCE
from trialfit.facts.showing import show, show_with_spread
from trialfit.facts.units import display_unit
from trialfit.handbook.cooling.heat_exchange import top_hose_temperature
from trialfit.parts import Car, Radiator

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray

    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array


_SURE = 0.975
_MIDDLE = (0.025, 0.975)


class Heats(NamedTuple):
    """The values behind the notes: heat flows in W, (draws, speeds); None if not known."""

    speeds: Array
    takes: Array | None
    full: Array | None
    cruising: Array | None
    share: Array | None
    """Coolant share over brake share, (draws, 1)."""
    hottest: Array | None
    """Of the top hose, K, (draws,)."""
    air_in: Array | None
    """In front of the radiator, K, (draws,)."""


def in_words(ev: Evaluation, heats: Heats) -> tuple[str, ...]:
    """The notes; none if the capacity of the radiator is not known."""
    if heats.takes is None or heats.hottest is None or heats.air_in is None:
        return ()
    radiator = ev.part(Radiator)
    kelvin, celsius = display_unit(TEMPERATURE_DIFFERENCE), display_unit(TEMPERATURE)
    margin = show(float(ev(radiator.boiling_margin)[0]), kelvin)
    ambient = show(float(ev(radiator.ambient_temperature)[0]), celsius)
    hottest = show_with_spread(*_middle(heats.hottest), celsius)
    notes = [f"limit: top hose at {hottest}, {margin} below boiling, with {ambient} outside"]
    for says, heat in (("on a level road at a steady speed", heats.cruising), ("at full throttle", heats.full)):
        if heat is not None:
            notes.append(f"{says} the top hose stays below the limit {_where(heats.speeds, heats.takes >= heat)}")
    notes += _at_cruise(ev, heats)
    if radiator.fan_flow.written is None:
        notes.append("no fan in the build, so none is counted")
    return tuple(notes)


def _where(speeds: Array, kept: NDArray[np.bool_]) -> str:
    """The speeds at which it holds, at the nominal values and in nearly all draws; an unknown value does not hold."""
    nominal = _stretches(speeds, kept[0])
    if len(kept) == 1:
        return nominal
    sure = _stretches(speeds, kept[1:].mean(axis=0) >= _SURE)
    return f"{nominal} at the nominal values; in 39 draws of 40 {sure}"


def _stretches(speeds: Array, kept: NDArray[np.bool_]) -> str:
    """Ranges of speed in which it holds, from the first to the last point that holds."""
    edges = np.flatnonzero(np.diff(np.concatenate(([False], kept, [False])).astype(int)))
    unit = display_unit(SPEED)
    ends = [(float(speeds[first]), float(speeds[end - 1])) for first, end in zip(edges[::2], edges[1::2], strict=True)]
    runs = [
        f"from {show(low, unit)} to {show(high, unit)}" if low < high else f"about {show(low, unit)}"
        for low, high in ends
    ]
    return " and ".join(runs) or "at no speed"


def _at_cruise(ev: Evaluation, heats: Heats) -> Iterator[str]:
    """For each cruising speed of the build: the load that the radiator carries, and the top hose temperature on the level."""
    car = ev.build.first(Car)
    for ref in car.cruise_speeds if car else ():
        if ref.written is None or not heats.speeds[0] <= ref.written.si <= heats.speeds[-1]:
            continue
        says = [show(ref.written.si, display_unit(SPEED)) + ":"]
        takes = _at(ref.written.si, heats.speeds, heats.takes)
        if takes is None:
            continue
        if heats.share is not None:
            carried = show_with_spread(*_middle(takes / heats.share[:, 0]), display_unit(POWER))
            says.append(f"carries a steady {carried} at the flywheel")
        cruising = _at(ref.written.si, heats.speeds, heats.cruising)
        if cruising is not None and heats.hottest is not None and heats.air_in is not None:
            per_kelvin = takes / (heats.hottest - heats.air_in)
            hose = np.asarray(top_hose_temperature(cruising, per_kelvin, heats.air_in))
            words = show_with_spread(*_middle(hose), display_unit(TEMPERATURE))
            says.append(
                f"{'and' if heats.share is not None else ''} on the level could hold the top hose at {words}".strip()
            )
            says.append("(warmer if the thermostat opens above that)")
        yield " ".join(says)


def _at(speed: float, speeds: Array, heats: Array | None) -> Array | None:
    """Heat flows at one speed, interpolated; None unless they are known in every draw."""
    if heats is None:
        return None
    after = min(max(int(np.searchsorted(speeds, speed)), 1), len(speeds) - 1)
    part = (speed - speeds[after - 1]) / (speeds[after] - speeds[after - 1])
    found = np.asarray(heats[:, after - 1] * (1 - part) + heats[:, after] * part)
    return found if np.isfinite(found).all() else None


def _middle(values: Array) -> tuple[float, float, float]:
    """Nominal and 95 % of the draws."""
    drawn = values[1:] if len(values) > 1 else values
    low, high = np.quantile(drawn, _MIDDLE)
    return float(values[0]), float(low), float(high)
