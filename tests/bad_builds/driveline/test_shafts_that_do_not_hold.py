"""Shaft lines and half-shafts that a sane engineer would not drive, and their mended twins."""

from __future__ import annotations

import pytest

from trialfit.book import read_text
from trialfit.evaluation.finding import Report
from trialfit.subjects import evaluate

LINE = """
[car]
rear_suspension = "independent"
floor_slope = "0 ± 0 deg"
mass = "1065 kg, weighed"
drag_area = "0.95 ± 0.05 m², guess"
[engine]
max_speed = "6500 rpm, manual"
torque_curve = "rpm : N·m | 1000 : 175 | 4000 : 265 | 5500 : 247"
[gearbox]
ratios = ["3.63", "1.0", "0.79"]
output_x = "-915 ± 0 mm"
output_y = "0 ± 0 mm"
output_z = "346 ± 0 mm"
output_inclination = "3 ± 0 deg"
output_heading = "0 ± 0 deg"
[prop_shaft]
after = "gearbox"
tube_outside_diameter = "76.2 ± 0.1 mm, calipered"
tube_wall_thickness = "1.65 ± 0.08 mm, calipered"
[final_drive]
after = "prop_shaft"
ratio = "3.54"
input_x = "-2215 ± 0 mm"
input_y = "0 ± 0 mm"
input_z = "278 ± 0 mm"
input_inclination = "3 ± 0 deg"
input_heading = "0 ± 0 deg"
[tyre]
size = "205/50 R15"
"""

HALF = """
[car]
driven_axle = "front"
floor_slope = "0 ± 0 deg"
steering_lock = "42 ± 0 deg, gauged"
steering_lock_outside = "36 ± 0 deg, gauged"
kingpin_inclination = "0 ± 0 deg"
caster = "0 ± 0 deg"
[engine]
max_speed = "6000 rpm, manual"
[gearbox]
ratios = ["3.5", "1.0"]
[final_drive]
after = "gearbox"
ratio = "4.0"
[left_shaft]
kind = "half_shaft"
side = "left"
inner_x = "0 ± 0 mm"
inner_y = "286 ± 0 mm"
inner_z = "312 ± 0 mm"
outer_x = "0 ± 0 mm"
outer_y = "598 ± 0 mm"
outer_z = "268 ± 0 mm"
bump_travel = "64 ± 0 mm"
droop_travel = "82 ± 0 mm"
outward_at_bump = "0 ± 0 mm, taped"
outward_at_droop = "0 ± 0 mm, taped"
inner_movement = "0 ± 0 mm, taped"
plunge_in = "14 ± 0 mm"
plunge_out = "14 ± 0 mm"
outer_joint_angle_limit = "45 ± 0 deg, manual"
"""


def driveline(text: str, draws: int = 1024) -> Report:
    """The driveline of a build."""
    return evaluate(read_text(text), draws=draws, subjects=["driveline"])


def test_a_short_torque_curve_and_high_drag_do_not_slow_a_shaft_down() -> None:
    """8228 rpm at the limiter in sixth, wherever the curve ends; two shafts, or a limit of the engine's that is lower, mend it."""
    bad = driveline(LINE)
    mended = driveline(LINE.replace("6500 rpm", "5000 rpm").replace(" | 5500 : 247", " | 5000 : 252"))

    assert bad.figure("driveline.highest_shaft_speed").value.nominal == pytest.approx(6500 / 0.79, rel=1e-6)
    assert bad["driveline.whirl.prop_shaft"].verdict == "fails"
    assert "the torque curve ends at 5500 rpm" in bad["driveline.whirl.prop_shaft"].remark
    # 5000/0.79 is still too fast for 1.3 m: the tube grows as well
    larger = driveline(LINE.replace("76.2 ± 0.1", "101.6 ± 0.1").replace("6500 rpm", "5000 rpm"))
    assert mended["driveline.whirl.prop_shaft"].value.nominal < bad["driveline.whirl.prop_shaft"].value.nominal
    assert larger["driveline.whirl.prop_shaft"].verdict == "holds"


