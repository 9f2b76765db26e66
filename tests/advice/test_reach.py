"""A reading of a stage that is past cannot be taken again."""

from __future__ import annotations

from trialfit.advice.reach import ways_at
from trialfit.advice.supposing import fact_at
from trialfit.book import Build, read_text

TWO_STAGES = """
[first]
kind = "angle_readings"
gearbox = "3.4 deg, gauged"
[second]
kind = "angle_readings"
stage = "tacked"
gearbox = "3.7 deg, gauged"
"""


def _ways(build: Build, path: str):
    at = fact_at(build, path)
    assert at is not None
    return ways_at(build, at)


def test_only_the_latest_readings_can_be_taken_again():
    build = read_text(TWO_STAGES)

    assert next(one.name for one in _ways(build, "second.gearbox").instruments) == "angle gauge"
    assert _ways(build, "first.gearbox").instruments == ()
    assert "read at an earlier stage" in _ways(build, "first.gearbox").helps


def test_readings_of_one_stage_alone_can_be_taken_again():
    build = read_text('[only]\nkind = "angle_readings"\nshaft = "2 deg, gauged"')

    assert _ways(build, "only.shaft").instruments


def test_other_facts_are_got_as_the_table_says():
    build = read_text('[car]\nwheelbase = "2.4 m, guess"')

    assert next(one.name for one in _ways(build, "car.wheelbase").instruments) == "steel tape"
