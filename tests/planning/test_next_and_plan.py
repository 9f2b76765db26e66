"""What `next` calls ready is what the plan could begin now, and the other way round: one rule for both."""

from __future__ import annotations

from datetime import datetime, timedelta

import numpy as np
import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st
from thorough import some

from trialfit.advice.weekend import what_next
from trialfit.book import read_text
from trialfit.planning.plans import goal_of, plan_of
from trialfit.planning.ready import Stand, expected_end
from trialfit.planning.site import Site, site_of
from trialfit.planning.task_list import put_together

NOW = datetime.fromisoformat("2026-03-07T09:00:00+01:00")
SETTLED = ("finding", "reading", "gate")
"""What the plan assumes to be settled in time, and `next` waits for."""
NAMES = ("one", "two", "three", "four", "five")


@st.composite
def works(draw: st.DrawFn) -> str:
    """Own jobs that want bay, welder and parts, some with something that dries in the bay; some in hand, some done lately."""
    lines = ['[workshop]\nhours = "Mon-Sun 09:00-17:00"\nresources = "welder 1, bay 2"']
    events = []
    for place, name in enumerate(NAMES):
        needs = [one for one in NAMES[:place] if draw(st.integers(0, 3)) == 0]
        part = draw(st.sampled_from(["", "", "steel", "glass", "paint"]))
        needs += [f"p:{part}"] if part else []
        wait = draw(st.sampled_from(["", "paint 2 d in bay", "sealant 1-3 d", "paint 4 d in welder, sealant 9 d"]))
        uses = draw(st.lists(st.sampled_from(["bay", "welder"]), unique=True))
        lines.append(f'[job.{name}]\nhours = "1/2/4"\nneeds = {needs}\nuses = {uses}\nwaits = "{wait}"')
        done = draw(st.sampled_from(["", "", "start", "finish"]))
        if done:
            when = NOW - timedelta(hours=24 * draw(st.integers(0, 5)))
            events.append(f'[work.{len(events) + 1}]\nwhat = "{done}"\nwhen = "{when.isoformat()}"\njob = "{name}"')
    lines.append('[order.steel]\narrived = "2026-03-01"')
    lines.append(f'[order.glass]\npromised = "{draw(st.sampled_from(["2026-03-02 ± 1 d", "2026-03-20 ± 2 d"]))}"')
    lines.append(f'[job.all]\nhours = "1/1/1"\nneeds = {list(NAMES)}')
    return "\n".join([*lines, *events]).replace("'", '"')


def _ready(site: Site, name: str) -> bool:
    """Whether `next` may call a job ready, but for what the plan assumes to be settled."""
    standing = site.standings[name]
    return standing.stand is Stand.ready or (
        standing.stand is Stand.waiting and all(one.kind in SETTLED for one in standing.unmet)
    )


def _may_begin(site: Site, goal: str) -> set[str]:
    """The jobs of the plan that nothing keeps from beginning now."""
    plan = put_together(site, goal)
    now = int(np.searchsorted(plan.problem.slots.clock, plan.calendar.minute(site.now)))
    begun, found = set(), set()
    for number, (name, task) in enumerate(zip(plan.of, plan.problem.tasks, strict=True)):
        if name in begun:
            continue
        begun.add(name)
        free = all(
            plan.problem.capacity[tool] - plan.problem.missing.get(tool, np.zeros(now + 1))[now] >= count
            for tool, count in task.uses.items()
            if tool != "people"
        )
        if free and task.release <= now and not plan.problem.before[number]:
            found.add(name)
    return found


@settings(max_examples=some(60), phases=[Phase.explicit, Phase.reuse, Phase.generate])
@given(works())
def test_what_next_calls_ready_can_begin_now_in_the_plan_and_nothing_else(text):
    site = site_of(read_text(text), NOW, where="mine.toml")
    begins = _may_begin(site, "all")

    for name in NAMES:
        if site.standings[name].stand in (Stand.ready, Stand.waiting):
            assert _ready(site, name) is (name in begins), (name, site.standings[name])


def test_the_same_holds_of_each_demo(demo):
    begins = _may_begin(demo, goal_of(demo))

    assert {name for name in demo.network.jobs if _ready(demo, name)} >= begins
    assert begins >= {name for name, one in demo.standings.items() if one.stand is Stand.ready}


