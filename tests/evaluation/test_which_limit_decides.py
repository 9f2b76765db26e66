"""What decides among several limits that do not hold, what is told of each, and what is listed at all."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from trialfit.book import Build, read_text
from trialfit.evaluation.evaluation import Evaluation
from trialfit.evaluation.requirement import (
    COMMON_PRACTICE,
    AtLeast,
    AtMost,
    Between,
    Limit,
    Requirement,
    Source,
    SourceKind,
    Stake,
)
from trialfit.evaluation.verdict import Verdict
from trialfit.evaluation.working import listed, margin_of, work_out
from trialfit.facts.quantity import LENGTH, TEMPERATURE

WHEELBASE = '[car]\nwheelbase = "2.40 m ± 10 mm, taped"\nrear_track = "1.4 m ± 0 m"\n'
CODE = Source("a code of practice", SourceKind.published)


def wheelbase(ev: Evaluation) -> np.ndarray:
    return ev(ev.build.parts["car"].wheelbase)


def missing(ev: Evaluation) -> np.ndarray:
    return ev(ev.build.parts["car"].front_track)


STATED = Requirement(
    id="test.one",
    about="car",
    says="is long enough",
    value=wheelbase,
    quantity=LENGTH,
    stake=Stake.durability,
    limit=AtLeast(2.3),
    source=COMMON_PRACTICE,
    unit="mm",
)


@pytest.fixture
def build() -> Build:
    return read_text(WHEELBASE)


def found(requirement: Requirement, limit: str = "", draws: int = 256):
    text = f'[limit]\n"test.one" = "{limit}"' if limit else ""
    return work_out(Evaluation(read_text(WHEELBASE + text), draws), [requirement]).result("test.one")


def test_the_limit_with_the_worst_verdict_decides_and_the_others_are_listed_behind_it() -> None:
    laden = Limit("code_4_2", AtLeast(2.5), CODE, clause="4.2", edition="2024-01", load_state="laden")
    finding = found(replace(STATED, also=(laden,)))

    assert (finding.verdict, finding.source, finding.limit.nominal) == (Verdict.fails, "a code of practice", 2500)
    assert [one.id for one in finding.limits] == ["code_4_2", "stated"]
    assert [one.verdict for one in finding.limits] == [Verdict.fails, Verdict.holds]
    assert [one.margin.nominal for one in finding.limits] == pytest.approx([-100, 100])
    first = finding.limits[0]
    assert (first.clause, first.edition, first.load_state, first.side) == ("4.2", "2024-01", "laden", "at least")


def test_of_two_limits_that_both_hold_the_smaller_margin_decides() -> None:
    finding = found(replace(STATED, also=(Limit("nearer", AtLeast(2.35), CODE), Limit("far", AtMost(3.0), CODE))))

    assert [one.id for one in finding.limits] == ["nearer", "stated", "far"]


def test_of_two_unsettled_limits_the_one_kept_less_often_decides() -> None:
    finding = found(replace(STATED, limit=AtLeast(2.397), also=(Limit("less", AtLeast(2.4), CODE),)))

    assert [one.verdict for one in finding.limits] == [Verdict.unsettled, Verdict.unsettled]
    assert [one.id for one in finding.limits] == ["less", "stated"]
    assert finding.share_ok == pytest.approx(0.5, abs=0.01)


@pytest.mark.parametrize(
    ("written", "kind", "source", "verdict"),
    [
        ("2500 mm", SourceKind.builder, "set by the builder", Verdict.fails),
        ("2350 mm; a friend's car", SourceKind.builder, "set by the builder: a friend's car", Verdict.holds),
        ("2350 mm, manual; page 12", SourceKind.manual, "maker's manual: page 12", Verdict.holds),
    ],
)
def test_a_limit_written_in_the_build_counts_instead_on_the_same_side(written, kind, source, verdict) -> None:
    finding = found(STATED, written)

    assert (finding.side, finding.source_kind, finding.source, finding.verdict) == ("at least", kind, source, verdict)
    assert finding.limits[1].replaced_by == "written"


@pytest.mark.parametrize(
    ("turned_by", "side", "verdict"), [(AtMost, "at most", Verdict.fails), (AtLeast, "at least", Verdict.holds)]
)
def test_a_limit_makes_a_finding_of_a_figure(turned_by, side, verdict) -> None:
    figure = replace(STATED, limit=None, source=None, turned_by=turned_by)
    finding = found(figure, "2300 mm")

    assert (finding.side, finding.verdict, finding.limit.nominal) == (side, verdict, 2300)
    assert found(figure).value.nominal == 2400


def test_between_two_bounds_of_the_build_no_limit_can_be_written() -> None:
    with pytest.raises(
        ValueError, match=r"test\.one is between two limits that are facts of the build: set these facts instead"
    ):
        found(replace(STATED, limit=Between(2.3, 2.5)), "2350 mm")


def test_a_limit_can_be_missing_as_well_as_a_value() -> None:
    by_limit = found(replace(STATED, limit=AtLeast(missing)))
    by_value = found(replace(STATED, value=missing))

    for finding in (by_limit, by_value):
        assert finding.verdict is Verdict.unknown
        assert list(finding.missing) == ["car.front_track"]
        assert (finding.value, finding.limit, finding.margin, finding.share_ok) == (None, None, None, None)
    assert [one.path for one in by_limit.facts] == ["car.wheelbase"]


def test_what_is_known_of_a_value_that_cannot_be_worked_out_has_no_share() -> None:
    finding = found(replace(STATED, value=lambda ev: wheelbase(ev) + missing(ev)))

    assert [(one.path, one.share) for one in finding.facts] == [("car.wheelbase", 0.0)]


def test_a_build_can_be_worked_out_by_its_nominal_values_alone() -> None:
    """One draw: its margin is the margin, its verdict plain."""
    finding = found(STATED, draws=1)

    assert finding.verdict is Verdict.holds
    assert (finding.margin.low, finding.margin.nominal, finding.margin.high) == pytest.approx((100, 100, 100))


def test_the_spread_of_a_bound_is_a_spread_of_the_margin() -> None:
    """An exact track of 1.4 m against a bound that is the taped wheelbase less a metre."""
    finding = found(
        replace(
            STATED, value=lambda ev: ev(ev.build.parts["car"].rear_track), limit=AtMost(lambda ev: wheelbase(ev) - 0.99)
        ),
        draws=4096,
    )

    assert finding.value.low == finding.value.high == 1400
    assert (finding.margin.low, finding.margin.nominal, finding.margin.high) == pytest.approx((0.2, 10, 19.8), abs=0.05)
    assert [one.path for one in finding.facts] == ["car.rear_track", "car.wheelbase"] or finding.facts[
        0
    ].path == "car.wheelbase"


def test_a_margin_of_temperatures_is_a_difference() -> None:
    """90 °C under a limit of 100 °C leaves 10 K, and not -263 °C."""
    finding = found(
        Requirement(
            id="test.one", about="car", says="stays cool", value=lambda _: 363.15, quantity=TEMPERATURE, stake=Stake.comfort,
            limit=AtMost(373.15), source=CODE,
        )
    )  # fmt: skip

    assert (finding.value.nominal, finding.limit.nominal, finding.margin.nominal) == pytest.approx((90, 100, 10))


def test_the_margin_of_one_requirement_is_that_against_the_limit_that_decides(build) -> None:
    ev = Evaluation(build, 16)

    assert margin_of(ev, STATED)[0] == pytest.approx(0.1)
    assert margin_of(ev, replace(STATED, also=(Limit("code", AtLeast(2.5), CODE),)))[0] == pytest.approx(-0.1)
    own = Evaluation(read_text(WHEELBASE + '[limit]\n"test.one" = "2350 mm"'), 16)
    assert margin_of(own, STATED)[0] == pytest.approx(0.05)
    with pytest.raises(ValueError, match=r"test\.one has no limit"):
        margin_of(ev, replace(STATED, limit=None))


def away(distance: float | None) -> Callable[[Evaluation], float | None]:
    return lambda _: distance


def test_what_matters_is_listed_the_nearest_first_and_what_is_out_of_reach_is_counted(build) -> None:
    """In the places that such findings have among the others."""
    stated = [
        replace(STATED, id="far", away=away(np.inf)),
        replace(STATED, id="plain"),
        replace(STATED, id="second", away=away(0.2)),
        replace(STATED, id="first", away=away(0.1)),
        replace(STATED, id="told elsewhere", away=away(None)),
    ]
    ev = Evaluation(build, 16)
    near, left_out = listed(ev, stated)

    assert [one.id for one in near] == ["plain", "first", "second"]
    assert left_out == 1
    report = work_out(ev, stated)
    assert ([one.id for one in report.findings], report.findings_left_out) == (["plain", "first", "second"], 1)
    whole = work_out(ev, stated, however_far=True)
    assert (len(whole.findings), whole.findings_left_out) == (5, 0)


def test_a_limit_of_the_builders_own_is_listed_however_far_it_is() -> None:
    build = read_text(WHEELBASE + '[limit]\n"a.far" = "2300 mm"\n"a.elsewhere" = "2300 mm"')
    stated = [
        replace(STATED, id="a.far", away=away(np.inf)),
        replace(STATED, id="a.elsewhere", away=away(None)),
        replace(STATED, id="a.near", away=away(0.1)),
    ]
    report = work_out(Evaluation(build, 16), stated)

    first, *others = (one.id for one in report.findings)
    assert first == "a.near"
    assert set(others) == {"a.far", "a.elsewhere"}
    assert report.findings_left_out == 0


def test_a_report_fails_where_any_finding_does(build) -> None:
    ev = Evaluation(build, 16)
    fails = replace(STATED, id="test.two", limit=AtLeast(2.6))

    assert work_out(ev, [STATED, fails]).fails is True
    assert work_out(ev, [STATED]).fails is False
    report = work_out(ev, [STATED, replace(STATED, id="figure", limit=None)])
    with pytest.raises(KeyError):
        report["figure"]
    with pytest.raises(KeyError):
        report.figure("test.one")
    assert report.result("nothing") is None


def test_weak_evidence_and_draws_outside_the_formula_are_told() -> None:
    """Of a thousand draws one is told as such, fewer as the least share that is shown."""

    def one_of(count: int) -> Callable[[Evaluation], np.ndarray]:
        return lambda ev: np.where(np.arange(ev.draws) == 5, np.nan, 2.4) if count else wheelbase(ev)

    assert found(STATED).remark == "the limit is common practice, without a source"
    memory = replace(STATED, source=Source("a book", SourceKind.from_memory))
    assert found(memory).remark == "the limit is from memory, not seen in print"
    assert found(replace(STATED, source=CODE)).remark == ""
    told = found(replace(STATED, source=CODE, value=one_of(1)), draws=100).remark
    assert told == "1.0 % of the draws are outside the range of the formula and count as failed"
    assert found(replace(STATED, source=CODE, value=one_of(1)), draws=4096).remark.startswith("0.1 % of the draws")
    both = replace(STATED, source=CODE, shows=lambda _: "so much", also=(Limit("mine", AtLeast(2.5), COMMON_PRACTICE),))
    assert found(both).remark == "so much; the limit is common practice, without a source"
    outside = replace(STATED, source=CODE, value=lambda _: np.nan, shows=lambda _: "so much")
    assert "so much" not in found(outside).remark


def formula(length: float) -> float:
    """Twice a length.

    Takes a length.

    Source: a book,
    chapter 3.

    >>> formula(2.0)
    4.0
    """
    return 2 * length


def without_source() -> None:
    """Nothing."""


def test_a_formula_is_told_by_its_first_line_and_its_source() -> None:
    shown, bare = found(replace(STATED, formulas=(formula, without_source))).formulas

    assert (shown.says, shown.source) == ("Twice a length.", "a book, chapter 3.")
    assert shown.name.endswith(".formula")
    assert (bare.says, bare.source) == ("Nothing.", "")


@pytest.mark.parametrize(("nominal", "low", "high", "shown"), [(2.38, 2.3, 2.5, 2300), (2.42, 2.3, 2.5, 2500)])
def test_of_two_bounds_the_one_nearer_to_the_nominal_is_shown_whatever_one_draw_says(nominal, low, high, shown) -> None:
    """The first draw lies beyond the middle, and so do the bounds in it."""

    def beside(there: float, other: float) -> Callable[[Evaluation], np.ndarray]:
        return lambda ev: np.where(np.arange(ev.draws) == 1, other, there)

    far = low + high - nominal
    value = replace(STATED, value=beside(nominal, far), limit=Between(low, high))
    assert found(value).limit.nominal == shown
    low_moves = replace(STATED, value=lambda _: nominal, limit=Between(beside(low, 2 * nominal - high - 0.02), high))
    assert found(low_moves).limit.nominal == shown
    low_rises = replace(STATED, value=lambda _: nominal, limit=Between(beside(low, nominal), high))
    assert found(low_rises).limit.nominal == shown
    high_moves = replace(STATED, value=lambda _: nominal, limit=Between(low, beside(high, nominal)))
    assert found(high_moves).limit.nominal == shown
