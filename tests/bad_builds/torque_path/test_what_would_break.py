"""Lines that a sane engineer would not send out, each beside its mended twin that holds."""

from __future__ import annotations

import pytest

from trialfit.evaluation.verdict import Verdict

HOLDS, FAILS, UNSETTLED, UNKNOWN = Verdict.holds, Verdict.fails, Verdict.unsettled, Verdict.unknown
AUTOMATIC = """
[torque_converter]
stall_torque_ratio = "2.0 ± 0.1, catalogue"
stall_speed = "2200 ± 100 rpm, catalogue"
rated_torque = "180 N·m, catalogue"
"""
LIVE = {"car.rear_suspension": "live axle"}
BARS = {
    f"half_shaft_{side}.{fact}": text
    for side in ("left", "right")
    for fact, text in (("bearing_diameter", "38 mm, calipered"), ("bearing_offset", "55 mm, taped"))
}


def test_the_sound_line_holds(line):
    """Else nothing below would show anything."""
    assert {finding.verdict for finding in line().values()} == {HOLDS}


def test_a_rating_by_telephone_does_not_strengthen_a_thin_bar(line):
    """A bar of 18 mm with a guess of 1500 N·m on it; the same guess on a bar that bears the shock holds."""
    guess = {"half_shaft_left.rated_torque": "1500 ± 1 N·m, guess"}
    thin = line(guess | {"half_shaft_left.bar_diameter": "18 mm, calipered"})["half_shaft.left"]

    assert thin.verdict is FAILS
    assert thin.limit.nominal < 900
    assert line(guess)["half_shaft.left"].verdict is HOLDS
    maker = {"half_shaft_left.rated_torque": "1500 N·m, manual", "half_shaft_left.bar_diameter": "18 mm, calipered"}
    assert line(maker)["half_shaft.left"].verdict is HOLDS


def test_a_guessed_clutch_does_not_outrank_its_facing(line):
    """159 N·m by clamp load and facing, 500 guessed."""
    facing = {
        "clutch.clamp_load": "3500 N ± 2 %, gauged",
        "clutch.facing_outside_diameter": "200 mm, calipered",
        "clutch.facing_inside_diameter": "130 mm, calipered",
        "engine.torque_curve": "rpm : N·m, manual | 1000 : 130 | 1700 : 150 | 2400 : 160 | 3100 : 165 | 3800 : 160 | 4500 : 150 | 5200 : 140 | 6000 : 120",
    }
    bad = line(facing | {"clutch.rated_torque": "500 ± 5 N·m, guess; should be plenty"})
    mended = line(facing | {"clutch.rated_torque": "230 N·m, manual"})

    assert bad["clutch"].verdict is FAILS
    assert mended["clutch"].verdict is HOLDS


def test_a_dropped_clutch_swings_past_what_the_tyres_hold(line):
    """A bar that bears what the tyres hold, 1000 N·m of one wheel, but no swing; a stout one bears that too."""
    smooth = {"half_shaft_left.notch_factor": "1.1 ± 0.05, manual"}
    thin = line(smooth | {"half_shaft_left.bar_diameter": "22 mm, calipered"})["half_shaft.left"]

    assert thin.verdict is not HOLDS
    assert thin.state.startswith("laden, 1st gear, ")
    assert thin.limit.nominal > 1300  # above what the tyres hold at rest
    assert line()["half_shaft.left"].verdict is HOLDS


def test_care_with_the_clutch_is_a_remark_never_a_default(line):
    """Written, it leaves the dropped clutch out and says so."""
    changes = {"clutch.rated_torque": "300 N·m, manual", "half_shaft_left.notch_factor": "1.05 ± 0.02, manual"}
    changes["half_shaft_left.bar_diameter"] = "22 mm, calipered"
    dropped = line(changes)["half_shaft.left"]
    careful = line(changes | {"car.clutch_use": "with care"})["half_shaft.left"]

    assert careful.value.nominal < dropped.value.nominal
    assert 'a dropped clutch is left out: car.clutch_use is "with care"' in careful.remark
    assert "left out" not in dropped.remark.replace("reverse is left out", "")


