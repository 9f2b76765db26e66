"""Heat beside fuel, brake fluid and wire, whatever both are fixed to; shafts that go with the suspension; places that are not well known."""

from __future__ import annotations

import pytest
from clearance_builds import DRIVETRAIN, solid

from trialfit.evaluation.verdict import Verdict

DOWNPIPE = solid(-900, 0, 250, 400, 60, 60, neighbour="hot", hot_growth="0 %, manual")
MANIFOLD = solid(0, 200, 0, 400, 60, 60, neighbour="hot", hot_growth="0 %, manual", fixed_to="drivetrain")


def test_a_downpipe_on_a_brake_line_is_seen_though_both_are_on_the_car(worked):
    finding = worked(downpipe=DOWNPIPE, line=solid(-900, 0, 250, 400, 6, 6, neighbour="brake line"))[
        "clearance.gap.downpipe.line"
    ]

    assert (finding.verdict, finding.stake) == (Verdict.fails, "safety")


def test_the_line_led_along_the_other_sill_holds(worked):
    finding = worked(downpipe=DOWNPIPE, line=solid(-900, 130, 250, 400, 6, 6, neighbour="brake line"))[
        "clearance.gap.downpipe.line"
    ]

    assert (finding.verdict, finding.value.nominal) == (Verdict.holds, pytest.approx(97))


def test_a_fuel_hose_through_a_manifold_is_seen_though_both_are_on_the_engine(worked):
    """Rock and heave move them alike: what is judged is how far they are apart on the engine."""
    drivetrain = {**DRIVETRAIN, "rock": "4 ± 0 deg", "heave": "9 ± 0 mm"}
    near, far = (
        worked(
            drivetrain=drivetrain,
            manifold=MANIFOLD,
            hose=solid(0, y, 0, 400, 10, 10, neighbour="fuel", fixed_to="drivetrain"),
        )
        for y in (200, 340)
    )

    assert near["clearance.gap.manifold.hose"].verdict is Verdict.fails
    assert (far["clearance.gap.manifold.hose"].verdict, far["clearance.gap.manifold.hose"].value.nominal) == (
        Verdict.holds,
        pytest.approx(105),
    )


def test_no_exemption_excuses_heat_beside_fuel(worked):
    """Bolted together, or a clearance of the builder's own: only a manual may say less than the table."""
    hose = solid(0, 340, 0, 400, 10, 10, neighbour="fuel", fixed_to="drivetrain")
    near = {**hose, "y": "280 ± 0 mm"}
    bolted, wished, by_manual = (
        worked(drivetrain=DRIVETRAIN, manifold=MANIFOLD, hose={**near, **own})["clearance.gap.manifold.hose"]
        for own in ({"touches": "manifold"}, {"required_clearance": "20 mm"}, {"required_clearance": "20 mm, manual"})
    )

    assert (bolted.verdict, by_manual.verdict) == (Verdict.fails, Verdict.holds)
    assert wished.verdict is Verdict.fails
    assert {limit.limit.nominal for limit in wished.limits} == {20, 100}
    assert {limit.limit.nominal for limit in by_manual.limits} == {20, 100}


def test_a_pipe_that_grows_hot_comes_nearer_to_what_its_end_points_at(worked):
    """1.5 m and 0.6 %: 9 mm. Cold 104 mm from the tank, hot 95."""
    tank = solid(-1000, 0, 250, 100, 300, 200, neighbour="fuel")
    pipe = solid(-96, 0, 250, 1500, 50, 50, neighbour="hot", hot_growth="0.6 %")
    hot, mended = (
        worked(pipe=one, tank=tank)["clearance.gap.pipe.tank"] for one in (pipe, {**pipe, "x": "-85 ± 0 mm"})
    )

    assert (hot.value.nominal, hot.verdict) == (pytest.approx(95), Verdict.fails)
    assert (mended.value.nominal, mended.verdict) == (pytest.approx(106), Verdict.holds)


LIVE = {
    "car": {"rear_suspension": "live axle"},
    "gearbox": {
        "output_x": "-900 ± 0 mm",
        "output_y": "0 ± 0 mm",
        "output_z": "400 ± 0 mm",
        "output_inclination": "0 ± 0 deg",
        "output_heading": "0 ± 0 deg",
    },
    "prop_shaft": {"after": "gearbox", "length": "1200 ± 0 mm", "tube_outside_diameter": "80 ± 0 mm"},
    "final_drive": {
        "after": "prop_shaft",
        "input_x": "-2100 ± 0 mm",
        "input_y": "0 ± 0 mm",
        "input_z": "400 ± 0 mm",
        "input_inclination": "0 ± 0 deg",
        "input_heading": "0 ± 0 deg",
        "wind_up": "0 ± 0 deg, gauged",
        "bump_travel": "95 ± 0 mm",
        "droop_travel": "80 ± 0 mm",
    },
    "axle_location": {  # equal links so long that the axle goes straight up
        "held_by": "links",
        **{f"{which}_body_x": "3600 ± 0 mm" for which in ("lower", "upper")},
        **{f"{which}_axle_x": "-2400 ± 0 mm" for which in ("lower", "upper")},
        **{
            f"{which}_{end}_z": f"{height} ± 0 mm"
            for which, height in (("lower", 250), ("upper", 450))
            for end in ("body", "axle")
        },
    },
}


def tunnel(height):
    return solid(-1800, 0, height, 100, 300, 10)


