"""Tyres of a build: load and speed, in the builder's words."""

from __future__ import annotations

import pytest

from trialfit.book import read_text
from trialfit.evaluation.verdict import Verdict
from trialfit.parts import KINDS
from trialfit.parts.reading import read_part
from trialfit.subjects.gearing import requirements

MARKED = ('circumference = "1.927 ± 0 m"', 'circumference = "1.927 ± 0 m"\nload_index = "82V"')
HEAVY = (
    'laden_mass = "1200 ± 0 kg"\nladen_rear_axle_mass = "576 ± 0 kg"',
    'laden_mass = "1800 ± 0 kg"\nladen_rear_axle_mass = "1000 ± 0 kg"',
)


def test_tyres_that_bear_the_car_as_weighed_and_not_laden(base, gearing) -> None:
    """Two of index 82 bear 950 kg; the axle 576 kg as weighed, 1000 kg laden."""
    full = ("82V", "82W")
    light = gearing(base, MARKED, full)["gearing.tyre_load.rear"]
    laden = gearing(base, MARKED, full, HEAVY)["gearing.tyre_load.rear"]
    mended = gearing(base, MARKED, full, HEAVY, ("82W", "87W"))["gearing.tyre_load.rear"]

    assert light.verdict is Verdict.holds
    assert (laden.verdict, laden.state) == (Verdict.fails, "laden")
    assert laden.value.nominal == pytest.approx(1000)
    assert laden.limit.nominal == pytest.approx(950)
    assert mended.verdict is Verdict.holds


def test_a_tyre_slower_than_the_car_fails(base, gearing, value) -> None:
    """The car reaches 216 km/h on the level: H is for 210, V for 240."""
    measured = ("0.65 ± 0 m²", "0.65 ± 0 m², computed")
    assert 210 < value(gearing(base), "gearing.top_speed") < 240

    assert gearing(base, MARKED, measured, ("82V", "82H"))["gearing.tyre_speed.rear"].verdict is Verdict.fails
    assert gearing(base, MARKED, measured)["gearing.tyre_speed.rear"].verdict is Verdict.holds


def test_a_guessed_drag_does_not_slow_the_car_for_its_tyres(base, gearing) -> None:
    """1.4 m² is a guess: 160 km/h by it. Nobody has measured it, and a car of this shape can have 0.4."""
    guess = ('drag_area = "0.65 ± 0 m²"', 'drag_area = "1.4 ± 0 m², guess"')
    known = ('drag_area = "0.65 ± 0 m²"', 'drag_area = "1.4 ± 0 m², computed"')

    assert gearing(base, MARKED, ("82V", "82S"), guess, draws=400)["gearing.tyre_speed.rear"].verdict is Verdict.fails
    assert gearing(base, MARKED, ("82V", "82S"), known, draws=400)["gearing.tyre_speed.rear"].verdict is Verdict.holds


def test_a_fast_car_loads_its_v_tyres_less(base, gearing) -> None:
    """At 230 km/h a V tyre bears 94 %. The trailer does not go that fast."""
    fast = ('"2.0", "1.4", "1.0", "0.82"', '"2.0", "1.4", "1.0", "0.70"')
    strong = ("1000 : 150\n3000 : 200\n5000 : 190\n6000 : 160\n", "1000 : 300\n3000 : 400\n5000 : 380\n6000 : 360\n")
    tows = ("[engine]", 'trailer_mass = "500 ± 0 kg"\nnose_mass = "30 ± 0 kg"\n[engine]')
    found = gearing(base, MARKED, fast, strong, tows)["gearing.tyre_load.rear"]
    limits = {one.state: one.limit.nominal for one in found.states}

    assert limits["towing"] == pytest.approx(950)
    assert limits["laden"] == limits["as weighed"] == pytest.approx(950 * 0.91)  # 265 km/h: at its own speed


def test_what_is_not_printed_is_asked_for(base, gearing) -> None:
    report = gearing(base)
    without_symbol = gearing(base, MARKED, ("82V", "82"))

    assert set(report["gearing.tyre_load.rear"].missing) == {"tyre.load_index"}
    assert set(report["gearing.tyre_speed.rear"].missing) == {"tyre.speed_symbol"}
    assert "tyre.speed_symbol" in without_symbol["gearing.tyre_speed.rear"].missing


def test_the_marking_behind_the_size_counts() -> None:
    build = read_text('[tyre]\nsize = "205/55 R16 91V"')

    assert build.parts["tyre"].service.index == 91
    assert build.parts["tyre"].speed_rating == "V"
    assert {one.id for one in requirements(build)} >= {"gearing.tyre_load.rear", "gearing.tyre_speed.rear"}


@pytest.mark.parametrize(
    ("facts", "says"),
    [
        ({"size": "205/55 R16 91V", "load_index": "95"}, "is 95, and t.size says 91: expected one load index"),
        ({"load_index": "91V", "speed_symbol": "H"}, "is H, and t.load_index says V: expected one speed symbol"),
        ({"load_index": "9V"}, "expected"),
        ({"speed_symbol": "B"}, 'is "B"'),
    ],
)
def test_markings_that_contradict_or_do_not_read_are_refused(facts: dict[str, str], says: str) -> None:
    _, problems = read_part("t", KINDS["tyre"], facts)

    (problem,) = problems
    assert says in problem.says
