"""Values along the line of drive that several subjects share; each is called through `ev.of`, so it is worked out once.

Answers   rolling_circumference, rolling_radius   of the driven tyres
          ratios, drive_ratios, range_ratio       of the gearbox; to the pinion, with the high range of a transfer case; of that
          lowest_ratio                            behind the gearbox, low range and reverse counted in
          final_ratio, efficiency                 of the final drive; from the engine to the wheels
          peak_torque, torque_at                  of the engine at full load (full_load.py)
          rear_load_share, driven_grip            what the driven tyres can carry
          grip_formula                            by which formula
          top_speeds, top_speed                   by gear, and the highest of all
          shaft_speeds, highest_shaft_speed       of the prop shaft: the limit over each ratio, and over the smallest
          highest_engine_speed, speed_beyond_limit   the limit, or what is written of the engine above a guessed one
          highest_road_speed                      the same at the wheels
          highest_speed_reached                   what tyres must bear
          starts_from_rest, is_electric, has_converter    whether a motor drives without a clutch; whether there is a motor, a converter
Not here  which shafts and joints there are (shaft_line.py)
All arrays SI, of shape (draws,) or (draws, gears).
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.facts.provenance import Provenance
from trialfit.handbook.gearing import performance, torque_curve, traction, tyres
from trialfit.parts import Car, Clutch, Engine, FinalDrive, Gearbox, TorqueConverter, TransferCase, Tyre
from trialfit.parts.fact_refs import FactRef
from trialfit.subjects import full_load

if TYPE_CHECKING:
    from collections.abc import Callable

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts.fact_refs import CurveRef

_NOT_KNOWN = frozenset({Provenance.guess, Provenance.unstated})


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


def range_ratio(ev: Evaluation) -> Array:
    """Ratio of a transfer case in its high range, which is the usual one; 1 without a case."""
    case = ev.build.first(TransferCase)
    return ev(case.ratio) if case else np.ones(ev.draws)


def drive_ratios(ev: Evaluation) -> Array:
    """From the engine to the pinion in each forward gear, in high range, (draws, gears): what the shafts and the car go by."""
    forward = ev.of(ratios)
    return forward * ev.of(range_ratio)[:, None] if ev.build.first(TransferCase) else forward


def has_low_range(build: Build) -> bool:
    """Whether there is a transfer case with a low range: each has one that its builder does not say has none."""
    case = build.first(TransferCase)
    return case is not None and case.low_range != "none"


def lowest_ratio(ev: Evaluation) -> Array:
    """The largest ratio from the engine to what is behind gearbox and transfer case, reverse and low range counted in. Raises MissingFact."""
    gearbox, case = ev.part(Gearbox), ev.build.first(TransferCase)
    lowest = ev.of(ratios).max(axis=-1)
    if gearbox.reverse_ratio.written:
        lowest = np.maximum(lowest, ev(gearbox.reverse_ratio))
    if case is None:
        return np.asarray(lowest)
    return np.asarray(lowest * (ev(case.low_ratio) if has_low_range(ev.build) else ev.of(range_ratio)))


def final_ratio(ev: Evaluation) -> Array:
    """Ratio of the final drive."""
    return ev(ev.part(FinalDrive).ratio)


def efficiency(ev: Evaluation) -> Array:
    """Share of the engine's power that reaches the wheels."""
    case = ev.build.first(TransferCase)
    between = ev(case.efficiency) if case else 1.0
    return ev(ev.part(Gearbox).efficiency) * between * ev(ev.part(FinalDrive).efficiency)


def peak_torque(ev: Evaluation) -> Array:
    """Highest full-load torque of the engine, N·m."""
    return ev.of(full_load.peak_torque)


def torque_at(ev: Evaluation, speed: Array) -> Array:
    """Full-load torque at an engine speed (draws, ...), N·m; nan below the curve and above the engine's limit."""
    curve = ev.of(full_load.torque_curve)
    scale = curve.scale.reshape(-1, *(1,) * (np.ndim(speed) - 1))
    torques = curve.y if curve.y.ndim == 1 else curve.y.reshape(ev.draws, *(1,) * (np.ndim(speed) - 1), -1)
    return np.asarray(torque_curve.torque_at(speed, curve.x, torques) * scale)


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
    return _top_speeds(ev, ev(ev.part(Car).drag_area))


