"""A hoist in the user's words, against statics by hand."""

from __future__ import annotations

import math

import pytest

from trialfit.book import read_text
from trialfit.evaluation.evaluation import Evaluation
from trialfit.evaluation.verdict import Verdict
from trialfit.parts import Lift
from trialfit.subjects.lifting.legs import _load_factor

G = 9.80665


def test_mass_centre_and_legs_by_hand(lifting, hoist) -> None:
    """227 kg with its centre 0.213 m behind the engine's; legs as two unequal ones 0.50 m high, in proportion to 230 kg."""
    report = lifting(hoist)

    assert report.figure("lifting.mass.hoist").value.nominal == pytest.approx(227)
    assert report.figure("lifting.centre.hoist").value.nominal == pytest.approx(-213.04, abs=0.01)
    assert report["lifting.leg_tension.front_leg"].value.nominal == pytest.approx(1471.0 * 227 / 230, rel=1e-4)
    assert report["lifting.leg_tension.rear_leg"].value.nominal == pytest.approx(1147.2 * 227 / 230, rel=1e-4)
    assert report["lifting.leg_angle.front_leg"].value.nominal == pytest.approx(
        math.degrees(math.atan2(0.5, 0.25)), rel=1e-4
    )
    assert report["lifting.tilt.hoist"].value.nominal == pytest.approx(0, abs=0.001)
    assert report["lifting.roll_over.hoist"].value.nominal == pytest.approx(200)


def test_a_jerk_counts_on_crane_and_legs(lifting, hoist) -> None:
    """Where no factor is written, 1.25."""
    report = lifting(hoist, ('dynamic_factor = "1 ± 0"\n', ""))

    assert report["lifting.boom.hoist"].value.nominal == pytest.approx(227 * 1.25)
    assert report["lifting.leg_tension.front_leg"].value.nominal == pytest.approx(1.25 * 1471.0 * 227 / 230, rel=1e-4)


def test_hooked_too_far_forward_the_gearbox_hangs_low(lifting, hoist) -> None:
    """0.1 m ahead of the centre, 0.7 m above it: 8.13°, and the remark says where to hook."""
    report = lifting(hoist, ('hook_x = "-0.21304', 'hook_x = "-0.11304'))
    finding = report["lifting.tilt.hoist"]

    assert finding.value.nominal == pytest.approx(math.degrees(math.atan2(0.1, 0.7)), rel=1e-3)
    assert finding.verdict is Verdict.fails
    assert "rear end low; the hook 100 mm further rearward" in finding.remark


def test_a_wanted_tilt_moves_the_place_of_the_hook(lifting, hoist) -> None:
    """10° rear end low from a hook 0.7 m above: 0.123 m forward of the centre."""
    report = lifting(hoist, ("hole =", 'target_tilt = "10 ± 0 deg"\nhole ='))

    assert report.figure("lifting.hook.hoist").value.nominal == pytest.approx(
        -213.04 + 700 * math.tan(math.radians(10)), abs=0.1
    )
    assert report["lifting.tilt.hoist"].value.nominal == pytest.approx(10, abs=0.01)


def test_the_hanging_load_leans_on_its_lower_leg(lifting, hoist) -> None:
    """With the hook 0.1 m too far forward the rear leg stands steeper, and bears more than it would over the centre."""
    report = lifting(hoist, ('hook_x = "-0.21304', 'hook_x = "-0.11304'))
    over_the_centre = 227 * G * 0.15 / 0.6 / 0.5 * math.hypot(0.45, 0.5)
    as_drawn = math.degrees(math.atan2(0.5, 0.45))

    assert report["lifting.leg_angle.rear_leg"].value.nominal == pytest.approx(
        as_drawn + math.degrees(math.atan2(0.1, 0.7)), rel=1e-3
    )
    assert report["lifting.leg_tension.rear_leg"].value.nominal > over_the_centre


def test_three_legs_share_by_statics(lifting, hoist) -> None:
    """Two eyes abreast in front, one behind: the front pair takes what one leg in its place would, drawn a little apart."""
    left = '\n[front_left]\nkind = "sling_leg"\neye_x = "0.03696 ± 0 m"\neye_y = "0.05 ± 0 m"\neye_z = "0.7 ± 0 m"\n'
    report = lifting(
        hoist + left, ('eye_x = "0.03696 ± 0 m"\neye_y = "0 ± 0 m"', 'eye_x = "0.03696 ± 0 m"\neye_y = "-0.05 ± 0 m"')
    )
    one = report["lifting.leg_tension.front_leg"].value.nominal

    assert report["lifting.leg_tension.rear_leg"].value.nominal == pytest.approx(1147.2 * 227 / 230, rel=1e-4)
    assert one == pytest.approx(
        1471.0 * 227 / 230 / 2 * math.sqrt(0.25**2 + 0.05**2 + 0.5**2) / math.hypot(0.25, 0.5), rel=1e-4
    )
    assert list(report["lifting.leg_tension.front_left"].missing) == ["front_left.rated_mass"]
    assert report["lifting.side_tilt.hoist"].verdict is Verdict.holds


