"""Plug torques, strengths and holes by the builder's own word, each beside its mended twin."""

from __future__ import annotations

import pytest

from trialfit.book import read_text
from trialfit.book.problems import BadInput
from trialfit.evaluation.evaluation import Evaluation
from trialfit.evaluation.finding import Finding
from trialfit.evaluation.verdict import Verdict
from trialfit.evaluation.working import work_out
from trialfit.subjects.ports import requirements

DRAIN = """
[drain]
kind = "port"
thread = "M14×1.5"
sealing = "washer"
medium = "oil"
material = "aluminium"
plug = "male M14×1.5, washer"
torque = "{} N·m"
"""
BOSS = """
[oil]
kind = "port"
thread = "1/8-27 NPT"
medium = "oil"
material = "aluminium"
cut_by = "builder"
drill = "8.7 mm, calipered"
thread_depth = "8 mm, calipered"
edge_distance = "{} mm, calipered"
plug = "male 1/8-27 NPT"
sealant = "paste"
"""


def found(text: str, which: str) -> Finding:
    """One finding of the ports."""
    build = read_text(text)
    chosen = [one for one in requirements(build) if one.id == f"ports.{which}"]
    return work_out(Evaluation(build, 256), chosen)[f"ports.{which}"]


@pytest.mark.parametrize(("torque", "verdict"), [(60, Verdict.fails), (25, Verdict.unsettled), (12, Verdict.holds)])
def test_a_drain_plug_in_aluminium_is_judged_by_all_that_makers_give(torque, verdict) -> None:
    """15 to 30 N·m for M14: between them only the maker of this one knows."""
    finding = found(DRAIN.format(torque), "drain.torque")

    assert finding.verdict is verdict
    assert "makers give 15 N·m to 30 N·m: look up the one of this plug" in finding.remark
    assert found(f'{DRAIN.format(20)}specified_torque = "25 N·m, manual"', "drain.torque").verdict is Verdict.holds


def test_a_guessed_strength_does_not_replace_that_of_the_metal() -> None:
    """500 MPa by guess in a thin boss of aluminium is judged as cast metal; no aluminium has 800."""
    own = found(f'{BOSS.format("7")}yield_strength = "500 MPa, guess"', "oil.boss_stress")
    none = found(BOSS.format("7"), "oil.boss_stress")

    assert own.verdict is none.verdict
    assert own.verdict is not Verdict.holds
    assert own.limit.nominal == pytest.approx(none.limit.nominal)
    assert found(BOSS.format("20"), "oil.boss_stress").verdict is Verdict.holds
    with pytest.raises(BadInput, match="more than any aluminium has: expected at most 600 MPa"):
        read_text(f'{BOSS.format("7")}yield_strength = "800 MPa, guess"')


def test_a_keg_hole_is_refused_with_the_hole_to_write() -> None:
    """The tapered plug seals in a parallel hole."""
    bad = '[hole]\nkind = "port"\nthread = "M12×1.5 keg"\nmedium = "oil"\n'

    with pytest.raises(BadInput, match="seals in a parallel hole: write the hole as M12×1.5, with sealing"):
        read_text(bad)
    read_text(bad.replace(" keg", "") + 'sealing = "thread"\n')