@pytest.mark.parametrize(("height", "verdict"), [(520, Verdict.fails), (550, Verdict.holds)])
def test_a_shaft_that_clears_the_tunnel_at_rest_hits_it_at_bump(worked, height, verdict):
    """Flat at 400 mm with 40 mm of radius: 75 mm below a roof at 515. At bump its rear end is at 495, and where the roof ends, 0.95 m
    behind the gearbox, its top is at 515 and more.
    """
    finding = worked(**LIVE, tunnel=tunnel(height))["clearance.gap.prop_shaft.tunnel"]

    assert finding.verdict is verdict
    assert finding.state == "prop shaft with the axle at full bump"
    assert finding.value.nominal == pytest.approx(height - 5 - 400 - 40 - 95 * 950 / 1200, abs=1)


def test_a_half_shaft_goes_up_with_its_wheel_into_the_exhaust(worked):
    """Inner joint at 300 mm, outer at 280: at 70 mm of bump its middle is at 325 and its top 12 mm higher."""
    shaft = {
        "kind": "half_shaft",
        "side": "left",
        "inner_x": "-2400 ± 0 mm",
        "inner_y": "120 ± 0 mm",
        "inner_z": "300 ± 0 mm",
        "outer_x": "-2400 ± 0 mm",
        "outer_y": "600 ± 0 mm",
        "outer_z": "280 ± 0 mm",
        "bar_diameter": "24 ± 0 mm",
        "bump_travel": "70 ± 0 mm",
        "droop_travel": "70 ± 0 mm",
        "outward_at_bump": "0 ± 0 mm",
        "outward_at_droop": "0 ± 0 mm",
    }
    car = {"rear_suspension": "independent"}
    low, high = (
        worked(
            car=car, shaft=shaft, pipe=solid(-2400, 360, height, 600, 50, 50, neighbour="hot", hot_growth="0 %, manual")
        )["clearance.gap.shaft.pipe"]
        for height in (375, 400)
    )

    assert (low.verdict, high.verdict) == (Verdict.fails, Verdict.holds)
    assert low.state == "shaft with its wheel at full bump"


def test_a_pair_that_is_far_by_the_tape_but_not_by_its_spread_is_listed(worked):
    """120 mm apart where 12 are asked, but its place is known to ±150 mm: it may touch. Known to ±20 mm it is far."""
    unit = solid(0, 0, 0, 300, 200, 100, fixed_to="drivetrain")
    vague, known = (
        worked(
            512, drivetrain=DRIVETRAIN, unit=unit, tank={**solid(320, 0, 400, 100, 200, 100), "x": f"320 ± {spread} mm"}
        )
        for spread in (150, 20)
    )

    assert vague["clearance.gap.unit.tank"].verdict is Verdict.unsettled
    assert [one.id for one in known.findings if ".gap." in one.id] == []
    assert known.findings_left_out == 1


def test_a_brake_pipe_whose_side_is_not_written_is_asked_for_and_does_not_vanish(worked):
    """Nobody leads one down the middle: the pair is not known, and what is at stake is safety."""
    pipe = solid(-900, 60, 250, 400, 6, 6, neighbour="brake line")
    lost = worked(downpipe=DOWNPIPE, line={name: said for name, said in pipe.items() if name != "y"})

    assert lost["clearance.place.line"].missing.keys() == {"line.y"}
    assert (lost["clearance.place.line"].verdict, lost["clearance.place.line"].stake) == (Verdict.unknown, "safety")
    assert worked(downpipe=DOWNPIPE, line=pipe)["clearance.gap.downpipe.line"].verdict is Verdict.fails


def test_an_axle_that_moves_by_nobody_knows_how_much_is_asked_for(worked):
    """45 mm hold at rest; 95 mm of bump pinch the hose. A steering column turns where it is."""
    axle = solid(-2500, 0, 280, 80, 1200, 80, neighbour="moving")
    hose = solid(-2500, 300, 370, 10, 200, 10, neighbour="brake line")
    still = worked(axle_tube=axle, hose=hose)
    told = worked(axle_tube={**axle, "travel_z": "95 ± 0 mm"}, hose=hose)["clearance.gap.axle_tube.hose"]

    assert set(still["clearance.place.axle_tube"].missing) == {"axle_tube.travel_z"}
    assert told.verdict is Verdict.fails
    assert worked(steering_column=axle, hose=hose)["clearance.gap.steering_column.hose"].verdict is Verdict.holds


def test_a_name_that_says_heat_is_asked_about(worked):
    """An exhaust without its neighbour is no plain one: 57 mm are enough for that, and not for a brake line beside it."""
    pipe = solid(0, 200, 0, 400, 60, 60, fixed_to="drivetrain")
    line = solid(0, 290, 400, 400, 6, 6, neighbour="brake line")
    bad, plain = (
        worked(drivetrain=DRIVETRAIN, exhaust_downpipe=one, line=line)["clearance.gap.exhaust_downpipe.line"]
        for one in (pipe, {**pipe, "neighbour": "plain"})
    )

    assert (bad.verdict, bad.stake, set(bad.missing)) == (Verdict.unknown, "safety", {"exhaust_downpipe.neighbour"})
    assert plain.verdict is Verdict.holds


def test_a_guess_that_nothing_moves_settles_nothing(worked):
    """Exactly still by guess: the usual 3 to 13 mm count beside it; what was levered and taped holds."""
    hose = solid(0, 337, 400, 400, 10, 10, neighbour="fuel")
    still = {**DRIVETRAIN, "heave": "0 ± 0 mm, guess", "fore_aft": "0 ± 0 mm, guess", "rock": "0 ± 0 deg, guess"}
    guessed, taped = (
        worked(drivetrain=one, manifold=MANIFOLD, hose=hose)["clearance.gap.manifold.hose"]
        for one in (still, {**still, "heave": "0 mm, taped", "fore_aft": "0 mm, taped", "rock": "0 deg, gauged"})
    )

    assert guessed.verdict is Verdict.unsettled
    assert "Keep to the usual drivetrain.heave" in guessed.held_back[0]
    assert taped.verdict is Verdict.holds
