"""Builds with anything left out: senders and measuring say what is missing and never stumble."""

from __future__ import annotations

from pathlib import Path

import pytest
from thorough import some

from trialfit.book.build import Build
from trialfit.book.toml_text import document_of
from trialfit.evaluation.evaluation import Evaluation
from trialfit.evaluation.verdict import Verdict
from trialfit.evaluation.working import work_out
from trialfit.subjects import measuring, senders

DEMOS = sorted((Path(__file__).parents[3] / "demos").glob("*.toml"))
KINDS = {"sender", "gauge", "measurement", "stack"}


@pytest.mark.parametrize("file", DEMOS, ids=lambda file: file.stem)
def test_any_fact_of_a_sender_gauge_or_measurement_can_be_left_out(file: Path) -> None:
    """One after the other: the build is still read, and what cannot be worked out names what it lacks."""
    whole, _ = document_of(file.read_text(encoding="utf-8"), file.name)
    facts = [(name, key) for name, part in whole.parts.items() if part.kind in KINDS for key in part.entries]
    for name, key in some(facts):
        part = whole.parts[name]
        entries = {other: text for other, text in part.entries.items() if other != key}
        less = whole.model_copy(update={"parts": {**whole.parts, name: part.model_copy(update={"entries": entries})}})
        build, problems = Build.from_document(less.model_copy(update={"limits": {}}))
        assert not problems, (name, key, problems)
        report = work_out(Evaluation(build, 8), [*senders.requirements(build), *measuring.requirements(build)])
        unknown = [one for one in report.findings if one.verdict is Verdict.unknown and one.about == name]
        assert all(one.missing for one in unknown), (name, key)
