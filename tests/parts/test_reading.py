"""The text of one part into a part."""

from __future__ import annotations

import pytest

from trialfit.facts.quantity import RATIO
from trialfit.parts import KINDS, Car, Clutch, Engine, Gearbox, PropShaft, Tyre
from trialfit.parts.declaring import CodeSpec, CurveSpec, FactSpec, ListSpec, RefSpec, WordSpec
from trialfit.parts.reading import nearest, read_part, read_value


def test_each_sort_of_entry_is_read() -> None:
    """A fact, a list, a word, a reference, a code and a curve."""
    gearbox, problems = read_part(
        "box", Gearbox, {"ratios": ("3.5", "41/20"), "rated_at": "output", "output_x": "-36 in, taped"}
    )
    shaft, more = read_part("shaft", PropShaft, {"after": "box"})
    tyre, still = read_part("tyre", Tyre, {"size": "205/50 R15"})
    engine, last = read_part("v6", Engine, {"torque_curve": "rpm : N·m\n1000 : 100\n2000 : 120"})

    assert [*problems, *more, *still, *last] == []
    assert [ref.path for ref in gearbox.ratios] == ["box.ratios.1", "box.ratios.2"]
    assert gearbox.ratios[1].written.si == pytest.approx(2.05)
    assert gearbox.rated_at == "output"
    assert gearbox.output_x.written.si == pytest.approx(-0.9144)
    assert shaft.after == "box"
    assert tyre.size == "205/50 R15"
    assert engine.torque_curve.written.y == (100.0, 120.0)


def test_a_wish_is_exact_unless_a_spread_is_written() -> None:
    """A cruising speed is wished for, not guessed; a bare mass stays a guess."""
    car, _ = read_part("car", Car, {"cruise_speeds": ("110 km/h", "90 ± 5 km/h"), "mass": "960 kg"})

    assert car.cruise_speeds[0].written.spread.is_zero
    assert not car.cruise_speeds[1].written.spread.is_zero
    assert not car.mass.written.spread.is_zero


def _specs() -> list[tuple[str, FactSpec]]:
    """Every fact of every kind, those of lists too."""
    found = []
    for name, kind in KINDS.items():
        for key, spec in kind.specs().items():
            one = spec.item if isinstance(spec, ListSpec) else spec
            if isinstance(one, FactSpec):
                found.append((f"{name}.{key}", one))
    return found


@pytest.mark.parametrize(("path", "spec"), _specs(), ids=[path for path, _ in _specs()])
def test_every_example_reads_as_its_fact_within_its_bounds(path: str, spec: FactSpec) -> None:
    """What `kinds` shows can be written as it stands; it lies near the typical value where there is one."""
    fact = read_value(spec, spec.example)

    assert spec.bounds.admit(fact.si)
    assert fact.quantity is spec.quantity
    if spec.typical_fact and spec.typical_fact.si:
        assert 0.5 <= fact.si / spec.typical_fact.si <= 2, path


@pytest.mark.parametrize(
    ("kind", "key", "smallest", "largest"),
    [
        ("car", "mass", 500.0, 3000.0),
        ("car", "rear_axle_mass", 200.0, 1500.0),
        ("car", "wheelbase", 1.8, 3.5),
        ("car", "rear_track", 1.1, 1.8),
        ("clutch", "rated_torque", 100.0, 1000.0),
        ("gearbox", "rated_torque", 100.0, 1000.0),
        ("prop_shaft", "length", 0.3, 2.0),
        ("half_shaft", "bar_diameter", 0.018, 0.045),
        ("hub", "stud_torque", 60.0, 250.0),
        ("tyre", "circumference", 1.5, 2.6),
    ],
)
def test_the_examples_have_the_size_of_car_parts(kind: str, key: str, smallest: float, largest: float) -> None:
    """SI; the sizes are common practice, no source."""
    spec = KINDS[kind].specs()[key]

    assert smallest <= read_value(spec, spec.example).si <= largest


@pytest.mark.parametrize(
    ("entries", "said"),
    [
        ({"wheelbase": "long"}, 'expected a length, for example "2.40 m, taped"'),
        ({"mass": "-5 kg"}, 'for example "960 kg, weighed"'),
        ({"mass": ("1 kg", "2 kg")}, 'is a list of 2: expected one value, for example "960 kg, weighed"'),
        ({"rolling_coefficient": "0.01 smooth"}, 'a coefficient takes no unit, for example "0.0135 ± 0.002, guess"'),
    ],
)
def test_a_message_shows_the_example_of_its_fact(entries, said: str) -> None:
    """Not the one of any length or any mass."""
    _, (problem,) = read_part("car", Car, entries)

    assert said in problem.says


def test_a_curve_may_end_somewhat_below_the_limit_and_begin_anywhere() -> None:
    """A printed curve stops short of the limiter now and then; zero torque is not a contradiction."""
    curve = "rpm : N·m | 3000 : 200 | 4900 : 0"
    _, problems = read_part("engine", Engine, {"torque_curve": curve, "max_speed": "6000 rpm"})

    assert problems == []


