"""A change re-works only what it concerns: what looked at nothing that changed is kept, and the report is that of a new start."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import partial

import numpy as np
import pytest

from trialfit.book import read_text
from trialfit.evaluation.evaluation import Evaluation, MissingFact
from trialfit.evaluation.keeping import same
from trialfit.evaluation.requirement import COMMON_PRACTICE, AtLeast, Requirement, Stake
from trialfit.evaluation.working import work_out
from trialfit.facts.quantity import LENGTH
from trialfit.parts import Car, Clutch, Engine
from trialfit.parts.watching import Watched, seen, watching

CAR = (
    '[car]\nwheelbase = "2.40 m ± 10 mm, taped"\nmass = "960 ± 20 kg, weighed"\nrear_track = "1.4 m ± 0 m"\n'
    '[clutch]\nrelease = "cable"\n'
)


class _Counting:
    """Derived values that count how often they are worked out."""

    def __init__(self) -> None:
        self.calls: list[str] = []

    def half_wheelbase(self, ev: Evaluation) -> np.ndarray:
        self.calls.append("half")
        return ev(ev.part(Car).wheelbase) / 2

    def quarter(self, ev: Evaluation) -> np.ndarray:
        self.calls.append("quarter")
        return ev.of(self.half_wheelbase) / 2

    def per_mass(self, ev: Evaluation) -> np.ndarray:
        self.calls.append("mass")
        return 1 / ev(ev.part(Car).mass)

    def has_engine(self, ev: Evaluation) -> bool:
        self.calls.append("engine")
        return ev.build.first(Engine) is not None

    def release(self, ev: Evaluation) -> str | None:
        self.calls.append("release")
        return ev.part(Clutch).release

    def limit(self, ev: Evaluation) -> str:
        self.calls.append("limit")
        return ev.build.limits.get("test.one", "")

    def missing(self, ev: Evaluation) -> np.ndarray:
        self.calls.append("missing")
        return ev(ev.part(Car).rear_axle_mass)

    def a_part(self, ev: Evaluation) -> Car:
        self.calls.append("part")
        return ev.part(Car)

    def nominal(self, ev: Evaluation) -> float:
        self.calls.append("nominal")
        return float(Evaluation(ev.build, 1).of(self.half_wheelbase)[0])


def work(ev: Evaluation, one: _Counting, *names: str) -> list[object]:
    out = []
    for name in names:
        try:
            out.append(ev.of(getattr(one, name)))
        except MissingFact as missing:
            out.append(sorted(missing.wanted))
    return out


def reworked(change: tuple[str, str], *names: str) -> list[str]:
    """The names of what is worked out again after a change of the text."""
    one, build = _Counting(), read_text(CAR)
    ev = Evaluation(build, 8)
    work(ev, one, *names)
    one.calls.clear()
    changed = read_text(CAR.replace(*change))
    later = ev.after(changed)
    mine = work(later, one, *names)
    calls = list(one.calls)
    anew = work(Evaluation(changed, 8), one, *names)
    for kept, new in zip(mine, anew, strict=True):
        assert np.array_equal(kept, new) if isinstance(new, np.ndarray) else True
    return calls


LONGER, HEAVIER = ("2.40 m", "2.50 m"), ("960 ±", "990 ±")


def test_a_changed_fact_re_works_what_read_it_and_nothing_else() -> None:
    assert reworked(LONGER, "quarter", "per_mass") == ["quarter", "half"]
    assert reworked(HEAVIER, "quarter", "per_mass") == ["mass"]
    assert reworked(("wheel", "wheel"), "quarter", "per_mass") == []


@pytest.mark.parametrize("change", [("± 10 mm, taped", "± 11 mm, taped"), ("mm, taped", "mm, taped; really")])
def test_spread_and_note_are_part_of_a_fact(change) -> None:
    assert reworked(change, "quarter") == ["quarter", "half"]


def test_what_asked_whether_there_is_such_a_part_is_concerned_by_a_new_one() -> None:
    assert reworked(("[clutch]", "[engine]\n[clutch]"), "has_engine", "quarter") == ["engine"]
    assert reworked(('[clutch]\nrelease = "cable"\n', ""), "has_engine", "quarter", "release") == ["release"]


def test_words_limits_and_missing_facts_count_as_read() -> None:
    assert reworked(("cable", "hydraulic"), "release", "quarter") == ["release"]
    assert reworked(("[clutch]", '[limit]\n"test.one" = "1 m"\n[clutch]'), "limit", "quarter") == ["limit"]
    assert reworked(("[clutch]", 'rear_axle_mass = "500 kg"\n[clutch]'), "missing", "per_mass") == ["missing"]
    assert reworked(LONGER, "missing") == []


def test_what_an_evaluation_within_looks_at_counts_too() -> None:
    """A derived value that works something out at the nominal alone."""
    assert reworked(LONGER, "nominal") == ["nominal", "half"]
    assert reworked(HEAVIER, "nominal") == []


def test_a_value_that_holds_parts_is_worked_out_anew() -> None:
    """They belong to the build before, with its facts."""
    assert reworked(HEAVIER, "a_part") == ["part"]


def test_a_chain_of_changes_keeps_what_none_of_them_concerns() -> None:
    """Even what nobody asked for after the first of them."""
    one, ev = _Counting(), Evaluation(read_text(CAR), 8)
    work(ev, one, "quarter", "per_mass")
    ev = ev.after(read_text(CAR.replace(*HEAVIER)))
    ev = ev.after(read_text(CAR.replace(*HEAVIER).replace("cable", "hydraulic")))
    one.calls.clear()
    work(ev, one, "quarter", "per_mass")

    assert one.calls == ["mass"]
    assert list(ev.drawn("car.wheelbase")) == list(Evaluation(read_text(CAR), 8)(read_text(CAR).parts["car"].wheelbase))


def of_two(_: Evaluation, one: _Named) -> float:
    return one.number


@dataclass(frozen=True)
class _Named:
    name: str
    number: float


def test_arguments_of_the_same_name_that_differ_are_told_apart() -> None:
    ev = Evaluation(read_text(CAR), 8)
    assert ev.of(of_two, _Named("a", 1.0)) == 1.0
    assert ev.after(read_text(CAR)).of(of_two, _Named("a", 1.0)) == 1.0
    assert ev.after(read_text(CAR)).of(of_two, _Named("a", 2.0)) == 2.0


def test_a_file_that_changed_meanwhile_is_read_again(tmp_path) -> None:
    file = tmp_path / "scan.json"
    file.write_text("1", encoding="utf-8")

    def size(ev: Evaluation) -> int:
        return len(ev.reads_file(file).read_text(encoding="utf-8"))

    ev = Evaluation(read_text(CAR), 8)
    assert ev.of(size) == 1
    file.write_text("123", encoding="utf-8")
    assert ev.after(read_text(CAR)).of(size) == 3
    elsewhere = replace(read_text(CAR), folder=tmp_path)
    assert ev.after(elsewhere).of(size) == 3


def stated(wanted: float, calls: list[str]) -> list[Requirement]:
    """As a subject states them: anew for each build, with its numbers in closures."""

    def length(ev: Evaluation) -> np.ndarray:
        calls.append("length")
        return ev(ev.part(Car).wheelbase)

    def width(ev: Evaluation, *, least: float) -> np.ndarray:
        calls.append("width")
        return ev(ev.part(Car).rear_track) - least

    made = partial(Requirement, about="car", says="long", quantity=LENGTH, stake=Stake.comfort, source=COMMON_PRACTICE)
    return [
        made("test.length", value=length, limit=AtLeast(2.3)),
        made("test.width", value=partial(width, least=wanted), limit=AtLeast(0.0)),
    ]


def test_a_finding_is_kept_where_its_requirement_and_its_facts_are_the_same() -> None:
    calls: list[str] = []
    build, longer = read_text(CAR), read_text(CAR.replace(*LONGER))
    ev = Evaluation(build, 64)
    first = work_out(ev, stated(1.0, calls))
    calls.clear()
    later = ev.after(longer)
    second = work_out(later, stated(1.0, calls))
    assert set(calls) == {"length"}
    assert second["test.width"] is first["test.width"]
    assert second == work_out(Evaluation(longer, 64), stated(1.0, calls))

    calls.clear()
    third = work_out(later.after(longer), stated(1.2, calls))
    assert set(calls) == {"width"}
    assert third["test.width"].value.nominal == pytest.approx(200)


def test_an_own_limit_concerns_its_finding_alone() -> None:
    calls: list[str] = []
    ev = Evaluation(read_text(CAR), 64)
    work_out(ev, stated(1.0, calls))
    calls.clear()
    limited = read_text(f'{CAR}[limit]\n"test.width" = "2 m"\n')
    report = work_out(ev.after(limited), stated(1.0, calls))

    assert (set(calls), report["test.width"].verdict) == ({"width"}, "fails")


def test_functions_are_the_same_by_their_code_and_what_they_hold() -> None:
    def adds(number: float):
        return lambda value: value + number

    assert same(adds(1.0), adds(1.0))
    assert not same(adds(1.0), adds(2.0))
    assert not same(adds(1.0), lambda value: value + 1.0)
    assert same(partial(max, 1, key=abs), partial(max, 1, key=abs))
    assert not same(partial(max, 1), partial(max, 2))
    assert same(np.array([1.0]), np.array([1.0]))
    assert not same(object(), object())
    car, other = read_text(CAR).parts["car"], read_text(CAR.replace(*LONGER)).parts["car"]
    assert same(car, other)
    assert same(car.mass, other.mass)
    assert not same(car.wheelbase, other.wheelbase)


def test_what_holds_itself_cannot_be_told_and_ends() -> None:
    def recursive():
        def again(value: float) -> float:
            return again(value - 1) if value else 0.0

        return again

    assert not same(recursive(), recursive())


def test_a_mapping_notes_which_of_its_entries_are_looked_at() -> None:
    entries = Watched("car", {"mass": 1, "length": 2})

    def noted(look) -> set:
        with watching() as found:
            look(entries)
        return found

    assert noted(lambda one: one["mass"]) == {("car", "mass")}
    assert noted(lambda one: one.get("width")) == {("car", "width")}
    assert noted(lambda one: "width" in one) == {("car", "width")}
    for look in (list, len, bool, dict, lambda one: {**one}, lambda one: list(one.values()), lambda one: one == {}):
        assert ("car", None) in noted(look)
    for look in (lambda one: dict(one.items()), lambda one: one.copy(), lambda one: one | {}, lambda one: one != {}):
        assert ("car", None) in noted(look)


def test_a_watch_within_another_keeps_to_itself_and_without_one_nothing_is_noted() -> None:
    seen("before")
    with watching() as outer:
        seen("outer")
        with watching() as inner:
            seen("inner")

    assert (outer, inner) == ({"outer"}, {"inner"})
