"""What may be done, what may not be taken back, what is to be looked at again, and the lists that tell of it."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest

from trialfit.book import read_text
from trialfit.book.refusals import Refused
from trialfit.evaluation.finding import Finding, Report
from trialfit.evaluation.requirement import SourceKind, Stake
from trialfit.evaluation.verdict import Verdict
from trialfit.planning.doing import finish, start
from trialfit.planning.look_again import to_look_at_again
from trialfit.planning.plans import plan_of
from trialfit.planning.reports import loose_report
from trialfit.planning.taking_back import check_work
from trialfit.planning.work import Do

WHEN = "2026-03-0{}T12:00:00+01:00"
TRAY = '[job.tray]\nhours = "1/2/4"\nleaves = ["tray on two bolts @ road > lid"]\n[job.lid]\nneeds = ["tray"]\n'


def done(number: int, what: str, **more: object) -> str:
    """One thing done, at noon of a day in March."""
    lines = [f'{key} = "{text}"' if isinstance(text, str) else f"{key} = {text}" for key, text in more.items()]
    return "\n".join([f'[work.{number}]\nwhat = "{what}"\nwhen = "{WHEN.format(number)}"', *lines, ""]).replace(
        "'", '"'
    )


@pytest.mark.parametrize("hours", [None, 0, 2.5, 10_000])
def test_a_job_is_finished_with_the_hours_spent_and_its_usual_loose_ends(site, hours):
    event = finish(site(TRAY), "tray", hours=hours)

    assert (event.what, event.job, event.hours) == (Do.finish, "tray", hours)
    assert [(end.id, end.gate) for end in event.leaves] == [("tray-tray_on_two_bolts", "road")]


@pytest.mark.parametrize("hours", [-0.5, 10_001])
def test_hours_that_nobody_spends_are_refused(site, hours):
    with pytest.raises(Refused, match="expected a number from 0 to 10000"):
        finish(site(TRAY), "tray", hours=hours)


def test_a_job_waits_for_the_one_before_it_unless_a_reason_is_given(site):
    with pytest.raises(Refused, match="To do it anyway, give the reason"):
        start(site(TRAY), "lid")
    assert start(site(TRAY), "lid", although="the tray is in hand").although == "the tray is in hand"
    with pytest.raises(Refused, match="is already done"):
        finish(site(TRAY + done(1, "finish", job="tray")), "tray")


LOOSE = (
    done(1, "leave", leaves=["strap@road; a strap is missing"], because="seen")
    + done(2, "leave", leaves=["plug@first-fire; the plug is finger-tight"], because="seen")
    + done(3, "leave", leaves=["clip@first-crank; a clip is off"], because="seen")
    + done(4, "close", end="clip", because="put on")
)


def test_loose_ends_are_listed_those_of_the_first_gate_first_and_the_closed_ones_last_on_request(site):
    made = site(f"[car]\n{LOOSE}")

    assert [end.id for end in loose_report(made).ends] == ["plug", "strap"]
    assert [(end.id, end.is_open) for end in loose_report(made, closed_too=True).ends] == [
        ("plug", True),
        ("strap", True),
        ("clip", False),
    ]


def test_a_loose_end_closed_twice_is_told_of(site):
    made = site("[car]\n" + LOOSE + done(5, "close", end="clip", because="again"))

    assert made.status.problems == ["work.5: clip is not an open loose end"]


def check(old: str, new: str) -> None:
    """A change from one text of a build to another, as the book checks it."""
    check_work("mine.toml")(*(read_text(text).document.model_dump() for text in (old, new)))


def test_a_finish_that_something_done_since_depends_on_is_not_taken_back():
    """Jobs that do not need it, and what was done before it, are not in the way; nor is what was done although."""
    both = TRAY + done(2, "finish", job="tray") + done(3, "start", job="lid")
    without = both.replace(done(2, "finish", job="tray"), "")
    with pytest.raises(Refused, match=r"work\.3, start lid, depends on tray\. Take that back first"):
        check(both, without)
    check(both, TRAY + done(2, "finish", job="tray"))
    check("[car]", TRAY)

    apart = TRAY.replace('needs = ["tray"]', 'hours = "1/1/1"')
    other = apart + done(1, "start", job="lid") + done(2, "finish", job="tray") + done(3, "finish", job="lid")
    check(other, other.replace(done(2, "finish", job="tray"), ""))
    although = both.replace('job = "lid"', 'job = "lid"\nalthough = "it is only tacked"')
    check(although, although.replace(done(2, "finish", job="tray"), ""))


def test_a_job_that_cannot_be_read_is_no_change_of_the_book_but_an_old_fault_is_not_told_again():
    bad = TRAY.replace("1/2/4", "4")

    with pytest.raises(Refused, match="expected hours as low/likely/high"):
        check(TRAY, bad)
    check(bad, bad + '[job.more]\nhours = "1/1/1"\n')
    check("[car]", "[car]\nmass = '900 kg'")


def reported(verdict: Verdict) -> Report:
    """One finding."""
    return Report(
        build="",
        draws=1,
        findings=(
            Finding(
                id="cooling.flow", subject="cooling", about="", says="", verdict=verdict, stake=Stake.safety, side="at most",
                value=None, limit=None, margin=None, share_ok=None, source="", source_kind=SourceKind.builder,
            ),
        ),
        figures=(),
    )  # fmt: skip


def test_a_job_is_to_be_looked_at_again_when_what_it_relied_on_no_longer_holds(site):
    """The finding that failed since, and the reading that was taken out; with the change that is younger than the job."""
    made = site(TRAY + done(1, "finish", job="tray", relied=["cooling.flow", "reading.pickup_gap"]))

    assert to_look_at_again(made.status, made.ground) == []
    made.ground.findings = lambda _: reported(Verdict.fails)
    flow, gap = to_look_at_again(made.status, made.ground, {"work.1": 4})
    assert (flow.job, flow.what) == ("tray", "cooling.flow")
    assert flow.says == "cooling.flow held when it was done on 2026-03-01, and fails now"
    assert gap.says.endswith("is no longer in the book")
    assert to_look_at_again(made.status, made.ground, None)[0].facts == ()


def test_what_still_holds_is_not_to_be_looked_at_again(site):
    text = TRAY + '[reading]\npickup_gap = "{}, calipered"\n'
    text += done(1, "finish", job="tray", relied=["cooling.flow", "reading.pickup_gap"])
    made = site(text.format("8.0 ± 0.3 mm"))
    made.ground.findings = lambda _: reported(Verdict.holds)
    assert to_look_at_again(made.status, made.ground) == []

    wide = site(text.format("14 ± 0.3 mm"))
    wide.ground.findings = lambda _: reported(Verdict.holds)
    (gap,) = to_look_at_again(wide.status, wide.ground, {"work.1": 4, "reading.pickup_gap": 9})
    assert gap.facts == ("reading.pickup_gap",)
    assert gap.says.endswith("; reading.pickup_gap was written since")
    (gap,) = to_look_at_again(wide.status, wide.ground, {"work.1": 4, "reading.pickup_gap": 3})
    assert gap.facts == ()
    (gap,) = to_look_at_again(wide.status, wide.ground, {"reading.pickup_gap": 9})
    assert gap.facts == ()


def test_all_findings_are_worked_out_once_and_serve_those_of_a_subject(site):
    asked = []
    made = site()
    made.ground.findings = lambda subject: asked.append(subject) or reported(Verdict.holds)

    assert not made.ground.holding("driveline.whirl").is_known
    assert made.ground.report is made.ground.report
    assert not made.ground.holding("driveline.angle").is_known
    assert not made.ground.holding("structure.seat").is_known
    assert asked == ["driveline", ""]


def test_a_goal_that_is_reached_has_an_empty_plan_that_is_proven(site):
    report = plan_of(site(TRAY + done(1, "finish", job="tray")), goal="tray")

    assert (report.jobs, report.end, report.hours_left) == ((), None, 0)
    assert report.is_proven


def test_when_the_ordering_is_done_a_part_without_a_date_comes_in_the_usual_time_from_now(site):
    """5 to 40 days: 22.5; while it is still to be ordered, so long after that. One with a date comes at noon of it."""
    text = '[job.tray]\nhours = "1/1/1"\nneeds = ["p:steel", "p:glass"]\n[order.glass]\npromised = "2026-03-20 ± 2 d"\n'
    made = site(text + done(1, "finish", job="PL07", although="all ordered"))
    comes = {one.part: one.expected for one in plan_of(made, goal="tray").deliveries}

    assert comes["steel"] == made.now.replace(tzinfo=None) + timedelta(days=22.5)
    assert comes["glass"] == datetime(2026, 3, 20, 12, 0)  # noqa: DTZ001
    later = {one.part: one.expected for one in plan_of(site(text), goal="tray").deliveries}
    assert later["steel"] > comes["steel"]


def test_a_job_that_the_build_no_longer_has_keeps_no_tool_from_another(site):
    """Done once under a name that is gone: it is told of, and the hoist is free."""
    made = site('[job.lift]\nhours = "1/1/1"\nuses = ["hoist"]\n' + done(1, "start", job="gone"))

    assert made.holders == {}
    assert made.standings["lift"].stand == "ready"
