"""What stands carry and what tips a car, as a linear program: forces that only push, in balance with the weight.

No formula of the handbook: every reaction is an unknown, at least nothing, and the balance of forces and moments a constraint. The
most that one stand can carry is found at a corner of what is possible: three supports carry, the others nothing. A car tips
where no such forces exist.
"""

from __future__ import annotations

import sys
from itertools import combinations

import numpy as np
import pytest
from scipy.optimize import brentq
from thorough import some

from trialfit.book import read_text
from trialfit.evaluation.evaluation import Evaluation
from trialfit.parts import Stands
from trialfit.subjects.lifting import stands as subject

MANY = some(600)
G = 9.80665
TEXT = """
[car]
mass = "{mass} ± 0 kg"
rear_axle_mass = "{rear} ± 0 kg"
laden_mass = "{mass} ± 0 kg"
laden_rear_axle_mass = "{rear} ± 0 kg"
wheelbase = "{base} ± 0 m"
[unit]
kind = "mass_part"
mass = "{unit} ± 0 kg"
x = "{unit_x} ± 0 m"
y = "0 ± 0 m"
z = "0.5 ± 0 m"
out_on_stands = "yes"
[axle]
kind = "mass_part"
mass = "{axle} ± 0 kg"
x = "{axle_x} ± 0 m"
y = "0 ± 0 m"
z = "0.3 ± 0 m"
out_on_stands = "yes"
[in_front]
kind = "stands"
rated_mass = "1000 kg"
spacing = "{wide_f} ± 0 m"
inboard = "{inboard_f} ± 0 m"
off_centre = "{off_f} ± 0 m"
car_end = "{end} ± 0 m"
push_height = "1.1 ± 0 m"
[behind]
kind = "stands"
under = "rear"
rated_mass = "1000 kg"
spacing = "{wide_r} ± 0 m"
inboard = "{inboard_r} ± 0 m"
off_centre = "{off_r} ± 0 m"
car_end = "{end} ± 0 m"
push_height = "1.1 ± 0 m"
"""
TOLERANCE = 1e-6


def car(seed: int) -> dict[str, float]:
    """A random car with its stands."""
    draw = np.random.default_rng(seed).uniform
    mass, base = draw(700, 2200), draw(2.0, 3.0)
    return {
        "mass": mass,
        "rear": mass * draw(0.35, 0.65),
        "base": base,
        "unit": mass * draw(0.05, 0.22),
        "unit_x": draw(-0.6, 0.3),
        "axle": mass * draw(0.02, 0.12),
        "axle_x": -base + draw(-0.2, 0.2),
        "wide_f": draw(0.5, 1.3),
        "wide_r": draw(0.5, 1.3),
        "inboard_f": draw(-0.2, 1.2),
        "inboard_r": draw(-0.2, 1.2),
        "off_f": draw(-0.08, 0.08),
        "off_r": draw(-0.08, 0.08),
        "end": draw(0.5, 1.0),
    }


def states(one: dict[str, float]) -> list[tuple[float, float]]:
    """Mass and centre of the car with every combination of what comes out, by sums over what stays."""
    heavy = [(one["unit"], one["unit_x"]), (one["axle"], one["axle_x"])]
    bare = one["mass"] - sum(mass for mass, _ in heavy)
    bare_moment = -one["rear"] * one["base"] - sum(mass * place for mass, place in heavy)
    found = []
    for count in range(3):
        for stays in combinations(heavy, count):
            mass = bare + sum(m for m, _ in stays)
            found.append((mass, (bare_moment + sum(m * x for m, x in stays)) / mass))
    return found


def corners(one: dict[str, float]) -> dict[str, list[tuple[float, float, float]]]:
    """Places of the stands of each end: x, y, and the same with wheels."""
    return {
        "in_front": [(-one["inboard_f"], -one["off_f"] + side * one["wide_f"] / 2) for side in (-1, 1)],
        "behind": [(one["inboard_r"] - one["base"], -one["off_r"] + side * one["wide_r"] / 2) for side in (-1, 1)],
    }


def most(places, mass: float, centre: float) -> float | None:
    """The largest force on one of the first two supports in balance with a weight over y = 0; None if nothing balances it."""
    threes = [list(three) for three in combinations(range(len(places)), 3)]
    x, y = np.array(places).T
    balance = np.stack([np.ones(len(x)), x, y])[:, threes].swapaxes(0, 1)
    forces = np.linalg.solve(balance, np.broadcast_to([[mass], [mass * centre], [0.0]], (len(threes), 3, 1)))[..., 0]
    possible = (forces >= -1e-9).all(axis=1)
    ours = np.array(
        [
            [max([0.0, *(f for f, k in zip(force, three, strict=True) if k < 2)])]
            for force, three in zip(forces, threes, strict=True)
        ]
    )
    return float(ours[possible].max()) if possible.any() else None


