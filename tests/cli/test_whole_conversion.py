"""A whole conversion, from strip-down to road, through the commands, on the first demo build, with mistakes on purpose.

The build is the demo as it is. What it gets wrong is met where the builder meets it, and put right there (mends.py): a job or a
gate first refuses for exactly those findings, and then no more.
"""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest
from mends import READINGS, mends_of, met_at
from thrift import may_draw

from trialfit.book.journal import Book
from trialfit.book.opening import open_build
from trialfit.planning.job import NeedKind
from trialfit.planning.site import site_of
from trialfit.planning.states import State
from trialfit.subjects.catalogue import subject_names

START = datetime.fromisoformat("2026-03-07T09:00:00+01:00")

DIPSTICK = "dipstick_mark_not_confirmed_running"
PAN_OFF = {
    "pickup_off",
    "no_engine_oil",
    "pan_bolts_hand_tight",
    "dry_oil_lines",
    "oil_joints_not_leak_tested",
    DIPSTICK,
}
"""What is open when the pan comes off a running engine."""

# At each gate exactly what blocks it, read out of the tables of jobs, loose ends and readings by hand.
TOO_EARLY = {
    *("CH01", "CH02", "CH07", "EL06", "EL07", "EL08", "OP05", "OP08", "OP09", "OP10", "RU01", "RU04"),
    *("no_battery", "unplugged_body_connectors", "dummy_and_borrowed_bolts", "unit_on_blocks"),
    *("no_engine_oil", "pan_bolts_hand_tight"),
    *("bell_runout", "volt_drop"),
}
"""Jobs, loose ends and readings before the first crank, with the clutch not in yet."""
NOT_YET_FIRING = {
    *("CH04", "CH06", "CO01", "CO03", "CO04", "EL05", "EL09", "EX04", "EX05", "FU02", "FU05", "FU06", "FU07"),
    *("OP06", "OP07", "RU02", "RU03", "RU06"),
    *("capped_fuel_feed_and_return", "no_coolant", "hoist_eyes_on", "port_caps_on_engine"),
    *("plugs_out", "coils_and_injectors_unplugged"),
    *("compression", "cooling_pressure", "exhaust_gaps", "fuel_exhaust_gap", "oil_pressure_cranking"),
}
"""Jobs, loose ends and readings before the first fire, when the engine has only been turned."""
NOT_YET_ROLLING = {
    *("BR01", "BR02", "BR03", "BR04", "BR05", "BR06", "BR07", "BR08", "CH03", "DF08", "DF09"),
    *("DF11-half_shaft_left", "DF11-half_shaft_right", "RU10", "RU11"),
    *(
        "capped_clutch_pipe",
        "capped_rear_brake_line",
        "park_brake_cable_loose",
        "car_nose_light_on_stands",
        "car_on_stands",
    ),
    *("pedal_travel", "release_travel"),
}
"""What still stands against the first roll when the engine has run: brakes, shafts, stands."""

NOT_HOLDING = met_at("first-roll") | met_at("DF06")
"""What does not hold when the first roll is asked for too early, the shaft not made yet."""


