"""What the speedometer shows after the change, against what it may show.

Answers   requirements   speedometer at 120 km/h, which decides, and at 40 and 80 km/h as figures
Not here  engine speeds (steps.py, cruising.py)
Sources   UN Regulation No. 39, 5.3: 0 ≤ V₁ − V₂ ≤ 0.1·V₂ + 4 km/h, V₁ shown, V₂ true
"""

from __future__ import annotations

from functools import partial
from math import ceil, floor
from typing import TYPE_CHECKING

from trialfit.evaluation.evaluation import MissingFact
from trialfit.evaluation.requirement import Between, Requirement, Source, SourceKind, Stake
from trialfit.facts.quantity import RATIO, SPEED
from trialfit.facts.showing import show
from trialfit.facts.units import display_unit
from trialfit.handbook.constants import KILOMETRE_PER_HOUR
from trialfit.handbook.gearing.ratios import speedometer_reading
from trialfit.parts import Speedometer
from trialfit.subjects import line
from trialfit.subjects.gearing.gears import ROAD_SPEED, name_or_kind

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array


FASTEST = 120
"""[km/h] The test speed that decides; a car that does not reach it is tested below it."""
SLOWER = (40, 80)
"""[km/h] The other test speeds."""

REGULATION = Source("UN Regulation No. 39, 5.3", SourceKind.published)
_CAUTION = "the certifier decides, by a test on the car and by the rules of the country"


def largest_excess(true_speed: float) -> float:
    """How much more than the true speed an instrument may show, both m/s.

    Source: UN Regulation No. 39, 5.3.
    """
    return 0.1 * true_speed + 4 * KILOMETRE_PER_HOUR


def requirements(build: Build) -> Iterator[Requirement]:
    """One finding at the test speed that decides, and figures at the others.

    The reading is a fixed multiple of the true speed. So what shows no less at one speed shows no less at any, and the 4 km/h
    that may come on top weigh least at the highest speed: what is within the bounds there is within them at all.
    """
    true_speed = FASTEST * KILOMETRE_PER_HOUR
    yield Requirement(
        id="gearing.speedometer",
        about=name_or_kind(build, Speedometer),
        says=f"at a true {FASTEST} km/h, the test speed that decides, the speedometer shows 0 to "
        f"{show(largest_excess(true_speed), ROAD_SPEED)} above; the value is shown minus true",
        value=partial(excess, true_speed=true_speed),
        quantity=SPEED,
        stake=Stake.safety,
        limit=Between(0.0, largest_excess(true_speed)),
        source=REGULATION,
        formulas=(speedometer_reading,),
        shows=what_it_shows,
        caution=_CAUTION,
        cure="Fit other drive gears to the speedometer, or a converter box in its cable, and write the ratio as "
        "drive_factor. The remark that why shows gives the ratio.",
    )
    for kmh in SLOWER:
        yield Requirement(
            id=f"gearing.speedometer.{kmh}_kmh",
            about=name_or_kind(build, Speedometer),
            says=f"speedometer reading minus true speed, at a true {kmh} km/h",
            value=partial(excess, true_speed=kmh * KILOMETRE_PER_HOUR),
            quantity=SPEED,
            stake=Stake.safety,
            formulas=(speedometer_reading,),
            caution=_CAUTION,
        )


def excess(ev: Evaluation, true_speed: float) -> Array:
    """Shown minus true speed, m/s."""
    return true_speed * (ev.of(shown_over_true) - 1)


def shown_over_true(ev: Evaluation) -> Array:
    """What the speedometer shows over the true speed, with what it showed too much before."""
    speedometer = ev.part(Speedometer)
    original_final, drive, over = ev.each(
        speedometer.original_final_drive, speedometer.drive_factor, speedometer.original_over_reading
    )
    return (1 + over) * speedometer_reading(
        1.0,
        ev.of(line.final_ratio),
        ev.of(line.rolling_circumference),
        original_final,
        original_circumference(ev),
        drive,
    )


def original_circumference(ev: Evaluation) -> Array | float:
    """Rolling circumference that the speedometer was set up for, m: written, else worked out from the tyre size.

    original_over_reading covers the difference between a real tyre and the rule.
    """
    speedometer = ev.part(Speedometer)
    if speedometer.original_circumference.written is not None:
        return ev(speedometer.original_circumference)
    if speedometer.original_tyre_size is None:
        raise MissingFact({f"{speedometer.name}.original_tyre_size": Speedometer.original_tyre_size.says})
    return line.circumference_by_size(speedometer.original_tyre_size, speedometer.name)


def what_it_shows(ev: Evaluation) -> str:
    """The reading at the test speeds; where it is out of bounds, how much faster or slower the instrument has to turn."""
    factor = float(ev.of(shown_over_true)[0])
    fastest = FASTEST * KILOMETRE_PER_HOUR
    most = 1 + largest_excess(fastest) / fastest
    readings = [show(kmh * KILOMETRE_PER_HOUR * factor, ROAD_SPEED) for kmh in (*SLOWER, FASTEST)]
    slower = ", ".join(f"{kmh}" for kmh in SLOWER)
    says = f"at a true {slower} and {FASTEST} km/h it shows {', '.join(readings[:-1])} and {readings[-1]}"
    if 1 <= factor <= most:
        return says
    step = display_unit(RATIO)
    least, largest = show(ceil(100 / factor) / 100, step), show(floor(100 * most / factor) / 100, step)
    return f"{says}; turned {least} to {largest} times as fast as now, it is within the bounds"
