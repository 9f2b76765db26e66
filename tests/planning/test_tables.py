"""The tables hold together: what SOURCES.md says was checked is checked here."""

from __future__ import annotations

from trialfit.planning.job import NeedKind
from trialfit.planning.templates import gates, loose_ends, templates, usual_readings


def test_ids_are_unique():
    for names in (
        [one.id for one in templates()],
        [end.id for _, end in loose_ends()],
        [gate.id for _, gate in gates()],
    ):
        assert len(names) == len(set(names))


def test_the_gates_stand_in_their_order():
    assert [gate.id for _, gate in gates()] == ["first-crank", "first-fire", "first-roll", "road"]


def test_every_loose_end_is_closed_after_the_job_that_leaves_it_and_before_its_gate(demo):
    behind: dict[str, set[str]] = {}
    for name in demo.network.jobs:
        behind[name] = {name}.union(*(behind[one] for one in demo.network.before[name]))
    for end in demo.network.ends.values():
        assert end.closed_by, end.id
        for closer in end.closed_by:
            assert end.job in behind[closer]
            assert closer in behind[demo.network.gates[end.gate].job]


def test_every_job_of_a_gate_comes_before_it(demo):
    for job in demo.network.jobs.values():
        if job.gate:
            assert job.id in demo.network.before[demo.network.gates[job.gate].job]


def test_the_order_of_the_network_keeps_every_prerequisite(demo):
    place = {name: number for number, name in enumerate(demo.network.jobs)}

    assert all(place[one] < place[name] for name in place for one in demo.network.before[name])
    assert len(place) > 90


def test_every_reading_that_a_job_wants_is_in_the_table(demo):
    wanted = {name for job in demo.network.jobs.values() for name in (*job.readings, *job.needed(NeedKind.reading))}

    assert wanted <= set(usual_readings())


def test_a_limit_names_its_source():
    for one in usual_readings().values():
        assert bool(one.source) == (one.at_least is not None or one.at_most is not None), one.name