def heaviest(one: dict[str, float], end: str) -> float | None:
    """The most that one stand of an end carries, over every state, the other end on its axle or on its stands; None if it tips."""
    ours, others = corners(one)[end], corners(one)["behind" if end == "in_front" else "in_front"]
    wheel = -one["base"] if end == "in_front" else 0.0
    found = []
    for mass, centre in states(one):
        # soft springs at the other end hold no twist: its wheels carry their load in the line of the centre of mass
        found += [most([*ours, *there], mass, centre) for there in ([(wheel, 0.0)], others)]
    return None if None in found else max(found)


def tipping_mass(one: dict[str, float], end: str) -> float:
    """Least mass on the end of the car at which no forces balance any more, by trying."""
    ours, others = corners(one)[end], corners(one)["behind" if end == "in_front" else "in_front"]
    at = one["end"] if end == "in_front" else -one["base"] - one["end"]

    def reaction(lean: float, mass: float, centre: float) -> float:
        """Sum of what the other end carries, let pull too."""
        x, there = ours[0][0], others[0][0]
        balance = np.linalg.solve([[1, 1], [x, there]], [mass + lean, mass * centre + lean * at])
        return float(balance[1])

    return min(brentq(reaction, -1e5, 1e6, args=state) for state in states(one))


def sideways(one: dict[str, float], end: str) -> float:
    """Least push at 1.1 m, N, to which side ever, at which one of a pair carries nothing, over every state."""
    ours, others = corners(one)[end], corners(one)["behind" if end == "in_front" else "in_front"]
    wheel = -one["base"] if end == "in_front" else 0.0
    x, found = ours[0][0], []
    for mass, centre in states(one):
        for there in (wheel, others[0][0]):
            carried = np.linalg.solve([[1, 1], [x, there]], [mass, mass * centre])[0] * G
            for side in (-1, 1):
                # forces left and right without a push and with 1 kN: linear in between
                rest, pushed = (
                    np.linalg.solve([[1, 1], [ours[0][1], ours[1][1]]], [carried, push * side * 1.1])
                    for push in (0.0, 1000.0)
                )
                lifts = rest - pushed > 0
                found.append(0.0 if rest.min() <= 0 else float((1000 * rest[lifts] / (rest - pushed)[lifts]).min()))
    return min(found)


def test_the_most_loaded_stand_is_that_of_the_balance() -> None:
    """Over random cars, every one that does not tip by itself, with a rating a little above or below what it carries."""
    worst, sides = 0.0, {True: 0, False: 0}
    for seed in range(MANY):
        one = car(seed)
        build = read_text(TEXT.format(**one))
        ev = Evaluation(build, 1)
        for number, stands in enumerate(build.all(Stands)):
            truth = heaviest(one, stands.name)
            if truth is None:
                continue
            rated = truth * (1.02 if (seed + number) % 2 else 0.98)
            ours = float(subject._load(ev, stands).values.max())  # noqa: SLF001
            sides[truth <= rated] += 1
            assert (ours <= rated) == (truth <= rated)
            worst = max(worst, abs(ours / truth - 1))

    sys.stdout.write(f"most loaded stand: {sides[True]} hold, {sides[False]} do not, worst disagreement {worst:.1e}\n")
    assert min(sides.values()) >= MANY / 3
    assert worst < TOLERANCE


@pytest.mark.parametrize(
    ("what", "truth_of", "limit"),
    [("_lean", tipping_mass, 100.0), ("_push", sideways, 1000.0)],
    ids=["leaning", "pushing"],
)
def test_what_tips_the_car_is_that_at_which_a_support_lifts(what, truth_of, limit) -> None:
    """Over the same cars, those that tip by themselves too."""
    worst, sides = 0.0, {True: 0, False: 0}
    for seed in range(MANY):
        one = car(seed)
        build = read_text(TEXT.format(**one))
        ev = Evaluation(build, 1)
        for stands in build.all(Stands):
            truth = truth_of(one, stands.name)
            ours = float(getattr(subject, what)(ev, stands).values.min())
            sides[truth >= limit] += 1
            assert (ours >= limit) == (truth >= limit)
            worst = max(worst, abs(ours - truth) / limit)

    sys.stdout.write(f"{what[1:]}: {sides[True]} hold, {sides[False]} do not, worst disagreement {worst:.1e}\n")
    assert min(sides.values()) >= MANY / 3
    assert worst < TOLERANCE
