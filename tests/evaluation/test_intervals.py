"""The interval that holds 95 % of the draws, against numpy's own quantiles."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra import numpy as arrays

from trialfit.book import read_text
from trialfit.evaluation.evaluation import Evaluation
from trialfit.evaluation.requirement import AtLeast, AtMost, Requirement, Stake
from trialfit.evaluation.working import work_out
from trialfit.facts.quantity import LENGTH

if TYPE_CHECKING:
    from trialfit.evaluation.finding import Finding

_DRAWS = arrays.arrays(np.float64, st.integers(1, 90), elements=st.floats(-1e6, 1e6) | st.just(np.nan))


BUILD = read_text("[car]\nwheelbase = '2.4 m, taped'\n")


def worked(values: np.ndarray, limit) -> Finding:
    """The finding whose value has exactly these draws."""
    requirement = Requirement(
        id="test.of",
        about="car",
        says="of some draws",
        value=lambda _: values,
        quantity=LENGTH,
        stake=Stake.comfort,
        limit=limit,
        source=None,
        unit="m",
    )
    return work_out(Evaluation(BUILD, values.size), [requirement], most=1)["test.of"]


@given(drawn=_DRAWS, nominal=st.floats(-1e6, 1e6))
def test_the_ends_are_the_quantiles_of_the_sound_draws(drawn, nominal) -> None:
    """Source of the outside value: numpy.quantile, whose straight line between neighbours is the usual definition."""
    value = worked(np.concatenate([[nominal], drawn]), AtLeast(0.0)).value

    sound = drawn[np.isfinite(drawn)]
    low, high = np.quantile(sound, [0.025, 0.975]) if sound.size else (nominal, nominal)
    assert (value.nominal, value.low, value.high) == pytest.approx((nominal, low, high), rel=1e-9, abs=1e-6)


@pytest.mark.parametrize("side", [AtMost, AtLeast])
@given(drawn=_DRAWS)
def test_a_margin_from_one_exact_bound_has_the_quantiles_of_its_own_draws(side, drawn) -> None:
    """It is counted from the value's interval when the bound is exact, and from its own draws when the bound is not."""
    values = np.concatenate([[1.0], drawn])
    bound = 5.0
    exact = worked(values, side(bound)).margin
    drawn_bound = worked(values, side(lambda ev: np.full(ev.draws, bound))).margin

    assert (exact.nominal, exact.low, exact.high) == pytest.approx(
        (drawn_bound.nominal, drawn_bound.low, drawn_bound.high), rel=1e-9, abs=1e-6
    )


def test_figures_that_nobody_asked_for_are_counted_and_not_worked_out() -> None:
    """One that leads beside the findings is worked out anyway."""

    def never(_: Evaluation) -> float:
        raise AssertionError

    quiet = Requirement(
        id="test.quiet",
        about="car",
        says="worth knowing",
        value=never,
        quantity=LENGTH,
        stake=Stake.comfort,
        limit=None,
        source=None,
    )
    leading = Requirement(
        id="test.leading", about="car", says="worth saying", value=lambda ev: np.ones(ev.draws), quantity=LENGTH, stake=Stake.comfort, limit=None, source=None,
        shows=lambda _: "one metre", leads=True,
    )  # fmt: skip
    report = work_out(Evaluation(BUILD, 64), [quiet, leading], all_figures=False)

    assert [figure.id for figure in report.figures] == ["test.leading"]
    assert report.figures_left_out == 1


def test_the_facts_behind_what_holds_are_left_out_where_nobody_reads_them() -> None:
    """What fails keeps its facts and their shares; verdict and numbers are those of the full report."""
    build = read_text("[car]\nwheelbase = '2.4 m ± 5 mm, taped'\n")
    wheelbase = build.parts["car"].wheelbase
    requirements = [
        Requirement(
            id=f"test.{name}",
            about="car",
            says="of a fact",
            value=lambda ev: ev(wheelbase),
            quantity=LENGTH,
            stake=Stake.comfort,
            limit=limit,
            source=None,
        )
        for name, limit in (("holds", AtLeast(2.0)), ("fails", AtMost(2.0)))
    ]
    full = work_out(Evaluation(build, 64), requirements)
    short = work_out(Evaluation(build, 64), requirements, all_facts=False)

    assert [use.path for use in full["test.holds"].facts] == ["car.wheelbase"]
    assert short["test.holds"] == full["test.holds"].model_copy(update={"facts": ()})
    assert short["test.fails"] == full["test.fails"]
