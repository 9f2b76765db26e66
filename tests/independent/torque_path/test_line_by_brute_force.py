"""The load on each element by looking at every load state, gear and event one after the other, load transfer by iteration.

No formula of the handbook: power balance from clutch to wheel, moments about the tyres' contacts, stresses from second moments.
"""

from __future__ import annotations

import math
import sys
from itertools import product

import numpy as np
import pytest
from thorough import some

from trialfit.book import read_text
from trialfit.evaluation.evaluation import Evaluation
from trialfit.subjects.torque_path import bending, elements, studs

MANY = some(700)
G = 9.80665

TEXT = """
[car]
mass = "{mass} ± 0 kg"
rear_axle_mass = "{rear} ± 0 kg"
laden_mass = "{laden} ± 0 kg"
laden_rear_axle_mass = "{laden_rear} ± 0 kg"
wheelbase = "{base} ± 0 m"
centre_of_mass_height = "{height} ± 0 m"
rear_track = "{track} ± 0 m"
front_track = "{track} ± 0 m"
driven_axle = "{driven}"
rear_suspension = "{suspension}"
front_roll_share = "60 ± 0 %"
upper_grip = "{grip} ± 0, manual"
clutch_drop_factor = "{drop} ± 0"
clutch_drop_grip_factor = "{drop_grip} ± 0"
regained_grip_factor = "{regained} ± 0"
careful_factor = "{careful} ± 0"
careful_grip_factor = "1.2 ± 0"
[engine]
max_speed = "6000 ± 0 rpm"
peak_torque = "{torque} ± 0 N·m"
application_factor = "{application} ± 0"
[clutch]
rated_torque = "{clutch} ± 0 N·m, manual"
[gearbox]
ratios = ["{first}", "2.1", "{top}"]
reverse_ratio = "{reverse}"
efficiency = "{box} ± 0 %"
rated_torque = "{box_rating} ± 0 N·m, manual"
[prop_shaft]
after = "gearbox"
front_joint_rated_torque = "{joint} ± 0 N·m, manual"
[final_drive]
after = "prop_shaft"
ratio = "{final}"
efficiency = "{axle} ± 0 %"
differential = "locked"
[half_shaft_left]
kind = "half_shaft"
side = "left"
bar_diameter = "{bar} ± 0 mm"
yield_strength = "{steel} ± 0 MPa, manual"
notch_factor = "{notch} ± 0"
bearing_diameter = "{bearing} ± 0 mm"
bearing_offset = "{offset} ± 0 mm"
[tyre]
axle = "{driven}"
circumference = "{rolls} ± 0 m"
[hub]
axle = "{driven}"
seat = "flat"
stud_count = "4"
stud_preload = "{clamp} ± 0 kN"
face_friction = "0.15 ± 0"
pitch_circle_diameter = "100 ± 0 mm"
origin = "weaker car"
spline_teeth = "26"
spline_outside_diameter = "{spline} ± 0 mm"
spline_inside_diameter = "{root} ± 0 mm"
spline_length = "{engaged} ± 0 mm"
spline_pressure = "{pressure} ± 0 MPa"
spline_yield_strength = "{steel} ± 0 MPa"
spline_notch_factor = "{notch} ± 0"
"""


def a_car(number: int) -> dict[str, float | str]:
    """One car, every fact exact; the same for a number each time."""
    rng = np.random.default_rng(number)

    def between(low: float, high: float) -> float:
        return float(np.round(rng.uniform(low, high), 4))

    mass, share = between(700, 1500), between(0.42, 0.58)
    more = between(0, 600)
    rear = round(mass * share, 3)
    return {
        "mass": mass,
        "rear": rear,
        "laden": round(mass + more, 3),
        "laden_rear": round(rear + between(0.5, 0.9) * more, 3),
        "base": between(2.2, 2.8),
        "height": between(0.4, 0.6),
        "track": between(1.2, 1.5),
        "driven": ["rear", "front"][number % 3 == 0],
        "suspension": "live axle",
        "grip": between(0.8, 1.3),
        "drop": between(1.5, 2.0),
        "drop_grip": between(1.4, 2.5),
        "regained": between(1.5, 1.8),
        "torque": between(80, 400),
        "application": between(1.1, 2.0),
        "careful": between(1.0, 1.4),
        "clutch": between(100, 700),
        "first": between(2.8, 4.2),
        "top": between(0.7, 1.2),
        "reverse": between(2.8, 4.2),
        "box": between(94, 99),
        "axle": between(94, 99),
        "box_rating": between(80, 450),
        "final": between(3.0, 4.5),
        "joint": between(250, 1100),
        "bar": between(26, 56),
        "steel": between(400, 1200),
        "notch": between(1.0, 2.5),
        "bearing": between(22, 40),
        "offset": between(20, 140),
        "rolls": between(1.6, 2.0),
        "clamp": between(15, 150),
        "spline": (spline := between(24, 50)),
        "root": round(spline - between(1.8, 3.0), 4),
        "engaged": between(25, 60),
        "pressure": between(80, 190),
    }


