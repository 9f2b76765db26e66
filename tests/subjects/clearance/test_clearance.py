"""Gaps, ground, removal, lever, level and axle load where the drivetrain sits: closed answers on builds of a few lines."""

from __future__ import annotations

import numpy as np
import pytest

from trialfit.evaluation.verdict import Verdict
from trialfit.subjects.catalogue import evaluate
from trialfit.subjects.clearance.wanted import usual_gap

GAP = "clearance.gap.sump.rack"


def worked(build, draws=512):
    return evaluate(build, draws, ("clearance",))


def test_the_gap_is_that_of_the_two_faces(build):
    """Sump front at 150 mm, rack rear face at 170 mm: 20 mm, 12 wanted (common practice, no source)."""
    finding = worked(build())[GAP]

    assert finding.value.nominal == pytest.approx(20.0, abs=1e-4)
    assert finding.limit.nominal == pytest.approx(12.0)
    assert finding.verdict is Verdict.holds
    assert "common practice, no source" in finding.source


def test_the_spread_is_that_of_both_places(build):
    """2 mm and 3 mm (k = 2) on two places along x: √(2² + 3²), as limits of 95 % a little less."""
    finding = worked(build(sump={"x": "0 ± 2 mm"}, rack={"x": "190 ± 3 mm"}), 4096)[GAP]

    assert (finding.value.high - finding.value.low) / 2 == pytest.approx(np.hypot(2, 3) * 0.98, rel=0.03)
    assert finding.verdict is Verdict.holds
    assert {fact.path for fact in finding.facts if fact.share > 0.1} == {"sump.x", "rack.x"}


def test_a_neighbour_that_moves_is_judged_where_it_comes_nearest(build):
    assert worked(build(rack={"travel_x": "7 ± 0 mm"}))[GAP].value.nominal == pytest.approx(13.0, abs=1e-4)
    assert worked(build(rack={"travel_y": "7 ± 0 mm"}))[GAP].value.nominal == pytest.approx(20.0, abs=1e-4)


def test_a_drivetrain_that_rocks_comes_nearer_to_what_is_beside_it(build):
    """A wall beside the sump, which turns by 2° about the crank: half widths 100, drop from 50 to 150 mm below it."""
    wall = {"x": "0 ± 0 mm", "y": "130 ± 0 mm", "length": "900 ± 0 mm", "width": "20 ± 0 mm", "height": "600 ± 0 mm"}
    found = worked(build(rack=wall, drivetrain={"rock": "2 ± 0 deg"}))[GAP].value.nominal
    corner = 100 * np.cos(np.radians(2)) + 150 * np.sin(np.radians(2))

    assert found == pytest.approx(120 - corner, abs=1e-3)


@pytest.mark.parametrize(
    ("kind", "gap", "stake"),
    [
        ("fuel", 15, "safety"),
        ("hot", 30, "durability"),
        ("moving", 15, "durability"),
        ("access", 0, "comfort"),
        ("wire", 12, "safety"),
    ],
)
def test_the_gap_wanted_goes_by_the_kind_of_neighbour(build, kind, gap, stake):
    finding = worked(build(rack={"neighbour": kind}))[GAP]

    assert finding.limit.nominal == pytest.approx(gap)
    assert finding.stake == stake


def test_the_builders_own_gap_takes_the_place_of_the_usual_one(build):
    finding = worked(build(sump={"gap": "25 mm"}))[GAP]

    assert (finding.limit.nominal, finding.verdict, finding.source) == (25.0, Verdict.fails, "set by the builder")


def test_the_graver_neighbour_decides():
    assert usual_gap("hot", "fuel") == usual_gap("fuel", "hot")
    assert usual_gap("moving", "wire").gap > usual_gap("plain", "wire").gap
    assert usual_gap("hot", "access").gap == 0.0


def test_what_is_bolted_together_is_not_judged(build):
    assert not [one for one in worked(build(rack={"touches": "sump"})).findings if one.id == GAP]


def test_what_is_far_away_is_not_listed(build):
    assert not [one for one in worked(build(rack={"x": "900 ± 0 mm"})).findings if one.id == GAP]


def test_the_lowest_point_is_that_over_all_movements(build):
    finding = worked(build(drivetrain={"heave": "6 ± 0 mm", "ground_clearance": "246 mm"}))["clearance.ground.sump"]

    assert finding.value.nominal == pytest.approx(400 - 150 - 6)
    assert finding.verdict is Verdict.fails


def test_a_sump_comes_off_only_where_nothing_is_in_its_way(build):
    """The rack below the sump's front: going down it is 20 mm past the face, or it lands on it."""
    beside = worked(build(sump={"removal_drop": "90 mm"}))["clearance.removal.sump"]
    below = worked(build(sump={"removal_drop": "90 mm"}, rack={"x": "150 ± 0 mm", "z": "180 ± 0 mm"}))[
        "clearance.removal.sump"
    ]

    assert (beside.value.nominal, beside.verdict) == (pytest.approx(20.0, abs=1e-3), Verdict.holds)
    assert (below.value.nominal < 0, below.verdict) == (True, Verdict.fails)


