"""Two prop shafts to a live axle on equal links: three joints, travel, wind-up, slip joint. Held against bare vectors."""

from __future__ import annotations

import numpy as np
import pytest

SPEED = 4000 * 2 * np.pi / 60

PICKUP = """
[car]
rear_suspension = "live axle"
[engine]
max_speed = "4000 rpm, manual"
[gearbox]
ratios = ["4.0", "1.0"]
reverse_ratio = "3.6"
output_surge = "0 ± 0 mm, taped"
output_x = "-1100 ± 0 mm"
output_y = "0 ± 0 mm"
output_z = "520 ± 0 mm"
output_inclination = "4 ± 0 deg"
output_heading = "0 ± 0 deg"
[front_shaft]
kind = "prop_shaft"
after = "gearbox"
rear_joint = "rigid"
rear_x = "-1700 ± 0 mm"
rear_y = "-20 ± 0 mm"
rear_z = "490 ± 0 mm"
yoke_twist = "0 ± 0 deg"
[rear_shaft]
kind = "prop_shaft"
after = "front_shaft"
length = "855 mm, taped"
spline_diameter = "35 ± 0 mm"
spline_overlap = "105 ± 0 mm"
slip_gap = "30 ± 0 mm"
yoke_twist = "0 ± 0 deg"
[final_drive]
after = "rear_shaft"
ratio = 3.7
input_x = "-2550 ± 0 mm"
input_y = "0 ± 0 mm"
input_z = "400 ± 0 mm"
input_inclination = "6 ± 0 deg"
input_heading = "0 ± 0 deg"
pinion_length = "280 ± 0 mm"
bump_travel = "95 ± 0 mm"
droop_travel = "80 ± 0 mm"
wind_up = "2 ± 0 deg"
wind_down = "1.5 ± 0 deg"
[axle_location]
held_by = "links"
lower_body_x = "-2330 ± 0 mm"
lower_body_z = "300 ± 0 mm"
lower_axle_x = "-2830 ± 0 mm"
lower_axle_z = "300 ± 0 mm"
upper_body_x = "-2330 ± 0 mm"
upper_body_z = "450 ± 0 mm"
upper_axle_x = "-2830 ± 0 mm"
upper_axle_z = "450 ± 0 mm"
"""
GEARBOX, BEARING, PINION = np.array([[-1.1, 0, 0.52], [-1.7, -0.02, 0.49], [-2.55, 0, 0.40]])


def along(front: np.ndarray, rear: np.ndarray) -> np.ndarray:
    """Direction from front to rear, in axes along the drive: rearward, left looking rearward, up."""
    step = (rear - front) * [-1, -1, 1]
    return step / np.linalg.norm(step)


def pinion_at(rise: float, wound: float) -> np.ndarray:
    """The joint on the pinion after the axle has risen on links of 500 mm and its nose has turned up, by trigonometry."""
    axle = PINION - 0.280 * np.array([np.cos(np.radians(6)), 0, np.sin(np.radians(6))])
    nose, forward = np.radians(6 + wound), 0.500 - np.sqrt(0.500**2 - rise**2)
    return axle + np.array([0.280 * np.cos(nose) + forward, 0, 0.280 * np.sin(nose) + rise])


def members(vectors, rise: float = 0.0, wound: float = 0.0) -> list[np.ndarray]:
    """Gearbox output, both shafts and pinion as directions."""
    last = along(BEARING, pinion_at(rise, wound))
    return [vectors.unit(4), along(GEARBOX, BEARING), last, vectors.unit(6 + wound)]


WOUND = (0.0, 2.0, -1.5, -2.0 * 3.6 / 4.0)
EVERYWHERE = [(rise, wound) for wound in WOUND for rise in (0.0, 0.095, -0.080)]
IN_GEARS = ((4.0, 2.0), (1.0, 0.5))  # ratio, and the wind-up at full drive in that gear


