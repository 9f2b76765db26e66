"""Whatever a builder has not written yet, every finding has a value or names what it lacks."""

from __future__ import annotations

from pathlib import Path

import pytest
import tomlkit
from hypothesis import given, settings
from hypothesis import strategies as st
from thorough import some

from trialfit.book import read_text
from trialfit.evaluation.verdict import Verdict
from trialfit.subjects import evaluate

DEMOS = Path(__file__).parents[3] / "demos"
KEPT = {"kind", "after", "options", "picked", "stage", "axle"}
READ = {"car", "engine", "clutch", "gearbox", "prop_shaft", "final_drive", "half_shaft", "hub", "tyre"}
"""The kinds that the subject reads; others have rules of their own about what goes together."""


def entries(text: str) -> list[tuple[str, str]]:
    """Part and entry of everything that can be left out without breaking a reference."""
    return [
        (part, entry)
        for part, table in tomlkit.parse(text).items()
        if isinstance(table, dict) and table.get("kind", part) in READ
        for entry in table
        if entry not in KEPT
    ]


@pytest.mark.parametrize("demo", ["hillclimb", "pickup", "electric"])
def test_any_part_of_a_demo_can_be_left_out(demo) -> None:
    """Any set of entries taken out of a whole build: no finding is without a value and without a reason."""
    text = (DEMOS / f"{demo}.toml").read_text(encoding="utf-8").partition("\n[limit]")[0]

    @settings(max_examples=some(15))
    @given(st.sets(st.sampled_from(entries(text))))
    def work(left_out: set[tuple[str, str]]) -> None:
        document = tomlkit.parse(text)
        for part, entry in left_out:
            del document[part][entry]
        report = evaluate(read_text(tomlkit.dumps(document)), 8, ["torque_path"])

        for finding in report.findings:
            assert (finding.value is None) == bool(finding.missing), finding.id
            assert (finding.verdict is Verdict.unknown) == bool(finding.missing), finding.id
        for figure in report.figures:
            assert (figure.value is None) == bool(figure.missing), figure.id

    work()
