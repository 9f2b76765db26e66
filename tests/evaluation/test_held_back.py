"""At stake safety a guessed rating settles nothing, and a limit of one's own does not make a laxer one hold."""

from __future__ import annotations

from dataclasses import replace

import pytest

from trialfit.advice.next_step import next_step
from trialfit.book import read_text
from trialfit.evaluation.evaluation import Evaluation
from trialfit.evaluation.requirement import AtLeast, AtMost, Requirement, Source, SourceKind, Stake
from trialfit.evaluation.verdict import Verdict
from trialfit.evaluation.working import work_out
from trialfit.facts.quantity import TORQUE
from trialfit.parts import Clutch

BOOK = Source("a book, table 1", SourceKind.published)
RATED = Requirement(
    id="test.clutch",
    about="clutch",
    says="carries 160 N·m",
    value=lambda ev: ev(ev.part(Clutch).rated_torque),
    quantity=TORQUE,
    stake=Stake.safety,
    limit=AtLeast(160.0),
    source=BOOK,
)


def found(rating: str, limit: str = "", requirement: Requirement = RATED):
    text = f'[clutch]\nrated_torque = "{rating}"\n' + (f'[limit]\n"test.clutch" = "{limit}"' if limit else "")
    build = read_text(text)
    finding = work_out(Evaluation(build, 1024), [requirement])["test.clutch"]
    return finding, next_step(build, finding)


@pytest.mark.parametrize(("provenance", "why"), [(", guess", "it is a guess"), ("", "where it comes from is missing")])
def test_a_guessed_rating_settles_nothing_at_stake_safety(provenance, why) -> None:
    """However large it is, and however sure of it whoever guessed was: 1500 ± 1 N·m."""
    finding, step = found(f"1500 ± 1 N·m{provenance}")

    assert (finding.verdict, finding.share_ok) == (Verdict.unsettled, 1.0)
    assert (
        step
        == f"Get clutch.rated_torque from its maker's manual or catalogue: {why}, and a guessed rating settles nothing "
        "at stake safety."
    )
    assert f"clutch.rated_torque is a rating and settles nothing at stake safety: {why}" in finding.remark


@pytest.mark.parametrize("provenance", ["manual", "catalogue", "gauged", "computed"])
def test_a_rating_with_a_source_holds(provenance) -> None:
    finding, step = found(f"1500 ± 1 N·m, {provenance}")

    assert (finding.verdict, finding.held_back, step) == (Verdict.holds, (), "")


def test_a_guessed_rating_that_is_too_small_fails_and_other_stakes_are_the_builders_own() -> None:
    assert found("100 ± 1 N·m, guess")[0].verdict is Verdict.fails
    durable, _ = found("1500 ± 1 N·m, guess", requirement=replace(RATED, stake=Stake.durability))
    assert (durable.verdict, durable.remark) == (Verdict.holds, "")


def test_a_laxer_limit_of_ones_own_is_unsettled_and_both_limits_are_told() -> None:
    """150 N·m rated by its maker, 160 wanted, 140 written: kept by the builder's word alone."""
    finding, step = found("150 N·m, manual", "140 N·m; a friend's car")

    assert (finding.verdict, finding.limit.nominal) == (Verdict.unsettled, 140)
    assert [(one.id, one.verdict) for one in finding.limits] == [("written", Verdict.holds), ("stated", Verdict.fails)]
    assert (
        step
        == "Keep to our limit, at least 160 N·m (a book, table 1), by which it fails, or write the manual behind your own: "
        "140 N·m is kept, but at stake safety only a maker's manual makes a laxer limit hold."
    )


@pytest.mark.parametrize(
    ("rating", "limit", "verdict"),
    [
        ("150 N·m, manual", "140 N·m, manual; page 3", Verdict.holds),
        ("150 N·m, manual", "155 N·m", Verdict.fails),
        ("200 N·m, manual", "140 N·m", Verdict.holds),
        ("200 N·m, manual", "180 N·m", Verdict.holds),
        ("170 N·m, manual", "180 N·m", Verdict.fails),
    ],
)
def test_a_limit_of_ones_own_holds_where_a_manual_is_behind_it_or_ours_is_kept_too(rating, limit, verdict) -> None:
    assert found(rating, limit)[0].verdict is verdict


def test_a_limit_of_ones_own_does_not_stand_in_for_one_that_is_not_known() -> None:
    unknown = replace(RATED, limit=AtLeast(lambda ev: ev(ev.part(Clutch).clamp_load)))
    finding, step = found("150 N·m, manual", "140 N·m", unknown)

    assert finding.verdict is Verdict.unsettled
    assert step.startswith("Keep to our limit, not known yet (a book, table 1), by which it is not known, or")


def test_at_other_stakes_and_for_a_figure_ones_own_limit_decides() -> None:
    comfort, _ = found("150 N·m, manual", "140 N·m", replace(RATED, stake=Stake.comfort))
    figure, _ = found("150 N·m, manual", "180 N·m", replace(RATED, limit=None, source=None, turned_by=AtMost))

    assert (comfort.verdict, figure.verdict) == (Verdict.holds, Verdict.holds)
