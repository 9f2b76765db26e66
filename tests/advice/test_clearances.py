"""Every pair where the drivetrain sits now: the gap, the wanted one, what is left, and where it is."""

from __future__ import annotations

from pathlib import Path

import pytest

from trialfit.advice.clearances import clearances
from trialfit.book import read, read_text
from trialfit.evaluation.verdict import Verdict

DEMOS = Path(__file__).parents[2] / "demos"


def test_a_pair_has_its_gap_what_is_wanted_and_the_nearest_points(bay):
    """The sump ends 150 mm in front of the drivetrain, the rack begins at 170 mm; 12 mm are wanted."""
    found = clearances(bay(), 64)
    rack = next(pair for pair in found.pairs if pair.id == "clearance.gap.sump.rack")

    assert (found.build, found.draws) == ("bay", 64)
    assert [one.nominal for one in (rack.gap, rack.wanted, rack.margin)] == pytest.approx([20, 12, 8])
    assert {one.unit for one in (rack.gap, rack.wanted, rack.margin)} == {"mm"}
    assert rack.verdict is Verdict.holds
    assert "sump front" in rack.where
    assert "rack rear" in rack.where
    assert rack.source


def test_the_movement_that_decides_is_named(bay):
    """A rail 20 mm under one side of the sump; the engine rocks by 3 degrees about an axis 150 mm above its lower edge.

    That edge, 100 mm from the middle, comes down by 100·sin 3° - 150·(1 - cos 3°) = 5.0 mm.
    """
    rail = dict(zip(("x", "y", "z", "width", "height"), ("0 mm", "100 mm", "220 mm", "100 mm", "20 mm"), strict=True))
    pairs = {}
    for rock in (0, 3):
        found = clearances(bay(drivetrain={"rock": f"{rock} ± 0 deg"}, rack=rail), 64)
        pairs[rock] = next(pair for pair in found.pairs if pair.id == "clearance.gap.sump.rack")

    assert [pairs[rock].gap.nominal for rock in (0, 3)] == pytest.approx([20, 14.97], abs=0.01)
    assert pairs[0].state == ""
    assert pairs[3].state


def test_the_place_of_the_drivetrain_missing_leaves_each_pair_unknown(bay):
    found = clearances(bay(drivetrain={"z": None}), 64)

    assert "drivetrain.z" in found.missing
    assert {pair.verdict for pair in found.pairs} == {Verdict.unknown}
    assert all(pair.gap is None and pair.where == "" for pair in found.pairs)


def test_a_build_without_solids_has_no_pairs():
    found = clearances(read_text('name = "bare"\n[car]\nmass = "900 kg"'), 16)

    assert (found.pairs, found.missing) == ((), {})


def test_pairs_are_listed_the_tightest_first_with_their_nearest_points():
    found = clearances(read(DEMOS / "hillclimb.toml"), 256)
    margins = [pair.margin.nominal for pair in found.pairs if pair.margin]

    assert margins == sorted(margins)
    rack = next(pair for pair in found.pairs if pair.id == "clearance.gap.sump.rack")
    assert "sump deep front" in rack.where
    assert "rack rear" in rack.where


def test_what_is_missing_is_named_and_the_rest_is_shown():
    found = clearances(read(DEMOS / "pickup.toml"), 128)

    assert "frame_crossmember.z" in found.missing
    assert len(found.pairs) > 4
