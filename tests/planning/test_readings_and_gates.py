"""Readings held against their limits, gates, loose ends closed by a reading, and what is refused."""

from __future__ import annotations

import pytest

from trialfit.evaluation.finding import Finding, Report
from trialfit.evaluation.requirement import SourceKind, Stake
from trialfit.evaluation.verdict import Verdict
from trialfit.planning.gates import look_at
from trialfit.planning.money import COMMITTED, SPENT, TO_COME, money_of
from trialfit.planning.ready import Stand
from trialfit.planning.work_readings import limits_wanted


@pytest.mark.parametrize(
    ("written", "verdict"),
    [
        ("8.0 ± 0.3 mm, calipered", Verdict.holds),
        ("10.1 ± 0.5 mm", Verdict.unsettled),
        ("14 ± 0.3 mm, calipered", Verdict.fails),
        ("eight", Verdict.unknown),
    ],
)
def test_a_reading_is_judged_as_a_finding_is(site, written, verdict):
    taken = site(f'[car]\n[reading]\npickup_gap = "{written}"').ground.readings["pickup_gap"]

    assert taken.verdict is verdict
    assert taken.does is (verdict is Verdict.holds)


def test_the_makers_limits_take_the_place_of_ours(site):
    text = '[car]\n[reading]\npickup_gap = "11 ± 0.2 mm"\npickup_gap-limits = "9 to 13 mm; manual"'

    assert site(text).ground.readings["pickup_gap"].does


def test_a_length_of_a_shaft_that_was_only_guessed_is_not_taken(site):
    shaft = '[shaft]\nkind = "prop_shaft"\nlength = "1.2 m, {}"'

    assert not site(shaft.format("guess")).ground.readings["shaft_length"].is_taken
    assert site(shaft.format("taped")).ground.readings["shaft_length"].is_taken


def test_a_gate_names_everything_in_the_way(site):
    made = site()
    look = look_at("first-fire", made.network, made.status, made.ground)

    assert not look.may_pass
    assert {"gate", "job", "reading"} <= {one.kind for one in look.blocks}
    assert {one.name for one in look.blocks if one.kind == "gate"} == {"first-crank"}


def reported(**findings):
    """What works out a report of findings by id, with their verdict and what is at stake."""

    def work(_subject):
        made = [
            Finding(
                id=name.replace("__", "."), subject=name, about="", says="", verdict=verdict, stake=stake, side="at most",
                value=None, limit=None, margin=None, share_ok=None, source="", source_kind=SourceKind.builder,
            )
            for name, (verdict, stake) in findings.items()
        ]  # fmt: skip
        return Report(build="", draws=1, findings=tuple(made), figures=())

    return work


def test_what_does_not_hold_stands_against_the_gate_that_asks_for_it(site):
    """Safety always, durability where it fails; what is unsettled there and comfort are told; what holds is not named."""
    made = site()
    made.ground.findings = reported(
        cooling__flow=(Verdict.holds, Stake.safety),
        cooling__room=(Verdict.unsettled, Stake.safety),
        fuel__lift=(Verdict.fails, Stake.durability),
        fuel__filter=(Verdict.unknown, Stake.durability),
        ports__oil=(Verdict.fails, Stake.comfort),
        brakes__balance=(Verdict.fails, Stake.safety),
    )
    look = look_at("first-fire", made.network, made.status, made.ground)

    assert {one.name: one.says for one in look.blocks if one.kind == "finding"} == {
        "cooling.room": "unsettled, stake: safety",
        "fuel.lift": "fails, stake: durability",
    }
    told = [one for one in look.remarks if "stake" in one]
    assert told == ["fuel.filter: unknown, stake: durability", "ports.oil: fails, stake: comfort"]


def test_the_road_asks_for_every_finding_and_the_first_crank_for_none(site):
    made = site()
    made.ground.findings = reported(brakes__balance=(Verdict.fails, Stake.safety), fuel=(Verdict.holds, Stake.safety))

    def against(gate):
        look = look_at(gate, made.network, made.status, made.ground)
        return [one.name for one in look.blocks if one.kind == "finding"]

    assert against("road") == ["brakes.balance"]
    assert against("first-crank") == []