def pushes(car: dict, mass: float, rear: float, *, backwards: bool) -> float:
    """Force of the driven axle on the best grip: the load moves by the force itself, found by iteration."""
    on_axle = (rear if car["driven"] == "rear" else mass - rear) * G
    towards = (1 if car["driven"] == "rear" else -1) * (-1 if backwards else 1)
    force = 0.0
    for _ in range(500):
        force = car["grip"] * (on_axle + towards * force * car["height"] / car["base"])
    return float(force)


def wheel_share(car: dict) -> float:
    """Most of an axle's grip that one wheel drives with, by looking at every corner."""
    cornering = np.linspace(0, 1, 20_001)
    moved = np.minimum(cornering * car["grip"] * car["height"] / car["track"], 0.5)
    cornering = np.where(moved < 0.5, cornering, 0.5 * car["track"] / (car["grip"] * car["height"]))
    return float(((0.5 + moved) * np.sqrt(1 - np.minimum(cornering, 1) ** 2)).max())


def wheel_torques(car: dict) -> dict[str, list[tuple[float, float, float]]]:
    """Torque at gearbox input, pinion and one wheel, for "full", "peak" and "careful", in every state, one after the other."""
    radius = car["rolls"] / 2 / math.pi
    box, axle, share = car["box"] / 100, car["axle"] / 100, wheel_share(car)
    through = car["drop"] * max(car["clutch"], car["torque"])
    events = {
        "full": [(car["torque"], 1.0, False)],
        "peak": [
            (through, car["drop_grip"], True),
            (through, car["regained"], True),
            (min(car["torque"] * car["application"], through), 1.2, False),
        ],
        "careful": [(min(car["torque"] * car["careful"], through), 1.2, False)],
    }
    found: dict[str, list[tuple[float, float, float]]] = {"full": [], "peak": [], "careful": []}
    states = ((car["mass"], car["rear"]), (car["laden"], car["laden_rear"]))
    gears = ((car["first"], False), (2.1, False), (car["top"], False), (car["reverse"], True))
    for (mass, rear), (ratio, backwards) in product(states, gears):
        moved = pushes(car, mass, rear, backwards=backwards) * radius
        still = car["grip"] * (rear if car["driven"] == "rear" else mass - rear) * G * radius
        for load, happening in events.items():
            for sent, factor, sudden in happening:
                tyres = still if sudden else moved  # a shock is over before the load has moved
                held = factor * tyres / (car["final"] * axle)
                pinion = min(sent * ratio * box, held)
                whole = min(sent * ratio * box * car["final"] * axle, factor * tyres)
                wheel = min(sent * ratio * box * car["final"] * axle, factor * tyres * share)
                found[load].append((min(sent, held / (ratio * box)), pinion, wheel))
                assert whole >= wheel
    return found


def braking(car: dict) -> float:
    """Torque of one wheel of the driven axle in a stop, in the heavier state."""
    radius, most = car["rolls"] / 2 / math.pi, 0.0
    for mass, rear in ((car["mass"], car["rear"]), (car["laden"], car["laden_rear"])):
        moved = car["grip"] * mass * G * car["height"] / car["base"]
        on_axle = rear * G - moved if car["driven"] == "rear" else (mass - rear) * G + moved
        most = max(most, car["grip"] * max(on_axle, 0.0) * min(wheel_share(car), 0.6) * radius)
    return most


def steel(car: dict, diameter: float) -> dict[str, float]:
    """Torque that a bar carries of each load, ring by ring of its section."""
    radius = diameter / 2e3
    rings = (np.arange(20_000) + 0.5) / 20_000 * radius  # each of equal breadth
    areas = 2 * np.pi * rings * radius / 20_000
    yields = 0.577 * car["steel"] * 1e6
    skin = float(
        (yields * rings / radius * areas * rings).sum()
    )  # stress grows with the radius, up to yield at the skin
    return {"full": skin / 1.5, "careful": skin / car["notch"], "peak": float((yields * areas * rings).sum())}


