"""Reading facts as draws, working a value out once, and who read what."""

from __future__ import annotations

import numpy as np
import pytest

from trialfit.book import read_text
from trialfit.evaluation.evaluation import Evaluation, MissingFact
from trialfit.parts import Speedometer


def test_draw_zero_is_the_nominal(build) -> None:
    """The first value is the fact as written, the others spread around it as stated."""
    wheelbase = Evaluation(build)(build.parts["car"].wheelbase)

    assert wheelbase[0] == 2.40
    assert wheelbase[1:].mean() == pytest.approx(2.40, abs=1e-6)
    assert 2 * wheelbase[1:].std() == pytest.approx(0.010, rel=2e-3)


def test_a_tolerance_of_a_catalogue_is_a_limit() -> None:
    """Catalogue figures spread evenly to their limits and not beyond."""
    build = read_text('[car]\nmass = "960 ± 30 kg, catalogue"')
    mass = Evaluation(build)(build.parts["car"].mass)

    assert mass.min() >= 930
    assert mass.max() <= 990
    assert mass[1:].std() == pytest.approx(30 / np.sqrt(3), rel=1e-3)


def test_changing_one_fact_leaves_the_draws_of_all_others_alone(build) -> None:
    """Two evaluations differ only by what was changed."""
    other = read_text(
        '[car]\nmass = "1200 ± 20 kg, weighed"\nwheelbase = "2.40 m ± 10 mm, taped"\ncentre_of_mass_height = "0.5 m"'
    )

    same = Evaluation(build)(build.parts["car"].wheelbase) == Evaluation(other)(other.parts["car"].wheelbase)
    assert same.all()
    assert np.allclose(Evaluation(build)(build.parts["car"].mass) + 240, Evaluation(other)(other.parts["car"].mass))


def test_two_facts_are_drawn_independently(build) -> None:
    """The permutations of two facts have nothing to do with each other."""
    ev = Evaluation(build)
    car = build.parts["car"]

    assert abs(np.corrcoef(ev(car.wheelbase)[1:], ev(car.mass)[1:])[0, 1]) < 0.05


def test_a_derived_value_is_worked_out_once_and_hands_on_its_readings(build) -> None:
    """The second finding that asks gets the value and the facts, without the work."""
    calls = []

    def half(ev, car):
        calls.append(car.name)
        return ev(car.wheelbase) / 2

    ev, car = Evaluation(build), build.parts["car"]
    ev.of(half, car)
    with ev.recording() as readings:
        ev.of(half, car)

    assert calls == ["car"]
    assert list(readings) == ["car.wheelbase"]


def test_a_missing_fact_is_named_each_time_it_is_asked_for(build) -> None:
    """A value that could not be worked out stays so, and says why to everyone who asks."""

    def share(ev, car):
        return ev(car.rear_axle_mass) / ev(car.mass)

    ev, car = Evaluation(build), build.parts["car"]
    for _ in range(2):
        with pytest.raises(MissingFact) as missing:
            ev.of(share, car)
        assert list(missing.value.wanted) == ["car.rear_axle_mass"]


def test_all_missing_facts_are_named_together(build) -> None:
    """Reading several facts at once names each that is missing."""
    engine = read_text("[engine]\n").parts["engine"]

    with pytest.raises(MissingFact) as missing:
        Evaluation(build).each(engine.max_speed, engine.idle_speed)
    assert list(missing.value.wanted) == ["engine.max_speed", "engine.idle_speed"]


def test_a_missing_fact_beside_a_known_one_leaves_the_finding_unknown(build, judged) -> None:
    """The known fact counts as read, and nothing else goes wrong."""
    car = build.parts["car"]
    finding = judged(build, lambda ev: ev.each(car.wheelbase, car.rear_axle_mass)[0], at_least=1.0)

    assert finding.verdict == "unknown"
    assert list(finding.missing) == ["car.rear_axle_mass"]
    assert [fact.path for fact in finding.facts] == ["car.wheelbase"]


def test_a_typical_value_stands_in_for_a_fact_nobody_wrote(build) -> None:
    """The kind's own value is read, and marked as typical."""
    ref = build.parts["car"].air_density

    assert ref.is_typical
    assert Evaluation(build)(ref)[0] == pytest.approx(1.20)


def test_a_defect_is_a_defect(build, judged) -> None:
    """An error in a subject is not swallowed."""

    def broken(ev):
        return ev(build.parts["car"].wheelbase) + {}["no such thing"]

    with pytest.raises(KeyError, match="no such thing"):
        judged(build, broken, at_least=1.0)


def test_no_draws_at_all_is_refused(build) -> None:
    """At least the nominal must be carried."""
    with pytest.raises(ValueError, match="0 draws: expected at least 1"):
        Evaluation(build, 0)


def test_a_part_that_is_not_written_is_named_with_what_it_is(build) -> None:
    """As one sentence, in the words of its kind."""
    with pytest.raises(MissingFact) as missing:
        Evaluation(build).part(Speedometer)
    assert missing.value.wanted == {
        "speedometer": "this part is missing: a speedometer driven from the gearbox output, as it was set up in the car it came from"
    }


