"""Mistakes with hoists and stands that kill, in the user's own text, with the finding each must yield."""

from __future__ import annotations

import pytest

from trialfit.evaluation.requirement import Stake
from trialfit.evaluation.verdict import Verdict


def fails_for_safety(finding) -> bool:
    """Whether the finding fails, has people's safety at stake, and says to beware."""
    return finding.verdict is Verdict.fails and finding.stake is Stake.safety and bool(finding.caution)


def test_a_hoist_at_full_reach(lifting) -> None:
    """A "2 t" crane with its boom right out bears 0.5 t: an iron six with its gearbox, lifted with a jerk, is more."""
    report = lifting("""
[straight_six]
kind = "mass_part"
mass = "360 kg, catalogue"
x = "0 m"
y = "0 m"
z = "0.6 m"
hoisted_by = "out"

[gearbox_alone]
kind = "mass_part"
mass = "85 kg, weighed"
x = "-0.8 m"
y = "0 m"
z = "0.5 m"
hoisted_by = "out"

[out]
kind = "lift"
hole = "4"

[workshop_crane]
note = "the paint says 2 t"
hole_reaches = ["0.9 m", "1.1 m", "1.3 m", "1.5 m"]
hole_ratings = ["2000 kg", "1500 kg", "1000 kg", "500 kg"]
""")
    finding = report["lifting.boom.out"]

    assert fails_for_safety(finding)
    assert finding.limit.nominal == pytest.approx(500)
    assert "1500 kg at 1100 mm" in finding.remark


def test_a_reach_beyond_the_last_hole(lifting, hoist) -> None:
    """A length of tube over the end of the boom: the plate allows nothing there."""
    finding = lifting(hoist, ('hole = "2"', 'reach = "1.7 m, taped"'))["lifting.boom.hoist"]

    assert fails_for_safety(finding)
    assert finding.limit.nominal == 0


def test_sling_legs_that_lie_nearly_flat(lifting, hoist) -> None:
    """A hook 100 mm above the eyes: legs at 22° and 16°, pulled three times as hard."""
    report = lifting(hoist, ('hook_z = "1.2 ± 0 m"', 'hook_z = "0.8 m, taped"'))

    assert fails_for_safety(report["lifting.leg_angle.front_leg"])
    assert fails_for_safety(report["lifting.leg_angle.rear_leg"])
    assert "aim for 60°" in report["lifting.leg_angle.rear_leg"].remark


def test_eyes_below_the_centre_of_mass(lifting, hoist) -> None:
    """Slung by two brackets low on the block: the engine turns over in the air."""
    report = lifting(hoist, ('eye_z = "0.7 ± 0 m"', 'eye_z = "0.42 m, taped"'))

    assert fails_for_safety(report["lifting.roll_over.hoist"])


def test_a_sling_leg_too_light_for_its_share(lifting, hoist) -> None:
    """A strap rated 100 kg on the front leg."""
    report = lifting(
        hoist,
        (
            'eye_x = "0.03696 ± 0 m"\neye_y = "0 ± 0 m"\neye_z = "0.7 ± 0 m"\nrated_mass = "500 ± 0 kg"',
            'eye_x = "0.03696 ± 0 m"\neye_y = "0 ± 0 m"\neye_z = "0.7 ± 0 m"\nrated_mass = "100 kg, catalogue"',
        ),
    )

    assert fails_for_safety(report["lifting.leg_tension.front_leg"])


def test_one_stand_under_an_axle(lifting, hoist) -> None:
    """In the middle, and rated for the car: still one."""
    report = lifting(
        hoist,
        ('push_height = "1 ± 0 m"', 'push_height = "1 ± 0 m"\ncount = "1"'),
        ('spacing = "0.9 ± 0 m"', 'spacing = "0.15 m, taped"'),
    )

    assert fails_for_safety(report["lifting.pair.stands_rear"])
    assert fails_for_safety(report["lifting.push.stands_rear"])


def test_stands_rated_as_a_pair(lifting, hoist) -> None:
    """500 kg for the pair is 250 kg each, and each bears 280 kg."""
    report = lifting(hoist, ('rated_mass = "1000 ± 0 kg"', 'rated_mass = "250 ± 0 kg; half of the pair"'))

    assert fails_for_safety(report["lifting.stand_load.stands_rear"])