def _top_speeds(ev: Evaluation, drag_area: Array) -> performance.TopSpeed:
    engine, car = ev.part(Engine), ev.part(Car)
    curve = ev.of(full_load.torque_curve)
    mass, rolling, air = ev.each(car.mass, car.rolling_coefficient, car.air_density)
    return performance.top_speed(
        engine_speeds=curve.x,
        torques=curve.y,
        torque_factor=curve.scale,
        gearbox_ratios=ev.of(drive_ratios),
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


def shaft_speeds(ev: Evaluation) -> Array:
    """Speed of the prop shaft at the engine's limit in each forward gear, rad/s, (draws, gears)."""
    return np.asarray(ev.of(highest_engine_speed)[:, None] / ev.of(drive_ratios))


def highest_engine_speed(ev: Evaluation) -> Array:
    """Engine speed that a shaft must bear, rad/s: the limit, and where that is a guess no less than what is written of the engine."""
    limit = ev(ev.part(Engine).max_speed)
    beyond = speed_beyond_limit(ev.build)
    if beyond is None:
        return limit
    speed = ev(beyond) if isinstance(beyond, FactRef) else ev.curve(beyond).x[-1]
    return np.maximum(limit, speed)


def speed_beyond_limit(build: Build) -> FactRef | CurveRef | None:
    """What says that the engine turns faster than a limit that is a guess or whose provenance is missing; None where nothing does.

    An engine turns at the last point of its torque curve and where it has its most torque and power.
    """
    engine = build.first(Engine)
    limit = engine.max_speed.written if engine else None
    if engine is None or limit is None or limit.provenance not in _NOT_KNOWN:
        return None
    found: FactRef | CurveRef | None = None
    highest = limit.si
    for ref in (engine.torque_curve, engine.power_speed, engine.peak_torque_speed):
        speed = speed_written(ref)
        if speed is not None and speed > highest:
            found, highest = ref, speed
    return found


def speed_written(ref: FactRef | CurveRef) -> float | None:
    """An engine speed as written, or the last of a curve, rad/s."""
    if isinstance(ref, FactRef):
        return ref.written.si if ref.written else None
    return float(ref.written.x[-1]) if ref.written else None


def highest_shaft_speed(ev: Evaluation) -> Array:
    """Highest speed of the prop shaft, rad/s: the engine's limit over the smallest ratio of gearbox and high range.

    What a shaft must bear does not end where a torque curve ends or a guessed drag holds the car back: downhill it turns faster.
    """
    return np.asarray(ev.of(shaft_speeds).max(axis=-1))


def highest_road_speed(ev: Evaluation) -> Array:
    """Road speed at the engine's limit in the tallest gear, m/s, whether or not the engine pulls that far."""
    return np.asarray(ev.of(highest_shaft_speed) / ev.of(final_ratio) * ev.of(rolling_radius))


def highest_speed_reached(ev: Evaluation) -> Array:
    """Road speed that tyres must bear, m/s: of the limiter in the tallest gear, or less where drag holds the car back.

    Drag counts as far as it is known: a guess no more than the least that a car of its shape can have, and nothing where mass or
    torque is missing.
    """
    at_limit = ev.of(highest_road_speed)
    car = ev.build.first(Car)
    if car is None or car.mass.written is None or not full_load.has_curve(ev.build):
        return at_limit
    top = ev.of(_top_speeds_at_least_drag).highest
    return np.asarray(np.where(np.isfinite(top), np.minimum(top, at_limit), at_limit))


def _top_speeds_at_least_drag(ev: Evaluation) -> performance.TopSpeed:
    car = ev.part(Car)
    written = car.drag_area.written
    if written is None:
        return ev.of(top_speeds)
    if written.provenance not in _NOT_KNOWN:
        return ev.of(top_speeds)
    return _top_speeds(ev, np.minimum(*ev.each(car.drag_area, car.least_drag_area)))


def is_electric(build: Build) -> bool:
    """Whether the engine is a motor that runs on electricity."""
    engine = build.first(Engine)
    return engine is not None and engine.runs_on == "electricity"


def has_converter(build: Build) -> bool:
    """Whether a torque converter stands in place of a clutch: it creeps, and nothing is slipped by foot."""
    return build.first(TorqueConverter) is not None


def starts_from_rest(build: Build) -> bool:
    """Whether it pulls from standstill: a motor without clutch or converter. An engine that burns fuel gives nothing at rest."""
    return is_electric(build) and build.first(Clutch) is None and not has_converter(build)
