"""Spot and plug welds that tear off, and their mended twins."""

from __future__ import annotations

import pytest

from trialfit.book import read_text
from trialfit.evaluation.finding import Report
from trialfit.subjects import evaluate

SPOTS = """
[shelf]
kind = "spot_welds"
number = "6"
diameter = "5 ± 0.1 mm, calipered"
thinner = "0.9 ± 0.02 mm, calipered"
spacing = "40 ± 1 mm, taped"
edge_distance = "10 ± 0.3 mm, calipered"
load = "150 ± 5 N, computed"
"""


def structure(text: str, *changes: tuple[str, str]) -> Report:
    """The structure of a build, with what is written and what is to stand there instead."""
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new)
    return evaluate(read_text(text), draws=1024, subjects=["structure"])


def verdicts(text: str, what: str, *changes: tuple[str, str]) -> tuple[str, str]:
    """The verdict on a finding as the build is and with the changes."""
    return structure(text)[what].verdict, structure(text, *changes)[what].verdict


def test_six_spots_in_shear_hold_a_battery_shelf_and_one_does_not() -> None:
    """450 N at worst on spots of 3.2 kN by the chart, half of that in soft sheet, over 5: 320 N each at least."""
    assert verdicts(SPOTS, "structure.spot_load.shelf", ('number = "6"', 'number = "1"')) == ("holds", "unsettled")
    assert (
        structure(SPOTS, ('number = "6"', 'number = "1"'), ("150 ± 5", "400 ± 5"))["structure.spot_load.shelf"].verdict
        == "fails"
    )


def test_the_same_load_that_peels_them_tears_them_off_one_by_one() -> None:
    """A peeled spot bears a tenth to a fifth of its shear; on a closed flange half to three quarters."""
    peeled = SPOTS.replace("load =", "pull =")
    square = ("edge_distance", 'pulled = "square"\nedge_distance')

    assert structure(peeled, ("150 ± 5", "700 ± 5"))["structure.spot_load.shelf"].verdict == "fails"
    assert verdicts(peeled, "structure.spot_load.shelf", square) == ("unsettled", "holds")
    assert "peeling" in structure(peeled)["structure.spot_load.shelf"].remark


def test_a_lever_pulls_the_upper_row() -> None:
    """150 N at 100 mm on two rows 30 mm apart; rows of 150 mm hold."""
    levered = SPOTS + 'reach = "100 ± 1 mm, taped"\nrows = "2"\ndepth = "30 ± 0.5 mm, taped"\npulled = "square"\n'

    assert verdicts(
        levered, "structure.spot_load.shelf", ("30 ± 0.5", "150 ± 0.5"), ('number = "6"', 'number = "12"')
    ) == ("fails", "holds")


def test_nuggets_that_are_too_small_too_near_or_at_the_edge() -> None:
    """4·√0.9 is 3.8 mm; 1.5 and 3 diameters."""
    assert verdicts(SPOTS, "structure.spot_size.shelf", ("5 ± 0.1", "3 ± 0.1")) == ("holds", "fails")
    assert verdicts(SPOTS, "structure.spot_edge.shelf", ("10 ± 0.3", "6 ± 0.3")) == ("holds", "fails")
    assert verdicts(SPOTS, "structure.spot_spacing.shelf", ("40 ± 1", "12 ± 1")) == ("holds", "fails")


def test_plugs_that_replace_spots_need_a_large_hole() -> None:
    """5 mm in 0.9 mm sheet is too small for a plug, 8 mm is enough and bears more than a spot."""
    plugs = SPOTS.replace("number", 'type = "plug"\nnumber')

    assert verdicts(plugs, "structure.spot_size.shelf", ("5 ± 0.1", "8 ± 0.1")) == ("fails", "holds")
    assert structure(plugs, ("5 ± 0.1", "8 ± 0.1"))["structure.spot_load.shelf"].verdict == "holds"


def test_spots_in_aluminium_are_not_judged_and_say_so() -> None:
    """No table holds them."""
    finding = structure(SPOTS, ("number", 'material = "5083"\nnumber'))["structure.spot_load.shelf"]

    assert finding.verdict == "unknown"
    assert "not judged" in finding.missing["shelf.material"]


@pytest.mark.parametrize("missing", ["number", "diameter", "thinner"])
def test_what_is_missing_is_asked_for(missing: str) -> None:
    """Each by its path; without load and pull the load."""
    text = "\n".join(line for line in SPOTS.splitlines() if not line.startswith(missing))

    assert f"shelf.{missing}" in structure(text)["structure.spot_load.shelf"].missing
    assert "shelf.load" in structure(SPOTS, ('load = "150 ± 5 N, computed"\n', ""))["structure.spot_load.shelf"].missing


def test_the_number_that_is_needed_is_a_figure() -> None:
    """With so many the load just holds."""
    needed = structure(SPOTS).figure("structure.spots_needed.shelf").value.nominal
    used, allowed = (
        getattr(structure(SPOTS)["structure.spot_load.shelf"], name).nominal for name in ("value", "limit")
    )

    assert needed == pytest.approx(6 * used / allowed)
