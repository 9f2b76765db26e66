"""Values along the line of drive that several subjects share; each is called through `ev.of`, so it is worked out once.

Answers   rolling_circumference, rolling_radius   of the driven tyres
          ratios, final_ratio, efficiency         gearbox and final drive
          full_load_curve, peak_torque, highest_torque, torque_at    the engine's curve with its spread, and the peaks that are written
          rear_load_share, driven_grip            what the driven tyres can carry
          grip_formula                            by which formula
          top_speeds, top_speed                   by gear, and the highest of all
          highest_shaft_speed                     of the prop shaft
          starts_from_rest, is_electric           whether there is a motor without a clutch; whether there is one
Not here  which shafts and joints there are (shaft_line.py)
All arrays SI, of shape (draws,) or (draws, gears).
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from trialfit.evaluation.evaluation import DrawnCurve, MissingFact
from trialfit.handbook.gearing import performance, torque_curve, traction, tyres
from trialfit.parts import Car, Clutch, Engine, FinalDrive, Gearbox, TorqueConverter, Tyre

if TYPE_CHECKING:
    from collections.abc import Callable

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array


BEGINS_AT, BEGINS_WITH = 0.4, 0.75
"""Where a curve of two peaks begins, over speed and torque of the peak: common practice, no source."""


def driven_tyre(ev: Evaluation) -> Tyre:
    """The tyres that drive. Raises MissingFact where the build has none on that axle."""
    car = ev.build.first(Car)
    axle = "front" if car and car.driven_axle == "front" else "rear"
    for tyre in ev.build.all(Tyre):
        if tyre.axle == axle:
            return tyre
    raise MissingFact({"tyre": f"no tyre of the {axle} axle is written"})


def rolling_circumference(ev: Evaluation) -> Array:
    """Distance the driven tyres roll in one turn, m: measured, else worked out from the size on the side wall."""
    tyre = driven_tyre(ev)
    if tyre.circumference.written is not None:
        return ev(tyre.circumference)
    return circumference_by_size(tyre.size, tyre.name) * ev(tyre.circumference_factor)


def circumference_by_size(size: str | None, name: str) -> float:
    """Rolling circumference of a tyre size, m. Raises MissingFact naming the tyre where no size is written."""
    if size is None:
        raise MissingFact({f"{name}.size": "size as printed on the sidewall"})
    read = tyres.read_size(size)
    diameter = tyres.free_diameter(read.section_width, read.aspect, read.rim_diameter)
    return float(tyres.rolling_circumference(diameter, read.radial))


def rolling_radius(ev: Evaluation) -> Array:
    """Rolling radius of the driven tyres, m."""
    return ev.of(rolling_circumference) / (2 * np.pi)


def ratios(ev: Evaluation) -> Array:
    """Forward ratios of the gearbox, (draws, gears)."""
    gearbox = ev.part(Gearbox)
    return ev.rows(gearbox.ratios, f"{gearbox.name}.ratios")


def final_ratio(ev: Evaluation) -> Array:
    """Ratio of the final drive."""
    return ev(ev.part(FinalDrive).ratio)


def efficiency(ev: Evaluation) -> Array:
    """Share of the engine's power that reaches the wheels."""
    return ev(ev.part(Gearbox).efficiency) * ev(ev.part(FinalDrive).efficiency)


def full_load_curve(ev: Evaluation) -> DrawnCurve:
    """The engine's torque curve with the peaks that are written as points of it; of these alone where there is no curve.

    Largest power and torque with their speeds are two points. Below the lower one torque is taken to fall to 0.75 of the peak at
    0.4 of its speed: common practice, no source.
    """
    engine = ev.part(Engine)
    peaks = [(speed, torque) for speed, torque in (_torque_peak(ev), _power_peak(ev)) if speed is not None]
    if engine.torque_curve.written is not None:
        curve = ev.curve(engine.torque_curve)
        return DrawnCurve(*torque_curve.with_points(curve.x, curve.y, peaks), curve.scale) if peaks else curve
    if len(peaks) < 2 or peaks[0][0] >= peaks[1][0]:  # noqa: PLR2004 - torque and power
        raise MissingFact(_no_curve(engine))
    low = (BEGINS_AT * peaks[0][0], BEGINS_WITH * peaks[0][1])
    speeds, torques = (np.array(ends) for ends in zip(low, *peaks, strict=True))
    return DrawnCurve(speeds, torques, ev(engine.peak_torque) / engine.peak_torque.written.si)  # type: ignore[union-attr]


def _no_curve(engine: Engine) -> dict[str, str]:
    ref = engine.torque_curve
    peaks = ", ".join(
        one.spec.name for one in (engine.peak_torque, engine.peak_torque_speed, engine.power, engine.power_speed)
    )
    return {ref.path: f"{ref.spec.says}; or {peaks} to begin with"}


def _torque_peak(ev: Evaluation) -> tuple[float | None, float]:
    engine = ev.part(Engine)
    if engine.peak_torque.written is None or engine.peak_torque_speed.written is None:
        return None, 0.0
    ev.each(engine.peak_torque_speed, engine.peak_torque)
    return engine.peak_torque_speed.written.si, engine.peak_torque.written.si


def _power_peak(ev: Evaluation) -> tuple[float | None, float]:
    engine = ev.part(Engine)
    if engine.power.written is None or engine.power_speed.written is None:
        return None, 0.0
    ev.each(engine.power_speed, engine.power)
    speed = engine.power_speed.written.si
    return speed, engine.power.written.si / speed