def test_a_rigid_end_takes_no_angle() -> None:
    """Bolted to the gearbox at 5°: a joint there mends it, and so does one line."""
    kinked = LINE.replace('output_inclination = "3', 'output_inclination = "8').replace(
        'after = "gearbox"', 'after = "gearbox"\nfront_joint = "rigid"', 1
    )
    straight = kinked.replace('output_inclination = "8', 'output_inclination = "3')

    assert driveline(kinked)["driveline.rigid_end.front"].verdict == "fails"
    assert driveline(kinked)["driveline.rigid_end.front"].value.nominal == pytest.approx(5, abs=0.01)
    assert driveline(straight)["driveline.rigid_end.front"].verdict == "holds"


def test_a_rubber_disc_has_an_angle_of_its_own() -> None:
    """6° is fair for a cardan joint and too much for a disc; at 1° the disc holds, and it turns evenly."""
    disc = LINE.replace('after = "gearbox"', 'after = "gearbox"\nfront_joint = "rubber disc"', 1)
    bent = disc.replace('output_inclination = "3', 'output_inclination = "9')
    straight = disc.replace('output_inclination = "3', 'output_inclination = "4')

    assert driveline(bent)["driveline.working_angle.front"].verdict == "fails"
    found = driveline(straight)["driveline.working_angle.front"]
    assert (found.verdict, found.source_kind) == ("holds", "from memory")
    assert driveline(bent).figure("driveline.residual_angle.ride_height").value.nominal < 0.1


def test_the_slope_of_the_floor_counts_where_gauge_and_tape_meet() -> None:
    """All angles gauged straight, the shaft by its places: an unknown floor leaves it open, a gauged one settles it."""
    gauged = LINE.replace('floor_slope = "0 ± 0 deg"\n', "").replace("± 0 deg", "± 0 deg, gauged")
    known = gauged.replace("[car]", '[car]\nfloor_slope = "0.3 ± 0.05 deg, gauged"').replace(
        'clination = "3', 'clination = "3.3'
    )
    unknown = driveline(gauged)["driveline.needle_roll.front"]
    settled = driveline(known)["driveline.needle_roll.front"]

    assert unknown.verdict == "unsettled"
    assert "car.floor_slope" in unknown.typical
    assert settled.value.nominal == pytest.approx(0, abs=0.01)
    assert settled.verdict == "fails"


def test_lock_and_droop_come_together_at_the_outer_joint() -> None:
    """22° at droop, 42° of lock: 46.4° together. Less droop or less lock mends it."""
    bad = driveline(HALF)["driveline.half_shaft_angle.left.outer"]
    less = driveline(HALF.replace('steering_lock = "42', 'steering_lock = "38'))[
        "driveline.half_shaft_angle.left.outer"
    ]

    assert bad.value.nominal == pytest.approx(46.4, abs=0.06)
    assert less.value.nominal == pytest.approx(43.1, abs=0.06)
    assert (bad.verdict, less.verdict) == ("fails", "holds")
    assert bad.state == "full droop, left lock"


def test_a_joint_that_never_runs_straight_wears_out() -> None:
    """17° standing still is far from binding and too much for long; 4° is fine."""
    low = HALF.replace('outer_z = "268', 'outer_z = "217')
    bad = driveline(low)["driveline.half_shaft_running_angle.left.inner"]
    mended = driveline(HALF.replace('outer_z = "268', 'outer_z = "292'))[
        "driveline.half_shaft_running_angle.left.inner"
    ]

    assert bad.value.nominal == pytest.approx(16.9, abs=0.1)
    assert (bad.verdict, mended.verdict) == ("fails", "holds")


def test_the_final_drive_on_its_mounts_takes_room_in_the_plunging_joint() -> None:
    """14 mm that are enough bolted fast, with 9 mm of movement are not."""
    level = HALF.replace('inner_z = "312', 'inner_z = "290').replace('droop_travel = "82', 'droop_travel = "50')
    soft = level.replace('inner_movement = "0', 'inner_movement = "9')

    verdicts = [driveline(text)["driveline.plunge.left.out"].verdict for text in (level, soft)]
    assert verdicts == ["holds", "fails"]


