"""What was done, made into states: the rules of re-opening, exactly."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from thorough import some

from trialfit.book import read_text
from trialfit.planning.network import network_of
from trialfit.planning.states import EFFECTS, MOVES, State, Status, fold
from trialfit.planning.work import Do, Event

NOW = datetime.fromisoformat("2026-03-07T09:00:00+01:00")
NETWORK = network_of(read_text("[clutch]"))
BEFORE_FIRE = [name for name in NETWORK.jobs if name not in ("RU12", "CE09")]


class Bench:
    """Things done one after the other."""

    def __init__(self) -> None:
        self.events: list[Event] = []

    def do(self, what: Do, **more: object) -> Status:
        """One thing done, and the states after it."""
        number = len(self.events) + 1
        self.events.append(Event(number, what, NOW + timedelta(hours=number), **more))
        return self.status

    def finish(self, *jobs: str) -> Status:
        """Jobs finished, each with its usual loose ends."""
        for job in jobs:
            self.do(Do.finish, job=job, leaves=tuple(NETWORK.ends[name] for name in NETWORK.jobs[job].leaves))
        return self.status

    @property
    def status(self) -> Status:
        """The states of everything."""
        return fold(NETWORK, self.events)

    @property
    def loose(self) -> set[str]:
        """The ids of everything loose."""
        return {one.end.id for one in self.status.open_ends}

    @property
    def again(self) -> set[str]:
        """The jobs to do again."""
        return {name for name, one in self.status.jobs.items() if one.state is State.again}

    @property
    def passed(self) -> list[str]:
        """The gates passed."""
        return [name for name, one in self.status.gates.items() if one.is_passed]


@pytest.fixture
def bench() -> Bench:
    return Bench()


@pytest.fixture
def hot(bench: Bench) -> Bench:
    """A car whose engine has been hot: everything up to the first heat cycle and its re-torque is done, two gates passed."""
    for name in NETWORK.jobs:
        if name in ("RU05", "RU07"):
            bench.do(Do.go, gate="first-crank" if name == "RU05" else "first-fire")
        if name not in ("RU12", "RU13", "RU14") and not name.startswith("CE"):
            bench.finish(name)
    return bench


def test_finishing_opens_what_is_left_and_closes_what_it_closes(bench):
    bench.finish("OP01")
    assert bench.loose == {"pickup_off"}

    bench.finish("OP02")
    assert bench.loose == {"no_engine_oil", "pan_bolts_hand_tight"}
    assert bench.status.ends["pickup_off"].by == "OP02"


def test_the_sump_comes_off_again(hot):
    """Torque record, oil, leak test: open at once, with the engine warm and two gates behind."""
    assert hot.passed == ["first-crank", "first-fire"]
    before = hot.loose
    hot.do(Do.reopen, job="OP02", because="it weeps")

    assert hot.loose - before == {
        "pickup_off",
        "no_engine_oil",
        "pan_bolts_hand_tight",
        "dry_oil_lines",
        "oil_joints_not_leak_tested",
        "dipstick_mark_not_confirmed_running",
    }
    assert hot.again == {"OP09", "RU01", "OP10", "RU08"}
    assert hot.status.job("OP02").state is State.in_hand
    assert hot.passed == []


def test_what_a_job_closed_besides_stays_closed_when_it_is_called_again(hot):
    """The heat cycle is wanted for the dipstick mark only: the engine has been hot, the coolant is bled."""
    hot.do(Do.reopen, job="OP02", because="it weeps")

    assert not hot.status.ends["engine_never_hot"].is_open
    assert not hot.status.ends["air_in_cooling"].is_open
    assert hot.status.ends["no_engine_oil"].is_open


def test_what_was_undone_is_closed_by_doing_it_again(hot):
    before = hot.loose
    hot.do(Do.reopen, job="OP02", because="it weeps")
    hot.finish("OP02", "OP09", "RU01", "OP10")

    assert hot.again == {"RU08"}
    assert hot.loose - before == {"dipstick_mark_not_confirmed_running"}

    hot.finish("RU08")
    assert hot.again == {"RU09"}, "a new heat cycle wants a new re-torque"
    hot.finish("RU09")
    assert hot.loose == before


def test_coolant_hoses_off_again_undo_coolant_and_pressure_test_but_no_oil(hot):
    hot.do(Do.reopen, job="CO02", because="a longer hose")

    assert hot.again == {"RU03", "CO04", "RU08"}
    assert {"no_coolant", "clamps_not_final", "air_in_cooling"} <= hot.loose
    assert "no_engine_oil" not in hot.loose
    assert hot.passed == ["first-crank"], "the crank needs no coolant"


def test_brake_lines_off_again_undo_the_bleeding(hot):
    hot.do(Do.reopen, job="BR03", because="a flare leaks")

    assert "BR04" in hot.again
    assert {"line_nuts_hand_tight", "no_brake_fluid", "capped_rear_brake_line"} <= hot.loose


def test_links_off_again_undo_the_torque_record(hot):
    hot.do(Do.reopen, job="BR06", because="other springs")

    assert {"BR08", "BR10"} <= hot.again, "torque record and alignment"
    assert "pinch_bolts_hand_tight" in hot.loose, "the torque sheet closed it"


def test_a_loose_end_found_later_shuts_the_gates_that_it_must_not_pass(hot):
    from trialfit.planning.job import LooseEnd

    hot.do(Do.leave, leaves=(LooseEnd("cap", "cap on the breather", "", "first-fire"),))

    assert hot.passed == ["first-crank"]
    assert "cap on the breather" in hot.status.gates["first-fire"].because


def test_a_wait_that_is_over_keeps_the_time_of_the_job(bench):
    bench.finish("PL01")
    since = bench.status.job("PL01").since
    bench.do(Do.wait_over, job="PL01")

    assert bench.status.job("PL01").since == since
    assert bench.status.job("PL01").is_wait_over


@pytest.mark.parametrize(
    ("first", "second", "says"),
    [
        (None, Do.reopen, "work.1: SD09 is not begun, and cannot be taken as take up again"),
        (Do.finish, Do.start, "work.2: SD09 is done, and cannot be taken as start"),
        (Do.start, Do.start, "work.2: SD09 is in hand, and cannot be taken as start"),
    ],
)
def test_what_the_table_does_not_hold_is_a_problem_of_the_record(bench, first, second, says):
    for what in filter(None, (first, second)):
        bench.do(what, job="SD09")

    assert bench.status.problems == [says]


def test_the_page_shows_the_table():
    """The manual's picture is the table."""
    page = (Path(__file__).parents[2] / "docs" / "planning.md").read_text(encoding="utf-8")

    for (state, what), then in MOVES.items():
        assert f"| {state} | {what} | {then} |" in page
    assert set(EFFECTS) == set(Do)


