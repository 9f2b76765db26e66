"""Whatever a builder has not written yet of a joint, every finding has a value or names what it lacks, and there is a sheet."""

from __future__ import annotations

from pathlib import Path

import pytest
import tomlkit
from hypothesis import given, settings
from hypothesis import strategies as st
from thorough import some

from trialfit.advice.how_to_tighten import tightening
from trialfit.book import read_text
from trialfit.evaluation.evaluation import Evaluation
from trialfit.evaluation.working import work_out
from trialfit.parts import BoltedJoint
from trialfit.subjects.fastening import requirements

DEMOS = Path(__file__).parents[3] / "demos"
OURS = {"bolted_joint", "torque_wrench"}


@pytest.mark.parametrize("demo", ["hillclimb", "pickup", "electric"])
def test_any_part_of_a_joint_can_be_left_out(demo) -> None:
    """Any set of entries taken out of the joints and wrenches of a whole build."""
    text = (DEMOS / f"{demo}.toml").read_text(encoding="utf-8").partition("\n[limit]")[0]
    tables = {part: table for part, table in tomlkit.parse(text).items() if isinstance(table, dict)}
    joints = {part: table for part, table in tables.items() if table.get("kind") in OURS}
    entries = [(part, entry) for part, table in joints.items() for entry in table if entry != "kind"]

    @settings(max_examples=some(25))
    @given(st.sets(st.sampled_from(entries)))
    def work(left_out: set[tuple[str, str]]) -> None:
        document = tomlkit.parse(text)
        for part, entry in left_out:
            del document[part][entry]
        build = read_text(tomlkit.dumps(document))
        report = work_out(Evaluation(build, 8), list(requirements(build)))

        for result in (*report.findings, *report.figures):
            assert (result.value is None) == bool(result.missing), result.id
        first = build.all(BoltedJoint)[0]
        sheet = tightening(build, first.name, draws=8)
        assert bool(sheet.stages) or bool(sheet.missing)

    work()
