"""First gear and reverse: slow enough to crawl, long enough to be driven.

Answers   requirements   first_gear.crawl, first_gear.grip, reverse.ratio, reverse.crawl
Not here  hill start and heat of the clutch (starting.py)
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.requirement import COMMON_PRACTICE, AtMost, Requirement, Stake
from trialfit.facts.quantity import RATIO, SPEED
from trialfit.facts.showing import show
from trialfit.handbook.constants import KILOMETRE_PER_HOUR
from trialfit.handbook.gearing.ratios import road_speed
from trialfit.handbook.gearing.wheelspin import grip_limited_up_to_speed
from trialfit.parts import Engine, Gearbox
from trialfit.subjects import line
from trialfit.subjects.gearing.gears import ROAD_SPEED, in_gear, name_or_kind
from trialfit.subjects.gearing.pull import grip_limited_up_to

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array


CRAWL = 10 * KILOMETRE_PER_HOUR
"""Speed [m/s] at idle, clutch engaged, up to which a car can be moved in traffic and in a yard: common practice, no source."""

SPINNING_SHARE = 0.8
"""Share of first gear up to which full throttle may spin the wheels before the gear is too short: common practice, no source."""


def requirements(build: Build) -> Iterator[Requirement]:
    """What first gear and reverse must do; a motor that pulls from standstill needs neither crawl nor reverse gear."""
    gearbox = name_or_kind(build, Gearbox)
    yield _grip(build, gearbox)
    if line.starts_from_rest(build) or line.has_converter(build):
        return
    yield Requirement(
        id="gearing.first_gear.crawl",
        about=gearbox,
        says="first gear is short enough to crawl at idle with the clutch engaged",
        value=crawl_in_first,
        quantity=SPEED,
        stake=Stake.comfort,
        limit=AtMost(CRAWL),
        source=COMMON_PRACTICE,
        formulas=(road_speed,),
        cure="Fit a shorter first gear or final drive, or smaller driven tyres.",
    )
    yield Requirement(
        id="gearing.reverse.ratio",
        about=gearbox,
        says="turns of the engine for one turn of the wheels in reverse",
        value=reverse_ratio,
        quantity=RATIO,
        stake=Stake.comfort,
    )
    yield Requirement(
        id="gearing.reverse.crawl",
        about=gearbox,
        says="reverse is short enough to crawl at idle with the clutch engaged",
        value=crawl_in_reverse,
        quantity=SPEED,
        stake=Stake.comfort,
        limit=AtMost(CRAWL),
        source=COMMON_PRACTICE,
        formulas=(road_speed,),
        cure="Fit a gearbox with a shorter reverse, a shorter final drive, or smaller driven tyres.",
    )


def _grip(build: Build, about: str) -> Requirement:
    """Judged where the builder has written that first gear is for driving: a farm truck's is to be short."""
    part = build.first(Gearbox)
    figure = Requirement(
        id="gearing.first_gear.grip",
        about=about,
        says="speed in first gear up to which full throttle spins the wheels",
        value=in_gear(grip_limited_up_to, 1),
        quantity=SPEED,
        stake=Stake.comfort,
        formulas=(grip_limited_up_to_speed, road_speed),
        shows=range_of_first,
    )
    if part is None or part.first_gear != "driving":
        return figure
    return replace(
        figure,
        says=f"first gear is long enough: full throttle spins the wheels for no more than {100 * SPINNING_SHARE:.0f} % of its range",
        limit=AtMost(longest_spin),
        source=COMMON_PRACTICE,
        cure="Fit a taller first gear or final drive, or tyres with more grip, or put more load on the driven axle.",
    )


def speed_at_limit_in_first(ev: Evaluation) -> Array:
    """Road speed at the engine's limit in first gear, m/s."""
    return _speed_in(ev, ev(ev.part(Engine).max_speed), ev.of(line.drive_ratios)[:, 0])


def longest_spin(ev: Evaluation) -> Array:
    """Road speed in first gear up to which the wheels may spin, m/s."""
    return SPINNING_SHARE * ev.of(speed_at_limit_in_first)


def range_of_first(ev: Evaluation) -> str:
    """How far first gear reaches."""
    return f"first gear reaches {show(ev.of(speed_at_limit_in_first)[0], ROAD_SPEED)}"


def crawl_in_first(ev: Evaluation) -> Array:
    """Road speed at idle in first gear, m/s."""
    return _speed_in(ev, ev(ev.part(Engine).idle_speed), ev.of(line.drive_ratios)[:, 0])


def crawl_in_reverse(ev: Evaluation) -> Array:
    """Road speed at idle in reverse, m/s."""
    return _speed_in(ev, ev(ev.part(Engine).idle_speed), ev.of(_reverse))


def reverse_ratio(ev: Evaluation) -> Array:
    """Gearbox, high range of a transfer case and final drive together, in reverse."""
    return ev.of(_reverse) * ev.of(line.final_ratio)


def _reverse(ev: Evaluation) -> Array:
    return ev(ev.part(Gearbox).reverse_ratio) * ev.of(line.range_ratio)


def _speed_in(ev: Evaluation, turns: Array, ratio: Array) -> Array:
    return np.asarray(road_speed(turns, ev.of(line.rolling_radius), ratio, ev.of(line.final_ratio)))
