"""How much of the braking the front axle can take, over how hard the car brakes.

Answers   brake_share
Not here  what the brakes fitted do: no kind of part holds them yet

The share that uses the grip of both axles alike is that of their loads. What is fitted cannot be drawn beside it until
cylinders, discs and valve can be written down, and the plot says so.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.drawing.pen import Stroke
from trialfit.drawing.plot import Axis, Plot, Series
from trialfit.drawing.plots.from_draws import band, points, rounded
from trialfit.facts.quantity import SHARE
from trialfit.facts.units import display_unit
from trialfit.handbook.constants import STANDARD_GRAVITY
from trialfit.handbook.traction import axle_loads
from trialfit.parts import Car
from trialfit.subjects import line

if TYPE_CHECKING:
    from trialfit.evaluation.evaluation import Evaluation

_HARDEST = 1.0
_POINTS = 41
_NOT_YET = {
    "brakes fitted": "front and rear cylinders, effective radii of discs or drums, friction of the pads, valve: no kind of part takes them yet"
}


def brake_share(ev: Evaluation) -> Plot:
    """Front share of the brake force by which both axles use their grip alike. Raises MissingFact."""
    car = ev.part(Car)
    mass, wheelbase, height = ev.each(car.mass, car.wheelbase, car.centre_of_mass_height)
    to_centre = ev.of(line.rear_load_share) * wheelbase
    rates = points(0.0, _HARDEST, _POINTS)
    slowing = -rates[None, :] * STANDARD_GRAVITY
    front, rear = axle_loads(mass[:, None], wheelbase[:, None], to_centre[:, None], height[:, None], slowing)
    share = display_unit(SHARE)
    nominal, low, high = band(np.asarray(front) / (np.asarray(front) + np.asarray(rear)), share)
    return Plot(
        build=ev.build.name,
        name="brakes",
        title="Front share of the braking that uses the grip of both axles alike",
        x=Axis(says="deceleration over that of gravity", low=0.0),
        y=Axis(says="front share of the brake force", unit=share.canonical, high=100.0),
        series=(
            Series(
                says="share of the load that the front axle carries while braking",
                short="front",
                x=tuple(rounded(float(rate)) for rate in rates),
                y=nominal,
                low=low,
                high=high,
                stroke=Stroke.thick,
            ),
        ),
        notes=(
            "a front share below the line locks the rear wheels first: the car spins. Local codes set the order of locking and who may change brakes",
            "statics of the axle loads; suspension movement and air left out; tinted: 95 % of the draws",
        ),
        missing=_NOT_YET,
        draws=ev.draws,
    )
