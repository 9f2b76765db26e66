"""What is put first to be measured, and what is not to be measured at all: each bad order beside the one that is mended."""

from __future__ import annotations

import pytest

from trialfit.advice.instruments import ways_to_get
from trialfit.advice.inventory import State, inventory
from trialfit.advice.next_step import next_step
from trialfit.advice.what_to_measure import Measurement, Outcome, measure_next
from trialfit.book import read_text
from trialfit.evaluation.evaluation import Evaluation
from trialfit.evaluation.finding import Report
from trialfit.evaluation.verdict import Verdict
from trialfit.evaluation.working import work_out
from trialfit.facts.quantity import LENGTH
from trialfit.subjects.lifting import requirements
from trialfit.subjects.structure import requirements as structure

LIFT = """
[unit]
kind = "mass_part"
mass = "200 ± 0 kg"
x = "0 ± 0 m"
y = "0 ± 0 m"
z = "0.5 ± 0 m"
hoisted_by = "out"
[out]
kind = "lift"
hook_x = "0.12 ± 0 m"
hook_y = "0 ± 0 m"
hook_z = "1.3 ± 0 m"
target_tilt = "11 deg"
hole = "1"
[workshop_crane]
hole_reaches = ["0.9 m", "1.1 m"]
hole_ratings = ["1500 kg, manual", "1000 kg, manual"]
"""
STANDS = """
[car]
mass = "1100 ± 250 kg, guess"
rear_axle_mass = "480 ± 0 kg"
seats = "1"
wheelbase = "2.4 ± 0 m"
[in_front]
kind = "stands"
rated_mass = "400 kg, manual"
spacing = "0.9 ± 0 m"
inboard = "0 ± 0 m"
off_centre = "0 ± 0 m"
"""
OUT = '[work.1]\nwhat = "start"\nwhen = "2026-03-01T09:00:00+00:00"\njob = "SD07"\n'
BACK = '[work.2]\nwhat = "finish"\nwhen = "2026-03-01T15:00:00+00:00"\njob = "SD07"\n[work.3]\nwhat = "finish"\nwhen = "2026-09-01T09:00:00+00:00"\njob = "RU10"\n'
ORDERED = '[order.engine]\npart = "unit"\nordered = "2026-02-01"\n'
ARRIVED = ORDERED + 'arrived = "2026-02-20"\n'


def listed(text: str, *which: str) -> tuple[Report, tuple[Measurement, ...]]:
    """Findings of lifting by id, and what to measure for them, first things first."""
    build = read_text(text)
    chosen = [one for one in requirements(build) if one.id in which]
    report = work_out(Evaluation(build, 256), chosen)
    return report, measure_next(build, report)


def test_a_target_is_decided_and_not_measured() -> None:
    """A target tilt of 11 ± 8° leaves the tilt unsettled: no angle gauge makes a wish better known."""
    text = LIFT.replace('"11 deg"', '"11 ± 8 deg"')
    report, found = listed(text, "lifting.tilt.out")
    finding = report["lifting.tilt.out"]

    assert finding.verdict is Verdict.unsettled
    assert [(one.path, one.instrument, one.is_decided) for one in found] == [("out.target_tilt", "", True)]
    assert "decide it, and write it without a spread" in found[0].helps
    assert not next_step(read_text(text), finding).startswith("Measure")


def test_a_target_without_a_spread_is_exact() -> None:
    """Decided: the finding holds, and nothing is left to do."""
    report, found = listed(LIFT, "lifting.tilt.out")

    assert report["lifting.tilt.out"].verdict is Verdict.holds
    assert found == ()


@pytest.mark.parametrize(("fact", "state"), [("cruise_speeds", State.to_decide), ("rear_axle_mass", State.missing)])
def test_a_missing_target_is_to_decide_in_the_list_of_facts(fact, state) -> None:
    """The speeds of the road are chosen; the load on the axle is weighed."""
    (car,) = inventory(
        read_text('[car]\nmass = "1000 kg"\n[engine]\npeak_torque = "200 N·m"\n[tyre]\ncircumference = "1.8 m"\n'),
        "car",
    ).parts

    assert next(one for one in car.facts if one.path == f"car.{fact}").state is state


