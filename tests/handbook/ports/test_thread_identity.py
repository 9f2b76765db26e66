"""Which thread it is: against the normal distribution of the library, and on readings made up from known threads."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.stats import norm, uniform

from trialfit.handbook.ports.port_ends import Gender
from trialfit.handbook.ports.port_threads import known_threads, read_thread
from trialfit.handbook.ports.thread_identity import (
    Reading,
    crest_band,
    identify,
    likelihoods,
    reading_density,
    told_apart_by,
)


def test_the_density_is_that_of_a_uniform_and_a_normal_together():
    """The integral of their product, by the library."""
    diameters = np.linspace(9.6e-3, 10.1e-3, 7)
    places = np.linspace(9.8e-3, 9.97e-3, 20001)
    by_sum = [
        np.trapezoid(norm.pdf(x, places, 0.03e-3) * uniform.pdf(places, 9.8e-3, 0.17e-3), places) for x in diameters
    ]

    assert reading_density(diameters, 0.06e-3, 9.8e-3, 9.97e-3) == pytest.approx(by_sum, rel=1e-3, abs=1e-6)


@pytest.mark.parametrize("gender", list(Gender))
@pytest.mark.parametrize("thread", known_threads(), ids=lambda thread: thread.designation)
def test_a_reading_of_a_thread_finds_it(thread, gender):
    """In the middle of its band, with its own pitch: it is on the list, or a thread of the same form is."""
    diameter = sum(crest_band(thread, gender)) / 2
    found = identify(Reading(gender, diameter, 0.05e-3, thread.pitch))

    assert any(one.thread.is_of_the_same_form(thread) for one in found)
    assert sum(one.likelihood for one in found) == pytest.approx(1, abs=0.05)


def test_a_better_caliper_and_a_gauge_narrow_it_down():
    """9.72 mm is an eighth of a pipe thread, or a worn M10; with 28 threads per inch it is the former."""
    rough = identify(Reading(Gender.male, 9.72e-3, 0.3e-3))
    fine = identify(Reading(Gender.male, 9.72e-3, 0.05e-3, 25.4e-3 / 28))

    assert len(rough) > len(fine)
    assert {one.thread.designation for one in fine} == {"G 1/8", "R 1/8"}


def test_told_to_be_tapered_leaves_the_tapered_ones():
    found = identify(Reading(Gender.male, 9.6e-3, 0.05e-3, tapered=True))

    assert {one.thread.is_tapered for one in found} == {True}


def test_a_reading_far_from_every_thread_finds_none():
    assert identify(Reading(Gender.male, 80e-3, 0.05e-3)) == ()
    assert identify(Reading(Gender.male, 9.7e-3, 0.05e-3, 2e-3)) == ()


def test_many_readings_at_once_are_each_their_own():
    """Two draws: G 1/8 and M14×1.5."""
    shares = likelihoods(np.array([9.7e-3, 13.9e-3]), 0.03e-3, np.array([0.907e-3, 1.5e-3]), 0.03e-3, Gender.male)
    best = [known_threads()[i].designation for i in shares.argmax(axis=1)]

    assert best == ["G 1/8", "M14×1.5"]
    assert shares.sum(axis=1) == pytest.approx([1, 1])


def test_what_tells_an_eighth_from_an_eighth():
    """Taper first, then pitch, then diameter, then the flank."""
    ways = [way.what for way in told_apart_by(read_thread("G 1/8"), read_thread("1/8 NPT"), Gender.male)]

    assert ways[0].startswith("caliper it in two places")
    assert ways[1].startswith("measure over 8 pitches")
    assert "leaf" in ways[-1]


def test_the_tapered_thread_is_the_one_that_grows():
    """Two places 5 mm apart on a taper of 1 in 16: 0.31 mm."""
    parallel, tapered = read_thread("G 1/8"), read_thread("1/8 NPT")
    told, other_way_round = (
        told_apart_by(*pair, Gender.male)[0] for pair in ((parallel, tapered), (tapered, parallel))
    )

    assert (told.one, told.other) == ("stays the same", "grows 0.31 mm")
    assert (other_way_round.one, other_way_round.other) == ("grows 0.31 mm", "stays the same")
