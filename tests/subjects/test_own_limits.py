"""Limits written in a build: one that names nothing is a remark, one that cannot be read is refused."""

from __future__ import annotations

import pytest

from trialfit.advice.explaining import explain
from trialfit.book import read_text
from trialfit.book.problems import BadInput
from trialfit.subjects.catalogue import evaluate

BUILD = '[car]\nmass = "960 kg"\n[gearbox]\nratios = ["3.6", "2.1"]\n[limit]\n'


def remarks(limits, subjects=()):
    return [(one.path, one.says) for one in evaluate(read_text(BUILD + limits), 8, subjects).remarks]


def test_a_limit_that_names_nothing_is_a_remark_with_the_nearest_id():
    ((path, says),) = remarks('"gearing.time.0_100_kmph" = "8 s"')

    assert path == "limit.gearing.time.0_100_kmph"
    assert says.startswith("has no effect: this build has no finding of that name; did you mean")
    assert '"gearing.time.0_100_kmh"' in says


def test_without_a_near_id_the_remark_names_none():
    ((_, says),) = remarks('"zzz" = "8 s"')

    assert says == "has no effect: this build has no finding of that name"


@pytest.mark.parametrize("subjects", [(), ("gearing",), ("clearance",)])
def test_a_limit_of_another_subject_is_no_remark(subjects):
    assert remarks('"gearing.time.0_100_kmh" = "8 s"', subjects) == []


def test_one_finding_is_explained_although_another_limit_names_nothing():
    build = read_text(BUILD + '"gearing.nothing" = "8 s"')

    assert explain(build, "gearing.time.0_100_kmh", 8).figure


@pytest.mark.parametrize("subjects", [(), ("clearance",)])
def test_a_limit_that_cannot_be_read_is_refused(subjects):
    with pytest.raises(BadInput, match=r"limit\.gearing\.time\.0_100_kmh"):
        remarks('"gearing.time.0_100_kmh" = "8 kg"', subjects)


def test_an_old_name_in_a_build_is_a_remark_and_without_one_there_is_none():
    """What it is called now, and what rewrites it."""
    ((path, says),) = remarks('"gearing.time.0_100_kmh" = "8 s"\n[engine]\nshock_factor = "1.5"', ("gearing",))

    assert path == "engine.shock_factor"
    assert says.startswith('is now called "application_factor": `trialfit update-names FILE` rewrites it')
    assert remarks('"gearing.time.0_100_kmh" = "8 s"\n[engine]\napplication_factor = "1.5"', ("gearing",)) == []
