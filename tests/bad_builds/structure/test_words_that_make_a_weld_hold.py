"""Words and sizes by which a builder could make a weld hold that does not, and their mended twins."""

from __future__ import annotations

import re

import pytest

from trialfit.book import read_text
from trialfit.evaluation.finding import Report
from trialfit.subjects import evaluate

SPOTS = """
[shelf]
kind = "spot_welds"
number = "4"
diameter = "4 mm, calipered"
thinner = "0.8 mm, calipered"
spacing = "30 mm, taped"
edge_distance = "15 mm, taped"
load = "100 N ± 5 %"
pull = "80 N ± 5 %"
"""
WALL = """
[seam]
kind = "weld"
pattern = "two level"
width = "60 mm, calipered"
depth = "40 mm, calipered"
leg = "2 mm, calipered"
thicker = "6 mm, calipered"
thinner = "1.2 mm, calipered"
base_thickness = "1.2 mm, calipered"
base_width = "80 mm, taped"
edge_distance = "15 mm, calipered"
load = "400 N ± 5 %"
reach = "60 mm, taped"
torch_access = "200 mm, taped"
"""
ARM = """
[arm]
kind = "bracket"
load = "2000 N ± 5 %"
reach = "80 mm, taped"
depth = "40 mm, calipered"
thickness = "6 mm, calipered"
bolt_hole = "10.5 mm, calipered"
bolt_edge = "25 mm, calipered"
[seam]
kind = "weld"
carries = "arm"
pattern = "two level"
width = "60 mm, calipered"
depth = "40 mm, calipered"
leg = "3.2 mm, calipered"
thicker = "8 mm, calipered"
thinner = "6 mm, calipered"
base = "solid"
torch_access = "200 mm, taped"
"""


def structure(text: str, *changes: tuple[str, str]) -> Report:
    """The structure of a build, with what is written and what is to stand there instead."""
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new)
    return evaluate(read_text(text), draws=512, subjects=["structure"])


@pytest.mark.parametrize("lax", ['pull_share = "1"', 'pull_share = "1, guess"', 'strength_share = "1.5, gauged"'])
def test_a_strength_of_spots_that_is_better_than_usual_settles_nothing_by_the_builders_word(lax: str) -> None:
    """Peeled off by 80 N: unsettled by the usual shares; by the maker's manual it holds."""
    own, manual = (
        structure(SPOTS + re.sub(', \\w+"|"$', end, lax))["structure.spot_load.shelf"] for end in ('"', ', manual"')
    )

    assert structure(SPOTS)["structure.spot_load.shelf"].verdict == "unsettled"
    assert (own.verdict, manual.verdict) == ("unsettled", "holds")
    assert "laxer than the usual" in own.remark


def test_sheet_that_is_called_solid_is_judged_as_a_wall() -> None:
    """1.2 mm bends whatever it is called; 8 mm does not."""
    called = ('base_thickness = "1.2', 'base = "solid"\nbase_thickness = "1.2')
    bad = structure(WALL, called)["structure.sheet_bending.seam"]
    untaped = structure(WALL, called, ('base_width = "80 mm, taped"\n', ""))["structure.sheet_bending.seam"]
    mended = structure(WALL, ('base_thickness = "1.2', 'base = "solid"\nbase_thickness = "8'))

    assert bad.verdict == "fails"
    assert 'seam.base "solid" does not count' in bad.remark
    assert 'seam.base "solid" does not count' in untaped.missing["seam.base_width"]
    assert mended.result("structure.sheet_bending.seam") is None


def test_the_greater_load_goes_with_the_greater_reach() -> None:
    """6000 N at 80 mm, although the weld says 10 mm; as if the weld said nothing."""
    both = structure(ARM, ("leg =", 'load = "50 N ± 5 %"\nreach = "10 mm, taped"\nleg ='))["structure.weld_yield.seam"]
    alone = structure(ARM)["structure.weld_yield.seam"]
    short = structure(ARM, ('reach = "80', 'reach = "10'))["structure.weld_yield.seam"]

    assert (both.verdict, short.verdict) == ("fails", "holds")
    assert both.value.nominal == pytest.approx(alone.value.nominal)
    assert "arm.reach, 80 mm, counts as the greater reach: seam.reach is 10 mm" in both.remark
    assert "the load of arm counts, 6000 N at worst, as the greater: seam has 150 N" in both.remark