@pytest.mark.parametrize(("ends", "fluctuates"), [('"cardan"', False), ('"rigid"', True)])
def test_cardan_half_shafts_cancel_and_a_swing_axle_does_not(ends: str, *, fluctuates: bool) -> None:
    """8° at each of two joints in phase cancel; the one joint of a swing axle shakes the wheel at the same angle."""
    text = HALF.replace(
        'side = "left"', f'side = "left"\ninner_joint = "cardan"\nouter_joint = {ends}\nyoke_twist = "0 ± 0 deg"'
    )
    report = driveline(text)
    finding = report["driveline.half_shaft_evenness.left"]

    assert finding.verdict == ("fails" if fluctuates else "holds")
    assert (report.result("driveline.plunge.left.in") is None) is fluctuates
    assert report["driveline.half_shaft_running_angle.left.inner"].source_kind == "published"


@pytest.mark.parametrize("taped", [700, 800])
def test_a_shaft_taped_too_short_does_not_whirl_less(taped: int) -> None:
    """1302 mm between its ends: a tape that says 700 mm changes nothing. Taped as it is, and with a stouter tube, it holds."""
    whirl = "driveline.whirl.prop_shaft"
    placed = driveline(LINE)[whirl]
    contradicted = LINE.replace('after = "gearbox"', f'after = "gearbox"\nlength = "{taped} ± 2 mm, taped"', 1)
    bad = driveline(contradicted)[whirl]
    mended = driveline(contradicted.replace(f"{taped} ±", "1302 ±").replace("76.2 ±", "127 ±"))[whirl]
    alone = driveline(contradicted.replace('output_x = "-915 ± 0 mm"\n', ""))[whirl]

    assert (bad.verdict, alone.verdict, mended.verdict) == ("fails", "holds", "holds")
    assert bad.value.nominal == pytest.approx(placed.value.nominal, rel=1e-9)
    assert f"measured as {taped} mm, but 1302 mm between its joint centres as placed: the longer counts" in bad.remark
    assert "the longer counts" not in mended.remark


def test_the_gearbox_pushes_a_front_shaft_through_its_centre_bearing() -> None:
    """15 mm to and fro on soft mounts reach the slip joint of the rear shaft; a slip joint in the front shaft, or stiff mounts, mend it."""
    slip = 'spline_diameter = "28 ± 0 mm, calipered"\nspline_overlap = "75 ± 0 mm, taped"\nslip_gap = "18 ± 0 mm"\n'
    front = '[front_shaft]\nkind = "prop_shaft"\nafter = "gearbox"\nrear_joint = "rigid"\nrear_x = "-1565 ± 0 mm"\n'
    front += 'rear_y = "0 ± 0 mm"\nrear_z = "312 ± 0 mm"\n'
    two = LINE.replace('after = "gearbox"', f'after = "front_shaft"\n{slip}', 1).replace(
        "[prop_shaft]", f"{front}[prop_shaft]"
    )
    soft = two.replace("[gearbox]", '[gearbox]\noutput_surge = "15 ± 0 mm, taped"')
    bad, stiff = driveline(soft), driveline(soft.replace('surge = "15', 'surge = "2'))
    mended = driveline(
        soft.replace('rear_joint = "rigid"', f'rear_joint = "rigid"\n{slip}'.replace("75", "95").replace("18", "30"))
    )

    for name, state in (("overlap", "gearbox forward"), ("gap", "gearbox back")):
        found = bad[f"driveline.slip.{name}"]
        assert (found.verdict, found.state) == ("fails", state)
        assert {report[f"driveline.slip.{name}"].verdict for report in (stiff, mended)} == {"holds"}
    assert bad["driveline.slip.overlap"].value.nominal == pytest.approx(60, abs=0.1)
    assert mended["driveline.slip.overlap.front_shaft"].value.nominal == pytest.approx(80, abs=0.1)


@pytest.mark.parametrize(("limit", "why"), [("3000 ± 20 rpm, guess", "is a guess"), ("3000 rpm", "has no provenance")])
def test_a_guessed_limit_below_the_torque_curve_does_not_slow_a_shaft_down(limit: str, why: str) -> None:
    """An engine with torque at 5500 rpm turns that fast: a limit of 3000 rpm counts once its maker or an instrument says so."""
    whirl = "driveline.whirl.prop_shaft"
    bad = driveline(LINE.replace("6500 rpm, manual", limit))
    mended = driveline(LINE.replace("6500 rpm, manual", "3000 rpm, manual"))[whirl]

    assert (bad[whirl].verdict, mended.verdict) == ("fails", "holds")
    assert bad.figure("driveline.highest_shaft_speed").value.nominal == pytest.approx(5500 / 0.79, rel=1e-6)
    assert (
        f"engine.max_speed of 3000 rpm {why}, and engine.torque_curve reaches 5500 rpm: the higher counts"
        in bad[whirl].remark
    )
    assert "higher counts" not in mended.remark