def test_a_clutch_of_four_times_the_torque_is_no_fuse(line):
    """It carries everything, and lets everything through."""
    thin = {"car.upper_grip": "2 ± 0, manual", "prop_shaft.tube_outside_diameter": "40 mm, calipered"}
    plain, bad = (line(thin | {"clutch.rated_torque": f"{torque} N·m, manual"}) for torque in (165, 480))

    assert bad["clutch"].verdict is HOLDS
    assert bad["clutch_excess"].verdict is FAILS
    assert bad["shaft.prop_shaft"].value.nominal > 1.3 * plain["shaft.prop_shaft"].value.nominal


@pytest.mark.parametrize("weather", ["0.2 ± 0.02, gauged; ice", "0.5 ± 0.1, guess; rain"])
def test_ice_and_rain_make_no_shaft_strong(line, weather):
    """The grip of the day is no upper grip, and a low upper grip counts only from a manual."""
    thin = {"half_shaft_left.bar_diameter": "20 mm, calipered"}

    for slippery in ("car.tyre_friction", "car.upper_grip"):
        assert line(thin | {slippery: weather})["half_shaft.left"].verdict is FAILS
    known = line(thin | {"car.upper_grip": "0.35 ± 0, manual; a car for the frozen lake"})
    assert known["half_shaft.left"].verdict is HOLDS


def test_soft_tyres_count_where_they_are_written(line):
    """A grip of the day of 1.6 is no less than that on the day of the shock."""
    strong = {"clutch.rated_torque": "300 N·m, manual", "half_shaft_left.bar_diameter": "22 mm, calipered"}
    strong["half_shaft_left.notch_factor"] = "1.1 ± 0.05, manual"
    softer = {"car.tyre_friction": "1.6 ± 0, gauged"}
    plain, soft = (line(strong | one)["half_shaft.left"] for one in ({}, softer))

    assert soft.value.nominal > plain.value.nominal


def test_a_pickup_that_was_weighed_empty_bears_its_load(line):
    """Laden with a ton, the bars give; weighed empty nobody would know. A car that never carries it holds."""
    bars = {f"half_shaft_{side}.bar_diameter": "24 mm, calipered" for side in ("left", "right")}
    stout = bars | {"clutch.rated_torque": "180 N·m, manual", "engine.application_factor": "1.5 ± 0.1, guess"}
    load = {"car.laden_mass": "1900 kg, manual", "car.laden_rear_axle_mass": "1350 kg, manual"}
    empty = {"car.laden_mass": "900 kg, manual", "car.laden_rear_axle_mass": "430 kg, manual"}
    bad = line(stout | load)["half_shaft.left"]

    assert bad.verdict is not HOLDS
    assert bad.state.startswith("laden")
    assert line(stout | empty)["half_shaft.left"].verdict is HOLDS


def test_a_bar_of_unknown_steel_may_be_mild_steel(line):
    """26 mm without a word on its steel: unsettled, and it names the fact; written, it settles."""
    thin = {"half_shaft_left.bar_diameter": "26 mm, calipered"}
    unknown = line(thin, without=("half_shaft_left.yield_strength",))["half_shaft.left"]
    mild = line(thin | {"half_shaft_left.yield_strength": "300 MPa, manual"})["half_shaft.left"]

    assert unknown.verdict is UNSETTLED
    assert "half_shaft_left.yield_strength" in unknown.typical
    assert mild.verdict is FAILS


def test_a_tube_of_unknown_steel_may_be_mild_steel(line):
    """The same for a prop shaft."""
    thin = {"prop_shaft.tube_outside_diameter": "45 mm, calipered"}

    assert line(thin, without=("prop_shaft.yield_strength",))["shaft.prop_shaft"].verdict is UNSETTLED
    assert line(thin | {"prop_shaft.yield_strength": "480 MPa, manual"})["shaft.prop_shaft"].verdict is HOLDS


