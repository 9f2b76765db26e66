"""From one end to another by fittings: the run with its joints, or the one piece that is missing for it."""

from __future__ import annotations

from math import inf, isnan

import pytest

from trialfit.advice.joining import end_named, join, own_fittings
from trialfit.book import BadInput, read_text
from trialfit.handbook.ports.fitting_chain import Best

TEXT = """
name = "oil lines"
[gallery]
kind = "port"
thread = "M10×1"
sealing = "washer"

[big]
kind = "port"
thread = "M27×2"
sealing = "O-ring boss"

[special]
kind = "fitting"
end = "male M10×1, washer"
other_end = "female 1/8-27 NPT"
length = "30 ± 0 mm"
bore = "6 ± 0 mm"
price = "4.50"

[half_known]
kind = "fitting"
end = "male M10×1, washer"
"""


@pytest.fixture
def lines():
    """Two ports, one fitting of the builder's own, and one of which only one end is written."""
    return read_text(TEXT)


def test_own_fittings_are_those_with_both_ends(lines):
    (one,) = own_fittings(lines)

    assert (one.name, one.price) == ("special", 4.5)
    assert (one.length, one.bore) == pytest.approx((0.030, 0.006))


def test_what_is_not_known_of_an_own_fitting_is_left_open():
    (one,) = own_fittings(
        read_text('[x]\nkind = "fitting"\nend = "male M10×1, washer"\nother_end = "female 1/8-27 NPT"')
    )

    assert isnan(one.length)
    assert isnan(one.bore)
    assert one.price is None


def test_an_end_is_named_by_a_port_a_fitting_or_in_words(lines):
    """A port is the end that is looked at, a fitting its far end."""
    assert end_named(lines, "gallery").text == "female M10×1, washer"
    assert end_named(lines, "special") == end_named(lines, "female 1/8-27 NPT")


@pytest.mark.parametrize(
    ("name", "path", "says"),
    [
        ("galery", "", '"gallery"'),
        ("half_known", "half_known.other_end", ""),
        ("male M10×1", "", "seals"),
        ("male thread", "", "thread"),
    ],
)
def test_what_is_no_end_is_refused(lines, name, path, says):
    with pytest.raises(BadInput) as caught:
        end_named(lines, name)

    (problem,) = caught.value.problems
    assert problem.path == path
    assert says in problem.says


def test_the_run_with_the_fewest_pieces_names_its_joints_and_what_is_left_of_the_bore(lines):
    found = join(lines, "gallery", "male 1/8 NPT")
    (piece,) = found.pieces

    assert found.found
    assert (found.start, found.best) == ("female M10×1, washer", "fewest")
    assert (found.length_mm, found.bore_mm) == (piece.length_mm, piece.bore_mm)
    assert [joint.joins.split(" and ")[0] for joint in found.joints] == [found.start, piece.far]
    assert all(joint.sealing for joint in found.joints)
    assert (found.impossible, found.custom) == ("", None)


def test_what_would_happen_without_a_piece_is_said(lines):
    """NPT starts to bite in M10×1, and does not hold."""
    assert join(lines, "gallery", "male 1/8 NPT").direct.startswith("dangerous")
    assert "dangerous" not in join(lines, "gallery", "male M10×1, washer").direct


def test_the_cheapest_run_and_one_wide_enough_take_the_builders_own_piece(lines):
    for found in (
        join(lines, "gallery", "male 1/8 NPT", best=Best.cheapest),
        join(lines, "gallery", "male 1/8 NPT", least_bore=5e-3),
    ):
        assert [(piece.name, piece.own) for piece in found.pieces] == [("special", True)]
        assert (found.price, found.unpriced, found.length_mm, found.bore_mm) == (4.5, 0, 30, 6)


def test_a_run_that_would_be_too_long_is_not_taken(lines):
    assert join(lines, "gallery", "male 1/8 NPT", least_bore=5e-3, most_length=inf).found
    assert not join(lines, "gallery", "male 1/8 NPT", least_bore=5e-3, most_length=0.020).found


def test_a_run_without_a_price_has_none(lines):
    found = join(lines, "gallery", "male 1/8 NPT")

    assert (found.price, found.unpriced) == (None, len(found.pieces))


def test_where_nothing_leads_there_the_one_piece_is_named(lines):
    found = join(lines, "gallery", "big")

    assert not found.found
    assert found.impossible
    assert (found.custom.end, found.custom.other_end) == ("male M10×1, washer", "male M27×2, O-ring boss")
    assert found.reached_from_start
    assert found.reached_from_goal == ()
    assert (found.pieces, found.length_mm, found.price) == ((), None, None)