def test_each_of_three_joints_has_its_angle_as_it_runs(driveline, vectors) -> None:
    """Front, centre and rear joint, in space; the last two in each gear, as far as the axle winds up in it."""
    report = driveline(PICKUP)
    for number, place in enumerate(("front", "centre", "rear")):
        found = report[f"driveline.working_angle.{place}"]
        lines = [members(vectors, 0.0, wound) for _, wound in IN_GEARS] if number else [members(vectors)]
        angles = [vectors.true_angle(line[number], line[number + 1]) for line in lines]
        shown = [state.value.nominal for state in found.states] or [found.value.nominal]
        assert sorted(shown) == pytest.approx(sorted(angles), abs=1e-9), place


def test_the_residual_is_judged_under_drive_in_each_gear(driveline, vectors) -> None:
    """Full wind-up belongs to the lowest gear and its slow shaft, a quarter of it to the highest and its fast one."""
    finding = driveline(PICKUP)["driveline.residual"]
    shaking = {
        f"full drive, {('1st', '2nd')[number - 1]} gear": (
            SPEED / ratio * np.radians(vectors.residual_angle(members(vectors, 0.0, wound)))
        )
        ** 2
        for number, (ratio, wound) in enumerate(IN_GEARS, 1)
    }

    assert {state.state for state in finding.states} == set(shaking)
    for state in finding.states:
        assert state.value.nominal == pytest.approx(shaking[state.state], rel=1e-2)
    assert finding.state == max(shaking, key=shaking.__getitem__)


@pytest.mark.parametrize("twists", [(0, 0), (0, 90), (12, -7)])
def test_three_joints_leave_what_the_vectors_say(driveline, vectors, twists: tuple[int, int]) -> None:
    """The residual of the whole line, with each tube's yokes turned."""
    front, rear = PICKUP.split("[rear_shaft]")
    text = "[rear_shaft]".join(
        part.replace('yoke_twist = "0', f'yoke_twist = "{twist}')
        for part, twist in zip((front, rear), twists, strict=True)
    )
    solved = vectors.residual_angle(members(vectors), twists)

    found = driveline(text).figure("driveline.residual_angle.ride_height").value.nominal
    assert found == pytest.approx(solved, rel=3e-3)


def test_the_first_and_second_shaft_are_both_looked_at_for_inertia(driveline, vectors) -> None:
    """Driving, the rear shaft carries what two joints leave; coasting, the front shaft does."""
    report, line, driven = driveline(PICKUP), members(vectors), members(vectors, 0.0, 0.5)
    first, last = vectors.true_angle(driven[0], driven[1]), vectors.true_angle(line[2], line[3])
    drive = max(first, vectors.residual_angle(driven[:3]))
    coast = max(last, vectors.residual_angle(line[1:]))

    for way, angle in (("drive", drive), ("coast", coast)):
        shaking = (SPEED * np.radians(angle)) ** 2
        assert report[f"driveline.inertia.{way}"].value.nominal == pytest.approx(shaking, rel=5e-3)


@pytest.mark.parametrize(
    ("position", "rise", "wound"), [("bump", 0.095, 0), ("droop", -0.080, 0), ("wind_up", 0.0, 2.0)]
)
def test_the_residual_angle_is_shown_over_the_travel(
    driveline, vectors, position: str, rise: float, wound: float
) -> None:
    """Bump, droop and wind-up, each worked out anew; small-angle sums are good to 1 % at these angles."""
    found = driveline(PICKUP).figure(f"driveline.residual_angle.{position}").value.nominal

    assert found == pytest.approx(vectors.residual_angle(members(vectors, rise, wound)), rel=1e-2)


def test_the_largest_angle_is_that_of_the_worst_position(driveline, vectors) -> None:
    """Over bump and droop, without and with wind-up; a figure while the maker's limit is not written."""
    report = driveline(PICKUP)
    lines = [members(vectors, rise, wound) for rise, wound in EVERYWHERE]

    centre = max(vectors.true_angle(line[1], line[2]) for line in lines)
    rear = max(vectors.true_angle(line[2], line[3]) for line in lines)
    assert report["driveline.largest_angle.centre"].value.nominal == pytest.approx(centre, abs=1e-9)
    assert report["driveline.largest_angle.rear"].value.nominal == pytest.approx(rear, abs=1e-9)
    assert report.result("driveline.largest_angle.front") is None  # neither of its members moves