def test_one_draw_is_the_nominal_alone_and_of_two_the_other_is_the_middle(build) -> None:
    """The middle of a tolerance that is not even lies beside the nominal."""
    car = read_text('[car]\nmass = "960 +30/-10 kg, catalogue"\nwheelbase = "2.40 m ± 10 mm, taped"').parts["car"]

    for draws, masses in ((1, [960]), (2, [960, 970]), (3, [960, 960, 980])):
        ev = Evaluation(build, draws)
        assert sorted(ev(car.mass)[1:]) == pytest.approx(masses[1:])
        assert ev(car.mass)[0] == 960
        assert ev(car.wheelbase).tolist()[0] == 2.40
    assert Evaluation(build, 2)(car.wheelbase).tolist() == [2.40, 2.40]


def test_the_draws_of_a_fact_are_these_on_every_machine(build) -> None:
    """By its path alone, in an order that a change here would change: every verdict near its threshold with it."""
    wheelbase = Evaluation(build, 5)(build.parts["car"].wheelbase)

    assert (wheelbase[1:] - 2.40) / 0.005 == pytest.approx([-1.1503494, 1.1503494, -0.3186394, 0.3186394])


def test_facts_are_recorded_for_the_innermost_block_alone(build) -> None:
    """Whoever works out a limit does not want its facts among those of the value; who asks for the whole gets both."""
    ev, car = Evaluation(build, 4), build.parts["car"]

    def mass(ev):
        return ev(car.mass)

    with ev.recording() as outer:
        ev(car.wheelbase)
        with ev.recording() as inner:
            ev.of(mass)
            ev(car.rear_track)

    assert list(outer) == ["car.wheelbase"]
    assert list(inner) == ["car.mass", "car.rear_track"]


def test_a_part_is_the_same_part_however_it_is_got_at(build) -> None:
    """And a fact the same fact: the work is done once, but anew for another one."""
    calls = []

    def of(ev, ref, *, times=1):
        calls.append(ref.path)
        return ev(ref) * times

    ev = Evaluation(build, 4)
    ev.of(of, build.parts["car"].mass)
    ev.of(of, read_text('[car]\nmass = "1000 kg"').parts["car"].mass)
    assert calls == ["car.mass"]
    ev.of(of, build.parts["car"].mass, times=2)
    ev.of(of, build.parts["car"].wheelbase)
    assert calls == ["car.mass", "car.mass", "car.wheelbase"]


def test_values_worked_out_from_different_plain_arguments_are_kept_apart(build) -> None:
    """The third gear is not the second."""
    ev = Evaluation(build, 4)

    def doubled(_: Evaluation, number: int, *, more: int = 0) -> int:
        return 2 * number + more

    assert [ev.of(doubled, 2), ev.of(doubled, 3)] == [4, 6]
    assert [ev.of(doubled, 2, more=1), ev.of(doubled, 2, more=5)] == [5, 9]


def test_facts_read_together_are_recorded_in_their_order_whether_missing_or_not(build) -> None:
    """Whoever asks what a value depends on is told of the missing facts too."""
    ev, car = Evaluation(build, 4), build.parts["car"]
    with ev.recording() as readings, pytest.raises(MissingFact):
        ev.each(car.wheelbase, car.rear_axle_mass, car.mass)

    assert list(readings) == ["car.wheelbase", "car.rear_axle_mass", "car.mass"]


def test_a_list_of_facts_has_a_row_for_each_draw(build) -> None:
    ev, car = Evaluation(build, 4), build.parts["car"]
    rows = ev.rows((car.wheelbase, car.mass, car.rear_track), "gears")

    assert rows.shape == (4, 3)
    assert rows[0].tolist() == [2.40, 960, 1.4]
    with pytest.raises(MissingFact) as missing:
        ev.rows((), "gears")
    assert missing.value.wanted == {"gears": "none in the build"}


CURVE = '[engine]\ntorque_curve = "rpm : N·m ± 4 %, gauged | 1000 : 100 | 2000 : 120 | 3000 : 110"'


def test_a_curve_is_drawn_as_one_factor_on_all_its_points() -> None:
    """The points as written; two standard deviations of the factor are the ± 4 %."""
    engine = read_text(CURVE).parts["engine"]
    curve = Evaluation(read_text(CURVE)).curve(engine.torque_curve)

    assert curve.y.tolist() == [100, 120, 110]
    assert curve.scale[0] == 1
    assert curve.scale[1:].mean() == pytest.approx(1, abs=1e-6)
    assert 2 * curve.scale[1:].std() == pytest.approx(0.04, rel=2e-3)


def test_a_finding_lists_the_curve_that_it_read(judged) -> None:
    """By the number of its points and where it came from, with its share."""
    build = read_text(CURVE)
    finding = judged(build, lambda ev: ev.curve(build.parts["engine"].torque_curve).scale, at_least=0.5)
    (curve,) = finding.facts

    assert (curve.path, curve.text, curve.provenance) == ("engine.torque_curve", "curve of 3 points", "gauged")
    assert curve.share == pytest.approx(1, abs=0.01)