def test_a_peak_between_two_far_points_is_not_lost(line):
    """95 N·m at 1000 and 85 at 6000 rpm hide a peak: the clutch cannot hold for sure. The peak written settles it."""
    far = {
        "engine.torque_curve": "rpm : N·m, manual | 1000 : 95 | 6000 : 85",
        "clutch.rated_torque": "130 N·m, manual",
    }
    written = far | {"engine.peak_torque": "120 N·m, manual", "engine.peak_torque_speed": "3100 rpm, manual"}

    assert line(far)["clutch"].verdict is UNSETTLED
    assert line(written)["clutch"].value.nominal == pytest.approx(130 / 120)
    assert line(written)["clutch"].verdict is FAILS
    assert line(written | {"clutch.rated_torque": "165 N·m, manual"})["clutch"].verdict is HOLDS


def test_peaks_with_their_speeds_are_enough_to_begin(line):
    """No curve at all: 120 N·m at 3100 and 58 kW at 5400 rpm."""
    peaks = {
        "engine.peak_torque": "120 N·m, manual",
        "engine.peak_torque_speed": "3100 rpm, manual",
        "engine.power": "58 kW, manual",
        "engine.power_speed": "5400 rpm, manual",
    }
    found = line(peaks, without=("engine.torque_curve",))

    assert {finding.verdict for finding in found.values()} == {HOLDS}


def test_without_a_clutch_nothing_holds_at_plain_engine_torque(line):
    """A build with an automatic and no word of it, with or without an invented point at rest."""
    rest = {"engine.torque_curve": "rpm : N·m, manual | 0 : 95 | 1700 : 105 | 3100 : 120 | 4500 : 110 | 6000 : 85"}
    for changes in ({}, rest):
        found = line(changes, without=("clutch",))
        assert {found[name].verdict for name in ("clutch", "gearbox", "half_shaft.left", "joint.front")} == {UNKNOWN}
        assert "torque_converter" in found["gearbox"].missing["clutch"]


def test_a_converter_multiplies_what_the_gearbox_sees(line):
    """2.0 times 120 N·m are too much for a gearbox rated 150 at its input; one rated for the engine bears it."""
    bad = line(also=AUTOMATIC, without=("clutch",))
    strong = {"gearbox.rated_at": "engine", "final_drive.rated_torque": "3300 N·m, manual"}
    mended = line(strong, also=AUTOMATIC, without=("clutch",))

    assert "clutch" not in bad
    assert bad["gearbox"].verdict is FAILS
    assert bad["gearbox"].value.nominal == pytest.approx(240)
    assert {finding.verdict for finding in mended.values()} == {HOLDS}
    assert all("dropped clutch" not in finding.state for finding in mended.values())


def test_a_converter_without_its_facts_is_unknown(line):
    """Until its stall speed and torque ratio are there nobody can say, and they are named."""
    found = line(also="[torque_converter]\n", without=("clutch",))["joint.front"]

    assert found.verdict is UNKNOWN
    assert set(found.missing) == {"torque_converter.stall_torque_ratio", "torque_converter.stall_speed"}


def test_a_gearbox_too_weak_for_the_engine_fails_whatever_the_wheelbase(line):
    """In top gear no car of this weight spins its wheels: 120 N·m on a box of 100."""
    without = ("car.wheelbase", "car.laden_mass", "car.laden_rear_axle_mass")
    weak = line({"gearbox.rated_torque": "100 N·m, manual"}, without=without)["gearbox"]
    strong = line(without=without)["gearbox"]

    assert weak.verdict is FAILS
    assert strong.verdict is HOLDS
    assert "whatever car.wheelbase may be" in weak.remark


