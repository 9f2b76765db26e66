"""Braking of both axles: the grip that each uses with the brakes fitted, over deceleration.

Answers   brake_share
Not here  formulas (handbook/braking/brakes.py); without brakes in the build: the front share that uses the grip of both axles equally

The axle that uses more grip locks first. The plot gives no verdict on the brakes.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from trialfit.drawing.pen import Stroke
from trialfit.drawing.plot import Axis, Limit, Plot, Series, Spot
from trialfit.drawing.plots.from_draws import band, points, rounded
from trialfit.evaluation.evaluation import MissingFact
from trialfit.facts.quantity import COEFFICIENT, SHARE
from trialfit.facts.showing import interval_text
from trialfit.facts.units import display_unit
from trialfit.handbook.braking.brakes import adhesion_utilisation, reach, synchronous_rate
from trialfit.handbook.constants import STANDARD_GRAVITY
from trialfit.handbook.gearing.traction import GRIP_WET, axle_loads
from trialfit.parts import Car
from trialfit.subjects import line
from trialfit.subjects.braking.brakes_fitted import fitted_of

if TYPE_CHECKING:
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.subjects.braking.brakes_fitted import Fitted


_HARDEST = 1.0
_POINTS = 41
_HIGHEST = 1.6
_RATE = Axis(says="deceleration, g", low=0.0)
_CAUTION = "For brakes, the maker's manual, local codes and licensed practice decide. This plot does not say that the brakes are sufficient"
_LEFT_OUT = (
    "statics on a level road, straight ahead; left out: suspension movement, air, antilock, braking by engine or motor; "
    "tinted: 95 % of the draws"
)


@dataclass(frozen=True)
class _Stance:
    """How the car stands: SI, (draws,)."""

    wheelbase: Array
    to_centre: Array
    height: Array

    @property
    def each(self) -> tuple[Array, Array, Array]:
        return self.wheelbase, self.to_centre, self.height

    @property
    def columns(self) -> tuple[Array, Array, Array]:
        return self.wheelbase[:, None], self.to_centre[:, None], self.height[:, None]


def brake_share(ev: Evaluation) -> Plot:
    """Grip used by each axle; without brakes in the build, only the ideal front share. Raises MissingFact."""
    fitted, lacking = fitted_of(ev)
    try:
        stance = _stance(ev)
    except MissingFact as missing:
        raise MissingFact(missing.wanted | lacking) from None
    return _used(ev, stance, fitted, lacking) if fitted else _ideal(ev, stance, lacking)


def _stance(ev: Evaluation) -> _Stance:
    car = ev.part(Car)
    wheelbase, height, _, _ = ev.each(car.wheelbase, car.centre_of_mass_height, car.mass, car.rear_axle_mass)
    return _Stance(wheelbase, ev.of(line.rear_load_share) * wheelbase, height)


def _ideal(ev: Evaluation, stance: _Stance, lacking: dict[str, str]) -> Plot:
    """Front share of the brake force with which both axles use the same share of their grip: the front share of the load."""
    rates = points(0.0, _HARDEST, _POINTS)
    front, rear = axle_loads(1.0, *stance.columns, -rates[None, :] * STANDARD_GRAVITY)
    share = display_unit(SHARE)
    says = "share of the load that the front axle carries while braking"
    return Plot(
        build=ev.build.name,
        name="brakes",
        title="Front share of the brake force that uses the grip of both axles equally",
        x=_RATE,
        y=Axis(says="front share of the brake force", unit=share.canonical, high=100.0),
        series=(_series(says, "front", rates, band(np.asarray(front) / np.add(front, rear), share), Stroke.thick),),
        notes=("a front share below the line locks the rear wheels first: the car spins", _CAUTION, _LEFT_OUT),
        missing=lacking,
        draws=ev.draws,
    )


def _used(ev: Evaluation, stance: _Stance, fitted: Fitted, lacking: dict[str, str]) -> Plot:
    """Grip that each axle uses with the brakes fitted."""
    rates, front, rear = _curves(stance, fitted)
    grip = ev(ev.part(Car).tyre_friction)
    unit = display_unit(COEFFICIENT)
    spot, in_words = _first_to_lock(grip, stance, fitted)
    together, balance = _together(stance, fitted)
    spots = [one for one in (spot, together) if one is not None and one.x <= rates[-1]]
    ideal = tuple(rounded(float(rate)) for rate in rates)
    return Plot(
        build=ev.build.name,
        name="brakes",
        title="Grip that each axle uses while braking, with the brakes fitted",
        x=_RATE,
        y=Axis(says="brake force over axle load", low=0.0),
        series=(
            _series("front axle", "front", rates, band(front, unit), Stroke.thick),
            _series("rear axle", "rear", rates, band(rear, unit), Stroke.hidden),
            _series("ideal: both axles use their grip equally", "ideal", rates, (ideal, (), ()), Stroke.centre),
        ),
        spots=tuple(spots),
        limits=_grips(grip),
        notes=(
            in_words,
            balance,
            f"front share of the brake force {_words(fitted.share * 100, '%')}{fitted.valve}",
            "the axle with the higher line locks first: if the front locks, the car cannot steer; if the rear locks, it spins",
            _CAUTION,
            _LEFT_OUT,
        ),
        missing=lacking,
        draws=ev.draws,
    )


def _curves(stance: _Stance, fitted: Fitted) -> tuple[Array, Array, Array]:
    """Rates, and grip used by front and rear (draws, rates), up to the end of the axis."""
    rates = points(0.0, _HARDEST, _POINTS)
    used = adhesion_utilisation(
        rates[None, :],
        fitted.share[:, None],
        *stance.columns,
        fitted.valve_rate[:, None],
        fitted.valve_slope[:, None],
    )
    front, rear = map(np.asarray, used)
    shown = max(2, int((np.fmax(front[0], rear[0]) <= _HIGHEST).sum()))
    return rates[:shown], front[:, :shown], rear[:, :shown]


def _first_to_lock(grip: Array, stance: _Stance, fitted: Fitted) -> tuple[Spot | None, str]:
    """The deceleration at which the first axle locks at this grip, and which axle it is, in words."""
    front, rear = map(np.asarray, reach(grip, fitted.share, *stance.each, fitted.valve_rate, fitted.valve_slope))
    first = np.minimum(front, rear)
    axle = "front" if front[0] <= rear[0] else "rear"
    drawn = (front <= rear)[1:] if len(front) > 1 else front <= rear
    agreeing = float(np.mean(drawn == (axle == "front")))
    rate = _words(first)
    in_words = (
        f"at a grip of {_words(grip)} (car.tyre_friction) the {axle} axle locks first, at a deceleration of {rate} g"
    )
    in_words += f"; in {100 * agreeing:.3g} % of the draws this axle locks first" if len(front) > 1 else ""
    if not np.isfinite(first[0]):
        return None, "which axle locks first is not known: one axle carries no load"
    return _spot(f"{axle} locks first: {rate} g", first, float(grip[0])), in_words


def _together(stance: _Stance, fitted: Fitted) -> tuple[Spot | None, str]:
    """Where both axles lock together, if that is before the valve holds back."""
    rate = np.asarray(synchronous_rate(fitted.share, *stance.each))
    if not np.isfinite(rate[0]):
        return None, "the deceleration at which both axles lock together is not known"
    if rate[0] > fitted.valve_rate[0]:
        return (
            None,
            f"the valve holds back from {_words(fitted.valve_rate)} g on, before both axles would lock together",
        )
    if rate[0] <= 0:
        return None, "without a valve the rear axle locks first, even in gentle braking"
    words = _words(rate)
    says = f"both axles lock together at {words} g: below that the front locks first, above it the rear"
    says += (
        "" if np.isinf(fitted.valve_rate[0]) else f", until the valve holds back from {_words(fitted.valve_rate)} g on"
    )
    return _spot(f"together: {words} g", rate, float(rate[0])), says


def _grips(grip: Array) -> tuple[Limit, ...]:
    """Grip of the road, and of a wet one; their uncertainty in words, so that the bands of the axles stay visible."""
    says = f"grip of the road, car.tyre_friction: {_words(grip)}"
    least, most = GRIP_WET
    wet = f"wet road, from memory: {least:g} to {most:g}"
    return (
        Limit(says=says, value=rounded(float(grip[0])), side="at most"),
        Limit(says=wet, value=rounded((least + most) / 2), side="at most"),
    )


def _spot(says: str, rate: Array, grip: float) -> Spot:
    low, high = _ends(rate)
    return Spot(says=says, x=rounded(float(rate[0])), y=rounded(grip), low=rounded(low), high=rounded(high))


def _series(
    says: str, short: str, rates: Array, values: tuple[tuple[float | None, ...], ...], stroke: Stroke
) -> Series:
    nominal, low, high = values
    x = tuple(rounded(float(rate)) for rate in rates)
    return Series(says=says, short=short, x=x, y=nominal, low=low, high=high, stroke=stroke)


def _ends(values: Array) -> tuple[float, float]:
    """The interval of 95 % of the finite draws; the nominal if none is finite."""
    drawn = values[1:][np.isfinite(values[1:])]
    low, high = np.quantile(drawn, (0.025, 0.975)) if len(drawn) else (values[0], values[0])
    return float(low), float(high)


def _words(values: Array, unit: str = "") -> str:
    return interval_text(float(values[0]), *_ends(values), unit)