def test_once_counts_only_with_what_comes_once() -> None:
    """The weld that holds a battery in a crash, and any other bracket that is said to be loaded once."""
    said = ('kind = "bracket"', 'kind = "bracket"\nrepeats = "once"'), ('reach = "80', 'reach = "35')
    bad = structure(ARM, *said)
    mended = structure(ARM, *said, ('repeats = "once"', 'repeats = "once"\nonce_as = "battery hold"'))

    for what in ("weld_yield.seam", "bracket_stress.arm"):
        finding = bad[f"structure.{what}"]
        assert finding.limit.nominal == pytest.approx(60)
        assert "write arm.once_as" in finding.remark
        assert mended[f"structure.{what}"].limit.nominal == pytest.approx(120)
    assert (bad["structure.weld_yield.seam"].verdict, mended["structure.weld_yield.seam"].verdict) == ("fails", "holds")


@pytest.mark.parametrize("pattern", ["two level", "two upright", "all round"])
def test_a_wall_that_is_narrower_than_what_is_welded_on_it_is_taped_again(pattern: str) -> None:
    """30 mm under a pattern of 60 × 40 mm."""
    as_welded = ("two level", pattern)
    bad = structure(WALL, as_welded, ('base_width = "80', 'base_width = "30'))["structure.sheet_bending.seam"]

    assert bad.verdict == "unknown"
    assert "it is 30 mm, and what is welded on it is 40 mm" in bad.missing["seam.base_width"]
    assert structure(WALL, as_welded)["structure.sheet_bending.seam"].verdict == "fails"


def test_a_doubler_that_is_smaller_than_the_pattern_on_it_is_measured_again() -> None:
    """50 mm under 60 mm."""
    plate = 'doubler_thickness = "6 mm, calipered"\ndoubler_width = "50 mm, taped"\ndoubler_depth = "80 mm, taped"\n'
    bad = structure(WALL + plate)["structure.sheet_bending.seam"]
    mended = structure(WALL + plate.replace("50 mm", "84 mm"))["structure.sheet_bending.seam"]

    assert (bad.verdict, mended.verdict) == ("unknown", "holds")
    assert "seam.doubler_width" in bad.missing


def test_a_single_fillet_under_a_side_load_is_a_hinge() -> None:
    """Welded on both faces it is none; a side load in the face of the weld bends nothing."""
    one = WALL.replace("two level", "one upright") + 'side_load = "200 N ± 5 %"\n'
    bad = structure(one)["structure.weld_hinge.seam"]

    assert bad.verdict == "fails"
    assert "two upright" in bad.cure
    assert structure(one, ('reach = "60 mm', 'reach = "0 mm'))["structure.weld_hinge.seam"].verdict == "holds"
    assert structure(one, ("one upright", "two upright")).result("structure.weld_hinge.seam") is None


@pytest.mark.parametrize("width", ["80", "62", "200"])
def test_the_doubler_that_is_named_bears_the_load(width: str) -> None:
    """As thick and wide as the sentence says, it holds; at two thirds of the thickness it does not."""
    bare = WALL.replace('base_width = "80', f'base_width = "{width}')
    bad = structure(bare)["structure.sheet_bending.seam"]
    found = re.search(r"a doubler plate of ([\d.]+) mm, (\d+) × (\d+) mm, to the folds", bad.remark)
    assert bad.verdict == "fails"
    assert found is not None
    thick, wide, deep = map(float, found.groups())
    with_it = [
        structure(
            f'{bare}doubler_thickness = "{share * thick} mm, calipered"\ndoubler_width = "{wide} mm, gauged"\n'
            f'doubler_depth = "{deep} mm, gauged"\n'
        )["structure.sheet_bending.seam"]
        for share in (1.0, 0.67)
    ]

    assert [one.verdict for one in with_it] == ["holds", "fails"]
    assert [one.state for one in with_it] == ["doubler plate"] * 2


def test_no_doubler_is_named_that_nobody_would_weld_on() -> None:
    """Ten times the load."""
    assert "no doubler plate helps" in structure(WALL, ('"400 N', '"8000 N'))["structure.sheet_bending.seam"].remark


def test_a_leg_that_the_sheet_does_not_take_is_told_with_what_then() -> None:
    """The load needs more than 2.2 mm on sheet of 1.2 mm; a deeper pattern needs less."""
    bad, mended = (
        structure(WALL, ('"400 N', '"900 N'), *more) for more in ([], [('depth = "40 mm', 'depth = "90 mm')])
    )

    assert "no leg meets both" in bad["structure.weld_yield.seam"].remark
    assert "takes 2.2 mm at most" in bad.figure("structure.weld_leg_needed.seam").remark
    assert "no leg meets both" not in mended["structure.weld_yield.seam"].remark