def test_a_joint_at_an_angle_that_no_joint_has_rolls_no_needles() -> None:
    """A minus lost at the pinion turns the shaft round: 176° is no angle of a cardan joint. With the minus the joint is known."""
    place = LINE[LINE.index("input_x") :].partition("\n")[0]
    bad = driveline(LINE.replace(place, place.replace("-", "")))
    mended = driveline(LINE)

    for end in ("front", "rear"):
        assert bad[f"driveline.working_angle.{end}"].verdict in {"fails", "unknown"}
        assert bad[f"driveline.needle_roll.{end}"].verdict == "unknown"
        assert mended[f"driveline.needle_roll.{end}"].verdict != "unknown"
    assert bad["driveline.difference"].verdict == "unknown"


@pytest.mark.parametrize(("ratio", "verdict"), [("0.80", "fails"), ("1.00", "holds")])
def test_a_fast_transfer_case_speeds_the_shaft_up(ratio: str, verdict: str) -> None:
    """6200 rpm over 0.80 and again over 0.80 is 9690 rpm: a shaft that holds at 7750 rpm whirls."""
    short = LINE.replace('output_x = "-915', 'output_x = "-1215')
    text = short.replace("6500 rpm", "6200 rpm").replace("0.79", "0.80") + f'[transfer_case]\nratio = "{ratio}"\n'
    report = driveline(text, 64)

    assert report["driveline.whirl.prop_shaft"].verdict == verdict
    assert report.result("driveline.highest_shaft_speed").value.nominal == pytest.approx(6200 / 0.8 / float(ratio))


@pytest.mark.parametrize(("outside", "verdict"), [("44", "fails"), ("28", "holds")])
def test_the_outer_joint_sees_the_larger_lock_whichever_wheel_has_it(outside: str, verdict: str) -> None:
    text = HALF.replace("42 ± 0", "30 ± 0").replace("36 ± 0", f"{outside} ± 0").replace("45 ± 0", "42 ± 0")
    report = driveline(text, 64)

    assert report["driveline.half_shaft_angle.left.outer"].verdict == verdict
    assert [one.path for one in report.questions] == (["car.steering_lock_outside"] if outside == "44" else [])


def test_one_steered_wheel_of_an_axle_is_no_axle() -> None:
    """A "no" at one of two front half-shafts hides the lock of its joint: it is asked about, and judged as steered."""
    report = driveline(HALF + 'steered = "no"\n[right_shaft]\nkind = "half_shaft"\nside = "right"\n', 64)

    assert [one.path for one in report.questions] == ["left_shaft.steered"]
    assert "on both locks" in report["driveline.half_shaft_angle.left.outer"].says


def test_a_live_axle_called_independent_is_told() -> None:
    axle = '[axle_location]\nheld_by = "leaf springs"\neye_x = "-1800 mm, taped"\neye_z = "300 mm, taped"\n'
    bad, mended = driveline(LINE + axle, 64), driveline(LINE.replace('"independent"', '"live axle"') + axle, 64)

    assert "car.rear_suspension" in {one.path for one in bad.questions}
    assert "car.rear_suspension" not in {one.path for one in mended.questions}


def test_a_suspension_that_is_not_written_leaves_no_joint_out() -> None:
    report = driveline(LINE.replace('rear_suspension = "independent"', ""), 64)

    assert report["driveline.largest_angle.rear"].missing.keys() == {"car.rear_suspension"}


def test_a_shaft_between_rubber_discs_is_told_to_whirl_lower() -> None:
    rubber = LINE.replace(
        'after = "gearbox"', 'after = "gearbox"\nfront_joint = "rubber disc"\nrear_joint = "rubber disc"'
    )

    assert "rubber discs it whirls lower" in driveline(rubber, 64)["driveline.whirl.prop_shaft"].remark