def test_a_reading_that_would_only_make_things_fail_is_not_first() -> None:
    """The stand is too weak for the mass as guessed, at stake safety; the reach holds once it is taped, at stake durability."""
    reach = LIFT.replace('hole = "1"', 'reach = "0.905 ± 0.05 m, guess"\nrequired_reach = "0.89 ± 0 m"')
    heavy = STANDS.replace("400 kg, manual", "305 kg, manual")
    report, found = listed(reach + heavy, "lifting.stand_load.in_front", "lifting.reach.out")

    assert report["lifting.stand_load.in_front"].verdict is Verdict.unsettled
    assert [one.path for one in found] == ["out.reach", "car.mass"]
    assert {one.would for one in found[1].findings} == {Outcome.would_fail}
    assert found[1].helps.startswith("At the present values it would only show that this fails")


def test_the_same_reading_comes_first_where_it_would_make_things_hold() -> None:
    """A stand with a higher rating: safety before durability."""
    reach = LIFT.replace('hole = "1"', 'reach = "0.905 ± 0.05 m, guess"\nrequired_reach = "0.89 ± 0 m"')
    _, found = listed(reach + STANDS, "lifting.stand_load.in_front", "lifting.reach.out")

    assert [one.path for one in found] == ["car.mass", "out.reach"]
    assert found[0].findings[0].would is Outcome.would_hold


@pytest.mark.parametrize(
    ("record", "first", "why"),
    [
        ("", "car.mass", ""),
        (OUT, "out.reach", "It needs the whole car on its wheels, and SD07 is begun"),
        (OUT + BACK, "car.mass", ""),
    ],
    ids=["nothing done yet", "engine out", "back on its wheels"],
)
def test_a_car_in_pieces_is_not_weighed_first(record, first, why) -> None:
    """The mass at stake safety waits until the engine is in; what can be taped now comes first, whatever its stake."""
    reach = LIFT.replace('hole = "1"', 'reach = "0.905 ± 0.05 m, guess"\nrequired_reach = "0.89 ± 0 m"')
    _, found = listed(reach + STANDS + record, "lifting.stand_load.in_front", "lifting.reach.out")

    assert found[0].path == first
    (mass,) = (one for one in found if one.path == "car.mass")
    assert mass.later.startswith(why)
    assert bool(mass.later) == bool(why)


@pytest.mark.parametrize(("order", "is_later"), [(ORDERED, True), (ARRIVED, False)], ids=["ordered", "arrived"])
def test_a_part_that_has_not_arrived_is_measured_later(order, is_later) -> None:
    """The mass of an engine that is on its way: unsettled against the plate of the crane, and not to be weighed today."""
    _, found = listed(LIFT.replace("200 ± 0 kg", "700 ± 700 kg, guess") + order, "lifting.boom.out")

    assert [(one.path, bool(one.later)) for one in found] == [("unit.mass", is_later)]
    assert not is_later or found[0].later == "unit is not there yet: it is ordered, without a date."


WELD = """
[seam]
kind = "weld"
pattern = "all round"
width = "60 mm, calipered"
depth = "80 mm, calipered"
leg = "4 mm, calipered"
thicker = "5 mm, calipered"
thinner = "4 mm, calipered"
base_thickness = "1.2 mm, guess"
base_width = "100 mm, taped"
load = "1200 N ± 5 %"
reach = "{reach} mm, taped"
torch_access = "200 mm, taped"
edge_distance = "9 mm, guess"
"""


@pytest.mark.parametrize(("reach", "first"), [("150", "structure.sheet_bending.seam"), ("0", "")])
def test_a_weld_that_fails_is_changed_before_its_sizes_are_measured(reach: str, first: str) -> None:
    """The sheet under it folds: the distance to the edge of a part that is made anew settles nothing."""
    build = read_text(WELD.format(reach=reach))
    chosen = [one for one in structure(build) if "sheet_bending" in one.id or "weld_place" in one.id]
    found = {one.path: one for one in measure_next(build, work_out(Evaluation(build, 256), chosen))}
    edge = found["seam.edge_distance"]

    assert edge.fails == first
    assert ("fails whatever this shows" in edge.helps) is bool(first)


def test_the_wall_of_a_closed_rail_is_not_measured_with_a_micrometer() -> None:
    """Sound reaches it from one side; nothing else does."""
    ways = ways_to_get("weld", "base_thickness", LENGTH, 0.0012)

    assert [one.name for one in ways.instruments] == ["ultrasonic wall gauge"]
    assert "caliper" in ways_to_get("weld", "base_thickness", LENGTH, 0.0006).helps
