"""What to do in the hours there are: begun jobs first, then those that most others wait for, as far as hours and hands go."""

from __future__ import annotations

from datetime import datetime

import pytest

from trialfit.advice.weekend import behind, weekend_hours, what_next
from trialfit.book import read_text
from trialfit.planning.site import site_of

NOW = datetime.fromisoformat("2026-03-07T09:00:00+01:00")
TEXT = """
name = "shed"
[workshop]
hours = ["Mon-Fri 18:00-20:00", "Sat 09:00-17:00", "Sun 10:00-12:00"]
[job.strip]
hours = "1/2/4"
title = "Strip the shell"
[job.weld]
hours = "2/3/6"
needs = ["strip"]
[job.paint]
hours = "2/4/6"
needs = ["weld"]
waits = "paint 2-4 d"
[job.wire]
hours = "3/5/9"
[job.lift]
hours = "1/1/2"
people = "2"
[job.all]
hours = "1/1/1"
needs = ["paint", "wire"]
"""


def at(what, job, number=1):
    """A line of the book of work."""
    return f'[work.{number}]\nwhat = "{what}"\nwhen = "2026-03-07T08:00:00+01:00"\njob = "{job}"\n'


@pytest.fixture
def shed(monkeypatch):
    """The builder's own jobs alone, without those that every conversion has."""
    monkeypatch.setattr("trialfit.planning.network.templates", tuple)

    def site(more=""):
        return site_of(read_text(TEXT + more), NOW)

    return site


def test_how_many_jobs_wait_for_each_directly_or_through_others(shed):
    site = shed()

    assert behind(site.network, site.status) == {"strip": 3, "weld": 2, "paint": 1, "wire": 1, "lift": 0, "all": 0}


def test_jobs_that_are_done_wait_for_nothing(shed):
    site = shed(at("finish", "strip"))
    counted = behind(site.network, site.status)

    assert (counted["strip"], counted["weld"]) == (3, 2)
    assert behind(shed(at("finish", "wire")).network, shed(at("finish", "wire")).status)["wire"] == 1


def test_what_most_others_wait_for_comes_first_and_the_last_is_begun_only(shed):
    """2 h of the 5 for the shell, 3 of its 5 for the wiring."""
    found = what_next(shed(), 5)
    first, second = found.jobs

    assert (found.build, found.hours, found.people, found.moment) == ("shed", 5, 1, NOW)
    assert (first.id, first.title, first.behind, first.planned, first.left) == ("strip", "Strip the shell", 3, 2, 2)
    assert first.frees == ("weld",)
    assert (second.id, second.planned, second.left, second.hours) == ("wire", 3, 5, (3, 5, 9))


def test_what_is_ready_beyond_the_hours_is_left_over(shed):
    found = what_next(shed(), 2)

    assert [job.id for job in found.jobs] == ["strip"]
    assert found.left_over == ("wire",)


def test_a_job_for_two_waits_until_there_are_two(shed):
    alone, two = what_next(shed(), 20), what_next(shed(), 20, people=2)

    assert alone.needs_more_people == ("lift",)
    assert "lift" not in {job.id for job in alone.jobs}
    assert two.needs_more_people == ()
    assert "lift" in {job.id for job in two.jobs}


def test_two_people_have_twice_the_hours(shed):
    """4 hours of two: 2 for the shell, 5 for the wiring, half an hour each for the lift that takes two."""
    planned = {job.id: job.planned for job in what_next(shed(), 4, people=2).jobs}

    assert planned == {"strip": 2, "wire": 5, "lift": 0.5}


def test_what_was_begun_comes_before_all(shed):
    found = what_next(shed(at("start", "wire")), 3)

    assert [(job.id, job.is_in_hand) for job in found.jobs] == [("wire", True)]
    assert found.left_over == ("strip",)


def test_what_passes_without_work_and_what_it_leaves_is_named(shed):
    done = at("finish", "strip") + at("finish", "weld", 2)
    paint = next(job for job in what_next(shed(done), 20).jobs if job.id == "paint")

    assert paint.waits == ("paint 2 to 4 days",)
    assert paint.frees == ()  # all the rest needs the wiring too


def test_hours_in_words_say_what_is_left_and_what_fits(shed):
    strip, wire = what_next(shed(), 3).jobs

    assert strip.hours_in_words() == "2 (1 to 4)"
    assert wire.hours_in_words() == "5 (3 to 9); 1 h fit"


@pytest.mark.parametrize(
    ("hours", "expected"), [("Sat 09:00-17:00", 8), ("Sun 10:00-12:30", 2.5), ("Mon-Thu 19:00-21:00", 8)]
)
def test_the_hours_of_a_weekend_or_of_the_week_where_it_has_none(hours, expected):
    counted, whose = weekend_hours(site_of(read_text(f'[workshop]\nhours = ["{hours}"]'), NOW).workshop)

    assert counted == expected
    assert ("no weekend" in whose) == hours.startswith("Mon")


def test_saturday_and_sunday_count_together(shed):
    assert weekend_hours(shed().workshop)[0] == 10
