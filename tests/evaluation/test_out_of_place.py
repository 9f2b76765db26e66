"""A sign or a digit that slipped: asked about, in words that say which fact does not fit which."""

from __future__ import annotations

from pathlib import Path

import pytest

from trialfit.book import read, read_text
from trialfit.evaluation.unusual import questions

DEMOS = sorted((Path(__file__).parents[2] / "demos").glob("*.toml"))
CAR = """
[car]
mass = "1065 kg"
rear_axle_mass = "548 kg"
wheelbase = "2402 mm"
front_track = "1.40 m"
rear_track = "1.42 m"
driven_axle = "rear"
[gearbox]
output_x = "-915 mm"
[prop_shaft]
length = "1186 mm"
[final_drive]
input_x = "-2100 mm"
[half_shaft]
side = "left"
inner_x = "-2402 mm"
outer_x = "-2402 mm"
outer_y = "598 mm"
"""


def _asked(text: str) -> dict[str, str]:
    return {one.path: one.says for one in questions(read_text(text))}


def test_a_car_in_order_is_not_asked_about() -> None:
    assert _asked(CAR) == {}


@pytest.mark.parametrize("demo", DEMOS, ids=lambda path: path.stem)
def test_nothing_in_the_demos_is_out_of_place(demo: Path) -> None:
    assert list(questions(read(demo))) == []


@pytest.mark.parametrize(
    ("old", "new", "path", "says"),
    [
        (
            "-2100 mm",
            "500 mm",
            "final_drive.input_x",
            "and the rear axle is at -2402 mm: behind the front axle x is negative",
        ),
        ("-2100 mm", "-210 mm", "final_drive.input_x", "usual is within 900 mm"),
        ('outer_x = "-2402', 'outer_x = "402', "half_shaft.outer_x", "the rear axle is at -2402 mm"),
        ("598 mm", "-598 mm", "half_shaft.outer_y", "and half_shaft is on the left: y is positive to the left"),
        ("1186 mm", "2.44 m", "prop_shaft.length", "longer than car.wheelbase (2402 mm)"),
        ("548 kg", "154 kg", "car.rear_axle_mass", "14 % of car.mass (1065 kg), usual is 20 % to 80 %"),
        ("1.42 m", "1.02 m", "car.rear_track", "and car.front_track is 1.4 m"),
        ("-915 mm", "-3.9 m", "gearbox.output_x", "with car.wheelbase 2402 mm usual is -3402 mm to 1000 mm"),
    ],
)
def test_what_does_not_fit_the_car_is_asked_about(old: str, new: str, path: str, says: str) -> None:
    assert old in CAR
    asked = _asked(CAR.replace(old, new))

    assert list(asked) == [path]
    assert says in asked[path]
    assert asked[path].endswith('; really"')


CURVE = '[engine]\ntorque_curve = "rpm : N·m ± 4 %, catalogue | {points}"\n{peak}'
MANY = " | ".join(
    f"{rpm} : {torque}"
    for rpm, torque in zip(
        range(1000, 6600, 500), (175, 205, 228, 245, 258, 264, 265, 262, 256, 247, 232, 208), strict=True
    )
)


@pytest.mark.parametrize(
    ("points", "peak", "asked"),
    [
        (MANY, 'peak_torque = "270 N·m, manual"', False),
        (MANY, 'peak_torque = "220 N·m, manual"', True),
        (MANY, 'peak_torque = "310 N·m, manual"', True),
        ("1000 : 175 | 6500 : 208", 'peak_torque = "265 N·m, manual"', False),
        ("1000 : 175 | 6500 : 208", 'peak_torque = "165 N·m, manual"', True),
        (MANY, 'power = "146 kW, manual"', False),
        (MANY, 'power = "110 kW, manual"', True),
    ],
)
def test_peaks_that_are_not_those_of_the_curve_are_asked_about(points: str, peak: str, asked: bool) -> None:  # noqa: FBT001
    """Between few points a peak may stand higher, never lower."""
    found = _asked(CURVE.format(points=points, peak=peak))

    assert bool(found) == asked
    assert all("and the highest of engine.torque_curve is" in says for says in found.values())


def test_a_note_that_confirms_it_settles_it() -> None:
    assert _asked(CAR.replace("-2100 mm", "-210 mm; really, a gear in front")) == {}


def test_a_front_driven_car_has_it_at_the_front() -> None:
    front = CAR.replace('"rear"', '"front"').replace("-2402", "12").replace("-2100", "-80")

    assert _asked(front) == {}
    assert "half_shaft.inner_x" in _asked(front.replace('inner_x = "12', 'inner_x = "-2402'))


@pytest.mark.parametrize(("trailer", "asked"), [("3000 kg", True), ("900 kg", False), ("3000 kg; really", False)])
def test_a_trailer_heavier_than_its_car_is_asked_about(trailer: str, *, asked: bool) -> None:
    found = _asked(CAR.replace("[car]", f'[car]\ntrailer_mass = "{trailer}"'))

    assert list(found) == (["car.trailer_mass"] if asked else [])
    if asked:
        assert found["car.trailer_mass"].startswith(
            "is 3000 kg, more than car.mass (1065 kg): a car usually tows no more than it weighs. Really?"
        )
