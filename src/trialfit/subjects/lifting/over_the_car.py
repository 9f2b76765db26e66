"""The crane at the car: does the hook come high enough to carry the load over nose or wing, and does the crane stand.

Answers   requirements   hook_height.LIFT where the edge is written that the load passes over; crane_tips.LIFT where the legs of the crane are
Not here  what the plate allows (crane.py)
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.requirement import AtLeast, AtMost, Requirement, Source, SourceKind, Stake
from trialfit.evaluation.states import InStates
from trialfit.facts.quantity import ANGLE, LENGTH
from trialfit.handbook.lifting.folding_crane import depth_when_tilted, inside_side_line, tip_slope
from trialfit.handbook.lifting.leveller import travel_for_tilt
from trialfit.handbook.sources import NO_SOURCE
from trialfit.parts import Lift
from trialfit.subjects.lifting.cautions import HOISTING
from trialfit.subjects.lifting.crane import crane_of, find_crane, hole_of, reach
from trialfit.subjects.lifting.hoisting import centre, hook, legs_of, mass
from trialfit.subjects.lifting.way import depth_below_bar, ends, has_leveller, hooks, names, tilts

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array

AIR = 0.050
PUSH = np.radians(4.0)
RISES = Source("the greatest height of the hook at the hole that is used, as written", SourceKind.manual)
STANDS = Source(
    f"{NO_SOURCE}: the slope of the floor and 4° more, which is a push of 7 % of the weight at the hook",
    SourceKind.common_practice,
)
WAYS = ("over the front wheels", "over the wheels of one side")


def requirements(build: Build) -> Iterator[Requirement]:
    """What the hook must rise to, and the slope on which crane and load must stand."""
    for lift in build.all(Lift):
        crane = find_crane(build, lift)
        if lift.passes_over.written:
            yield Requirement(
                id=f"lifting.hook_height.{lift.name}",
                about=lift.name,
                says=f"the hook rises high enough to carry the load of {lift.name} over the edge of the car, 50 mm above it",
                value=partial(_needed, lift=lift),
                quantity=LENGTH,
                stake=Stake.durability,
                limit=AtMost(partial(_highest, lift=lift)),
                source=RISES,
                formulas=(depth_when_tilted,),
                cure="Shorten the legs of the sling, use a leveller, cross the edge with less tilt, take the nose off, or let the car down.",
                caution=HOISTING,
            )
        if crane and crane.leg_reach.written:
            yield Requirement(
                id=f"lifting.crane_tips.{lift.name}",
                about=lift.name,
                says=f"crane and load of {lift.name} stand on the slope of the floor and bear a push at the hook",
                value=partial(_tips, lift=lift),
                quantity=ANGLE,
                stake=Stake.safety,
                limit=AtLeast(lambda ev, one=lift: ev(one.floor_slope) + PUSH),  # type: ignore[misc]
                source=STANDS,
                formulas=(tip_slope, inside_side_line),
                cure="Draw the legs out further, use a shorter hole of the boom, carry the load lower, or work on a level floor.",
                caution=HOISTING,
            )


def _highest(ev: Evaluation, lift: Lift) -> Array:
    """Greatest height of the hook, m: nothing for a hole that the crane does not have."""
    crane = crane_of(ev, lift)
    heights = ev.rows(crane.hook_heights, f"{crane.name}.hook_heights")
    hole = hole_of(ev, lift)
    numbered = np.arange(1, heights.shape[1] + 1)
    return np.asarray((heights * (numbered == hole[:, None])).sum(axis=1))


def _needed(ev: Evaluation, lift: Lift) -> InStates:
    """Height of the hook at which the lowest point of the load passes the edge, m, at each tilt."""
    front, rear, bottom, edge = (
        one[:, None] for one in ev.each(lift.front_end_x, lift.rear_end_x, lift.bottom_z, lift.passes_over)
    )
    lean, place = ev.of(tilts, lift), ev.of(_hook_now, lift)
    ahead = [end - place[..., 0] for end in (front, rear)]
    depth = np.maximum(*(np.asarray(depth_when_tilted(one, place[..., 2] - bottom, lean)) for one in ahead))
    return InStates(edge + AIR + depth + ev.of(_chains_stay_upright, lift), names(lift))


def _hook_now(ev: Evaluation, lift: Lift) -> Array:
    """Place of the hook over the level load for each tilt, m: on a leveller where its screw has moved it."""
    place = ev.of(hooks, lift)
    if not has_leveller(lift):
        return place
    shift = travel_for_tilt(ev.of(depth_below_bar, lift)[:, None], ev.of(tilts, lift), ev(lift.leveller_eye)[:, None])
    moved = ev.of(centre, lift)[:, None, 0] + np.asarray(shift)
    return np.stack([moved, place[..., 1], place[..., 2]], axis=-1)


def _chains_stay_upright(ev: Evaluation, lift: Lift) -> Array:
    """What a load on a leveller hangs deeper than one that turns with its sling, m: its chains do not shorten upright."""
    lean = ev.of(tilts, lift)
    if not has_leveller(lift) or not legs_of(ev.build, lift):
        return np.zeros_like(lean)
    front, rear = ev.of(ends, lift)
    chain = ev.of(hook, lift)[:, 2] - (front[:, 2] + rear[:, 2]) / 2 - ev(lift.leveller_eye)
    return np.asarray(np.maximum(chain, 0.0)[:, None] * (1 - np.cos(lean)))


def _tips(ev: Evaluation, lift: Lift) -> InStates:
    """Slope at which crane and load tip, rad, over the front wheels and over those of one side."""
    crane = crane_of(ev, lift)
    load = ev.of(mass, lift) * ev(lift.dynamic_factor)
    front, rear, wide, narrow, own, centre_x, low, high = ev.each(
        crane.leg_reach,
        crane.rear_wheels,
        crane.front_track,
        crane.rear_track,
        crane.mass,
        crane.centre_ahead,
        crane.centre_height,
        lift.highest_hook,
    )
    out = ev.of(reach, lift)
    forwards = tip_slope(load, front - out, high, own, front - centre_x, low)
    side = [inside_side_line(one, front, wide / 2, -rear, narrow / 2) for one in (out, centre_x)]
    sideways = tip_slope(load, side[0], high, own, side[1], low)
    return InStates(np.stack([forwards, sideways], axis=-1), WAYS)