def test_sealant_that_is_not_dry_blocks_the_crank(site):
    work = '[work.1]\nwhat = "finish"\njob = "OP02"\nwhen = "2026-03-06T12:00:00+01:00"'
    made = site(f"[car]\n{work}")
    waits = [one for one in look_at("first-crank", made.network, made.status, made.ground).blocks if one.kind == "wait"]

    assert [(one.name, f"{one.until:%Y-%m-%d %H:%M}") for one in waits] == [("OP02", "2026-03-08 12:00")]


def test_a_part_that_arrived_broken_is_waited_for(site):
    order = '[order.clutch]\narrived = "2026-03-01"\nstate = "broken"'
    against = site(f"[car]\n{order}").standings["CH01"].unmet

    assert "clutch arrived broken" in [one.says for one in against]
    assert "clutch" not in {one.name for one in site(order.replace('state = "broken"', "")).standings["CH01"].unmet}


def test_two_jobs_that_want_the_one_hoist_are_not_open_together(site):
    work = "\n".join(
        f'[work.{number}]\nwhat = "{what}"\njob = "{job}"\nwhen = "2026-03-0{number}T12:00:00+01:00"'
        for number, (what, job) in enumerate([("start", "SD07")], 1)
    )
    made = site(f'[job.lift]\nuses = ["hoist"]\n{work}')

    assert made.standings["lift"].stand is Stand.waiting
    assert made.standings["lift"].unmet[0].says == "the hoist is taken: SD07"


def test_money_is_spent_committed_and_to_come(site):
    """The half-widths of two prices, 30 and 40, make 50 together."""
    made = site(
        """
        [choice.final_drive]
        options = ["long", "short"]
        picked = "long"
        [long]
        kind = "final_drive"
        [short]
        kind = "final_drive"
        [order.axle]
        serves = "long"
        price = "600 ± 50 EUR"
        arrived = "2026-02-01"
        [order.other]
        serves = "short"
        price = "900 EUR"
        [order.clutch]
        price = "300 ± 30 EUR"
        ordered = "2026-02-01"
        [order.hoses]
        price = "100 ± 40 EUR"
        ordered = "2026-02-01"
        [order.pump]
        price = "80 ± 10 % EUR"
        """.replace("80 ± 10 % EUR", "80 ± 10 %EUR")
    )
    money = money_of(made.build, made.network, made.orders)
    (committed,) = money.totals[COMMITTED]

    assert money.totals[SPENT][0].amount == 600
    assert (committed.amount, committed.low, committed.high) == (400, 350, 450)
    assert money.totals[TO_COME][0].high == pytest.approx(88)
    assert money.by_choice["final_drive"]["short"][0].amount == 900
    assert money.by_job["CH01"][0].amount == 300


def test_the_limits_that_count_are_the_makers_where_they_are_written(site):
    """Else the usual ones with their source, and none for a reading that has none."""
    build = site('[reading]\npickup_gap-limits = "7 to 9 mm; manual"').build

    assert limits_wanted(build, "pickup_gap") == "7 to 9 mm; manual"
    assert limits_wanted(build, "bell_runout") == "at most 0.25 mm (common practice, no source)"
    assert limits_wanted(build, "alignment") == ""
    assert limits_wanted(build, "my_own_reading") == ""


def test_limits_the_wrong_way_round_are_not_taken(site):
    """Nothing could ever meet them."""
    taken = site('[reading]\npickup_gap = "8 mm, calipered"\npickup_gap-limits = "9 to 6 mm"').ground.readings[
        "pickup_gap"
    ]

    assert not taken.does
    assert 'has the limits "9 to 6 mm": expected the smaller first, for example "6 to 9 mm; manual"' in taken.says


def test_a_part_that_arrives_later_is_not_there_yet(site):
    """Seen at a moment before, it is promised for that day."""
    order = '[order.engine]\nordered = "2026-02-01"\narrived = "{}"\nlies = "on a pallet"'
    before, after = (site(order.format(day)) for day in ("2026-03-08", "2026-03-07"))

    assert "engine" not in before.ground.arrived
    assert before.ground.promised["engine"] == "is promised for 2026-03-08 ± 0 days"
    assert "engine" in after.ground.arrived
