"""Times from rest and top speeds against solvers of scipy that know nothing of our formulas."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from trialfit.evaluation.verdict import Verdict

RPM = 2 * math.pi / 60
RADIUS = 1.927 / (2 * math.pi)
MASS = 1200.0
WEIGHT = MASS * 9.80665
RATIOS = (3.3, 2.0, 1.4, 1.0, 0.82)
EFFICIENCY = 0.96 * 0.97
GRIP = 0.9 * WEIGHT * 0.48 / (1 - 0.9 * 0.2)


def torque(turns: float) -> float:
    """The curve of the text, N·m at rad/s."""
    return float(np.interp(turns / RPM, [1000, 3000, 5000, 6000], [150, 200, 190, 160]))


def load(speed: float) -> float:
    """Rolling and air."""
    return 0.013 * WEIGHT + 0.5 * 1.2 * 0.65 * speed**2


def driven(gear: int, speed: float) -> float:
    """Acceleration in a gear: engine and wheels speeded up too, or the tyres at their grip."""
    total = RATIOS[gear] * 3.73
    turns = speed * total / RADIUS
    if gear == 0 and turns < 2200 * RPM:  # the clutch slips: engine held at launch speed
        turns, heavier = 2200 * RPM, 1.04
    else:
        heavier = 1.04 + 0.15 * (total / RADIUS) ** 2 / MASS
    engine = (torque(turns) * total * EFFICIENCY / RADIUS - load(speed)) / (heavier * MASS)
    return min(engine, (GRIP - load(speed)) / MASS)


def run() -> tuple[list[float], list[float], list[float]]:
    """Dense times, speeds and ways of a standing start, changing up at the limit, by solve_ivp with events.

    On this curve each gear pulls harder up to its limit than the next does at the same speed.
    """
    time, state = 0.0, [0.0, 0.0]
    times, speeds, ways = [], [], []

    def keep(solution: object) -> None:
        grid = np.linspace(solution.t[0], solution.t[-1], 4001)
        speed, way = solution.sol(grid)
        times.extend(grid)
        speeds.extend(speed)
        ways.extend(way)

    for gear, ratio in enumerate(RATIOS):
        at_limit = 6000 * RPM * RADIUS / (ratio * 3.73)

        def limit(_: float, y: np.ndarray, at_limit: float = at_limit) -> float:
            return y[0] - at_limit

        limit.terminal = True
        pull = solve_ivp(
            lambda _, y, gear=gear: [driven(gear, y[0]), y[0]],
            (time, time + 60),
            state,
            events=limit,
            dense_output=True,
            rtol=1e-9,
            atol=1e-9,
            max_step=0.05,
        )
        keep(pull)
        time, state = pull.t[-1], pull.y[:, -1]
        if state[1] > 400 or pull.status == 0:
            break
        coast = solve_ivp(
            lambda _, y: [-load(y[0]) / (1.04 * MASS), y[0]],
            (time, time + 0.4),
            state,
            dense_output=True,
            rtol=1e-9,
            atol=1e-9,
        )
        keep(coast)
        time, state = coast.t[-1], coast.y[:, -1]
    return times, speeds, ways


def test_times_agree_with_a_solver(base, gearing, value) -> None:
    """0 to 100 km/h, 0 to 60 mph and the standing 400 m within a millisecond, the speed there within 0.01 km/h."""
    times, speeds, ways = (np.array(column) for column in run())
    report = gearing(base)

    for what, target in (("time.0_100_kmh", 100 / 3.6), ("time.0_60_mph", 60 * 0.44704)):
        first = int(np.argmax(speeds >= target))
        by_solver = np.interp(target, speeds[first - 1 : first + 1], times[first - 1 : first + 1])
        assert value(report, f"gearing.{what}") == pytest.approx(by_solver, abs=1e-3)
    assert value(report, "gearing.time.400_m") == pytest.approx(np.interp(400, ways, times), abs=1e-3)
    assert value(report, "gearing.speed_at_400_m") == pytest.approx(np.interp(400, ways, speeds) * 3.6, abs=0.01)


@pytest.mark.parametrize(
    ("change", "sign"),
    [
        (("1200 ± 0 kg", "1000 ± 0 kg"), -1),
        (("0.4 ± 0 s", "0.8 ± 0 s"), 1),
        (("0.65 ± 0 m²", "0.9 ± 0 m²"), 1),
        (("0.15 ± 0 kg·m²", "0.30 ± 0 kg·m²"), 1),
        (("0.9 ± 0", "0.5 ± 0"), 1),
        (("3000 : 200", "3000 : 240"), -1),
        (("6000 ± 0 rpm", "5000 ± 0 rpm"), 1),
    ],
    ids=["lighter", "slower shift", "more drag", "heavier flywheel", "less grip", "more torque", "lower limit"],
)
def test_what_makes_the_car_quicker_or_slower(base, gearing, value, change, sign) -> None:
    """The sign of each effect on the standing 400 m is pinned."""
    changed, as_written = (value(gearing(base, *some), "gearing.time.400_m") for some in ([change], []))

    assert math.copysign(1, changed - as_written) == sign


@pytest.mark.parametrize(("gear", "ratio"), list(enumerate(RATIOS, 1)))
def test_top_speed_of_each_gear_against_a_root_finder(base, gearing, value, gear, ratio) -> None:
    """The limit, or the last speed at which pull and load balance, found by scipy."""
    total = ratio * 3.73
    at_limit = 6000 * RPM * RADIUS / total

    def surplus(speed: float) -> float:
        return torque(speed * total / RADIUS) * total * EFFICIENCY / RADIUS - load(speed)

    balanced = surplus(at_limit) < 0
    speed = brentq(surplus, 3000 * RPM * RADIUS / total, at_limit) if balanced else at_limit
    report = gearing(base)

    assert value(report, f"gearing.top_speed.{gear}") == pytest.approx(speed * 3.6, rel=1e-9)
    why = "road load equals the pull" if balanced else "the engine is at its speed limit"
    assert why in report.figure(f"gearing.top_speed.{gear}").remark


def test_the_highest_speed_names_its_gear(base, gearing, value) -> None:
    """The largest of the five, with the gear that reaches it."""
    report = gearing(base)
    by_gear = [value(report, f"gearing.top_speed.{gear}") for gear in range(1, 6)]

    assert value(report, "gearing.top_speed") == max(by_gear)
    assert f"in gear {1 + by_gear.index(max(by_gear))}" in report.figure("gearing.top_speed").remark


def test_a_curve_that_ends_short_of_the_limit_says_so(base, gearing) -> None:
    """The end of a curve is not the end of the engine: its limit is, and what it gives up to there is a typical share."""
    report = gearing(base, ("6000 ± 0 rpm", "7000 ± 0 rpm"))
    figure = report.figure("gearing.top_speed.2")

    assert "the torque curve ends at 6000 rpm, below it: what the engine gives beyond is assumed" in figure.remark
    assert "typical values used for engine.power_at_limit" in figure.remark
    assert figure.value.nominal > 6050 / 6000 * gearing(base).figure("gearing.top_speed.2").value.nominal


def test_a_shorter_final_drive_lowers_the_speed_at_the_limit(base, gearing, value) -> None:
    """The sign is pinned."""
    short = gearing(base, ('ratio = "3.73"', 'ratio = "4.10"'))

    assert value(short, "gearing.top_speed.2") < value(gearing(base), "gearing.top_speed.2")


@pytest.mark.parametrize(
    ("what", "limit", "verdict"),
    [
        ("time.0_100_kmh", "20 s", Verdict.holds),
        ("time.0_100_kmh", "3 s", Verdict.fails),
        ("time.0_60_mph", "3 s", Verdict.fails),
        ("time.400_m", "25 s", Verdict.holds),
        ("speed_at_400_m", "60 km/h", Verdict.holds),
        ("top_speed", "300 km/h", Verdict.fails),
        ("top_speed.1", "40 km/h", Verdict.holds),
    ],
)
def test_the_builder_s_own_limit_makes_a_finding_of_a_figure(base, gearing, what, limit, verdict) -> None:
    """Times are limits from above, speeds from below."""
    assert gearing(base + f'[limit]\n"gearing.{what}" = "{limit}"\n')[f"gearing.{what}"].verdict is verdict


def test_a_car_that_never_gets_there_has_no_time(base, gearing) -> None:
    """A tired engine does not reach 100 km/h: no number, and the remark says why."""
    weak = ("1000 : 150\n3000 : 200\n5000 : 190\n6000 : 160", "1000 : 12\n3000 : 15\n5000 : 12\n6000 : 10")
    figure = gearing(base, weak).figure("gearing.time.0_100_kmh")

    assert figure.value is None
    assert "outside the range of the formula" in figure.remark


def test_fast_figures_carry_a_caution(base, gearing) -> None:
    """Nobody tries a top speed on a public road."""
    report = gearing(base)

    for what in ("top_speed", "top_speed.1", "time.400_m", "speed_at_400_m"):
        assert "public road" in report.figure(f"gearing.{what}").caution
