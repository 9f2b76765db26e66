"""The worst state of the car on the pages of `check` and `why`."""

from __future__ import annotations

import numpy as np

from trialfit.advice.explaining import Explanation
from trialfit.book import read_text
from trialfit.cli.pages import explanation, report
from trialfit.cli.screen import show
from trialfit.evaluation.evaluation import Evaluation
from trialfit.evaluation.requirement import COMMON_PRACTICE, AtLeast, Requirement, Stake
from trialfit.evaluation.states import InStates
from trialfit.evaluation.working import work_out
from trialfit.facts.quantity import LENGTH

GEARS = tuple(f"laden, gear {number}" for number in range(1, 11))


def worked_out(least: float):
    build = read_text('[car]\nwheelbase = "2.40 m"')
    gap = Requirement(
        "test.gap",
        "car",
        "keeps clear",
        lambda ev: InStates(np.full((ev.draws, 10), np.arange(1.0, 11.0)), GEARS),
        LENGTH,
        Stake.comfort,
        AtLeast(least),
        COMMON_PRACTICE,
        unit="m",
    )
    return build, work_out(Evaluation(build, 4), [gap])


def test_check_names_the_worst_state_behind_the_numbers(capsys) -> None:
    for least, numbers in ((0.5, "1 m, at least 0.5 m (laden, gear 1)"), (1.5, "margin -0.5 m (laden, gear 1)")):
        show(*report.page(*worked_out(least)))

        assert numbers in " ".join(capsys.readouterr().out.split())


def test_why_lists_the_worst_states_and_counts_the_others(capsys) -> None:
    build, made = worked_out(0.5)
    show(
        *explanation.page(
            Explanation(
                build=build.name, draws=4, finding=made["test.gap"], figure=None, next_step="", acting_together=0.0
            )
        )
    )
    out = capsys.readouterr().out

    assert "worst in  laden, gear 1" in out
    assert "laden, gear 8" in out
    assert "laden, gear 9" not in out
    assert "and 2 more" in out
