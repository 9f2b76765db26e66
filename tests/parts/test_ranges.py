"""What a value can be and what is usual: the tables, and what reading makes of them."""

from __future__ import annotations

import math
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trialfit.book import read, read_text
from trialfit.facts.quantity import QUANTITIES
from trialfit.facts.spread import Shape
from trialfit.facts.units import from_si
from trialfit.parts import KINDS
from trialfit.parts.asking import asked, written_refs
from trialfit.parts.declaring import FactSpec
from trialfit.parts.lists_and_curves import CurveSpec, ListSpec
from trialfit.parts.ranges import Range, range_of, read_rows
from trialfit.parts.reading import read_part

DEMOS = sorted((Path(__file__).parents[2] / "demos").glob("*.toml"))


def _specs() -> list[tuple[str, str, FactSpec]]:
    """Kind, name and declaration of every fact and every item of a list."""
    found = []
    for kind, part in KINDS.items():
        for name, spec in part.specs().items():
            one = spec.item if isinstance(spec, ListSpec) else spec
            if isinstance(one, FactSpec):
                found.append((kind, name, one))
    return found


SPECS = _specs()
CURVES = [spec for part in KINDS.values() for spec in part.specs().values() if isinstance(spec, CurveSpec)]


def _ends(spec: FactSpec) -> tuple[float, float]:
    bounds = spec.bounds
    return bounds.at_least if bounds.above is None else bounds.above, bounds.at_most


@pytest.mark.parametrize(("kind", "name", "spec"), SPECS, ids=[f"{kind}.{name}" for kind, name, _ in SPECS])
def test_every_fact_has_a_least_and_a_most_and_is_usual_between_them(kind, name, spec):
    least, most = _ends(spec)

    assert -math.inf < least < most < math.inf
    assert (spec.kind, spec.name) == (kind, name)
    if spec.range.has_usual:
        assert spec.range.least <= spec.range.usual_least < spec.range.usual_most <= spec.range.most


@pytest.mark.parametrize("limits", [one for spec in CURVES for one in (spec.x_range, spec.y_range)])
def test_both_axes_of_every_curve_have_a_least_and_a_most(limits):
    assert -math.inf < limits.least <= limits.usual_least < limits.usual_most <= limits.most < math.inf


def test_every_row_names_a_fact_once_and_has_a_source():
    rows = list(read_rows())
    facts = {(kind, name) for kind, part in KINDS.items() for name in part.specs()}

    assert len({(row.kind, row.fact) for row in rows}) == len(rows)
    for row in rows:
        assert (row.kind, row.fact.removesuffix(".x").removesuffix(".y")) in facts
        assert row.source


def test_every_quantity_has_bounds_of_its_own():
    for quantity in QUANTITIES.values():
        general = range_of("", "", quantity)
        assert -math.inf < general.least < general.most < math.inf
        assert general.source


@pytest.mark.parametrize(
    "spec", [spec for *_, spec in SPECS if spec.typical], ids=lambda spec: f"{spec.kind}.{spec.name}"
)
def test_every_typical_value_is_usual(spec):
    assert spec.bounds.admit(spec.typical_fact.si)
    assert spec.range.is_usual(spec.typical_fact.si)


@pytest.mark.parametrize(
    "spec", [spec for *_, spec in SPECS if spec.typical], ids=lambda spec: f"{spec.kind}.{spec.name}"
)
def test_a_typical_value_spans_what_can_be_and_is_usual_and_has_a_source(spec):
    """It stands for everything found: limits, not a likely middle, and none of it beyond what is usual."""
    fact = spec.typical_fact
    low, high = fact.si - fact.spread.minus, fact.si + fact.spread.plus

    assert spec.source
    assert fact.spread.is_zero or fact.spread.shape is Shape.rectangular
    assert spec.bounds.admit(low)
    assert spec.bounds.admit(high)
    assert spec.range.is_usual(low)
    assert spec.range.is_usual(high)


