"""When a crane tips, by least squares: four wheels that only push, on a floor that is tilted more and more.

No formula of the handbook: the weight of crane and load turns with the floor, and where no forces at the wheels, none of them negative,
balance it, the crane tips. How high a hook must rise, by turning the corners of the load in fine steps.
"""

from __future__ import annotations

import sys

import numpy as np
from scipy.optimize import brentq, nnls
from thorough import some

from trialfit.book import read_text
from trialfit.evaluation.evaluation import Evaluation
from trialfit.parts import Lift
from trialfit.subjects.lifting import over_the_car

MANY = some(600)
LIMIT = np.radians(8.0)
TEXT = """
[unit]
kind = "mass_part"
mass = "{load} ± 0 kg"
x = "{x} ± 0 m"
y = "0 ± 0 m"
z = "0.5 ± 0 m"
hoisted_by = "out"
[out]
kind = "lift"
hook_x = "0 ± 0 m"
hook_y = "0 ± 0 m"
hook_z = "{hook_z} ± 0 m"
dynamic_factor = "1.25 ± 0"
hole = "1"
target_tilt = "{least} ± 0 deg"
steepest_tilt = "{most} ± 0 deg"
passes_over = "0.8 ± 0 m"
bottom_z = "0.2 ± 0 m"
front_end_x = "{front_end} ± 0 m"
rear_end_x = "{rear_end} ± 0 m"
highest_hook = "{high} ± 0 m"
floor_slope = "0.5 ± 0 deg"
[workshop_crane]
hole_reaches = ["{reach} ± 0 m"]
hole_ratings = ["500 kg, manual"]
leg_reach = "{legs} ± 0 m"
rear_wheels = "{behind} ± 0 m"
front_track = "{wide} ± 0 m"
rear_track = "{narrow} ± 0 m"
mass = "{own} ± 0 kg"
centre_ahead = "{centre} ± 0 m"
centre_height = "{low} ± 0 m"
"""


def crane(seed: int) -> dict[str, float]:
    """A random crane with a load on it."""
    draw = np.random.default_rng(seed).uniform
    least = draw(-10, 10)
    return {
        "load": draw(80, 400),
        "x": draw(-0.2, 0.2),
        "hook_z": draw(0.9, 1.4),
        "least": least,
        "most": least + draw(0, 35),
        "front_end": draw(0.2, 0.6),
        "rear_end": -draw(0.3, 1.2),
        "high": draw(1.4, 2.3),
        "reach": draw(0.9, 1.5),
        "legs": draw(0.9, 1.7),
        "behind": draw(-0.1, 0.4),
        "wide": draw(0.5, 1.1),
        "narrow": draw(0.4, 0.9),
        "own": draw(45, 120),
        "centre": draw(0.1, 0.6),
        "low": draw(0.4, 1.0),
    }


def stands(one: dict[str, float], way: np.ndarray, slope: float) -> bool:
    """Whether wheels that only push balance the crane, with the floor falling by a slope in a direction (ahead, to the left)."""
    wheels = [(one["legs"], side * one["wide"] / 2) for side in (-1, 1)]
    wheels += [(-one["behind"], side * one["narrow"] / 2) for side in (-1, 1)]
    rows, sums = np.vstack([np.ones(4), np.array(wheels).T]), np.zeros(3)
    for mass, ahead, height in (
        (1.25 * one["load"], one["reach"], one["high"]),
        (one["own"], one["centre"], one["low"]),
    ):
        falls = np.array([ahead, 0.0]) + height * np.tan(slope) * way
        sums += mass * np.array([1.0, *falls])
    return bool(nnls(rows, sums)[1] < 1e-7 * sums[0])


def tips_at(one: dict[str, float], way: np.ndarray) -> float:
    """The slope at which it tips, by halving; leaning back if it tips on the level."""
    low, high = -1.5, 1.5
    # leaning far back it tips too, over the other side: start from where it stands
    standing = next((slope for slope in np.linspace(0.0, -1.5, 60) if stands(one, way, slope)), None)
    if standing is None:
        return float("nan")
    low = standing
    for _ in range(45):
        middle = (low + high) / 2
        low, high = (middle, high) if stands(one, way, middle) else (low, middle)
    return low


def lowest(one: dict[str, float], degrees: float) -> float:
    """Depth of the lowest corner of the load below the hook that hangs it at a tilt, m."""
    a = np.radians(degrees)

    def turned(x: float, z: float) -> tuple[float, float]:
        return x * np.cos(a) - z * np.sin(a), x * np.sin(a) + z * np.cos(a)

    at = turned(one["x"], 0.5)[0]
    x = brentq(lambda place: turned(place, one["hook_z"])[0] - at, -5, 5)
    hook = turned(x, one["hook_z"])[1]
    return float(max(hook - turned(end, 0.2)[1] for end in (one["front_end"], one["rear_end"])))


def test_a_crane_tips_where_its_wheels_balance_nothing_more() -> None:
    """Forwards and to the side, those that tip on the level too."""
    worst, sides = 0.0, {True: 0, False: 0}
    for seed in range(MANY):
        one = crane(seed)
        build = read_text(TEXT.format(**one))
        found = over_the_car._tips(Evaluation(build, 1), build.first(Lift)).values[0]  # noqa: SLF001
        line = np.array([one["legs"] + one["behind"], (one["wide"] - one["narrow"]) / 2])
        square = np.array([-line[1], line[0]]) / np.hypot(*line)
        truth = np.array([tips_at(one, np.array([1.0, 0.0])), tips_at(one, square)])
        known = np.isfinite(truth)
        # the line over which it tips first: on a crane that narrows forwards a fall to the side is one ahead, too. What tips on the
        # level already is compared forwards alone.
        first = found.min() - truth.min() if known.all() and truth.min() > 0 else found[0] - truth[0]
        worst = max(worst, abs(float(first)) if np.isfinite(first) else 0.0)
        sides[bool((found >= LIMIT).all())] += 1
        assert (found >= LIMIT).all() == bool(known.all() and (truth >= LIMIT).all())

    sys.stdout.write(f"crane: {sides[True]} stand, {sides[False]} tip, worst slope off by {np.degrees(worst):.1e}°\n")
    assert min(sides.values()) >= MANY / 3
    assert np.degrees(worst) < 0.01


def test_the_hook_rises_as_high_as_the_turned_load_asks() -> None:
    """The worst of thirty tilts against our steps, in height of the hook, with a crane a little higher or lower."""
    worst, sides = 0.0, {True: 0, False: 0}
    for seed in range(MANY):
        one = crane(seed)
        build = read_text(TEXT.format(**one))
        ours = float(over_the_car._needed(Evaluation(build, 1), build.first(Lift)).values.max())  # noqa: SLF001
        truth = 0.85 + max(lowest(one, degrees) for degrees in np.linspace(one["least"], one["most"], 30))
        allowed = truth + (0.02 if seed % 2 else -0.02)
        sides[truth <= allowed] += 1
        assert (ours <= allowed) == (truth <= allowed)
        worst = max(worst, abs(ours - truth))

    sys.stdout.write(f"height of the hook: worst disagreement {worst * 1e3:.1e} mm\n")
    assert min(sides.values()) >= MANY / 3
    assert worst < 5e-3
