"""The network of what this build has."""

from __future__ import annotations

import pytest

from trialfit.book.problems import BadInput
from trialfit.planning.templates import templates

PEDAL = "CH03"


def test_a_hydraulic_clutch_brings_its_jobs_and_a_cable_brings_another(site):
    hydraulic, cable = site("[clutch]").network, site('[clutch]\nrelease = "cable"').network

    assert "CH03" in hydraulic.jobs
    assert "CH08" not in hydraulic.jobs
    assert "CH08" in cable.jobs
    assert "CH03" not in cable.jobs


def test_an_electric_motor_removes_what_belongs_to_an_engine(site):
    network = site('[engine]\nruns_on = "electricity"').network

    assert not {"OP02", "FU07", "EX04", "RU07"} & set(network.jobs)
    assert {"EM01", "EM02", "EM03"} <= set(network.jobs)
    assert list(network.gates) == ["first-roll", "road"]
    assert network.jobs["EL08"].gate == "first-roll"
    assert "CH02" in network.jobs["CH05"].jobs_needed


def test_what_falls_away_hands_its_prerequisites_on(site):
    """First roll needs the heat cycle through its gate sheet; without an engine it needs what that needed."""
    network = site('[engine]\nruns_on = "electricity"').network

    assert "RU08" not in network.jobs
    assert "EL08" in {one for name in network.before["RU11"] for one in (name, *network.before[name])} | set(
        network.jobs
    )
    assert all(one in network.jobs for job in network.jobs.values() for one in job.jobs_needed)


def test_each_half_shaft_has_jobs_of_its_own_under_a_name_that_stays(site):
    text = '[car]\nrear_suspension = "independent"\n[left]\nkind = "half_shaft"\nside = "left"'
    one = site(text).network
    two = site(f'{text}\n[right]\nkind = "half_shaft"\nside = "right"').network

    assert "DF13-left" in one.jobs
    assert set(one.jobs) < set(two.jobs)
    assert "DF13-left" in two.jobs["DF11-left"].jobs_needed
    assert "DF13-right" not in two.jobs["DF11-left"].jobs_needed


def test_a_job_of_ones_own_stands_beside_the_usual_ones(site):
    network = site(
        """
        [job.tray]
        title = "make the tray"
        hours = "1/2/4"
        needs = ["ME07", "p:steel"]
        leaves = ["tray on two bolts @ road > RU14"]
        """
    ).network

    assert network.jobs["tray"].title == "make the tray"
    assert network.ends["tray-tray_on_two_bolts"].closed_by == ("RU14",)
    assert "tray" in network.before["RU14"]


def test_what_is_written_of_a_usual_job_takes_the_place_of_that_entry_only(site):
    network = site('[job.CH02]\nhours = "2/3/5"').network

    assert network.jobs["CH02"].hours.likely == 3
    assert network.jobs["CH02"].leaves == site().network.jobs["CH02"].leaves


def test_a_job_that_is_skipped_hands_its_prerequisites_on(site):
    network = site('[job.SD09]\nskip = "the bay is new"').network

    assert "SD09" not in network.jobs
    assert set(network.jobs["ME01"].jobs_needed) >= {"SD07", "SD08", "PL02"}


def test_a_circle_is_shown_with_the_link_that_was_written_last(site):
    with pytest.raises(BadInput) as wrong:
        site(
            """
            [job.one]
            needs = ["three"]
            [job.two]
            needs = ["one"]
            [job.three]
            needs = ["two"]
            """
        )

    assert str(wrong.value) == (
        "mine.toml: job.three.needs closes a circle: two needs one needs three needs two; "
        "the link written last is three needs two: take it out"
    )


def test_a_usual_job_with_other_hours_keeps_its_links_as_the_oldest_ones(site):
    """ME01 needs SD07 as usual; the other way round is the builder's, though the hours of ME01 were written after it."""
    with pytest.raises(BadInput, match="the link written last is SD07 needs ME01: take it out"):
        site('[job.SD07]\nneeds = ["ME01"]\n[job.ME01]\nhours = "1/2/4"')