def test_a_semi_floating_shaft_bends_where_the_wheel_is_set_out(line):
    """Wheels set far out, or a thin shaft at the bearing: the wheel may leave. As it came, it holds."""
    steel = {f"half_shaft_{side}.yield_strength": "700 MPa, manual" for side in ("left", "right")}
    sound = line(LIVE | BARS | steel)
    slim = LIVE | BARS | steel | {"half_shaft_left.bearing_diameter": "36 mm, calipered"}
    out = line(slim | {"half_shaft_left.bearing_offset": "330 mm, taped"})["half_shaft_bending.left"]
    thin = line(LIVE | BARS | steel | {"half_shaft_left.bearing_diameter": "24 mm, calipered"})[
        "half_shaft_bending.left"
    ]

    assert sound["half_shaft_bending.left"].verdict is HOLDS
    assert line(slim)["half_shaft_bending.left"].verdict is HOLDS
    assert out.verdict is FAILS
    assert thin.verdict is FAILS
    assert line(LIVE)["half_shaft_bending.left"].verdict is UNKNOWN
    floating = line(LIVE | {"half_shaft_left.bearing": "full-floating"})
    assert "half_shaft_bending.left" not in floating


def test_a_hub_of_a_weaker_car_is_worked_out_from_its_spline(line):
    """Unknown until one word or its spline is there; then a small spline fails and a large one holds."""
    weaker = {
        "hub_rear.origin": "weaker car",
        "hub_rear.spline_teeth": "25",
        "hub_rear.spline_length": "45 mm, calipered",
    }
    steel = {"hub_rear.spline_pressure": "180 ± 10 MPa, manual", "hub_rear.spline_yield_strength": "1050 MPa, manual"}

    def spline(outside: float) -> dict[str, str]:
        inside = f"{outside - 2.4} mm, calipered"
        ends = {
            "hub_rear.spline_outside_diameter": f"{outside} mm, calipered",
            "hub_rear.spline_inside_diameter": inside,
        }
        return weaker | steel | ends

    assert line(without=("hub_rear.origin",))["hub.rear"].verdict is UNKNOWN
    assert set(line({"hub_rear.origin": "weaker car"})["hub.rear"].missing) == {"hub_rear.rated_torque"}
    assert line(spline(22.0))["hub.rear"].verdict is FAILS
    assert line(spline(40.0))["hub.rear"].verdict is HOLDS
    assert "hub.rear" not in line()


def test_studs_slip_on_a_flat_seat_before_they_do_on_a_cone(line):
    """The same studs: cones hold the wheel, flat seats have nothing but friction; without a word it is asked."""
    flat = {"hub_rear.seat": "flat"}
    assert line()["studs.rear"].verdict is HOLDS
    assert line(flat)["studs.rear"].verdict is UNSETTLED
    assert line(flat | {"hub_rear.stud_torque": "25 N·m, manual"})["studs.rear"].verdict is FAILS
    assert line({"hub_rear.stud_torque": "60 N·m, manual"})["studs.rear"].verdict is HOLDS
    asked = line(without=("hub_rear.seat",))["studs.rear"]
    assert set(asked.missing) == {"hub_rear.seat"}


def test_the_studs_of_an_axle_that_only_brakes_hold_it_too(line):
    """Front hubs of a rear-driven car: three thin studs, hand-tight, against a stop on the best grip."""
    front = """
[hub_front]
kind = "hub"
axle = "front"
seat = "cone"
stud_count = "{}"
stud_torque = "{} N·m, manual"
stud_diameter = "{} mm, manual"
pitch_circle_diameter = "100 mm, calipered"
"""
    bad = line(also=front.format(3, 30, 10))["studs.front"]
    mended = line(also=front.format(4, 90, 12))["studs.front"]

    assert bad.verdict is FAILS
    assert bad.state == "laden, braking"
    assert mended.verdict is HOLDS