def test_the_makers_limit_makes_a_finding_of_the_largest_angle(driveline) -> None:
    """The joint's own limit is judged where the axle hangs, and the caution stands beside it."""
    text = PICKUP.replace('after = "front_shaft"', 'after = "front_shaft"\nrear_joint_angle_limit = "8 deg, manual"')
    finding = driveline(text)["driveline.largest_angle.rear"]

    assert finding.value.nominal > finding.limit.nominal == pytest.approx(8.0)
    assert (finding.verdict, finding.stake, finding.source_kind) == ("fails", "safety", "manual")
    assert "turn it by hand" in finding.caution


def test_slip_joint_at_both_ends_of_the_travel(driveline) -> None:
    """Longest and shortest shaft against a fine search over the whole travel."""
    rises = np.linspace(-0.080, 0.095, 701)
    lengths = np.array([np.linalg.norm(pinion_at(rise, wound) - BEARING) for wound in WOUND for rise in rises])
    ride = np.linalg.norm(PINION - BEARING)
    report = driveline(PICKUP)

    longer, shorter = (1e3 * (lengths.max() - ride), 1e3 * (ride - lengths.min()))
    assert report.figure("driveline.slip.longer").value.nominal == pytest.approx(longer, abs=1e-6)
    assert report.figure("driveline.slip.shorter").value.nominal == pytest.approx(shorter, abs=2e-2)
    assert report["driveline.slip.overlap"].value.nominal == pytest.approx(105 - longer, abs=1e-6)
    assert report["driveline.slip.overlap"].limit.nominal == pytest.approx(2.5 * 35)
    assert report["driveline.slip.gap"].value.nominal == pytest.approx(30 - shorter, abs=2e-2)
    assert report["driveline.slip.gap"].limit.nominal == pytest.approx(10)


def test_a_shaft_is_longest_inside_the_travel_on_short_links(driveline) -> None:
    """Links shorter than the shaft pull its rear end forward at both stops: a fine search over rise and torque."""
    level = PICKUP.replace('input_z = "400', 'input_z = "470').replace('wind_up = "2', 'wind_up = "8')
    rises, wounds = np.linspace(-0.080, 0.095, 701), (0.0, 8.0, -1.5, -8.0 * 0.9)
    raised = np.array([0, 0, 0.070])
    lengths = [np.linalg.norm(pinion_at(rise, wound) + raised - BEARING) for wound in wounds for rise in rises]
    ride = np.linalg.norm(PINION + raised - BEARING)
    report = driveline(level)

    for which, change in (("longer", max(lengths) - ride), ("shorter", ride - min(lengths))):
        assert report.figure(f"driveline.slip.{which}").value.nominal == pytest.approx(1e3 * change, abs=2e-2)
    assert report["driveline.slip.overlap"].state == "between the stops, full drive, gearbox forward"


def test_wind_up_turns_the_nose_up(driveline, vectors) -> None:
    """The rear joint, nearly straight at ride height, bends by the wind-up and by what the shaft turns with it."""
    stiff = PICKUP.replace('bump_travel = "95', 'bump_travel = "0').replace('droop_travel = "80', 'droop_travel = "0')
    last, pinion = along(BEARING, pinion_at(0, 2)), vectors.unit(8)

    found = driveline(stiff)["driveline.largest_angle.rear"].value.nominal
    assert found == pytest.approx(vectors.true_angle(last, pinion), abs=1e-9)
    assert found > vectors.true_angle(along(BEARING, PINION), vectors.unit(6)) + 1


def test_the_axle_winds_down_in_braking_and_in_reverse(driveline) -> None:
    """A joint that is straight at full drive binds with the nose down: every way of torque is looked at."""
    low = PICKUP.replace('input_inclination = "6', 'input_inclination = "-6').replace('wind_up = "2', 'wind_up = "6')
    finding = driveline(low.replace("spline_diameter", 'rear_joint_angle_limit = "20 deg, manual"\nspline_diameter'))[
        "driveline.largest_angle.rear"
    ]

    assert finding.state == "full droop, full reverse"
    assert {state.state for state in finding.states} >= {"full bump, hard braking", "ride height, no torque"}


