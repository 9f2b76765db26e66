"""Mounts in the user's words, against statics by hand."""

from __future__ import annotations

import pytest

from trialfit.evaluation.verdict import Verdict

G = 9.80665
TORQUE = 2 * 320 * 3.5
COUPLE = TORQUE / 0.56
# 150 kg over the front mounts, 50 kg at 0.8 of the way to the rear one
REAR = 50 * G * 0.8
FRONT = (150 * G + 50 * G * 0.2) / 2


def test_the_worst_case_of_a_front_mount_is_the_lowest_gear(structure, unit) -> None:
    """Static share and couple on one side, couple less share pulling up on the other."""
    report = structure(unit)
    finding = report["structure.mount_load.left"]

    assert finding.value.nominal == pytest.approx(FRONT + COUPLE, rel=1e-6)
    assert "reverse or overrun" in finding.remark
    assert report["structure.mount_pull.left"].value.nominal == pytest.approx(COUPLE - FRONT, rel=1e-6)
    assert report.figure("structure.unit_torque").value.nominal == pytest.approx(TORQUE)
    assert report.figure("structure.unit_mass").value.nominal == pytest.approx(200)


def test_the_rear_mount_sees_bumps_and_bends(structure, unit) -> None:
    """Three times its share down and a third of 200 kg aside."""
    value = structure(unit)["structure.mount_load.rear"].value.nominal

    assert value == pytest.approx(((3 * REAR) ** 2 + (200 * G / 3) ** 2) ** 0.5, rel=1e-6)


def test_without_a_clutch_the_engine_s_peak_counts(structure, unit) -> None:
    """250 instead of 320 N·m."""
    report = structure(unit, ('[clutch]\nrated_torque = "320 ± 0 N·m"\n', ""))

    assert report.figure("structure.unit_torque").value.nominal == pytest.approx(2 * 250 * 3.5)


def test_reverse_counts_where_it_is_lower(structure, unit) -> None:
    """3.9 beats 3.5."""
    report = structure(unit, ('reverse_ratio = "3.2"', 'reverse_ratio = "3.9"'))

    assert report.figure("structure.unit_torque").value.nominal == pytest.approx(2 * 320 * 3.9)


def test_a_unit_across_the_car_holds_its_final_drive_too(structure, unit) -> None:
    """About y: the torque goes between front and rear mounts, 1 m apart."""
    report = structure(unit + '\n[final_drive]\nratio = "4.0"\n', ("longitudinal", "transverse"))

    assert report.figure("structure.unit_torque").value.nominal == pytest.approx(TORQUE * 4)
    assert report["structure.mount_load.rear"].value.nominal == pytest.approx(TORQUE * 4 + REAR, rel=1e-6)


def test_ten_g_forward_against_what_the_mounts_hold(structure, unit) -> None:
    """30 kN over ten times 200 kg; without one breaking load nobody knows."""
    assert structure(unit)["structure.crash_hold"].value.nominal == pytest.approx(30e3 / (10 * G * 200))
    unknown = structure(unit.replace('breaking_load = "10 ± 0 kN"\n', "", 1))["structure.crash_hold"]
    assert list(unknown.missing) == ["left.breaking_load"]


def test_a_strap_holds_when_a_mount_has_torn_and_carries_nothing_before(structure, unit) -> None:
    """A restraint on the left front: with the left mount gone it replaces it, to the newton."""
    strap = (
        '\n[strap]\nkind = "mount"\nrole = "restraint"\n'
        + unit.split('[left]\nkind = "mount"\n')[1].split("[right]")[0]
    )
    plain, strapped = structure(unit), structure(unit + strap)
    finding = strapped["structure.lost_mount.left"]

    assert strapped["structure.mount_load.left"].value.nominal == plain["structure.mount_load.left"].value.nominal
    assert strapped["structure.still_held.left"].verdict is Verdict.holds
    # pulled up hardest: couple less share, of 4 kN; pressed: share and couple, of 7 kN
    assert finding.value.nominal == pytest.approx(max((FRONT + COUPLE) / 7000, (COUPLE - FRONT) / 4000), rel=1e-6)


def test_points_left_in_one_line_are_named(structure, unit) -> None:
    """A strap on the line from the right mount to the rear one holds nothing when the left one tears."""
    strap = """
[strap]
kind = "mount"
role = "restraint"
x = "-0.5 ± 0 m"
y = "-0.14 ± 0 m"
z = "0.5 ± 0 m"
rated_load = "9 kN"
rated_pull = "9 kN"
"""
    report = structure(unit + strap)

    assert report["structure.still_held.left"].verdict is Verdict.fails
    assert 'captive = "yes"' in report["structure.still_held.left"].cure
    assert "are in one line" in report["structure.lost_mount.left"].missing["mount"]


def test_masses_without_mounts_and_mounts_without_masses_are_unknown(structure, unit) -> None:
    """Each names what is missing."""
    no_mounts = structure(unit.split("[left]")[0])
    no_masses = structure(unit.split("[engine_mass]")[0] + "[left]" + unit.split("[left]")[1])

    assert list(no_mounts["structure.mount_load.mount"].missing) == ["mount"]
    assert "mass_part" in no_masses["structure.mount_load.left"].missing


def test_a_single_draw_names_the_hardest_case_of_the_nominal(structure, unit) -> None:
    """The same as many draws do."""
    one, many = (structure(unit, draws=draws)["structure.mount_load.left"].remark for draws in (1, 64))

    assert one == many
    assert "hardest in the case: " in one
