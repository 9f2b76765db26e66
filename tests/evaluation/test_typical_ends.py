"""What fails by typical values alone is settled only where it fails at their good ends too."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from trialfit.book import read_text
from trialfit.evaluation.evaluation import Evaluation
from trialfit.evaluation.requirement import COMMON_PRACTICE, AtLeast, Requirement, Stake
from trialfit.evaluation.typical_ends import ends_of
from trialfit.evaluation.verdict import Verdict
from trialfit.evaluation.working import judged, work_out
from trialfit.facts.quantity import STRESS
from trialfit.facts.reading import read_fact
from trialfit.parts import HalfShaft

BEARS = Requirement(
    id="test.notch",
    about="half_shaft",
    says="bears at its notch at least so much",
    value=lambda ev: ev(ev.part(HalfShaft).yield_strength) / ev(ev.part(HalfShaft).notch_factor),
    quantity=STRESS,
    stake=Stake.safety,
    limit=AtLeast(1000e6),
    source=COMMON_PRACTICE,
)
"""The best that is usual is 1300 MPa with a notch of 1.2: 1083 MPa, in one draw of some hundreds."""


def verdict(written: str = "", limit: float = 1000e6):
    build = read_text(f'[half_shaft]\nside = "left"\n{written}')
    requirement = replace(BEARS, limit=AtLeast(limit))
    return work_out(Evaluation(build, 4096), [requirement])["test.notch"]


def test_a_good_corner_of_two_typical_values_is_not_a_failure() -> None:
    finding = verdict()

    assert finding.verdict is Verdict.unsettled
    assert "half_shaft.yield_strength" in finding.held_back[0]
    assert "by its usual value it fails, at the other end of what is usual it need not" in finding.held_back[0]


@pytest.mark.parametrize(
    ("written", "limit"),
    [
        ("", 1300e6),
        ('yield_strength = "500 ± 20 MPa, catalogue"', 1000e6),
        ('yield_strength = "900 ± 20 MPa, catalogue"\nnotch_factor = "2 ± 0.1, manual"', 1000e6),
    ],
)
def test_what_fails_at_the_good_ends_too_fails(written, limit) -> None:
    """More than any car has; a soft steel at any notch; nothing typical at all."""
    assert verdict(written, limit).verdict is Verdict.fails


def test_draws_go_to_the_end_that_they_are_nearer_to_and_the_nominal_stays() -> None:
    fact = read_fact("10 ± 2 MPa, typical", STRESS)

    assert list(ends_of(fact, np.array([10e6, 8.5e6, 11.9e6]))) == pytest.approx([10e6, 8e6, 12e6])


@pytest.mark.parametrize("limit", [200e6, 1000e6, 1300e6])
def test_the_verdict_alone_is_that_of_the_whole_finding(limit) -> None:
    build = read_text('[half_shaft]\nside = "left"\n')

    assert judged(Evaluation(build, 4096), replace(BEARS, limit=AtLeast(limit))) is verdict(limit=limit).verdict
