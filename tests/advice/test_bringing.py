"""A scan becomes convex pieces on the part's own axes, with what the build is to say of it."""

from __future__ import annotations

import pytest
import trimesh

from trialfit.advice.bringing import bring, named_point
from trialfit.book import BadInput
from trialfit.facts.quantity import LENGTH
from trialfit.facts.reading import read_fact
from trialfit.placement.splitting import read_pieces

POINTS = (
    "6 | 4 | 2 = 152.4 mm | 101.6 mm | 50.8 mm",
    "-6 | 4 | 2 = -152.4 mm | 101.6 mm | 50.8 mm",
    "6 | -4 | -2 = 152.4 mm | -101.6 mm | -50.8 mm",
)


@pytest.fixture
def sump(tmp_path):
    """A box of 12 x 8 x 4 inches, as a scan program would save it."""
    file = tmp_path / "sump.stl"
    trimesh.creation.box((12, 8, 4)).export(file)
    return file


def test_a_named_point_is_read_in_any_unit_of_length():
    there, here = named_point("120 | -3.5 | 35 = 270 mm | 0 cm | -0.16 m")

    assert there == (120, -3.5, 35)
    assert here == pytest.approx((0.270, 0, -0.160))


@pytest.mark.parametrize(
    ("text", "named"),
    [
        ("1 2 3", '"1 2 3"'),
        ("1 | 2 = 3 mm | 4 mm | 5 mm", '"1 | 2 = 3 mm'),
        ("1 | 2 | 3 = 4 mm | 5 mm", "= 4 mm | 5 mm"),
        ("a | 2 | 3 = 4 mm | 5 mm | 6 mm", '"a | 2 | 3"'),
        ("1 | 2 | 3 = 4 | 5 mm | 6 mm", '"4"'),
        ("1 | 2 | 3 = 4 kg | 5 mm | 6 mm", '"4 kg"'),
    ],
)
def test_what_is_no_named_point_is_shown_as_it_was_read(text, named):
    with pytest.raises(ValueError, match=r".") as caught:
        named_point(text)

    assert named in str(caught.value)


def test_a_scan_in_inches_becomes_a_part_in_millimetres(sump, tmp_path):
    found = bring(sump, "sump", POINTS, 4, tmp_path)

    assert (found.part, found.unit, found.closed) == ("sump", "in", True)
    assert found.size == pytest.approx((304.8, 203.2, 101.6))
    assert (found.triangles, found.kept, found.off) == (12, 12, 0)
    assert found.misfit == pytest.approx(0, abs=1e-3)
    assert found.written == str(tmp_path / "sump.solid.json")
    assert len(read_pieces(tmp_path / "sump.solid.json")) == found.pieces <= 4


def test_the_build_then_says_where_the_part_is_and_how_well_that_is_known(sump, tmp_path):
    """Points that fit leave what a tape leaves anyway: a tenth of a millimetre."""
    entries = bring(sump, "sump", POINTS, 4, tmp_path).entries

    assert (entries["sump.kind"], entries["sump.shape"], entries["sump.file"]) == ("solid", "mesh", "sump.solid.json")
    for axis in "xyz":
        place = read_fact(entries[f"sump.{axis}"], LENGTH)
        assert (place.si, place.spread.plus) == (0, pytest.approx(0.1e-3))
    assert {f"sump.{angle}" for angle in ("roll", "inclination", "heading")} < set(entries)


def test_points_that_fit_badly_leave_the_place_known_as_badly(sump, tmp_path):
    """The third one was taped 3 mm off."""
    off = (*POINTS[:2], POINTS[2].replace("-50.8 mm", "-53.8 mm"))
    found = bring(sump, "sump", off, 4, tmp_path)

    assert 0.3 < found.misfit < 3
    assert read_fact(found.entries["sump.x"], LENGTH).spread.plus == pytest.approx(found.misfit / 1e3, abs=0.06e-3)


def test_all_that_is_wrong_is_said_at_once_and_nothing_is_written(sump, tmp_path):
    with pytest.raises(BadInput) as caught:
        bring(sump, "sump", ["1 2 3"], 0, tmp_path, triangles=5)

    assert [problem.path for problem in caught.value.problems] == ["--point", "--pieces", "--triangles"]
    assert not (tmp_path / "sump.solid.json").exists()


def test_too_few_points_are_answered_with_where_those_of_the_file_lie(sump, tmp_path):
    with pytest.raises(BadInput) as caught:
        bring(sump, "sump", POINTS[:2], 4, tmp_path)

    assert "x from -6 to 6, y from -4 to 4, z from -2 to 2" in " ".join(caught.value.sentences())
    assert not (tmp_path / "sump.solid.json").exists()


def test_a_file_that_is_not_there_is_named(tmp_path):
    with pytest.raises(BadInput, match=r"none\.stl"):
        bring(tmp_path / "none.stl", "sump", POINTS, 4, tmp_path)
