"""Runs of fittings: fewest, shortest, cheapest, and what is missing where there is none."""

from __future__ import annotations

from itertools import permutations
from math import inf

import pytest

from trialfit.handbook.ports.fitting_chain import Best, Gap, Run, find_run
from trialfit.handbook.ports.fittings import Fitting, standard_fittings
from trialfit.handbook.ports.port_ends import read_end
from trialfit.handbook.ports.sealing import Fit, join_ends


def piece(name, end, other_end, length=10.0, bore=5.0, price=None):
    """A fitting in mm."""
    return Fitting(name, read_end(end), read_end(other_end), length * 1e-3, bore * 1e-3, price)


SHELF = (
    piece("a", "male M10×1, washer", "female 1/8 NPT", 12, 4, 9.0),
    piece("b", "male 1/8 NPT", "female 1/4 NPT", 20, 4, 2.0),
    piece("c", "male 1/4 NPT", "female G 1/4", 15, 8, 3.0),
    piece("d", "male M10×1, washer", "female G 1/4", 90, 6, 30.0),
    piece("e", "male M10×1, washer", "female 1/4 NPT", 25, 7, 15.0),
)
PORT, SENDER = read_end("female M10×1, washer"), read_end("male G 1/4")


def names(run):
    assert isinstance(run, Run)
    return [one.fitting.name for one in run.pieces]


def test_fewest_shortest_and_cheapest_differ():
    assert names(find_run(PORT, SENDER, SHELF, Best.fewest)) == ["d"]
    assert names(find_run(PORT, SENDER, SHELF, Best.shortest)) == ["e", "c"]
    assert names(find_run(PORT, SENDER, SHELF, Best.cheapest)) == ["a", "b", "c"]


@pytest.mark.parametrize(
    ("best", "cost"),
    [
        (Best.fewest, len),
        (Best.shortest, lambda r: sum(p.length for p in r)),
        (Best.cheapest, lambda r: sum(p.price for p in r)),
    ],
)
def test_no_row_of_the_shelf_tried_one_by_one_is_better(best, cost):
    """Every order of every few pieces by brute force."""
    tried = []
    for count in range(1, 5):
        for row in permutations(SHELF, count):
            ends = [PORT, *(end for one in row for end in (one.end, one.other_end)), SENDER]
            if all(join_ends(ends[n], ends[n + 1]).fit is Fit.fits for n in range(0, len(ends), 2)):
                tried.append(cost(row))
    run = find_run(PORT, SENDER, SHELF, best)

    assert isinstance(run, Run)
    assert cost([one.fitting for one in run.pieces]) == pytest.approx(min(tried))


def test_length_bore_and_price_add_up():
    run = find_run(PORT, SENDER, SHELF, Best.cheapest)

    assert isinstance(run, Run)
    assert (run.length, run.bore, run.price, run.unpriced) == (pytest.approx(0.047), pytest.approx(0.004), 14.0, 0)
    assert [joint.fit for joint in run.joints] == [Fit.fits] * 4


def test_a_wanted_bore_and_length_leave_pieces_out():
    assert names(find_run(PORT, SENDER, SHELF, Best.cheapest, least_bore=6e-3)) == ["e", "c"]
    assert names(find_run(PORT, SENDER, SHELF, Best.fewest, most_length=0.05)) == ["e", "c"]
    none = find_run(PORT, SENDER, SHELF, Best.fewest, most_length=0.03)
    assert isinstance(none, Gap)
    assert "is within the bore and length limits" in none.why


def test_what_belongs_together_needs_no_piece():
    run = find_run(read_end("female 1/8 NPT"), read_end("male 1/8 NPT"), ())

    assert names(run) == []
    assert run.bore == inf
    assert run.length == 0


def test_a_piece_without_a_price_comes_after_one_with():
    shelf = (
        piece("priced", "male M10×1, washer", "female G 1/4", price=50.0),
        piece("unpriced", "male M10×1, washer", "female G 1/4"),
    )

    assert names(find_run(PORT, SENDER, shelf, Best.cheapest)) == ["priced"]


def test_a_gap_names_the_side_and_the_one_piece():
    gap = find_run(read_end("female M27×2, O-ring boss"), read_end("male 1/8 NPT"), standard_fittings())

    assert isinstance(gap, Gap)
    assert gap.why == "no fitting of the catalogue fits female M27×2, O-ring boss"
    assert [end.text for end in gap.custom or ()] == ["male M27×2, O-ring boss", "female 1/8-27 NPT"]
    assert all(
        join_ends(one, two).fit is Fit.fits
        for one, two in zip(
            gap.custom or (), (read_end("female M27×2, O-ring boss"), read_end("male 1/8 NPT")), strict=True
        )
    )


def test_a_gap_in_the_middle_says_so():
    gap = find_run(PORT, read_end("male 1/2 NPT"), (*SHELF, piece("f", "female 1/2 NPT", "male 3/8 NPT")))

    assert isinstance(gap, Gap)
    assert "no fitting joins the two sides" in gap.why
    assert len(gap.from_start) > 1
    assert len(gap.from_goal) == 2


def test_no_run_passes_through_a_joint_that_only_starts():
    """An eighth NPT would start in M10×1; the run takes the adapter."""
    run = find_run(PORT, read_end("male 1/8 NPT"), standard_fittings())

    assert isinstance(run, Run)
    assert len(run.pieces) == 1
    assert all(joint.fit is Fit.fits for joint in run.joints)