class Garage:
    """A book, a clock, and the commands as a builder types them."""

    def __init__(self, trialfit, file) -> None:
        self.trialfit, self.file, self.now = trialfit, file, START
        self.finished: list[str] = []
        self.taken: set[str] = set()
        self.jobs = self.site().network.jobs

    def type(self, command: str, *words: object, code: int = 0):
        """A command with the moment that the clock of the garage shows."""
        ran = self.trialfit(command, self.file, *words, "--when", self.now.isoformat(), "--json")
        assert ran.code == code, (command, words, ran.out, ran.err)
        return ran.json

    def set(self, path: str, value: str) -> None:
        """An entry written."""
        ran = self.trialfit("set", self.file, path, value)
        assert ran.code == 0, (path, ran.err)

    def site(self):
        """The work as the book has it."""
        return site_of(open_build(self.file), self.now)

    def do(self, job: str, *words: str):
        """A job started and finished; what it needs is written down first, as far as it can be had."""
        known = self.jobs[job]
        for name in known.readings:
            if name in READINGS and name not in self.taken:
                self.set(f"reading.{name}", READINGS[name])
                self.taken.add(name)
        if met := met_at(job):
            self.is_refused(job, met)
            self.mend(job)
        done = self.type("finish", job, "--hours", known.hours.likely, *words)
        self.now += timedelta(hours=known.hours.likely)
        self.finished.append(job)
        for one in known.waits:
            self.now += timedelta(days=2 * one.high)
        return done

    def is_refused(self, job: str, met: set[str]) -> None:
        """A job is tried and refused for these findings: no other stands under what it needs, and each need is named."""
        needs = self.jobs[job].needed(NeedKind.finding)
        assert self.against(*needs) == met
        says = self.type("finish", job, code=2)["problems"][0]["says"]
        for need in needs:
            under = {one for one in met if f"{one}.".startswith(f"{need}.")}
            assert len(under) == 0 or sum(one in says for one in under) == min(len(under), 3), (need, says)

    def mend(self, place: str) -> None:
        """What is wrong at a place put right."""
        for command, *words in mends_of(place):
            ran = self.trialfit(command, self.file, *words)
            assert ran.code == 0, (command, words, ran.err)

    def against(self, *names: str) -> set[str]:
        """The findings under these names, all without one, that do not hold, comfort apart."""
        subjects = {name.partition(".")[0] for name in names} & set(subject_names())
        words = [word for subject in sorted(subjects) for word in ("--subject", subject)]
        found = self.trialfit("check", self.file, *words, "--json").json["findings"]
        return {
            one["id"]
            for one in found
            if one["verdict"] != "holds" and one["stake"] != "comfort"
            if not names or any(f"{one['id']}.".startswith(f"{name}.") for name in names)
        }

    def arrive(self) -> None:
        """Everything that is waited for comes."""
        wanted = {need.name for job in self.jobs.values() for need in job.needs if need.kind == "part"}
        for part in sorted(wanted - self.site().ground.arrived):
            self.set(f"order.{part}.arrived", f"{self.now:%Y-%m-%d}")

    def open_ends(self) -> set[str]:
        """The ids of everything loose."""
        return {end["id"] for end in self.type("loose")["ends"]}

    def blocking(self, gate: str) -> set[str]:
        """What blocks a gate, by name."""
        report = self.trialfit("gate", self.file, gate, "--when", self.now.isoformat(), "--json")
        assert report.code == (0 if report.json["may_pass"] or report.json["is_passed"] else 1)
        return {one["name"] for one in report.json["blocks"]}

    def last_before(self, gate: str) -> str:
        """A job that must precede a gate and on which, of all that is done, nothing but the gate stands."""
        done = [job for name, job in self.jobs.items() if self.site().status.is_done(name)]
        needed = {name for job in done for name in job.jobs_needed}
        return next(job.id for job in done if job.gate == gate and job.id not in needed)

    def take_back(self, job: str) -> str:
        """What is said when somebody takes a finish back that may not be."""
        changes = self.trialfit("journal", self.file, "--json").json["changes"]
        done = [one for one in changes if isinstance(one["after"], dict) and one["after"].get("what") == "finish"]
        number = next(one["number"] for one in done if one["after"]["job"] == job)
        ran = self.trialfit("undo", self.file, number)
        assert ran.code == 2
        return " ".join(ran.err.split())

    def pass_gate(self, gate: str, *words: str) -> None:
        """A gate passed."""
        assert self.type("gate", gate, "--pass", *words)["what"] == "pass"


@pytest.fixture
def garage(trialfit, tmp_path, hillclimb) -> Garage:
    file = tmp_path / "garage.book"
    assert trialfit("new", file, "--from", hillclimb).code == 0
    return Garage(trialfit, file)


def _work_through(garage: Garage, stop_before: str) -> None:
    """Every job that comes before one, in an order in which they can be done."""
    found = garage.site()
    network = found.network
    wanted = {stop_before}
    for name in reversed(list(network.jobs)):
        if name in wanted:
            wanted.update(network.before[name])
    for name in network.jobs:
        if name in wanted and name != stop_before and not found.status.is_done(name):
            garage.do(name)


