"""A value held against several limits: which one decides, which one is replaced, and what is listed beside it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from trialfit.book import read_text
from trialfit.evaluation.evaluation import Evaluation
from trialfit.evaluation.limits import with_own
from trialfit.evaluation.requirement import (
    COMMON_PRACTICE,
    AtLeast,
    AtMost,
    Limit,
    Requirement,
    Source,
    SourceKind,
    Stake,
)
from trialfit.evaluation.verdict import Verdict
from trialfit.evaluation.working import margin_of, work_out
from trialfit.facts.quantity import LENGTH

CAR = '[car]\nwheelbase = "2.40 m ± 10 mm, taped"\nrear_track = "1.4 m ± 0 m"\n'
MAKER = Source("maker of the axle", SourceKind.manual)
CODE = Source("an invented code of practice", SourceKind.published)


def wheelbase(ev):
    """2.400 ± 0.010 m."""
    return ev(ev.build.parts["car"].wheelbase)


OURS = Requirement(
    "test.one", "car", "long enough", wheelbase, LENGTH, Stake.durability, AtLeast(2.30), COMMON_PRACTICE, unit="m"
)


def found(requirement, build=CAR, draws=4096):
    return work_out(Evaluation(read_text(build), draws), [requirement])["test.one"]


def rows(finding):
    return [(one.id, one.verdict, one.replaced_by) for one in finding.limits]


def test_one_limit_stands_alone_and_is_the_one_shown():
    finding = found(OURS)
    (one,) = finding.limits

    assert (one.id, one.limit, one.margin, one.share_ok) == ("stated", finding.limit, finding.margin, finding.share_ok)
    assert (one.source, one.source_kind) == ("common practice, no source", "common practice")


def test_a_makers_limit_takes_the_place_of_ours_which_is_still_listed():
    """2.405 wanted by us, 2.30 by the maker: it holds by 0.1 m, and ours is listed as unsettled."""
    finding = found(replace(OURS, limit=AtLeast(2.405), also=(Limit("axle", AtLeast(2.30), MAKER),)))

    assert (finding.verdict, finding.source) == (Verdict.holds, "maker of the axle")
    assert finding.margin.nominal == pytest.approx(0.1)
    assert rows(finding) == [("axle", Verdict.holds, ""), ("stated", Verdict.unsettled, "axle")]
    assert finding.limits[1].margin.nominal == pytest.approx(-0.005)


def test_of_two_makers_limits_the_tighter_one_decides():
    """The draws that keep 2.395 are fewer than those that keep 2.392; of two that all draws keep, the nearer decides."""
    two = (Limit("axle", AtLeast(2.392), MAKER), Limit("shaft", AtLeast(2.395), MAKER))
    clear = (Limit("axle", AtLeast(2.2), MAKER), Limit("shaft", AtLeast(2.25), MAKER))

    assert [one.id for one in found(replace(OURS, also=two)).limits] == ["shaft", "axle", "stated"]
    assert [one.id for one in found(replace(OURS, also=clear)).limits] == ["shaft", "axle", "stated"]


def test_a_code_counts_beside_ours_and_says_where_it_stands():
    code = Limit("code_4_2", AtLeast(2.395), CODE, clause="4.2", edition="2nd", load_state="laden")
    finding = found(replace(OURS, also=(code,)))
    first = finding.limits[0]

    assert (finding.verdict, finding.source, finding.limit.nominal) == (Verdict.unsettled, CODE.text, 2.395)
    assert (first.clause, first.edition, first.load_state) == ("4.2", "2nd", "laden")
    assert rows(finding)[1] == ("stated", Verdict.holds, "")
    assert finding.share_ok == first.share_ok < 1


def test_the_builders_own_limit_replaces_ours_and_no_code():
    code = Limit("code_4_2", AtLeast(2.395), CODE)
    finding = work_out(
        Evaluation(read_text(f'{CAR}[limit]\n"test.one" = "2.0 m; a wish"\n')), [replace(OURS, also=(code,))]
    )["test.one"]

    assert rows(finding) == [
        ("code_4_2", Verdict.unsettled, ""),
        ("written", Verdict.holds, ""),
        ("stated", Verdict.holds, "written"),
    ]
    assert finding.limits[1].source == "set by the builder: a wish"


def test_limits_of_both_sides_stand_side_by_side():
    """At least 2.3, at most 2.405: the upper one decides, and its side is shown."""
    finding = found(replace(OURS, also=(Limit("most", AtMost(2.405), CODE),)))

    assert (finding.side, finding.limit.nominal) == ("at most", 2.405)
    assert finding.margin.nominal == pytest.approx(0.005)
    assert [one.side for one in finding.limits] == ["at most", "at least"]


def test_a_limit_that_is_not_known_comes_before_one_that_is_kept_and_after_one_that_is_not():
    unknown = Limit("code", AtLeast(lambda ev: ev(ev.build.parts["car"].rear_axle_mass)), CODE)
    kept = found(replace(OURS, also=(unknown,)))
    broken = found(replace(OURS, limit=AtLeast(2.5), also=(unknown,)))

    assert (kept.verdict, list(kept.missing)) == (Verdict.unknown, ["car.rear_axle_mass"])
    assert (kept.limits[1].verdict, broken.verdict, broken.missing) == (Verdict.holds, Verdict.fails, {})


def test_only_the_limit_that_decides_lends_its_facts():
    replaced = replace(OURS, limit=AtLeast(lambda ev: ev(ev.build.parts["car"].rear_track)))
    assert {fact.path for fact in found(replaced).facts} == {"car.wheelbase", "car.rear_track"}

    instead = replace(replaced, also=(Limit("axle", AtLeast(2.30), MAKER),))
    assert {fact.path for fact in found(instead).facts} == {"car.wheelbase"}


def test_a_figure_with_a_limit_of_a_code_is_a_finding():
    figure = replace(OURS, limit=None, source=None, also=(Limit("code", AtMost(2.5), CODE),))

    assert rows(found(figure)) == [("code", Verdict.holds, "")]


def test_the_margin_alone_is_that_of_the_limit_that_decides():
    both = replace(OURS, also=(Limit("most", AtMost(2.405), CODE),))

    assert margin_of(Evaluation(read_text(CAR), 1), both)[0] == pytest.approx(0.005)


def test_an_own_limit_has_the_side_of_the_first_limit():
    figure = replace(OURS, limit=None, source=None, also=(Limit("code", AtLeast(2.0), CODE),))

    assert with_own(figure, "2.1 m").own.side == AtLeast(2.1)
