"""Facts that fit their own range but not the rest of the car: a sign or a digit has slipped. They are asked about.

Answers   questions   path and sentence of each, none where its note confirms it
Not here  values that are unusual by themselves (unusual.py); values that cannot be (parts/reading.py)
Rule      Places of the drive line are forward of the front axle positive: what is at the rear axle has the wheelbase with a minus, what is
          on the left has a positive y. The windows are wide: common practice, no source.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.facts.quantity import LENGTH
from trialfit.facts.showing import show
from trialfit.facts.units import find_unit
from trialfit.handbook.gearing.curve_shape import WIDE, wide_stretches
from trialfit.parts import AxleLocation, Car, Drivetrain, Engine, FinalDrive, Gearbox, HalfShaft, PropShaft
from trialfit.parts.asking import to_confirm
from trialfit.parts.ranges import confirmed

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.parts.fact_refs import FactRef

    Odd = tuple[FactRef, str]

_MM = find_unit(LENGTH, "mm")
_NEAR_AXLE = {"input_x": 0.9, "inner_x": 0.4, "outer_x": 0.4}
"""How far from the line of the driven axle each may be, m: common practice, no source."""
_BEYOND = 1.0
"""How far in front of or behind the axles the drivetrain may reach, m: common practice, no source."""
_SHARES = (0.2, 0.8)
_TRACKS_APART = 0.35
_PEAKS_APART = 0.05
"""What a written peak and the curve may differ by, spreads apart: common practice, no source."""


def questions(build: Build) -> Iterator[tuple[str, str]]:
    """Path and sentence of each fact that does not fit the car."""
    car = build.first(Car)
    found = [*_peaks(build), *_sides(build)]
    if car is not None:
        found += [
            *_masses(car),
            *_towed(car),
            *_sizes(car),
            *_steered(car),
            *_at_the_axle(build, car),
            *_along(build, car),
        ]
    for ref, why in found:
        if ref.written and not confirmed(ref.written.note):
            yield ref.path, f"is {ref.written.plain}, {why}. {to_confirm(ref)}"
    yield from _words_apart(build)


def _words_apart(build: Build) -> Iterator[tuple[str, str]]:
    """Words that contradict other parts: no note confirms them, one of the two is wrong."""
    car, drive = build.first(Car), build.first(FinalDrive)
    if car is not None and car.rear_suspension == "independent":
        live = [location.name for location in build.all(AxleLocation)]
        facts = (
            (drive.pinion_length, drive.bump_travel, drive.droop_travel, drive.wind_up, drive.wind_down)
            if drive
            else ()
        )
        live += [ref.path for ref in facts if ref.written]
        if live:
            says = f'is "independent", and {live[0]} is of a live axle: what the axle does is not judged. Write "live axle"'
            yield f"{car.name}.rear_suspension", f"{says}, or remove {', '.join(live)}"
    words = {shaft.steered for shaft in build.all(HalfShaft)}
    is_front = car is not None and car.driven_axle == "front"
    for shaft in build.all(HalfShaft):
        if shaft.steered == "no" and (is_front or len(words) > 1) and words != {"no"}:
            yield (
                f"{shaft.name}.steered",
                'is "no", and the other wheel of its axle is steered: both are, or neither. Both are judged as steered',
            )


def _steered(car: Car) -> Iterator[Odd]:
    """The wheel on the inside of the bend is steered further."""
    inside, outside = car.steering_lock.written, car.steering_lock_outside.written
    if inside and outside and outside.si - outside.spread.minus > inside.si + inside.spread.plus:
        yield (
            car.steering_lock_outside,
            f"more than {car.steering_lock.path} ({inside.plain}): on a car the wheel on the inside of the bend turns further",
        )


def _peaks(build: Build) -> Iterator[Odd]:
    """The written peaks are those of the written curve: no point lies above them, and of many points one comes near."""
    engine = build.first(Engine)
    curve = engine.torque_curve.written if engine else None
    if engine is None or curve is None:
        return
    is_dense = bool((wide_stretches(np.array(curve.x)) <= WIDE).all())
    torques, powers = curve.y, [speed * torque for speed, torque in zip(curve.x, curve.y, strict=True)]
    for ref, points in ((engine.peak_torque, torques), (engine.power, powers)):
        peak, highest = ref.written, max(points)
        if peak is None or highest <= 0:
            continue
        apart = _PEAKS_APART + curve.relative_spread.plus + peak.spread.plus / peak.si
        if highest > peak.si * (1 + apart) or (is_dense and highest < peak.si * (1 - apart)):
            yield ref, f"and the highest of {engine.torque_curve.path} is {show(highest, peak.unit)}"


def _masses(car: Car) -> Iterator[Odd]:
    mass, rear = car.mass.written, car.rear_axle_mass.written
    if mass and rear and not _SHARES[0] <= rear.si / mass.si <= _SHARES[1]:
        usual = f"{100 * _SHARES[0]:.0f} % to {100 * _SHARES[1]:.0f} %"
        yield (
            car.rear_axle_mass,
            f"{100 * (rear.si / mass.si):.0f} % of {car.mass.path} ({mass.plain}), usual is {usual}",
        )


def _towed(car: Car) -> Iterator[Odd]:
    """A car tows no more than it weighs laden, braked as the trailer may be: common practice, no source."""
    trailer, heaviest = car.trailer_mass.written, car.laden_mass.written or car.mass.written
    if trailer and heaviest and trailer.si > heaviest.si:
        of = car.laden_mass if car.laden_mass.written else car.mass
        yield car.trailer_mass, f"more than {of.path} ({heaviest.plain}): a car usually tows no more than it weighs"


def _sizes(car: Car) -> Iterator[Odd]:
    front, rear, wheelbase = car.front_track.written, car.rear_track.written, car.wheelbase.written
    if front and rear and abs(front.si - rear.si) > _TRACKS_APART:
        yield (
            car.rear_track,
            f"and {car.front_track.path} is {front.plain}: usual are at most {show(_TRACKS_APART, _MM)} between them",
        )
    for track in (car.front_track, car.rear_track):
        if track.written and wheelbase and track.written.si >= wheelbase.si:
            yield track, f"not below {car.wheelbase.path} ({wheelbase.plain}): a car is longer than wide"


def _axles(car: Car) -> tuple[float, ...]:
    """Where the driven axles are, m; none while the wheelbase is missing and one of them is behind."""
    wheelbase = car.wheelbase.written
    if car.driven_axle == "front":
        return (0.0,)
    if wheelbase is None:
        return ()
    return (-wheelbase.si,) if car.driven_axle == "rear" else (0.0, -wheelbase.si)


def _at_the_axle(build: Build, car: Car) -> Iterator[Odd]:
    """Final drive and half-shafts are near the line of a driven axle."""
    axles = _axles(car)
    refs: list[FactRef] = [one.input_x for one in build.all(FinalDrive)]
    refs += [ref for one in build.all(HalfShaft) for ref in (one.inner_x, one.outer_x)]
    for ref in refs if axles else ():
        most = _NEAR_AXLE[ref.path.rpartition(".")[2]]
        if ref.written and min(abs(ref.written.si - axle) for axle in axles) > most:
            where = " or ".join(show(axle, _MM) for axle in axles)
            yield (
                ref,
                (
                    f"and the {car.driven_axle if len(axles) == 1 else 'driven'} axle is at {where}: behind the front axle x is negative, usual "
                    f"is within {show(most, _MM)}"
                ),
            )


def _along(build: Build, car: Car) -> Iterator[Odd]:
    """What stands along the car is between its ends, and no tube is longer than the wheelbase."""
    wheelbase = car.wheelbase.written
    if wheelbase is None:
        return
    refs: list[FactRef] = [one.output_x for one in build.all(Gearbox)]
    refs += [one.rear_x for one in build.all(PropShaft)] + [one.x for one in build.all(Drivetrain)]
    low, high = -wheelbase.si - _BEYOND, _BEYOND
    for ref in refs:
        if ref.written and not low <= ref.written.si <= high:
            usual = f"usual is {show(low, _MM)} to {show(high, _MM)}"
            yield ref, f"with {car.wheelbase.path} {wheelbase.plain} {usual}: behind the front axle x is negative"
    for shaft in build.all(PropShaft):
        if shaft.length.written and shaft.length.written.si > wheelbase.si:
            yield shaft.length, f"longer than {car.wheelbase.path} ({wheelbase.plain})"


def _sides(build: Build) -> Iterator[Odd]:
    """The left is where y is positive."""
    for shaft in build.all(HalfShaft):
        outer, sign = shaft.outer_y.written, {"left": 1, "right": -1}.get(shaft.side or "", 0)
        if outer and sign * outer.si < 0:
            yield shaft.outer_y, f"and {shaft.name} is on the {shaft.side}: y is positive to the left"
