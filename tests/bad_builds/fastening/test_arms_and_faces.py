"""Arms on their bolts, heads on soft metal, short painted stacks, each beside its mended twin that holds."""

from __future__ import annotations

import pytest

from trialfit.evaluation.verdict import Verdict

HOLDS, FAILS, UNSETTLED, UNKNOWN = Verdict.holds, Verdict.fails, Verdict.unsettled, Verdict.unknown
OF = "fastening.flange."
EXACT = {"maker_torques": None, "maker_state": None, "nut_factor": "0.20 ± 0.01, manual", "torque": "50 N·m"}
# Two bolts one over the other carry an arm: 2 kN across the bolts, 250 mm out.
ARM = {
    **EXACT,
    "thread": "M10",
    "bolts": "4",
    "pattern": "rectangle",
    "rows": "2",
    "columns": "2",
    "length": "60 mm, calipered",
    "width": "60 mm, calipered",
    "load_type": "pull and shear",
    "pull": "0.5 kN ± 5 %, guess",
    "shear": "1.5 kN ± 5 %, guess",
    "head_side_thickness": "16 mm, calipered",
    "thread_side_thickness": "16 mm, calipered",
    "washer_diameter": "20 mm, calipered",
    "nut_washer_diameter": "20 mm, calipered",
    "edge_distance": "18 mm, calipered",
    "web_distance": "18 mm, calipered",
    "lever_aside": "0 mm, taped",
    "lever_out": "100 mm, taped",
}
MOUNTED = """
[engine]
peak_torque = "150 N·m, manual"
[gearbox]
ratios = ["3.5", "1.0"]
[mass]
kind = "mass_part"
mass = "150 kg, weighed"
x = "0 m, taped"
y = "0 m, taped"
z = "0.5 m, taped"
"""
MOUNTS = "".join(
    f'[{name}]\nkind = "mount"\nx = "{x} m, taped"\ny = "{y} m, taped"\nz = "0.5 m, taped"\n'
    for name, x, y in (("left", 0, 0.3), ("right", 0, -0.3), ("rear", -0.8, 0))
)


def test_a_long_arm_opens_its_joint_and_a_short_one_does_not(joint) -> None:
    """Hardest pulled bolt of a foot 60 mm high with its edge 18 mm below: statics by hand along the short side."""
    long, short = joint(**ARM | {"lever_out": "2500 mm, taped"}), joint(**ARM)

    assert long[f"{OF}separation"].verdict is FAILS
    assert short[f"{OF}separation"].verdict is HOLDS
    assert short[f"{OF}bolt_load"].verdict is HOLDS
    assert "by the lever" in short[f"{OF}separation"].remark
    by_hand = 1.5 * (1.5e3 * 0.100 + 500 * 0.048) * 0.078 / (2 * 0.078**2 + 2 * 0.018**2)
    assert short[f"{OF}separation"].limit.nominal * 1e3 >= by_hand * (1 - 1e-9)


def test_an_arm_on_a_mount_is_unknown_until_its_lever_is_written(joint) -> None:
    """Load in line with the bolts held 117 kN against 1 kN before, with 500 N·m left out."""
    carried = ARM | {"pull": None, "shear": None, "carries": "left", "bolt_axis": "level"}
    unsaid = joint("flange", MOUNTED + MOUNTS, **carried | {"lever_out": None, "lever_aside": None})
    said = joint("flange", MOUNTED + MOUNTS, **carried)

    assert unsaid[f"{OF}separation"].verdict is UNKNOWN
    assert {"flange.lever_out", "flange.lever_aside"} <= set(unsaid[f"{OF}separation"].missing)
    assert said[f"{OF}separation"].verdict is HOLDS
    assert "level load" in said[f"{OF}separation"].state


def test_a_thin_foot_bends_and_pries(joint) -> None:
    """3 mm of steel under 1 kN·m: the foot yields; 16 mm bear it, and nothing pries."""
    thin = joint(**ARM | {"head_side_thickness": "3 mm, calipered", "lever_out": "700 mm, taped"})
    thick = joint(**ARM)

    assert thin[f"{OF}foot_bending"].verdict is FAILS
    assert "prying adds 0 %" not in thin[f"{OF}separation"].remark
    assert thick[f"{OF}foot_bending"].verdict is HOLDS
    assert "prying adds 0 %" in thick[f"{OF}separation"].remark


def test_a_load_beside_the_bolts_turns_the_faces(joint) -> None:
    """4 kN at 150 mm from the middle of a square of 60 mm: each bolt sees 1 kN and 3.5 of the twist."""
    beside = joint(**ARM | {"shear": "4 kN ± 5 %, guess", "lever_aside": "150 mm, taped", "lever_out": "20 mm, taped"})

    assert beside[f"{OF}slip"].verdict is FAILS
    assert "354 % more at the hardest bolt" in beside[f"{OF}slip"].remark
    assert joint(**ARM | {"face_friction": "0.2 ± 0.02, manual"})[f"{OF}slip"].verdict is HOLDS


def test_a_head_on_aluminium_sinks_in_and_a_washer_mends_it(joint) -> None:
    """M10 12.9 at 75 % of proof, 577 MPa on aluminium that bears 220 to 290."""
    soft = EXACT | {
        "thread": "M10",
        "strength_class": "12.9",
        "nut_class": "12",
        "torque": None,
        "head_side_material": "aluminium",
        "thread_side_material": "aluminium",
    }
    bare = joint(**soft)[f"{OF}bearing_pressure"]
    washers = {"washer_diameter": "24 mm, calipered", "nut_washer_diameter": "24 mm, calipered"}
    soft["torque"] = "50 N·m"
    mended = joint(**soft | washers, washer_thickness="5 mm, calipered")[f"{OF}bearing_pressure"]

    assert bare.verdict is FAILS
    assert bare.value.nominal == pytest.approx(577, abs=8)
    assert "a hard flat washer" in bare.remark
    assert mended.verdict is HOLDS


def test_faces_of_which_nothing_is_written_are_not_asked_about(joint) -> None:
    """A bare joint stays readable."""
    assert joint().result(f"{OF}bearing_pressure") is None


def test_a_short_painted_stack_loses_its_clamp_and_a_long_bare_one_keeps_it(joint) -> None:
    """M8 at 15.6 kN: 14.5 µm take half of it off 4 mm of bare sheet and nearly all with a film of paint, a tenth off 60 mm."""
    base = EXACT | {"thread": "M8", "strength_class": "8.8", "nut_class": "8", "torque": "25 N·m", "bolts": "1"}
    base |= {"nut_factor": "0.20 ± 0.005, manual", "face_friction": "0.15 ± 0.01, manual", "shear": "1 kN ± 2 %, guess"}
    thin = {"head_side_thickness": "2 mm, calipered", "thread_side_thickness": "2 mm, calipered"}
    long = {"head_side_thickness": "30 mm, calipered", "thread_side_thickness": "30 mm, calipered"}

    def lost(**stack: str) -> float:
        report = joint(**base | stack)
        return 1 - report[f"{OF}slip"].value.nominal / (0.15 * report.figure(f"{OF}preload").value.nominal)

    assert 0.3 < lost(**thin) < 0.6
    assert lost(**thin, paint_films="1") > 0.7
    assert 0.03 < lost(**long) < 0.15
    assert joint(**base | thin, paint_films="1")[f"{OF}slip"].verdict is FAILS
    assert joint(**base | long)[f"{OF}slip"].verdict is HOLDS
