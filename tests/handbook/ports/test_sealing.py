"""Ends offered to each other: reading them, what fits, what only starts."""

from __future__ import annotations

import pytest

from trialfit.handbook.ports.fittings import standard_fittings
from trialfit.handbook.ports.port_ends import Seal, counterpart, read_end
from trialfit.handbook.ports.sealing import Fit, join_ends
from trialfit.handbook.ports.thread_mating import Meeting, meet
from trialfit.handbook.tables import rows


@pytest.mark.parametrize(
    ("male", "female", "fit", "says"),
    [
        ("male 1/8 NPT", "female 1/8 NPT", Fit.fits, "belongs together"),
        ("male R 1/4", "female Rp 1/4", Fit.fits, "belongs together"),
        ("male M10×1, banjo", "female M10×1, washer", Fit.fits, "belongs together"),
        ("male hose 9.5 mm", "female hose -6", Fit.fits, "belongs together"),
        ("male R 1/4", "female G 1/4", Fit.dangerous, "wedges the boss open"),
        ("male G 1/4", "female Rc 1/4", Fit.dangerous, "has no taper"),
        ("male M14×1.5, washer", "female M14×1.5, O-ring boss", Fit.dangerous, "no flat face for the washer"),
        ("male M14×1.5, O-ring boss", "female M14×1.5, washer", Fit.dangerous, "cut or squeezed out"),
        ("male -6 37° flare", "female -6 O-ring boss", Fit.dangerous, "has no seat"),
        ("male M10×1, inverted flare", "female M10×1, bubble flare", Fit.dangerous, "leaks under the pedal"),
        ("male M10×1, banjo", "female M10×1, bubble flare", Fit.dangerous, "no flat face for the washer"),
        ("male hose 8 mm", "female hose 9.5 mm", Fit.dangerous, "a clamp pulls it into folds"),
        ("male hose 9.5 mm", "female 1/8 NPT", Fit.no, "a hose goes over a barb"),
        ("male M14×1.5, washer", "female M10×1, washer", Fit.no, "does not start"),
        ("male M6×1, none", "female M10×1, none", Fit.no, "drops in"),
    ],
)
def test_pairs(male, female, fit, says):
    joint = join_ends(read_end(male), read_end(female))

    assert joint.fit is fit
    assert says in joint.why
    assert joint == join_ends(read_end(female), read_end(male))


def test_sealant_belongs_on_tapered_threads_alone():
    """Of every pair that seals."""
    with_sealant = {
        (row["male"], row["female"]) for row in rows("ports", "seal_pairs") if row["sealant"] == "thread sealant"
    }

    assert with_sealant == {("thread", "thread"), ("thread", "dry thread"), ("dry thread", "thread")}


def test_two_of_a_gender_never_join():
    assert "nipple" in join_ends(read_end("female 1/8 NPT"), read_end("female 1/8 NPT")).why
    assert "socket" in join_ends(read_end("male 1/8 NPT"), read_end("male 1/8 NPT")).why


@pytest.mark.parametrize("fitting", standard_fittings(), ids=lambda fitting: fitting.name)
def test_both_ends_of_every_fitting_have_a_counterpart_that_fits(fitting):
    for end in (fitting.end, fitting.other_end):
        assert join_ends(end, counterpart(end)).fit is Fit.fits
        assert read_end(end.text) == end


def test_every_pair_of_like_seals_is_in_the_table():
    pairs = {(row["male"], row["female"]) for row in rows("ports", "seal_pairs") if row["seals"] == "yes"}

    assert {(seal, seal) for seal in Seal} - pairs == {(Seal.banjo, Seal.banjo)}


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("M10×1", "is not an end: male or female, then the thread"),
        ("male M10×1", "does not say how it seals: write one of washer, O-ring boss"),
        ("male -6", "does not say which sort of -6 it is: 37° flare, 45° flare, O-ring boss"),
        ("male -6, banjo", "does not say which sort of -6 it is: 37° flare, 45° flare, O-ring boss"),
        ("male M10×1, glue", '"glue" is an unknown seal'),
        ("male M10×1, thread", "cannot seal in the thread"),
        ("male 1/8 NPT, washer", "is tapered and seals in the thread"),
        ("male hose", "does not say which hose"),
        ("male hose 500 mm", "gives an impossible bore for a hose"),
        ("male hose -7", '"-7" is not a dash size of the table'),
    ],
)
def test_ends_that_say_too_little(text, says):
    with pytest.raises(ValueError, match="^[^\n]+$") as wrong:
        read_end(text)

    assert says in str(wrong.value)


def test_a_looser_pair_of_equal_pitch_never_binds():
    """Without a taper and a difference of pitch nothing stops it: it drops in or strips."""
    met = meet(read_end("male 7/16-20, none").thread, read_end("female 1/2-20, none").thread)

    assert met.turns == float("inf")
    assert met.meeting in (Meeting.strips, Meeting.drops_in)