@pytest.mark.parametrize(
    ("kind", "fact", "found"),
    [
        ("car", "drag_area", (0.4, 1.2)),
        ("car", "tyre_friction", (0.5, 1.1)),
        ("car", "rolling_coefficient", (0.009, 0.02)),
        ("mount", "stiffness", (80e3, 400e3)),
        ("bolted_joint", "nut_factor", (0.12, 0.34)),
        ("torque_wrench", "reading_error", (-0.06, 0.06)),
        ("tyre", "circumference_factor", (0.96, 1.02)),
        ("half_shaft", "inner_joint_angle_limit", (math.radians(18), math.radians(26))),
    ],
)
def test_a_typical_value_spans_what_is_found_on_cars(kind, fact, found):
    """A low coupe and a van, a wet road and a dry one, soft rubber and hard, a worn tyre and a new one."""
    one = KINDS[kind].specs()[fact].typical_fact

    assert one.si - one.spread.minus <= found[0] * (1 + 1e-9)
    assert one.si + one.spread.plus >= found[1] * (1 - 1e-9)


@pytest.mark.parametrize("demo", DEMOS, ids=lambda path: path.stem)
def test_every_fact_of_the_demos_is_usual(demo):
    build = read(demo)

    refs = [ref for part in (*build.parts.values(), *build.spare.values()) for ref in written_refs(part)]

    assert len(refs) > 40
    assert [asked(ref) for ref in refs if ref.unusual] == []


@given(st.sampled_from([spec for *_, spec in SPECS]), st.floats(1.0, 1e6), st.booleans())
def test_what_is_beyond_the_bounds_is_refused_in_one_sentence(spec, times, is_above):
    """Of every kind, at any distance, on either side: what was read, what can be, an example."""
    least, most = _ends(spec)
    beyond = most + 0.01 * times * (most - least) if is_above else least - 0.01 * times * (most - least)
    unit = spec.range.unit
    if unit.is_tangent or (spec.quantity.name == "temperature" and beyond < 0):
        return
    number = float(from_si(beyond, unit))
    if spec.quantity.name == "count":
        number = math.ceil(number) + 1 if is_above else math.floor(number) - 1
    text = f"{number:.6f} {unit.canonical}".strip()
    declared = KINDS[spec.kind].specs()[spec.name]
    entry = (text,) * max(declared.least, 1) if isinstance(declared, ListSpec) else text

    _, problems = read_part("a", KINDS[spec.kind], {spec.name: entry})

    says = next(problem.says for problem in problems if problem.path == f"a.{spec.name}")
    assert f'"{text}" is out of range: expected {spec.quantity.with_article}' in says
    assert spec.example in says
    assert "\n" not in says


@pytest.mark.parametrize(
    ("kind", "name", "text", "says"),
    [
        ("port", "pressure", "-7 bar", "expected a pressure from -1 bar to 3000 bar"),
        ("bracket", "load", "-7 N", "expected a force from 0 N to 1000000 N"),
        ("clutch", "rated_torque", "1e15 N·m", "expected a torque from 1 N·m to 10000 N·m"),
        ("clutch", "rated_torque", "380 kN·m", "expected a torque from 1 N·m to 10000 N·m"),
        ("stands", "spacing", "1e15 m", "expected a length from 10 mm to 3000 mm"),
        ("stands", "spacing", "0.8 ± 90 m", "has a spread that cannot be meant: expected at most ± 1495 mm"),
        ("car", "mass", "960 kg ± 9000 %", "has a spread that cannot be meant: expected at most ± 4950 kg"),
        (
            "engine",
            "torque_curve",
            "rpm : kN·m | 1000 : 180 | 3500 : 265",
            'point 1 of the curve, "1000 rpm : 180 kN·m"',
        ),
        (
            "engine",
            "torque_curve",
            "rpm : N·m | 1000 : 180 | 350000 : 265",
            'point 2 of the curve, "350000 rpm : 265 N·m"',
        ),
        ("engine", "torque_curve", "rpm : N·m ± 300 % | 1000 : 180 | 3500 : 265", "expected at most ± 100 %"),
        (
            "gearbox",
            "ratios",
            ("3.6", "240"),
            'number 2 of the list: "240" is out of range: expected a ratio from 0.05 to 30',
        ),
        ("gearbox", "ratios", ("1",) * 101, "holds 101 values: expected at most 100"),
    ],
)
def test_nonsense_is_refused(kind, name, text, says):
    part, problems = read_part("a", KINDS[kind], {name: text})

    assert name not in part.values
    assert says in next(problem.says for problem in problems if problem.path == f"a.{name}")