@pytest.mark.parametrize(("part", "fact"), [("sump", "x"), ("rack", "height"), ("drivetrain", "z")])
def test_a_missing_fact_makes_the_place_unknown_and_is_named(build, part, fact):
    report = worked(build(**{part: {fact: None}}))
    unknown = [finding for finding in report.findings if finding.verdict is Verdict.unknown]

    assert unknown
    assert any(f"{part}.{fact}" in finding.missing for finding in unknown)


def test_a_build_without_solids_is_not_asked_for_any(build):
    assert worked(build(drivetrain=None, sump=None, rack=None, car={"mass": "900 kg"})).findings == ()


def test_the_lever_is_as_far_from_each_edge_as_it_is(build):
    lever = {"lever_x": "-400 ± 0 mm", "lever_y": "0 ± 0 mm", "lever_z": "200 ± 0 mm"}
    opening = {"front_x": "-340 ± 0 mm", "rear_x": "-450 ± 0 mm", "left_y": "50 ± 0 mm", "right_y": "-20 ± 0 mm"}
    report = worked(build(drivetrain=lever, lever_opening=opening))
    found = [report[f"clearance.lever.{edge}"] for edge in ("front", "rear", "left", "right")]

    assert [one.value.nominal for one in found] == pytest.approx([60, 50, 50, 20])
    assert [one.verdict for one in found] == ["holds", "holds", "holds", "fails"]


def test_a_crank_that_drops_rearward_moves_the_lever_down_and_forward(build):
    """Inclination 5° turns the tail down: the lever 200 mm up goes back by 200·sin 5°, 400 mm behind comes forward by 400·(1 − cos 5°)."""
    lever = {"lever_x": "-400 ± 0 mm", "lever_y": "0 ± 0 mm", "lever_z": "200 ± 0 mm", "inclination": "5 ± 0 deg"}
    opening = {"front_x": "-340 ± 0 mm", "rear_x": "-450 ± 0 mm", "left_y": "50 ± 0 mm", "right_y": "-20 ± 0 mm"}
    x = -400 * np.cos(np.radians(5)) - 200 * np.sin(np.radians(5))

    assert worked(build(drivetrain=lever, lever_opening=opening))[
        "clearance.lever.front"
    ].value.nominal == pytest.approx(-340 - x)


def test_level_counts_both_ways(build):
    found = [
        worked(
            build(drivetrain={"inclination": f"{at} ± 0 deg", "level_inclination": "3 deg", "level_tolerance": "2 deg"})
        )["clearance.level"]
        for at in (0.5, 1.5, 4.5, 5.5)
    ]

    assert [one.verdict for one in found] == ["fails", "holds", "holds", "fails"]


def test_the_rear_axle_must_carry_its_share(build):
    car = {"mass": "1000 ± 0 kg", "rear_axle_mass": "480 ± 0 kg", "wheelbase": "2.4 ± 0 m"}
    finding = worked(build(car=car, drivetrain={"mass": "250 kg", "minimum_rear_share": "50 %"}))[
        "clearance.rear_share"
    ]

    assert (finding.value.nominal, finding.verdict) == (pytest.approx(48.0), Verdict.fails)


@pytest.mark.parametrize("shape", ["cylinder", "capsule", "cone", "hull"])
def test_every_shape_stands_where_it_is_written(build, lines, shape):
    """Each fills the same 40 mm along the car as the box did."""
    shapes = {
        "cylinder": {"along": "y", "length": "800 ± 0 mm", "diameter": "40 ± 0 mm"},
        "capsule": {"along": "y", "length": "800 ± 0 mm", "diameter": "40 ± 0 mm"},
        "cone": {"along": "y", "length": "800 ± 0 mm", "diameter": "40 ± 0 mm", "end_diameter": "40 ± 0 mm"},
        "hull": {"length": None},
    }
    made = build(rack={"shape": shape, **shapes[shape]}) if shape != "hull" else hull_build(lines)

    assert worked(made)[GAP].value.nominal == pytest.approx(20.0, abs=0.05)


def hull_build(lines):
    """The rack as eight taped corners."""
    from trialfit.book import read_text

    corners = [(x, y, z) for x in (-20, 20) for y in (-400, 400) for z in (-20, 20)]
    quoted = [[f'"{corner[number]} ± 0 mm"' for corner in corners] for number in range(3)]
    lists = "\n".join(f"points_{axis} = [{', '.join(row)}]" for axis, row in zip("xyz", quoted, strict=True))
    text = "\n".join(
        f"[{name}]\n" + "\n".join(f'{key} = "{value}"' for key, value in entries.items())
        for name, entries in lines.items()
        if name != "rack"
    )
    place = "\n".join(f'{key} = "{lines["rack"][key]}"' for key in ("x", "y", "z", "roll", "inclination", "heading"))
    return read_text(f'{text}\n[rack]\nkind = "solid"\nshape = "hull"\n{place}\n{lists}')


