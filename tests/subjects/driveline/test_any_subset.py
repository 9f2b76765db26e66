"""Whatever is left out of a build, the driveline answers: a finding has a value or names what is missing."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from thorough import some

from trialfit.book.build import Build
from trialfit.book.document import Document, PartText
from trialfit.evaluation.evaluation import Evaluation
from trialfit.evaluation.working import work_out
from trialfit.subjects import requirements

DEMOS = Path(__file__).parents[3] / "demos"


def written(demo: str) -> dict[str, dict[str, str | tuple[str, ...]]]:
    """The parts of a demo build that a driveline reads, entry by entry."""
    tables = tomllib.loads((DEMOS / demo).read_text(encoding="utf-8"))
    parts = {}
    for name, table in tables.items():
        if isinstance(table, dict) and name not in {"choice", "limit", "final_drive_short"}:
            entries = {key: tuple(item) if isinstance(item, list) else str(item) for key, item in table.items()}
            parts["final_drive" if name == "final_drive_long" else name] = {"kind": name, **entries}
    return parts


@pytest.mark.parametrize("demo", ["hillclimb.toml", "pickup.toml", "electric.toml"])
def test_any_entry_of_a_demo_can_be_left_out(demo: str) -> None:
    """No gap raises, every id stands once, and nothing is judged without its facts."""
    parts = written(demo)
    every = sorted((part, entry) for part, entries in parts.items() for entry in entries)

    @settings(max_examples=some(60))
    @given(st.sets(st.sampled_from(every), max_size=12), st.sets(st.sampled_from(sorted(parts)), max_size=2))
    def work(entries_left_out: set[tuple[str, str]], parts_left_out: set[str]) -> None:
        texts = {
            name: PartText(
                kind=str(entries["kind"]),
                entries={
                    key: entry
                    for key, entry in entries.items()
                    if key not in {"kind", "note"} and (name, key) not in entries_left_out
                },
            )
            for name, entries in parts.items()
            if name not in parts_left_out
        }
        build, _ = Build.from_document(Document(parts=texts))
        stated = requirements(build, ["driveline"])
        report = work_out(Evaluation(build, 8), stated)

        assert len({one.id for one in stated}) == len(stated)
        for finding in report.findings:
            assert (finding.verdict == "unknown") == (finding.value is None or finding.limit is None), finding.id
            assert finding.missing or finding.value is not None, finding.id

    work()
