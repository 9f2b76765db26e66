"""The bolts of an engine mount: pull and shear from the mount they carry, against statics by hand.

The load cases (3 g down, 1.5 g up, 1 g braking, 1 g sideways, twice the clutch's torque in the lowest gear) are common practice,
no source; everything else is statics.
"""

from __future__ import annotations

import pytest

from trialfit.evaluation.verdict import Verdict

G = 9.80665
COUPLE = 2 * 320 * 3.5 / 0.56
# 150 kg over the two front mounts; of 50 kg at 0.8 of the way to the rear one, a fifth is theirs
FRONT = (150 * G + 50 * G * 0.2) / 2
PRESSED, PULLED, LEVEL = FRONT + COUPLE, COUPLE - FRONT, 200 * G / 3

UNIT = """
[clutch]
rated_torque = "320 ± 0 N·m"
[gearbox]
ratios = ["3.5", "2.0", "1.0"]
[power_unit]
torque_factor = "2 ± 0"
[engine_mass]
kind = "mass_part"
mass = "150 ± 0 kg"
x = "0 ± 0 m"
y = "0 ± 0 m"
z = "0.50 ± 0 m"
[gearbox_mass]
kind = "mass_part"
mass = "50 ± 0 kg"
x = "-0.8 ± 0 m"
y = "0 ± 0 m"
z = "0.50 ± 0 m"
[left]
kind = "mount"
x = "0 ± 0 m"
y = "0.28 ± 0 m"
z = "0.50 ± 0 m"
[right]
kind = "mount"
x = "0 ± 0 m"
y = "-0.28 ± 0 m"
z = "0.50 ± 0 m"
[rear]
kind = "mount"
x = "-1 ± 0 m"
y = "0 ± 0 m"
z = "0.50 ± 0 m"
"""
PULL, SHEAR = 'pull = "20 ± 0 kN"\n', 'shear = "5 ± 0 kN"\n'


def carried(axis: str) -> tuple[tuple[str, str], ...]:
    """The joint carries the left mount, nothing is written by hand."""
    return (PULL, 'carries = "left"\nlever_out = "0 mm"\nlever_aside = "0 mm"\n'), (
        SHEAR,
        f'bolt_axis = "{axis}"\n' if axis else "",
    )


@pytest.mark.parametrize(
    ("axis", "pull", "shear"),
    [
        ("upright", PULLED, LEVEL),
        ("hung", PRESSED, LEVEL),
        ("level", LEVEL, PRESSED),
        ("", PRESSED, PRESSED),
    ],
)
def test_the_worst_of_the_mount_is_pull_and_shear_as_the_bolts_stand(base, fastening, axis, pull, shear) -> None:
    """Separation and slip are held to 1.5 times them, in kN; slip has the pull off its clamp, the bolt its share of it."""
    report = fastening(base + UNIT, *carried(axis))
    by_hand = fastening(base, ("20 ± 0 kN", f"{pull} ± 0 N"), ("5 ± 0 kN", f"{shear} ± 0 N"))
    separation, bolt, slip = (report[f"fastening.bracket.{what}"] for what in ("separation", "bolt_load", "slip"))

    assert separation.limit.nominal == pytest.approx(1.5e-3 * pull, rel=1e-6)
    assert slip.limit.nominal == pytest.approx(1.5e-3 * shear, rel=1e-6)
    for finding in (separation, bolt, slip):
        assert finding.value.nominal == pytest.approx(by_hand[finding.id].value.nominal, rel=1e-6)


def test_the_working_says_which_load_is_pull_and_which_is_shear(base, fastening) -> None:
    report = fastening(base + UNIT, *carried("upright"))

    assert (
        "3.22 kN pull against a clamp load of 22.5 kN per bolt; pull of left: its upright load pulled up, worst in the case: lowest gear"
        in (report["fastening.bracket.separation"].remark)
    )
    assert "shear of left: its level load, worst in the case: braking" in report["fastening.bracket.slip"].remark
    assert "pull of left: its upright load pulled up" in report["fastening.bracket.bolt_load"].remark


def test_without_a_word_on_the_bolts_the_worst_is_taken_and_said(base, fastening) -> None:
    report = fastening(base + UNIT, *carried(""))

    for what in ("separation", "slip"):
        assert "as bolt_axis is missing" in report[f"fastening.bracket.{what}"].remark


def test_the_facts_of_the_unit_stand_behind_the_finding(base, fastening) -> None:
    """A clutch known to 10 % spreads the limit: the couple is the clutch's, the weight is exact."""
    spread = fastening(base + UNIT, *carried("hung"), ("320 ± 0 N·m", "320 N·m ± 10 %"), draws=4096)
    limit = spread["fastening.bracket.separation"].limit

    assert limit.high - limit.nominal == pytest.approx(1.5e-3 * COUPLE * 0.1, rel=0.1)


def test_what_is_written_by_hand_outranks_the_mount(base, fastening) -> None:
    """Each by itself: a written pull leaves the shear to the mount."""
    both = fastening(
        base + UNIT,
        (PULL, PULL + 'carries = "left"\nlever_out = "0 mm"\nlever_aside = "0 mm"\nbolt_axis = "upright"\n'),
    )
    one = fastening(
        base + UNIT,
        (PULL, PULL + 'carries = "left"\nlever_out = "0 mm"\nlever_aside = "0 mm"\nbolt_axis = "upright"\n'),
        (SHEAR, ""),
    )

    assert both["fastening.bracket.separation"].limit.nominal == pytest.approx(30)
    assert both["fastening.bracket.slip"].limit.nominal == pytest.approx(7.5)
    assert "of left" not in both["fastening.bracket.separation"].remark + both["fastening.bracket.slip"].remark
    assert one["fastening.bracket.separation"].limit.nominal == pytest.approx(30)
    assert one["fastening.bracket.slip"].limit.nominal == pytest.approx(1.5e-3 * LEVEL, rel=1e-6)


def test_a_joint_that_carries_a_mount_holds_both_ways_unless_it_says_otherwise(base, fastening) -> None:
    said = fastening(base + UNIT, *carried("hung"))
    unsaid = fastening(base + UNIT, *carried("hung"), ('load_type = "pull and shear"\n', ""))

    for what in ("separation", "bolt_load", "slip"):
        assert unsaid[f"fastening.bracket.{what}"].value == said[f"fastening.bracket.{what}"].value


@pytest.mark.parametrize(
    ("left_out", "missing"),
    [
        ('y = "0.28 ± 0 m"\n', "left.y"),
        ('[gearbox]\nratios = ["3.5", "2.0", "1.0"]\n', "gearbox"),
        ('mass = "150 ± 0 kg"\n', "engine_mass.mass"),
    ],
)
def test_what_the_mount_lacks_is_named_by_the_joint(base, fastening, left_out, missing) -> None:
    report = fastening(base + UNIT, *carried("upright"), (left_out, ""))

    for what in ("separation", "bolt_load", "slip"):
        finding = report[f"fastening.bracket.{what}"]
        assert (finding.verdict, list(finding.missing)) == (Verdict.unknown, [missing])


def test_a_restraint_has_no_load_to_give(base, fastening) -> None:
    strap = '[strap]\nkind = "mount"\nrole = "restraint"\nx = "0 m"\ny = "0 m"\nz = "0 m"\n'
    finding = fastening(base + UNIT + strap, (PULL, 'carries = "strap"\n'), (SHEAR, ""))["fastening.bracket.slip"]

    assert finding.missing == {"strap.role": "expected a mount that always carries: no load case comes on a restraint"}