def test_gaps_work_with_one_draw(build):
    assert worked(build(), 1)[GAP].value.nominal == pytest.approx(20.0, abs=1e-4)


def test_the_hoist_takes_it_past_what_stays_on_the_car(build):
    """A shelf over the sump's front edge is in the way; taken off, the rack in front of the sump is what comes nearest."""
    shelf = {
        **dict.fromkeys(("x", "y"), "0 ± 0 mm"),
        "z": "700 ± 0 mm",
        "length": "500 mm",
        "width": "500 mm",
        "height": "20 mm",
    }
    tilt = dict.fromkeys(("roll", "inclination", "heading"), "0 ± 0 deg")
    lifted = {"removal_height": "600 mm"}
    shut = worked(build(drivetrain=lifted, bonnet={"kind": "solid", **shelf, **tilt}), 64)["clearance.hoist"]
    open_ = worked(build(drivetrain=lifted, bonnet={"kind": "solid", **shelf, **tilt, "taken_off": "yes"}), 64)[
        "clearance.hoist"
    ]

    assert (shut.verdict, open_.verdict) == (Verdict.fails, Verdict.holds)
    assert open_.value.nominal == pytest.approx(20.0, abs=1e-3)


def test_a_way_past_a_bulkhead_is_searched(build):
    """A shelf over the rear of the sump: straight up it is in the way; forward by a few hundred millimetres the sump passes it."""
    exact = dict.fromkeys(("roll", "inclination", "heading"), "0 ± 0 deg")
    shelf = {
        "kind": "solid",
        **exact,
        "x": "-160 ± 0 mm",
        "y": "0 ± 0 mm",
        "z": "700 ± 0 mm",
        "length": "300 ± 0 mm",
        "width": "800 ± 0 mm",
        "height": "20 ± 0 mm",
    }
    rack = {"z": "60 ± 0 mm"}
    finding = worked(build(drivetrain={"removal_height": "900 mm"}, rack=rack, bulkhead=shelf), 64)["clearance.hoist"]
    straight = 300 / 2 - 160 + 150  # how far the shelf stands over the sump

    assert straight > 0
    assert finding.verdict is Verdict.holds
    assert "mm forward" in finding.remark + finding.says


def test_a_neighbour_may_move_further_one_way_than_the_other(build):
    """Forward 2 mm and back 7: the rack in front comes 7 mm nearer; written the other way round, 2."""
    back = worked(build(rack={"travel_x": "2 ± 0 mm", "travel_back": "7 ± 0 mm"}))[GAP]
    forth = worked(build(rack={"travel_x": "7 ± 0 mm", "travel_back": "2 ± 0 mm"}))[GAP]

    assert (back.value.nominal, forth.value.nominal) == pytest.approx((13.0, 18.0), abs=1e-4)
    assert "rack.travel_back" in {fact.path for fact in back.facts}


def _half(finding):
    return (finding.value.high - finding.value.low) / 2


def test_the_size_of_a_cone_is_part_of_the_spread(build):
    """A stump along x behind the rack, its thick end ±4 mm: the gap above it ±2 mm."""
    cone = {"shape": "cone", "width": None, "height": None, "diameter": "200 ± 4 mm", "end_diameter": "100 ± 0 mm"}
    rack = {"x": "-100 ± 0 mm", "z": "450 ± 0 mm"}
    finding = worked(build(sump=cone, rack=rack), 2048)[GAP]

    assert _half(finding) == pytest.approx(2 * 0.98, rel=0.1)
    assert max(finding.facts, key=lambda fact: fact.share).path == "sump.diameter"


def test_the_taped_points_of_a_hull_are_part_of_the_spread(build):
    """A wedge whose foremost point is taped to ±3 mm: so is its gap to the rack, and that point is named."""
    points = {
        "points_x": '["-100 ± 0 mm", "-100 ± 0 mm", "-100 ± 0 mm", "150 ± 3 mm"]',
        "points_y": '["-100 ± 0 mm", "100 ± 0 mm", "0 ± 0 mm", "0 ± 0 mm"]',
        "points_z": '["-40 ± 0 mm", "-40 ± 0 mm", "60 ± 0 mm", "0 ± 0 mm"]',
    }
    no_box = dict.fromkeys(("length", "width", "height"))
    finding = worked(build(sump={**no_box, "shape": "hull", **points}, rack={"z": "300 ± 0 mm"}), 2048)[GAP]

    assert finding.value.nominal == pytest.approx(20.0, abs=1e-3)
    assert _half(finding) == pytest.approx(3 * 0.98, rel=0.03)
    assert max(finding.facts, key=lambda fact: fact.share).path == "sump.points_x.4"