def test_what_dries_behind_a_job_done_too_early_keeps_its_place():
    """Painted before its turn: the bay is wet, also for the job that should have come before."""
    text = f"""
[workshop]
hours = "Mon-Sun 09:00-17:00"
[job.weld]
hours = "1/1/1"
uses = ["bay"]
[job.paint]
hours = "1/1/1"
needs = ["weld"]
waits = "paint 2 d in bay"
[job.all]
hours = "1/1/1"
needs = ["weld", "paint"]
[work.1]
what = "finish"
when = "{NOW.isoformat()}"
job = "paint"
"""
    site = site_of(read_text(text), NOW + timedelta(days=1), where="mine.toml")

    assert site.standings["weld"].stand is Stand.waiting
    assert "weld" not in _may_begin(site, "all")


@pytest.mark.parametrize("days", [0, 1, 3])
def test_a_place_in_which_paint_dries_is_taken_until_it_is_dry(days):
    """Painted on the 7th, two days in the bay: until the 9th nothing else comes in, in `next` and in the plan."""
    text = f"""
[workshop]
hours = "Mon-Sun 09:00-17:00"
[job.paint]
hours = "1/1/1"
waits = "paint 2 d in bay"
[job.weld]
hours = "1/1/1"
uses = ["bay"]
[work.1]
what = "finish"
when = "{NOW.isoformat()}"
job = "paint"
"""
    site = site_of(read_text(text), NOW + timedelta(days=days), where="mine.toml")
    dry = days > 2

    assert (site.standings["weld"].stand is Stand.ready) is dry
    assert ("weld" in _may_begin(site, "weld")) is dry
    if not dry:
        (taken,) = site.standings["weld"].unmet
        assert (taken.says, taken.until) == ("the bay is taken: paint", NOW + timedelta(days=2))


PAINTED = """[workshop]
hours = "Mon-Sun 09:00-17:00"
[job.paint]
hours = "1/2/4"
waits = "paint 2-6 d"
[job.build_up]
hours = "1/1/1"
needs = ["paint"]
"""


def _begins(text: str, now: datetime) -> datetime:
    (job,) = (job for job in plan_of(site_of(read_text(text), now), goal="build_up").jobs if job.id == "build_up")
    return job.begins


def test_a_plan_keeps_its_dates_when_a_job_is_finished_as_planned():
    """The wait is reckoned by its middle before it begins and after: 4 days. A builder who says nothing is asked to wait for the longest."""
    done = '[work.1]\nwhat = "finish"\nwhen = "2026-03-07T11:00:00+01:00"\njob = "paint"'
    moment = datetime.fromisoformat("2026-03-07T11:00:00+01:00")
    site = site_of(read_text(PAINTED + done), moment)

    assert _begins(PAINTED, NOW) == _begins(PAINTED + done, moment) == datetime(2026, 3, 11, 11, 0)  # noqa: DTZ001
    (against,) = site.standings["build_up"].unmet
    assert against.until == moment + timedelta(days=6)


@pytest.mark.parametrize(("days", "later"), [(3, 4), (4.5, 5.5), (5.5, 6)])
def test_a_wait_that_takes_longer_than_likely_is_expected_to_be_over_tomorrow(days, later):
    """And at the latest when the longest has passed."""
    done = f'[work.1]\nwhat = "finish"\nwhen = "{NOW.isoformat()}"\njob = "paint"'
    site = site_of(read_text(PAINTED + done), NOW + timedelta(days=days))

    ends = expected_end(site.network.jobs["paint"], site.status, site.ground)
    assert ends is not None
    assert ends[1] == NOW + timedelta(days=later)
    assert ends[0] <= ends[1] <= ends[2] == NOW + timedelta(days=6)


def test_a_wait_that_runs_still_spreads_the_end():
    """Two to six days of paint: half of the draws end two days apart or more."""
    done = f'[work.1]\nwhat = "finish"\nwhen = "{NOW.isoformat()}"\njob = "paint"'
    report = plan_of(site_of(read_text(PAINTED + done), NOW), goal="build_up")

    assert report.end_early is not None
    assert report.end_late is not None
    assert report.end_late - report.end_early > timedelta(days=3)
    assert [doubt.about for doubt in report.doubts] == ["wait after paint"]


def test_a_single_draw_is_the_likely_end_and_of_two_the_other_one_tells():
    """One hour most likely, nine at most: half of the draws take more than two. Before that, the paint, likely dry a day from now."""
    done = f'[work.1]\nwhat = "finish"\nwhen = "{NOW.isoformat()}"\njob = "paint"'
    text = PAINTED.replace('"1/1/1"', '"1/1/9"') + done
    site = site_of(read_text(text), NOW + timedelta(days=4.5))
    one, two = (plan_of(site, goal="build_up", draws=draws) for draws in (1, 2))

    assert one.end == one.end_early == one.end_middle == one.end_late == datetime(2026, 3, 13, 10, 0)  # noqa: DTZ001
    assert two.end_early == two.end_middle == two.end_late
    assert two.end_middle != two.end