def test_without_what_holds_the_axle_its_travel_is_unknown(driveline) -> None:
    """No axle is taken to rise straight up; what does not depend on it is worked out."""
    report = driveline(PICKUP.partition("[axle_location]")[0])

    for which in ("slip.gap", "slip.overlap"):
        assert report[f"driveline.{which}"].verdict == "unknown"
        assert list(report[f"driveline.{which}"].missing) == ["axle_location"]
    assert report.figure("driveline.residual_angle.droop").value is None
    assert report.figure("driveline.residual_angle.wind_up").value is not None
    assert report["driveline.residual"].value is not None


def test_limits_of_acceleration_are_judged_at_ride_height(driveline) -> None:
    """More travel changes what may bind, not what shakes on the road."""
    little, much = driveline(PICKUP), driveline(PICKUP.replace('bump_travel = "95', 'bump_travel = "150'))

    for which in ("residual", "inertia.drive", "inertia.coast", "working_angle.rear"):
        assert much[f"driveline.{which}"].value == little[f"driveline.{which}"].value
    assert "at ride height" in little["driveline.residual"].says
    bump = "driveline.residual_angle.bump"
    assert much.figure(bump).value.nominal > little.figure(bump).value.nominal + 1


def test_missing_travel_is_named_and_leaves_the_rest_alone(driveline) -> None:
    """Nobody has taped the droop: the slip joint is unknown, the angles at ride height are not."""
    report = driveline("\n".join(line for line in PICKUP.splitlines() if "travel" not in line))

    assert report["driveline.slip.overlap"].verdict == "unknown"
    assert {"final_drive.bump_travel", "final_drive.droop_travel"} == set(report["driveline.slip.overlap"].missing)
    assert report["driveline.working_angle.rear"].value is not None


def test_unwritten_suspension_is_asked_for(driveline) -> None:
    """Whether the slip joint moves depends on type of rear suspension."""
    report = driveline(PICKUP.replace('rear_suspension = "live axle"', 'mass = "1900 kg"'))

    assert set(report["driveline.slip.overlap"].missing) == {"car.rear_suspension"}


def test_tape_and_places_are_held_against_each_other(driveline) -> None:
    """Length between the places 855.0 mm: 855 taped agrees, 880 does not; without a tape there is only the figure."""
    between = 1e3 * np.linalg.norm(PINION - BEARING)
    agrees = driveline(PICKUP)["driveline.length.rear_shaft"]
    wrong = driveline(PICKUP.replace("855 mm", "880 mm"))["driveline.length.rear_shaft"]

    assert agrees.value.nominal == pytest.approx(abs(between - 855), abs=1e-6)
    assert (agrees.verdict, wrong.verdict) == ("holds", "fails")
    assert wrong.value.nominal == pytest.approx(880 - between, abs=1e-6)
    assert driveline(PICKUP).result("driveline.length.front_shaft") is None


def test_a_gauged_rear_shaft_moves_from_where_it_was_gauged(driveline, vectors) -> None:
    """The gauge gives the shaft at ride height, the places how far it turns from there."""
    gauged = PICKUP.replace('after = "front_shaft"', 'after = "front_shaft"\ninclination = "7 ± 0 deg"')
    ride = along(BEARING, PINION)
    worst = 0.0
    for rise, wound in EVERYWHERE:
        moved = along(BEARING, pinion_at(rise, wound))
        turned = np.degrees(np.arcsin(-moved[2]) - np.arcsin(-ride[2]))
        plan = np.degrees(np.arctan2(moved[1], moved[0]))
        worst = max(worst, vectors.true_angle(along(GEARBOX, BEARING), vectors.unit(7 + turned, plan)))

    found = driveline(gauged)["driveline.largest_angle.centre"].value.nominal
    assert found == pytest.approx(worst, abs=1e-3)


def test_a_single_shaft_to_a_live_axle_has_two_joints(driveline) -> None:
    """One tube: front and rear joint, both at its ends, both looked at over the travel."""
    before, _, after = PICKUP.partition("[front_shaft]")
    one = before + "[rear_shaft]" + after.partition("[rear_shaft]")[2]
    report = driveline(one.replace('after = "front_shaft"', 'after = "gearbox"'))

    assert {finding.id for finding in report.findings if "working_angle" in finding.id} == {
        "driveline.working_angle.front",
        "driveline.working_angle.rear",
    }
    assert report["driveline.largest_angle.front"].value.nominal > 0
    assert report["driveline.difference"].value is not None