def test_bounds_are_said_in_the_units_of_the_trade() -> None:
    """Engine speeds in rpm; an article that fits; a range as one."""
    _, (slow,) = read_part("engine", Engine, {"max_speed": "0 rpm"})
    _, (far,) = read_part("car", Car, {"front_roll_share": "130 %"})
    _, (flat,) = read_part("shaft", PropShaft, {"front_joint_angle_limit": "0 deg"})

    assert "expected a rotational speed from 500 rpm to 40000 rpm" in slow.says
    assert "expected a share from 0 % to 100 %" in far.says
    assert "expected an angle from 0.1° to 90°" in flat.says


def test_what_the_builder_sets_on_the_engine_is_exact_unless_he_says_otherwise() -> None:
    """Limiter and launch speed are set; an idle speed is read, and the cruise band is judged."""
    bare = dict.fromkeys(("max_speed", "launch_speed"), "6000 rpm")
    engine, _ = read_part("engine", Engine, {**bare, "idle_speed": "900 rpm", "cruise_high": "3300 rpm"})
    guessed, _ = read_part("engine", Engine, {"max_speed": "6000 rpm, guess", "launch_speed": "2000 ± 100 rpm"})

    assert engine.max_speed.written.spread.is_zero
    assert engine.launch_speed.written.spread.is_zero
    assert str(engine.launch_speed.written) == "6000 rpm"
    assert not engine.idle_speed.written.spread.is_zero
    assert not engine.cruise_high.written.spread.is_zero
    assert not guessed.max_speed.written.spread.is_zero
    assert not guessed.launch_speed.written.spread.is_zero


def test_only_ratios_of_teeth_are_exact_without_a_word() -> None:
    """A quantity "ratio" counts teeth; every friction, factor and bias is measured or judged."""
    of_teeth = set()
    for name, kind in KINDS.items():
        for key, spec in kind.specs().items():
            one = spec.item if isinstance(spec, ListSpec) else spec
            if isinstance(one, FactSpec) and one.quantity is RATIO:
                of_teeth.add(f"{name}.{key}")

    assert of_teeth == {
        "gearbox.ratios",
        "gearbox.reverse_ratio",
        "transfer_case.ratio",
        "transfer_case.low_ratio",
        "final_drive.ratio",
        "speedometer.original_final_drive",
        "speedometer.drive_factor",
    }


def test_a_friction_without_a_word_is_a_guess() -> None:
    """Its spread is 20 %, not none."""
    car, _ = read_part("car", Car, {"tyre_friction": "0.9"})

    assert car.tyre_friction.written.spread.plus == pytest.approx(0.18)


def test_what_could_not_be_read_does_not_hide_the_rest() -> None:
    """A part with one bad entry keeps its good ones."""
    car, problems = read_part("car", Car, {"mass": "heavy", "wheelbase": "2.4 m"})

    assert [problem.path for problem in problems] == ["car.mass"]
    assert car.wheelbase.written.si == 2.4
    assert car.mass.written is None


def test_two_facts_that_contradict_each_other_are_named() -> None:
    """The inside of a ring is smaller than its outside."""
    _, (problem,) = read_part(
        "clutch", Clutch, {"facing_outside_diameter": "200 mm", "facing_inside_diameter": "210 mm"}
    )

    assert problem.path == "clutch.facing_inside_diameter"
    assert problem.says.startswith("is 210 mm, not smaller than clutch.facing_outside_diameter (200 mm)")


@pytest.mark.parametrize("kind", KINDS.values(), ids=KINDS)
def test_every_kind_declares_what_it_takes_in_words(kind) -> None:
    """Each fact says what it means; a typical value reads as its quantity and names its source."""
    assert kind.__doc__
    for spec in kind.specs().values():
        assert spec.says
        if isinstance(spec, FactSpec) and spec.typical:
            assert spec.typical_fact.quantity is spec.quantity
            assert spec.bounds.admit(spec.typical_fact.si)
            assert spec.source
        assert isinstance(spec, FactSpec | ListSpec | CurveSpec | WordSpec | RefSpec | CodeSpec)


@pytest.mark.parametrize("kind", KINDS.values(), ids=KINDS)
def test_what_a_part_is_joined_to_is_a_kind_there_is(kind) -> None:
    """A reference names kinds that exist."""
    for spec in kind.specs().values():
        if isinstance(spec, RefSpec):
            assert set(spec.kinds) <= set(KINDS)


def test_nearest_names() -> None:
    """A slip of the finger is answered with the right name, a stranger with all of them."""
    assert nearest("gerabox", ["gearbox", "car"]) == 'did you mean "gearbox"?'
    assert nearest("xyz", ["gearbox", "car"]) == "known are: gearbox, car"
    assert nearest("sd02", ["SD01", "SD02"]) == 'did you mean "SD02"?'
    assert nearest("xyz", map(str, range(70))).endswith("58, 59 and 10 more")