@may_draw(500_000_000)
def test_from_strip_down_to_road_with_mistakes_on_purpose(garage):  # noqa: PLR0915 - one story
    """At the end nothing is loose, and at each gate exactly what was expected was in the way."""
    refused = garage.type("finish", "PL06", code=2)["problems"][0]["says"]
    assert "PL02 is not begun" in refused

    # the gearing does not hold: the choice of parts waits until the findings do
    for job in ("PL01", "PL02", "PL03", "PL04"):
        garage.do(job)
    assert "gearing.speedometer fails" in garage.type("finish", "PL06", code=2)["problems"][0]["says"]
    for job in ("PL06", "PL07"):
        garage.do(job)

    # the clutch arrives broken: the job that needs it waits until another has come
    garage.arrive()
    garage.set("order.clutch.state", "broken")
    # the sump touches the rack, the intake the bonnet: no pose is chosen until they are clear of each other
    _work_through(garage, "ME04")
    assert garage.against("clearance") == met_at("ME04")
    assert "clearance.gap.sump.rack fails" in garage.type("finish", "ME04", code=2)["problems"][0]["says"]
    _work_through(garage, "CH01")
    assert "clutch arrived broken" in garage.type("start", "CH01", code=2)["problems"][0]["says"]
    garage.trialfit("remove", garage.file, "order.clutch.state")

    # the first crank is tried too early
    assert garage.blocking("first-crank") == TOO_EARLY
    early = garage.type("gate", "first-crank", "--pass", code=2)["problems"][0]["says"]
    assert "may not be passed" in early
    _work_through(garage, "RU05")
    garage.pass_gate("first-crank")
    leaf = garage.last_before("first-crank")
    assert f"pass first-crank, depends on {leaf}" in garage.take_back(leaf)
    garage.do("RU05")

    # the block is filled through the heater's port, and only the cap goes back on
    garage.trialfit("remove", garage.file, "heater_return.plug")
    assert garage.blocking("first-fire") == NOT_YET_FIRING | met_at("first-fire")
    _work_through(garage, "RU07")
    assert garage.blocking("first-fire") == met_at("first-fire")
    garage.mend("first-fire")
    garage.pass_gate("first-fire")
    garage.do("RU07")
    garage.do("RU08")
    garage.do("RU09")

    # the sump is taken off again, when the engine has been hot already
    undone = garage.type("start", "OP02", "--again", "--because", "the pan weeps at the rear seal")
    assert {end["id"] for end in undone["opened"]} == PAN_OFF
    assert set(undone["again"]) == {"RU01", "OP09", "OP10", "RU08"}
    assert undone["shut"] == ["first-crank", "first-fire"]
    again = {"OP02", "RU01", "OP09", "OP10"} | PAN_OFF - {DIPSTICK}
    assert garage.blocking("first-crank") == again
    assert garage.blocking("first-fire") == {"first-crank"} | again
    shut = {"first-crank", "first-fire"}
    assert garage.blocking("first-roll") == shut | again | {"RU08", DIPSTICK} | NOT_YET_ROLLING | NOT_HOLDING
    assert "shut again" in garage.type("finish", "RU13", code=2)["problems"][0]["says"]
    garage.set("reading.pickup_gap", "11 ± 0.3 mm, calipered")  # the pickup was bent while the pan was off
    assert "6 to 10 mm" in garage.type("finish", "OP02", code=2)["problems"][0]["says"]
    garage.set("reading.pickup_gap", READINGS["pickup_gap"])
    assert {end["id"] for end in garage.do("OP02")["closed"]} == {"pickup_off"}
    for job in ("OP09", "RU01", "OP10"):
        garage.do(job)
    garage.pass_gate("first-crank")
    garage.pass_gate("first-fire")
    assert {end["id"] for end in garage.do("RU08")["opened"]} == {"joints_not_re_torqued_hot"}
    assert garage.site().status.job("RU09").state is State.again
    garage.do("RU09")

    # a longer reading of the shaft turns the finding that its maker relied on
    _work_through(garage, "RU12")
    assert garage.blocking("first-roll") == met_at("first-roll")
    garage.mend("first-roll")
    length = "1186 mm, taped"
    garage.set("prop_shaft.length", "1890 mm, taped")
    turned = garage.type("jobs")["look_again"]
    assert {one["job"] for one in turned} >= {"DF06"}
    assert any("prop_shaft.length was written since" in one["says"] for one in turned if one["job"] == "DF06")
    assert garage.blocking("first-roll") == {"driveline.length.prop_shaft", "driveline.whirl.prop_shaft"}
    garage.set("prop_shaft.length", length)
    assert garage.type("jobs")["look_again"] == []

    # one thing is passed although it is open, with the reason in the journal
    garage.type("loose", "--add", "bonnet held by a strap @ first-roll")
    assert garage.blocking("first-roll") == {"bonnet_held_by_a_strap"}
    garage.pass_gate("first-roll", "--although", "the bonnet stays strapped in the yard")
    journal = garage.trialfit("journal", garage.file, "--json").json["changes"]
    assert journal[-1]["after"]["although"] == "the bonnet stays strapped in the yard"
    garage.do("RU12")
    assert garage.type("loose", "--close", "bonnet_held_by_a_strap", code=2)
    garage.type("loose", "--close", "bonnet_held_by_a_strap", "--because", "hinges and catch are on")

    _work_through(garage, "CE09")
    assert garage.blocking("road") == met_at("road")
    assert garage.against() == met_at("road") | met_at("by the way")
    garage.mend("road")
    garage.mend("by the way")
    assert garage.against() == set()
    garage.pass_gate("road")
    last = garage.site()
    for job in last.network.jobs:
        if not last.status.is_done(job):
            garage.do(job)

    assert len(garage.finished) > 100
    assert garage.open_ends() == set()
    assert {stand.stand for stand in garage.site().standings.values()} == {"done"}
    assert garage.site().status.problems == []
    with Book.open(garage.file, read_only=True) as book:
        changes = [change for change in book.journal() if change.path.startswith("work.")]
    assert len(changes) == len(garage.site().events), "each thing done is one change"