ACTIONS = st.lists(st.tuples(st.sampled_from(["forward", "reopen"]), st.integers(0, 10_000)), max_size=60)


@settings(max_examples=some(25))
@given(ACTIONS)
def test_whatever_is_taken_up_again_the_work_can_be_brought_to_its_end(actions):
    """No order of finishing and taking up again leads to a state in which nothing can be done and something is open."""
    bench = Bench()
    for what, number in actions:
        status = bench.status
        able = _able(status)
        done = [name for name in NETWORK.jobs if status.is_done(name)]
        if what == "reopen" and done:
            bench.do(Do.reopen, job=done[number % len(done)], because="a test")
        elif able:
            for name in able[: 1 + number % 12]:
                if name in _able(bench.status):
                    bench.finish(name)
        _pass_gates(bench)
    for _ in range(4 * len(NETWORK.jobs)):
        _pass_gates(bench)
        able = _able(bench.status)
        if not able:
            break
        bench.finish(able[0])

    status = bench.status
    assert [name for name in NETWORK.jobs if not status.is_done(name)] == []
    assert bench.loose == set()
    assert bench.passed == list(NETWORK.gates)
    assert status.problems == []


def _able(status: Status) -> list[str]:
    """Jobs whose prerequisites are met, by the plain words of the rule."""
    return [
        name
        for name, job in NETWORK.jobs.items()
        if not status.is_done(name)
        and all(map(status.is_done, job.jobs_needed))
        and all(status.gates[gate].is_passed for gate in NETWORK.gates_behind[name])
    ]


def _pass_gates(bench: Bench) -> None:
    """Passes each gate that nothing blocks, in order."""
    for gate in NETWORK.gates:
        status = bench.status
        names = NETWORK.up_to(gate)
        jobs = all(status.is_done(job.id) for job in NETWORK.jobs.values() if job.gate in names)
        loose = any(one.end.gate in names for one in status.open_ends)
        earlier = all(status.gates[one].is_passed for one in names[:-1])
        if jobs and not loose and earlier and not status.gates[gate].is_passed:
            bench.do(Do.go, gate=gate)