def by_hand(car: dict) -> dict[str, float]:
    """Capacity over load of each element, the least of all states."""
    torques = wheel_torques(car)
    most = {load: max(one[2] for one in seen) for load, seen in torques.items()}
    bar, root = steel(car, car["bar"]), steel(car, car["root"])
    heights = np.linspace(
        car["root"] / 2e3, car["spline"] / 2e3, 2001
    )  # of a tooth: pressure times radius, piece by piece
    moment = float(((heights[1:] + heights[:-1]) / 2 * np.diff(heights)).sum())
    flanks = 0.75 * car["pressure"] * 1e6 * 26 * car["engaged"] / 1e3 * moment
    slips = 4 * car["clamp"] * 1e3 * 0.15 * 0.05
    always = max(*(one[2] for one in torques["full"]), braking(car))
    return {
        "gearbox": car["box_rating"] / max(one[0] for one in torques["full"]),
        "joint.front": car["joint"] / max(one[1] for one in torques["full"]),
        "half_shaft.left": min(bar[load] / most[load] for load in most),
        "hub": min(min(flanks, root[load]) / most[load] for load in most),
        "studs": min(slips / always / 1.2, slips / max(one[2] for one in torques["peak"] + torques["careful"])),
    }


def bent(car: dict) -> float:
    """What the steel of a semi-floating shaft bears over what it sees, by vectors of force and moment, every case."""
    torques, radius, least = wheel_torques(car), car["rolls"] / 2 / math.pi, math.inf
    turned = (
        max(one[2] for one in torques["full"]) * (car["bearing"] / 2e3) / (math.pi * (car["bearing"] / 1e3) ** 4 / 32)
    )
    for _mass, rear in ((car["mass"], car["rear"]), (car["laden"], car["laden_rear"])):
        rest = rear * G / 2
        over = min(2 * car["grip"] * car["height"] / car["track"], 1.0)
        cases = [(2.5 * rest, 0.0, turned, 1 / 1.5)]
        cases += [(rest * (1 + over), car["grip"] * rest * (1 + over), 0.0, 1 / 1.5)]
        cases += [(rest * (1 - over), -car["grip"] * rest * (1 - over), 0.0, 1 / 1.5), (rest, -0.3 * rest, 0.0, 0.35)]
        for load, side, shear, bears in cases:
            arm = np.array([0.0, car["offset"] / 1e3, -radius])  # from the bearing to the contact: outwards, down
            moment = np.cross(arm, np.array([0.0, -side, load]))[0]
            edge = abs(moment) * (car["bearing"] / 2e3) / (math.pi * (car["bearing"] / 1e3) ** 4 / 64)
            least = min(least, bears * car["steel"] * 1e6 / max(math.sqrt(edge**2 + 3 * shear**2), 1.0))
    return float(least)


@pytest.fixture(scope="module")
def both_ways() -> dict[str, list[tuple[float, float]]]:
    """Capacity over load of every car, by hand and by the program, element by element."""
    found: dict[str, list[tuple[float, float]]] = {}
    for number in range(MANY):
        car = a_car(number)
        ev = Evaluation(read_text(TEXT.format(**car)), 1)
        line = {one.requirement.id.removeprefix("torque_path."): one for one in elements(ev.build)}
        for name, reserve in by_hand(car).items():
            element = line[f"{name}.{car['driven']}" if name in {"studs", "hub"} else name]
            found.setdefault(name, []).append((reserve, float(element.reserve(ev)[0])))
        if car["driven"] == "rear":
            shaft = bending.requirements(ev.build)
            value = next(shaft).value(ev).values[0]
            allowed = next(bending.requirements(ev.build)).limit.bound(ev).values[0]
            found.setdefault("half_shaft_bending", []).append(
                (bent(car), float((allowed / np.maximum(value, 1.0)).min()))
            )
    return found


@pytest.mark.parametrize("element", ["gearbox", "joint.front", "half_shaft.left", "hub", "studs", "half_shaft_bending"])
def test_every_element_by_looking_at_every_state(both_ways, element):
    """Within 1e-5, and on the same side of its limit: the program looks at the gears that can decide, this looks at all."""
    by_hand_, program = np.array(both_ways[element]).T
    off = float(np.max(np.abs(program / by_hand_ - 1)))
    sides = np.count_nonzero(by_hand_ > 1), np.count_nonzero(by_hand_ < 1)
    sys.stdout.write(f"{element}: worst disagreement {off:.1e}; {sides[0]} hold, {sides[1]} do not\n")

    assert off < 1e-5
    assert np.array_equal(program > 1, by_hand_ > 1)
    assert min(sides) >= MANY // 20


def test_slip_of_a_wheel_by_friction_on_its_ring():
    """The studs' torque is the integral of friction over a narrow ring, cut into a thousand pieces."""
    car = a_car(7)
    ev = Evaluation(read_text(TEXT.format(**car)), 1)
    hub = studs.hub_of(ev.build, str(car["driven"]))
    angles = np.arange(1000) * 2 * np.pi / 1000
    place = 0.05 * np.stack([np.cos(angles), np.sin(angles)])
    force = 0.15 * 4 * float(car["clamp"]) * 1e3 / 1000 * np.stack([-np.sin(angles), np.cos(angles)])

    assert hub is not None
    assert studs.slip_torque(ev, hub, "flat")[0] == pytest.approx((place[0] * force[1] - place[1] * force[0]).sum())