def test_a_leg_that_lies_level_would_be_pulled_without_end(hoist) -> None:
    """Three legs, one eye as high as the hook: no number, and no warning of a division by nothing."""
    level = '\n[level]\nkind = "sling_leg"\neye_x = "0.3 ± 0 m"\neye_y = "0 ± 0 m"\neye_z = "1.2 ± 0 m"\n'
    centred = hoist.replace("-0.78 ± 0 m", "0 ± 0 m").replace("-0.21304 ± 0 m", "0 ± 0 m")
    build = read_text(centred + level)

    said = _load_factor(Evaluation(build, 1), build.first(Lift), build.named("level"))

    assert said.startswith("it lies level or points down: no leg holds a load like that; use longer legs")


def test_of_four_legs_two_are_taken_to_carry_all(lifting, hoist) -> None:
    """Each leg with the one across: more than a quarter of the load each."""
    legs = "".join(
        f'\n[leg_{number}]\nkind = "sling_leg"\neye_x = "{x} ± 0 m"\neye_y = "{y} ± 0 m"\neye_z = "0.7 ± 0 m"\nrated_mass = "500 kg"\n'
        for number, (x, y) in enumerate([(0.09, 0.2), (0.09, -0.2), (-0.51, 0.2), (-0.51, -0.2)], 1)
    )
    report = lifting(hoist.split("[front_leg]")[0] + legs + hoist.split('rated_mass = "500 ± 0 kg"\n')[-1])
    half = 227 * G / 2

    for number in range(1, 5):
        assert report[f"lifting.leg_tension.leg_{number}"].value.nominal > half


def test_one_leg_carries_all(lifting, hoist) -> None:
    """Straight down its own line."""
    report = lifting(hoist.split("[rear_leg]")[0] + "[workshop_crane]" + hoist.split("[workshop_crane]")[1])

    assert report["lifting.leg_tension.front_leg"].value.nominal == pytest.approx(227 * G)
    assert report.result("lifting.leg_angle.front_leg") is None


def test_a_reach_that_was_measured_takes_the_next_longer_hole(lifting, hoist) -> None:
    """1.15 m lies between two holes: the plate's 1000 kg at 1.3 m."""
    finding = lifting(hoist, ('hole = "2"', 'reach = "1.15 ± 0 m"\nreach_needed = "1.2 ± 0 m"'))

    assert finding["lifting.boom.hoist"].limit.nominal == pytest.approx(1000)
    assert finding["lifting.reach.hoist"].verdict is Verdict.fails


def test_what_is_missing_is_named(lifting, hoist) -> None:
    """No mass on the hook, no crane, no leg."""
    empty = lifting('[hoist]\nkind = "lift"\n')

    assert "mass_part" in empty["lifting.boom.hoist"].missing
    assert "sling_leg" in empty["lifting.leg_tension.hoist"].missing
    no_crane = lifting(hoist.split("[workshop_crane]")[0])
    assert list(no_crane["lifting.boom.hoist"].missing) == ["hoist.crane"]


def test_stands_by_hand(lifting, hoist) -> None:
    """560 kg on two at the axle; the front end carries 640 kg; tipping takes half of 560 kg times 0.9."""
    report = lifting(hoist)

    assert report["lifting.stand_load.stands_rear"].value.nominal == pytest.approx(280)
    assert report["lifting.push.stands_rear"].value.nominal == pytest.approx(
        2 * 280 * G * 0.45 - 227 * 0.213 / 2.4 * G * 0.45, rel=2e-3
    )


def test_on_four_stands_a_car_may_rock_on_two(lifting, hoist) -> None:
    """640 kg in front, 560 kg behind: one front stand carries (640·0.8 + 560·0.9)/2/0.8 kg."""
    front = '\n[stands_front]\nkind = "stands"\nunder = "front"\nrated_mass = "1000 kg"\nspacing = "0.8 ± 0 m"\ninboard = "0 ± 0 m"\noff_centre = "0 ± 0 m"\n'
    report = lifting(hoist + front)

    assert report["lifting.stand_load.stands_front"].value.nominal == pytest.approx((640 * 0.8 + 560 * 0.9) / 2 / 0.8)
    assert "both ends on stands" in report["lifting.stand_load.stands_front"].state


def test_a_caution_stands_on_everything(lifting, hoist) -> None:
    """No one goes under the load or under the car."""
    report = lifting(hoist)

    warnings = ("Keep people out from under the load", "Never go under a car")
    assert all(one.caution.startswith(warnings) for one in (*report.findings, *report.figures))


def test_a_build_that_lifts_nothing_is_asked_nothing(lifting) -> None:
    """No lift and no stands."""
    assert not lifting('[car]\nmass = "1200 kg"\n').findings


def test_a_single_draw_is_the_nominal_without_a_spread(lifting, hoist) -> None:
    """The front leg pulls as with many draws, by hand 1471.0 N for 230 kg, and its interval is closed."""
    value = lifting(hoist, draws=1)["lifting.leg_tension.front_leg"].value

    assert value.nominal == pytest.approx(1471.0 * 227 / 230, rel=1e-4)
    assert (value.low, value.high) == pytest.approx((value.nominal, value.nominal))