def _unusual(kind, name, text):
    part, problems = read_part("a", KINDS[kind], {name: text})
    assert problems == []
    return [asked(ref) for ref in written_refs(part)]


def test_what_is_unusual_is_asked_about_until_its_note_confirms_it():
    assert _unusual("clutch", "rated_torque", "9 kN·m, catalogue; on the box") == [
        'is 9 kN·m, usual is 30 N·m to 3000 N·m. Really? If it is correct, write "9 kN·m, catalogue; really, on the box"'
    ]
    assert _unusual("clutch", "rated_torque", "9 kN·m, catalogue; really: a tractor's") == [""]
    assert _unusual("clutch", "rated_torque", "380 N·m, catalogue") == [""]


def test_of_a_list_each_value_is_asked_about_by_itself():
    assert [bool(says) for says in _unusual("gearbox", "ratios", ("14", "13; Really", "3.6"))] == [True, False, False]


def test_of_a_curve_the_largest_value_is_asked_about():
    """A curve in N·m whose numbers are in kN·m is all too low; one point at rest is not."""
    (low,) = _unusual("engine", "torque_curve", "rpm : N·m, catalogue | 1000 : 0.18 | 3500 : 0.265")
    (rest,) = _unusual("engine", "torque_curve", "rpm : N·m, catalogue | 0 : 0 | 3500 : 265")
    (fast,) = _unusual("engine", "torque_curve", "rpm : N·m, catalogue | 1000 : 180 | 35000 : 265")
    (meant,) = _unusual("engine", "torque_curve", "rpm : N·m, catalogue; really | 1000 : 180 | 35000 : 265")

    assert low.startswith(
        "is up to 0.265 N·m, usual is 20 N·m to 1000 N·m. Really? If it is correct, begin the curve with"
    )
    assert fast.startswith("is up to 35000 rpm, usual is 1500 rpm to 20000 rpm.")
    assert (rest, meant) == ("", "")


def test_a_kind_has_the_range_of_its_own_row_where_two_share_a_declaration():
    cut, reinforcement = (KINDS[kind].specs()["wall_thickness"] for kind in ("cut_member", "reinforcement"))

    assert (cut.kind, reinforcement.kind) == ("cut_member", "reinforcement")
    assert cut is not reinforcement


def test_the_last_digit_of_a_float_makes_nothing_unusual():
    unit = range_of("car", "mass", QUANTITIES["mass"]).unit
    usual = Range(0.0, 1.0, 0.1, 0.3, unit, "")

    assert usual.is_usual(0.1 + 0.2)
    assert not usual.is_usual(0.3001)


def test_a_declaration_without_an_example_shows_one_that_is_usual():
    for kind, name, spec in (one for one in SPECS if not one[2].own_example):
        part = KINDS[kind].specs()[name]
        entry = (spec.example,) if isinstance(part, ListSpec) else spec.example
        got, _ = read_part("a", KINDS[kind], {name: entry})
        if name not in got.values:  # a list of which one value is too few
            continue
        ref = got.values[name][0] if isinstance(part, ListSpec) else got.values[name]
        assert spec.range.is_usual(ref.si), f"{kind}.{name}"


def test_a_doubtful_note_confirms_nothing_and_the_question_keeps_the_note():
    """Doubts such as "really?" are not a yes; what else the note says stays in what is to be written."""
    stated, doubted = (
        read_text(f'[clutch]\nfacing_outside_diameter = "480 mm; {note}"').parts["clutch"]
        for note in ("truck", "really?")
    )

    assert asked(stated.facing_outside_diameter).endswith('write "480 mm; really, truck"')
    assert asked(doubted.facing_outside_diameter)