def test_low_range_multiplies_what_the_shafts_see(line):
    """2.5 to 1 behind the gearbox: a joint that held breaks; a stronger one holds; the case itself is asked for."""
    case = '[transfer_case]\nlow_ratio = "2.5"\nrated_torque = "700 N·m, catalogue"\n'
    weak = {"prop_shaft.front_joint_rated_torque": "500 N·m, catalogue"}
    bad = line(weak, also=case)

    assert bad["joint.front"].verdict is FAILS
    assert bad["joint.front"].state.endswith("1st gear in low range, full torque")
    assert bad["transfer_case"].verdict is HOLDS
    assert line(weak)["joint.front"].verdict is HOLDS
    strong = {"prop_shaft.front_joint_rated_torque": "1000 N·m, catalogue"}
    assert line(strong, also=case)["joint.front"].verdict is HOLDS
    assert line(also=case.replace("700", "380"))["transfer_case"].verdict is FAILS


def test_a_motor_that_brakes_loads_the_line_as_well(line):
    """Regeneration beyond the drive torque, losses paid by the wheels: joints for 900 N·m see 1.7 times their drive."""
    motor = {
        "engine.runs_on": "electricity",
        "engine.torque_curve": "rpm : N·m, manual | 0 : 120 | 700 : 120 | 1400 : 120 | 2100 : 120 | 2800 : 120 | 3500 : 118 | 4200 : 110 | 5100 : 100 | 6000 : 85",
    }
    bad = line(motor | {"engine.regeneration_torque": "340 N·m, manual"}, without=("clutch",))
    mended = line(motor | {"engine.regeneration_torque": "60 N·m, manual"}, without=("clutch",))

    assert bad["gearbox"].verdict is FAILS
    assert bad["gearbox"].state.endswith("motor braking")
    assert mended["gearbox"].verdict is HOLDS
    assert mended["joint.front"].verdict is HOLDS


def test_the_reserve_is_not_asked_for_on_top_of_a_shock(line):
    """A smooth bar that bears the peaks but not 1.5 times them holds; with a sharp notch it does not bear every day's peaks."""
    bars = {"half_shaft_left.bar_diameter": "30 mm, calipered", "half_shaft_left.notch_factor": "1.2 ± 0.05, manual"}
    smooth = line(bars)["half_shaft.left"]
    sharp = line(bars | {"half_shaft_left.notch_factor": "6 ± 0.1, manual"})["half_shaft.left"]

    assert smooth.verdict is HOLDS
    assert sharp.verdict is FAILS
    assert sharp.state.endswith("driven with care")


def test_a_spline_that_is_written_is_judged_whatever_car_it_comes_from(line):
    """A spline of 20 mm breaks at a wheel, also by a builder's word; one of 32 mm with its steel bears it."""
    spline = 'spline_teeth = "{}"\nspline_outside_diameter = "{} mm, calipered"\nspline_inside_diameter = "{} mm, calipered"\n'
    sound = 'spline_length = "60 mm, calipered"\nspline_pressure = "150 MPa, manual"\nspline_yield_strength = "1000 MPa, manual"\n'
    strong = sound + 'spline_notch_factor = "1.4, manual"\n'

    assert line(also=spline.format(20, 20, 17.5) + strong)["hub.rear"].verdict is FAILS
    assert line(also=spline.format(33, 38, 34) + strong)["hub.rear"].verdict is HOLDS
    assert "hub.rear" not in line()


def test_shafts_of_an_axle_that_nobody_named_are_asked_about(line):
    found = line(without=("car.rear_suspension",))

    assert set(found["half_shaft_bending.left"].missing) == {"car.rear_suspension"}


def test_steel_and_notch_that_nobody_wrote_make_no_ordinary_shaft_fail(line):
    """Two typical values multiplied leave one draw in a hundred in the good corner, and a works shaft lies there: it is asked for.

    Where no steel that is usual would hold, it fails without being asked for.
    """
    unknown = ("half_shaft_left.yield_strength", "half_shaft_left.notch_factor")
    works, thin = (line({"half_shaft_left.bar_diameter": f"{mm} mm, calipered"}, without=unknown) for mm in (20, 12))

    assert works["half_shaft.left"].verdict is Verdict.unsettled
    assert "half_shaft_left.yield_strength" in works["half_shaft.left"].held_back[0]
    assert thin["half_shaft.left"].verdict is FAILS