def peak_torque(ev: Evaluation) -> Array:
    """Highest full-load torque of the engine, N·m: as written, or of its curve where that is higher."""
    engine = ev.part(Engine)
    stated = ev(engine.peak_torque) if engine.peak_torque.written else None
    if engine.torque_curve.written is None and stated is not None:
        return stated
    curve = ev.of(full_load_curve)
    highest = np.asarray(curve.y.max() * curve.scale)
    return highest if stated is None else np.asarray(np.maximum(stated, highest))


def highest_torque(ev: Evaluation) -> Array:
    """The same for strength, N·m: between points of a curve that are far apart it may be higher than both."""
    engine = ev.part(Engine)
    curve = None if engine.peak_torque.written else ev.of(full_load_curve)
    if curve is None or not torque_curve.has_far_points(curve.x):
        return ev.of(peak_torque)
    return np.asarray(torque_curve.highest_between(curve.x, curve.y, ev(engine.curve_rise)) * curve.scale)


def torque_at(ev: Evaluation, speed: Array) -> Array:
    """Full-load torque at an engine speed, N·m; nan outside the curve."""
    curve = ev.of(full_load_curve)
    return torque_curve.torque_at(speed, curve.x, curve.y) * curve.scale


def rear_load_share(ev: Evaluation) -> Array:
    """Share of the mass on the rear axle, at rest on the level: also how far back the centre of mass is, over the wheelbase."""
    car = ev.part(Car)
    rear, whole = ev.each(car.rear_axle_mass, car.mass)
    return rear / whole


def driven_grip(ev: Evaluation) -> Array:
    """Largest force that the driven tyres can push with, N, load transfer included."""
    car = ev.part(Car)
    if car.driven_axle == "all":
        return np.asarray(traction.grip_all_drive(*ev.each(car.tyre_friction, car.mass)))
    friction, mass, wheelbase, height = ev.each(car.tyre_friction, car.mass, car.wheelbase, car.centre_of_mass_height)
    to_centre = ev.of(rear_load_share) * wheelbase
    if car.driven_axle == "front":
        return np.asarray(traction.grip_front_drive(friction, mass, wheelbase, to_centre, height))
    if car.rear_suspension == "live axle" and ev.part(FinalDrive).differential == "open":
        front = ev(car.front_roll_share)
        return np.asarray(
            traction.grip_open_solid_axle(
                friction,
                mass,
                wheelbase,
                to_centre,
                height,
                ev(car.rear_track),
                ev.of(rolling_radius),
                ev.of(final_ratio),
                front,
                1 - front,
            )
        )
    return np.asarray(traction.grip_rear_drive(friction, mass, wheelbase, to_centre, height))


def grip_formula(build: Build) -> Callable[..., Any]:
    """The formula that driven_grip takes for a build."""
    car, final_drive = build.first(Car), build.first(FinalDrive)
    if car and car.driven_axle == "all":
        return traction.grip_all_drive
    if car and car.driven_axle == "front":
        return traction.grip_front_drive
    if car and car.rear_suspension == "live axle" and final_drive and final_drive.differential == "open":
        return traction.grip_open_solid_axle
    return traction.grip_rear_drive


def top_speeds(ev: Evaluation) -> performance.TopSpeed:
    """Highest speed held in each gear on the level, and what limits it."""
    engine, car = ev.part(Engine), ev.part(Car)
    curve = ev.of(full_load_curve)
    mass, rolling, drag_area, air = ev.each(car.mass, car.rolling_coefficient, car.drag_area, car.air_density)
    return performance.top_speed(
        engine_speeds=curve.x,
        torques=curve.y,
        torque_factor=curve.scale,
        gearbox_ratios=ev.of(ratios),
        final_ratio=ev.of(final_ratio),
        efficiency=ev.of(efficiency)[:, None],
        rolling_radius=ev.of(rolling_radius),
        mass=mass,
        rolling=rolling,
        drag_area=drag_area,
        air_density=air,
        rev_limit=ev(engine.max_speed),
    )


def top_speed(ev: Evaluation) -> Array:
    """Highest speed the car can hold on the level, m/s."""
    return ev.of(top_speeds).highest


def highest_shaft_speed(ev: Evaluation) -> Array:
    """Highest speed of the prop shaft, rad/s: at the engine's limit in the highest gear, or at top speed if that is less.

    Without a torque curve or a mass the top speed cannot be known, and the engine's limit alone decides.
    """
    engine = ev.part(Engine)
    at_limit = np.asarray(ev(engine.max_speed) / ev.of(ratios).min(axis=-1))
    car = ev.build.first(Car)
    if (
        (engine.torque_curve.written is None and engine.power.written is None)
        or car is None
        or car.mass.written is None
    ):
        return at_limit
    at_top_speed = ev.of(top_speed) / ev.of(rolling_radius) * ev.of(final_ratio)
    return np.asarray(np.minimum(at_limit, at_top_speed))


def is_electric(build: Build) -> bool:
    """Whether the engine is a motor that runs on electricity."""
    engine = build.first(Engine)
    return engine is not None and engine.runs_on == "electricity"


def starts_from_rest(build: Build) -> bool:
    """Whether a motor pulls from standstill without clutch or converter. A point of its curve at zero speed makes no engine one."""
    return is_electric(build) and build.first(Clutch) is None and build.first(TorqueConverter) is None
