"""What a builder writes of his workshop, his hours and his own limits, and the bounds of what is taken for sensible."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from trialfit.book import read_text
from trialfit.book.problems import BadInput
from trialfit.planning.calendar import Calendar
from trialfit.planning.in_reason import day_of
from trialfit.planning.orders import orders_of
from trialfit.planning.task_list import put_together
from trialfit.planning.templates import waits_of
from trialfit.planning.workshop import Workshop, workshop_of


def shop(text: str) -> Workshop:
    """A workshop of a few lines."""
    return workshop_of(read_text(f"[workshop]\n{text}").document)


def test_everything_that_can_be_written_of_a_workshop():
    made = shop(
        'hours = ["Mon-Tue 18:00-21:00", "Sat 9:00-12:00 and 13:00-24:00"]\n'
        'extra = ["2026-05-02 09:00-12:00", "2026-05-03 10:30-17:00"]\n'
        'holidays = ["2026-12-24 to 2027-01-02", "2026-08-01"]\n'
        'quiet = "20:00-07:00"\nresources = "hoist 2, welder"\npeople = "2"\ntemperature = "12,5 °C"\nbegins = "2026-04-01"'
    )

    assert [(one.day, one.begin, one.end) for one in made.week] == [
        (0, 1080, 1260),
        (1, 1080, 1260),
        (5, 540, 720),
        (5, 780, 1440),
    ]
    assert made.extra == ((date(2026, 5, 2), 540, 720), (date(2026, 5, 3), 630, 1020))
    assert made.holidays == ((date(2026, 12, 24), date(2027, 1, 2)), (date(2026, 8, 1), date(2026, 8, 1)))
    assert made.quiet == ((1200, 1440), (0, 420))
    assert (made.capacity("hoist"), made.capacity("welder"), made.capacity("lathe")) == (2, 1, 1)
    assert (made.people, made.temperature, made.begins) == (2, 12.5, date(2026, 4, 1))


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ('people = "two"', "expected a number of people from 1 to 20"),
        ('people = "0"', "expected a number of people from 1 to 20"),
        ('people = "21"', "expected a number of people from 1 to 20"),
        ('people = "²"', "expected a number of people from 1 to 20"),
        ('people = ["1", "2"]', "expected a number of people from 1 to 20"),
        ('temperature = "cold"', "expected the temperature in the workshop"),
        ('temperature = ["12 °C", "14 °C"]', "expected the temperature in the workshop"),
        ('hours = "Mon 09:00-24:15"', "write it as in"),
        ('hours = "Mon 09:00-09:00"', "write it as in"),
        ('quiet = "at night"', 'write it as in "20:00-07:00"'),
        ('extra = "2026-05-02"', "write it as in"),
        ('resources = "2 hoists"', "write it as in"),
    ],
)
def test_what_cannot_be_meant_is_said(text, says):
    with pytest.raises(BadInput, match=says):
        shop(text)


@pytest.mark.parametrize("most", [1, 20])
def test_as_many_people_as_are_sensible_are_taken(most, site):
    assert shop(f'people = "{most}"').people == most
    assert site(f'[job.a]\npeople = "{most}"').network.jobs["a"].people == most


@pytest.mark.parametrize("text", ["0", "21", "-1"])
def test_a_job_for_nobody_or_for_a_crowd_is_refused(text, site):
    with pytest.raises(BadInput, match="expected a number of people from 1 to 20"):
        site(f'[job.a]\npeople = "{text}"')


@pytest.mark.parametrize(
    ("text", "is_taken"),
    [("1949-12-31", False), ("1950-01-01", True), ("2199-12-31", True), ("2200-01-01", False)],
)
def test_dates_lie_in_the_years_of_a_plan(text, is_taken):
    assert (day_of(text) is not None) is is_taken


def test_waits_and_promised_dates_are_at_most_a_thousand_days():
    assert waits_of("paint 1000 d")[0].high == 1000
    with pytest.raises(ValueError, match="expected at most 1000 days"):
        waits_of("paint 1001 d")
    order = '[order.hose]\npromised = "2026-03-20 ± {} d"'
    assert orders_of(read_text(order.format(1000)).document)["hose"].promised_spread == 1000
    with pytest.raises(BadInput, match="expected a spread of at most 1000 days"):
        orders_of(read_text(order.format(1001)).document)


def test_hours_that_touch_or_overlap_are_worked_once():
    """Ten to twelve within nine to five adds nothing and takes nothing away."""
    made = shop('hours = ["Sat 09:00-17:00", "Sat 10:00-12:00", "Sat 16:00-18:00"]')
    work_time = Calendar(made, date(2026, 3, 7), 1).work_time()

    assert (work_time.begins.tolist(), work_time.ends.tolist()) == ([540], [1080])


@pytest.mark.parametrize(
    ("reading", "limits", "verdict"),
    [
        ("8 ± 0.1 mm", "at least 9 mm", "fails"),
        ("8 ± 0.1 mm", "9 to 13 mm", "fails"),
        ("14 ± 0.1 mm", "9 to 13 mm", "fails"),
        ("11 ± 0.1 mm", "at least 9 mm; manual", "holds"),
        ("11 ± 0.1 mm", "at most 9 mm", "fails"),
        ("8 ± 0 mm", "8 to 8 mm", "holds"),
    ],
)
def test_a_makers_limit_of_one_side_or_of_both_is_held_against_the_reading(site, reading, limits, verdict):
    text = f'[car]\n[reading]\npickup_gap = "{reading}, calipered"\npickup_gap-limits = "{limits}"'

    assert site(text).ground.readings["pickup_gap"].verdict == verdict


def test_a_reading_of_ones_own_is_kept_and_its_limits_are_not_a_reading(site):
    text = '[car]\n[reading]\nmy_gap = "8 mm"\nmy_gap-limits = "6 to 9 mm"'
    readings = site(text).ground.readings

    assert readings["my_gap"].text == "8 mm"
    assert "my_gap-limits" not in readings


def test_the_longest_plan_reaches_over_twelve_years(site):
    """An hour a week, and thousands of hours to do."""
    text = '[workshop]\nhours = "Sat 10:00-12:00"\n[job.all]\nhours = "900/1000/2000"'

    assert put_together(site(text), "all").calendar.days == 366 * 12


def test_a_sentence_names_six_jobs_and_counts_the_others(site):
    names = [f"lift_{letter}" for letter in "abcdefgh"]
    jobs = "".join(f'[job.{name}]\nuses = ["hoist"]\n' for name in names)
    text = f'[workshop]\nresources = "hoist 0"\n{jobs}[job.all]\nneeds = {names}'.replace("'", '"')

    with pytest.raises(ValueError, match=f"{', '.join(names[:6])} and 2 more need it"):
        put_together(site(text), "all")
    few = site(text.replace(f'[job.{names[0]}]\nuses = ["hoist"]', f"[job.{names[0]}]"))
    with pytest.raises(ValueError, match=f"and {', '.join(names[1:7])} and 1 more need it"):
        put_together(few, "all")


def test_holidays_put_the_work_off(site):
    text = '[workshop]\nhours = "Mon-Sun 09:00-17:00"\nholidays = "2026-03-01 to 2026-03-20"\n[job.a]\nhours = "1/1/1"'
    plan = put_together(site(text), "a")

    assert plan.calendar.moment(float(plan.problem.slots.clock[0])).date() == date(2026, 3, 20) + timedelta(days=1)


@pytest.mark.parametrize(("helper", "times"), [("", 4), ('helper = "Sat 10:00-11:00"\n', 7)])
def test_a_plan_looks_ahead_for_several_times_the_work(site, helper, times):
    """Seven hours a week: 50 h more are 50 days more in one week after the other, four times that, with a rare helper seven times."""
    text = f'[workshop]\nhours = "Sat 10:00-17:00"\n{helper}[job.all]\nhours = "1/{{}}/99"'
    fewer, more = (put_together(site(text.format(hours)), "all").calendar.days for hours in (40, 90))

    assert more - fewer == times * 50