def test_a_workshop_that_begins_later_begins_with_its_first_minute():
    """Around the clock from the 10th on: one hour is over at one."""
    text = '[workshop]\nhours = "Mon-Sun 00:00-24:00"\nbegins = "2026-03-10"\n[job.weld]\nhours = "1/1/1"'
    report = plan_of(site_of(read_text(text), NOW), goal="weld", draws=1)

    assert report.end == report.end_middle == datetime(2026, 3, 10, 1, 0)  # noqa: DTZ001


def test_the_bay_is_free_the_moment_its_paint_is_dry():
    """Painted on the 7th at nine, two days: welding begins on the 9th at nine, not a quarter of an hour later."""
    text = f"""
[workshop]
hours = "Mon-Sun 09:00-17:00"
[job.paint]
hours = "1/1/1"
waits = "paint 2 d in bay"
[job.weld]
hours = "1/1/1"
uses = ["bay"]
[work.1]
what = "finish"
when = "{NOW.isoformat()}"
job = "paint"
"""
    (weld,) = plan_of(site_of(read_text(text), NOW + timedelta(days=1)), goal="weld", draws=1).jobs

    assert weld.begins == datetime(2026, 3, 9, 9, 0)  # noqa: DTZ001


@pytest.mark.parametrize(
    ("text", "goal", "says"),
    [
        (
            'hours = "Sat 10:00-10:15"',
            "all",
            "hours are free until .*workshop.hours gives 0.25 hours a week.*write for example",
        ),
        (
            'resources = "hoist 0"',
            "all",
            'workshop.resources has "hoist 0", and lift, drop need it: write "hoist 1"',
        ),
        ('people = "1"', "al", '"al" is neither a job nor a gate of this build: did you mean "all"'),
    ],
)
def test_a_plan_that_cannot_be_says_which_entry_keeps_it(text, goal, says):
    """What was read, and an example."""
    jobs = "".join(f'[job.{name}]\nhours = "300/400/900"\nuses = ["hoist"]\n' for name in ("lift", "drop"))
    site = site_of(read_text(f'[workshop]\n{text}\n{jobs}[job.all]\nneeds = ["lift", "drop"]'), NOW)

    with pytest.raises(ValueError, match=says):
        plan_of(site, goal=goal)


def test_what_has_no_room_between_the_helpers_hours_is_said(monkeypatch):
    """The first plan finds no place: the days and the entries are named, not the machine."""
    monkeypatch.setattr("trialfit.planning.plans.schedule", _no_room)

    with pytest.raises(
        ValueError, match="does not fit into the working time until 20.*workshop.hours, holidays, quiet and helper"
    ):
        plan_of(site_of(read_text(PAINTED), NOW), goal="build_up")


def _no_room(*_given: object, **_named: object) -> None:
    raise ValueError("no room")


def test_the_plan_says_what_it_supposes():
    """A job that waits for a finding has a date anyway."""
    text = PAINTED.replace('needs = ["paint"]', 'needs = ["paint", "f:driveline.whirl"]')
    remarks = plan_of(site_of(read_text(text), NOW), goal="build_up").remarks

    assert any(
        one.startswith("1 of these jobs also need findings that hold, readings or a gate passed") for one in remarks
    )


def test_a_job_taken_up_again_has_all_its_hours_before_it_in_next_as_in_the_plan():
    """Two hours were spent the first time; it is done anew."""
    done = [
        f'[work.1]\nwhat = "finish"\nwhen = "{NOW.isoformat()}"\njob = "paint"\nhours = "2"',
        f'[work.2]\nwhat = "take up again"\nwhen = "{NOW.isoformat()}"\njob = "paint"\nbecause = "it ran"',
    ]
    site = site_of(read_text("\n".join([PAINTED, *done])), NOW)
    (job,) = (job for job in what_next(site, 6).jobs if job.id == "paint")

    assert (job.left, job.planned, job.hours_in_words()) == (2, 2, "2 (1 to 4)")
    (short,) = (job for job in what_next(site, 0.5).jobs if job.id == "paint")
    assert short.hours_in_words() == "2 (1 to 4); 0.5 h fit"
    assert plan_of(site, goal="paint").hours_left == 2
