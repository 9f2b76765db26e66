"""The engine at full load: the one torque curve that everything goes by.

Answers   torque_curve   the curve up to the engine's limit, whatever it was made of
          peak_torque    the highest torque
          last_known_speed   where what is written ends
          has_curve      whether enough is written for a curve
Not here  torque at an engine speed, what it does (line.py)
Rule      The points that are written, with the written peaks of torque and power among them: peak torque and power with their
          speeds are enough. Straight lines between the points; in a wide stretch the curve may lie above or below that
          (engine.curve_bulge), but never above a written peak. Where the last point lies below the engine's limit, what the engine
          gives there is a share of its peak power (engine.power_at_limit): the end of a curve is not the end of the engine.
All arrays SI, of shape (draws,), or (draws, points) with the engine speeds (points,) shared.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import DrawnCurve
from trialfit.handbook.gearing.curve_shape import WIDE, torque_of_power, wide_stretches, with_bulge
from trialfit.parts import Engine

if TYPE_CHECKING:
    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array

_REACHES = 0.995
_SAME_SPEED = 1e-6
_IDLE_OVER_PEAK = 0.3
"""Idle over the engine speed of peak torque where idle is missing: common practice, no source."""


def has_curve(build: Build) -> bool:
    """Whether a curve is written, or the peaks that make one."""
    engine = build.first(Engine)
    if engine is None:
        return False
    peaks = (engine.peak_torque, engine.peak_torque_speed, engine.power, engine.power_speed)
    return engine.torque_curve.written is not None or all(ref.written for ref in peaks)


def torque_curve(ev: Evaluation) -> DrawnCurve:
    """Full-load torque over engine speed, up to the engine's limit. Raises MissingFact."""
    engine, curve = ev.part(Engine), ev.of(_known)
    limit = engine.max_speed.written
    if limit is None or curve.x[-1] >= _REACHES * limit.si:
        return curve
    ev(engine.max_speed)
    end = limit.si + 1.5 * limit.spread.plus
    torques = curve.y * curve.scale[:, None]
    at_limit = torque_of_power(ev(engine.power_at_limit) * (torques * curve.x).max(axis=-1), end)
    y = np.concatenate((torques, np.asarray(at_limit)[:, None]), axis=-1)
    return DrawnCurve(np.append(curve.x, end), y, np.ones(ev.draws))


def last_known_speed(ev: Evaluation) -> float:
    """Engine speed of the last point that is written, rad/s: beyond it the curve is assumed."""
    return float(ev.of(_known).x[-1])


def peak_torque(ev: Evaluation) -> Array:
    """Highest full-load torque, N·m: of the curve, and as it is written; alone it needs no engine speed."""
    engine = ev.part(Engine)
    written = engine.peak_torque.written is not None
    if engine.torque_curve.written is None and written:
        return ev(engine.peak_torque)
    curve = ev.of(_known)
    highest = np.asarray(curve.y.max(axis=-1) * curve.scale)
    return np.maximum(highest, ev(engine.peak_torque)) if written else highest


def _known(ev: Evaluation) -> DrawnCurve:
    """The curve as far as points reach: (points,) with a factor where nothing but the points is needed, else (draws, points)."""
    engine = ev.part(Engine)
    curve = ev.curve(engine.torque_curve) if engine.torque_curve.written or not _has_peak(engine) else None
    peaks = ev.of(_peaks)
    if curve is not None and not peaks and not (wide_stretches(curve.x) > WIDE).any():
        return curve
    if curve is None:
        points = _below_peak(ev, engine)
    else:
        points = {float(x): y * curve.scale for x, y in zip(curve.x, curve.y, strict=True)}
    for speed, torque in peaks:
        same = next((x for x in points if abs(x - speed) <= _SAME_SPEED * speed), speed)
        points[same] = np.maximum(torque, points[same]) if same in points else torque
    x = np.array(sorted(points))
    return _filled(ev, engine, x, np.stack([points[float(one)] for one in x], axis=-1))


def _has_peak(engine: Engine) -> bool:
    return engine.peak_torque.written is not None or engine.power.written is not None


def _peaks(ev: Evaluation) -> tuple[tuple[float, Array], ...]:
    """Engine speed and torque of the written peaks. Where no curve is written both are needed, each with its speed."""
    engine = ev.part(Engine)
    torque = engine.peak_torque, engine.peak_torque_speed
    power = engine.power, engine.power_speed
    if engine.torque_curve.written is None:
        ev.each(*torque, *power)
    found = []
    if all(ref.written for ref in torque):
        value, speed = ev.each(*torque)
        found.append((float(speed[0]), value))
    if all(ref.written for ref in power):
        value, speed = ev.each(*power)
        found.append((float(speed[0]), np.asarray(torque_of_power(value, float(speed[0])))))
    return tuple(found)


def _below_peak(ev: Evaluation, engine: Engine) -> dict[float, Array]:
    """The lowest point of a curve of which only the peaks are written: at idle; a motor has its peak torque from rest."""
    peak, speed = ev.each(engine.peak_torque, engine.peak_torque_speed)
    if engine.runs_on == "electricity":
        return {0.0: peak}
    idle = engine.idle_speed.written
    low = float(ev(engine.idle_speed)[0]) if idle else _IDLE_OVER_PEAK * float(speed[0])
    return {low: ev(engine.torque_at_idle) * peak} if low < speed[0] else {}


def _filled(ev: Evaluation, engine: Engine, x: Array, y: Array) -> DrawnCurve:
    """The curve with points in its wide stretches, which stay below the written peaks; its own points stay as they are."""
    if not (wide_stretches(x) > WIDE).any():
        return DrawnCurve(x, y, np.ones(ev.draws))
    speeds, torques = with_bulge(x, y, ev(engine.curve_bulge))
    is_own = np.isin(speeds, x)
    if engine.peak_torque.written:
        torques = np.where(is_own, torques, np.minimum(torques, ev(engine.peak_torque)[:, None]))
    if engine.power.written:
        most = np.asarray(torque_of_power(ev(engine.power)[:, None], np.where(is_own, np.inf, speeds)))
        torques = np.where(is_own, torques, np.minimum(torques, most))
    return DrawnCurve(speeds, torques, np.ones(ev.draws))