def test_in_a_book_the_youngest_change_decides_which_link_is_named():
    from trialfit.book import read_text
    from trialfit.planning.network import network_of

    text = '[job.one]\nneeds = ["two"]\n[job.two]\nneeds = ["one"]'
    with pytest.raises(BadInput, match="the link written last is one needs two"):
        network_of(read_text(text), {("two", "one"): 5, ("one", "two"): 9}, "book")


def test_a_usual_job_that_this_build_does_not_have_may_be_skipped_too(site):
    """A reason beside a job that falls away by itself is not a mistake."""
    bare = site()
    absent = next(one.id for one in templates() if one.id not in bare.network.jobs and not one.per)

    assert set(site(f'[job.{absent}]\nskip = "there is none"').network.jobs) <= set(bare.network.jobs)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ('[job.a]\nneeds = ["CH2"]', 'job.a.needs names "CH2", which is not a job: did you mean'),
        ('[job.a]\nhours = "4"', 'job.a.hours is "4": expected hours as low/likely/high, for example 2/4/9'),
        ('[job.a]\nhours = "4/2/9"', "expected hours as low/likely/high"),
        ('[job.a]\nwaits = "some days"', 'has the wait "some days"'),
        ('[job.a]\ngate = "roll"', 'job.a.gate is "roll": did you mean "first-roll"'),
        ('[job.a]\nleaves = ["a bolt"]', 'has "a bolt": write it as in'),
        ('[job.a]\npeople = "two"', "expected a number of people from 1 to 20"),
        ('[workshop]\nhours = "evenings"', 'has "evenings": write it as in "Mon-Fri 18:00-21:00"'),
        ('[workshop]\nholidays = "2026-13-01"', "which is not a date"),
        (
            '[workshop]\nholidays = "2026-08-02 to 2026-07-20"',
            'has "2026-08-02 to 2026-07-20": expected the first day first',
        ),
        (
            '[workshop]\nhours = "Tue 21:00-18:00"',
            'has "Tue 21:00-18:00": a time ends after it begins; past midnight write',
        ),
        ('[workshop]\nextra = "2026-05-02 17:00-09:00"', "a time ends after it begins"),
        ('[job.a]\nneeds = ["q:zzz"]', 'job.a.needs has "q:zzz": expected "p:" part, "f:" finding'),
        ('[job.PL1]\nskip = "x"', 'job.PL1 is skipped, but is not a usual job: did you mean "PL01"'),
        ('[job.SD09]\nskip = " "', "job.SD09.skip is empty: expected the reason"),
        (
            '[order.hose]\nordered = "2026-03-02"\narrived = "2026-03-01"',
            "order.hose.arrived is 2026-03-01, before it was ordered on 2026-03-02",
        ),
        ('[order.hose]\nprice = "much"', 'is "much": expected an amount with its currency'),
        ('[order.hose]\npromised = "soon"', 'is "soon": expected a date'),
        ('[order.hose]\nstate = "lost"', 'is "lost": expected one of broken, wrong, sent back'),
    ],
)
def test_what_cannot_be_read_is_said_in_one_sentence(site, text, says):
    with pytest.raises(BadInput) as wrong:
        site(text)

    assert says in str(wrong.value)


def test_with_an_electric_motor_every_loose_end_has_something_that_closes_it(site):
    """What an engine's jobs would close, such as the small fuse in the main feed, a motor's own jobs close."""
    network = site('[engine]\nruns_on = "electricity"').network

    assert [end.id for end in network.ends.values() if not end.closed_by] == []
    assert network.ends["small_fuse_in_main_feed"].closed_by == ("EM05",)
    assert network.ends["air_in_cooling"].closed_by == ("EM04",)
    assert "heat_shields_off" not in network.ends
