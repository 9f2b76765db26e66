"""Ratios alone: road speed in each gear, and where the engine lands after an upshift.

Answers   requirements   speed_per_1000rpm, rpm_after_shift, gap
Not here  how hard a gear pulls (pull.py)
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.requirement import COMMON_PRACTICE, AtLeast, Requirement, Stake
from trialfit.facts.quantity import ROTATIONAL_SPEED, SHARE, SPEED
from trialfit.facts.showing import show
from trialfit.facts.units import display_unit
from trialfit.handbook.constants import REVOLUTION_PER_MINUTE
from trialfit.handbook.gearing.power_band import band_start, power_share
from trialfit.handbook.gearing.ratios import road_speed, speed_after_shift
from trialfit.parts import Engine, Gearbox
from trialfit.subjects import full_load, line
from trialfit.subjects.gearing.gears import gear_numbers, in_gear, name_or_kind, steps

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array


SHARE_AFTER_SHIFT = 0.6
"""Share of the peak power that an engine should still give after a full-throttle upshift: common practice, no source."""


def requirements(build: Build) -> Iterator[Requirement]:
    """Figures for each gear and shift, and a finding for each step between two gears."""
    gearbox = name_or_kind(build, Gearbox)
    for gear in gear_numbers(build):
        yield Requirement(
            id=f"gearing.speed_per_1000rpm.{gear}",
            about=gearbox,
            says=f"road speed at 1000 rpm in gear {gear}, without slip",
            value=in_gear(speeds_per_1000rpm, gear),
            quantity=SPEED,
            stake=Stake.comfort,
            formulas=(road_speed,),
        )
    for lower, higher in steps(build):
        landing = partial(speed_after, gear=lower)
        yield Requirement(
            id=f"gearing.rpm_after_shift.{lower}_{higher}",
            about=gearbox,
            says=f"engine speed after an upshift from {lower} to {higher} at the engine's limit",
            value=landing,
            quantity=ROTATIONAL_SPEED,
            stake=Stake.comfort,
            formulas=(speed_after_shift,),
            unit="rpm",
            turned_by=AtLeast,
        )
        yield Requirement(
            id=f"gearing.gap.{lower}_{higher}",
            about=gearbox,
            says=f"no dead gap: an upshift from {lower} to {higher} at the limit lands where the engine gives "
            f"{100 * SHARE_AFTER_SHIFT:.0f} % of its peak power or more",
            value=landing,
            quantity=ROTATIONAL_SPEED,
            stake=Stake.comfort,
            limit=AtLeast(start_of_power),
            source=COMMON_PRACTICE,
            formulas=(speed_after_shift, band_start),
            unit="rpm",
            shows=partial(power_there, gear=lower),
            cure="Fit closer ratios there, or an engine with a wider power band.",
        )


def speeds_per_1000rpm(ev: Evaluation) -> Array:
    """Road speed at 1000 rpm in each gear, m/s."""
    return np.asarray(
        road_speed(
            1000 * REVOLUTION_PER_MINUTE,
            ev.of(line.rolling_radius)[:, None],
            ev.of(line.drive_ratios),
            ev.of(line.final_ratio)[:, None],
        )
    )


def speed_after(ev: Evaluation, gear: int) -> Array:
    """Engine speed after an upshift out of a gear at the engine's limit, rad/s."""
    ratios = ev.of(line.ratios)
    limit = ev(ev.part(Engine).max_speed)
    return np.asarray(speed_after_shift(limit, ratios[:, gear - 1], ratios[:, gear]))


def start_of_power(ev: Evaluation) -> Array:
    """Lowest engine speed that gives the required share of the peak power, rad/s; a factor on the whole curve drops out."""
    curve = ev.of(full_load.torque_curve)
    return np.asarray(band_start(curve.x, curve.y, SHARE_AFTER_SHIFT))


def power_there(ev: Evaluation, gear: int) -> str:
    """What the engine gives where it lands."""
    curve = ev.of(full_load.torque_curve)
    nominal = curve.y if curve.y.ndim == 1 else curve.y[0]
    share = float(power_share(float(speed_after(ev, gear)[0]), curve.x, nominal))
    if np.isnan(share):
        return "the engine lands outside of its torque curve"
    return f"it lands at {show(share, display_unit(SHARE), 2)} of the peak power"
