"""Bracket, weld, sheet and bolts of one mount are one chain: whichever is made too weak is named, and its own finding fails."""

from __future__ import annotations

import pytest

from trialfit.book import read_text
from trialfit.evaluation.finding import Report
from trialfit.subjects import evaluate


def mount(name: str, x: float, y: float) -> str:
    """A mount at a place, strong enough."""
    return (
        f'[{name}]\nkind = "mount"\nx = "{x} ± 0 m"\ny = "{y} ± 0 m"\nz = "0.5 ± 0 m"\nrated_load = "30 kN, catalogue"\n'
        'rated_pull = "30 kN, catalogue"\nbreaking_load = "40 kN, catalogue"\n'
    )


UNIT = f'''
[engine]
torque_curve = """
rpm : N·m ± 0 %
1000 : 200
3000 : 250
6000 : 200
"""
[clutch]
rated_torque = "375 ± 0 N·m, manual"
[gearbox]
ratios = ["3.5", "2.0", "1.0"]
reverse_ratio = "3.2"
[power_unit]
layout = "longitudinal"
torque_factor = "2 ± 0"
[engine_mass]
kind = "mass_part"
mass = "150 ± 0 kg"
x = "0 ± 0 m"
y = "0 ± 0 m"
z = "0.50 ± 0 m"
{mount("left", 0, 0.28)}{mount("right", 0, -0.28)}{mount("rear", -1, 0)}
[arm]
kind = "bracket"
carries = "left"
reach = "120 ± 0.5 mm, calipered"
depth = "80 ± 0.5 mm, calipered"
thickness = "6.5 ± 0.1 mm, calipered"
plates = "2"
bolt_hole = "12.5 ± 0.1 mm, calipered"
bolt_edge = "25 ± 0.5 mm, calipered"
[seam]
kind = "weld"
carries = "arm"
pattern = "all round"
width = "60 ± 0.5 mm, calipered"
depth = "80 ± 0.5 mm, calipered"
leg = "4 ± 0.1 mm, gauged"
thicker = "5 ± 0.1 mm, calipered"
thinner = "4 ± 0.1 mm, calipered"
base_width = "70 ± 0.5 mm, calipered"
torch_access = "150 ± 5 mm, taped"
[bolts]
kind = "bolted_joint"
carries = "left"
thread = "M12×1.75"
strength_class = "10.9"
nut_class = "10"
thread_state = "dry"
load_type = "pull and shear"
pull = "8 ± 0.1 kN, computed"
shear = "6 ± 0.1 kN, computed"
bolts = "6"
torque = "90 N·m"
head_side_material = "steel"
head_side_thickness = "6 mm, calipered"
thread_side_material = "steel"
thread_side_thickness = "6 mm, calipered"
face_friction = "0.2 ± 0.02, catalogue"
'''


def structure(*changes: tuple[str, str]) -> Report:
    """The structure of the build, with what is written and what is to stand there instead."""
    text = UNIT
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new)
    return evaluate(read_text(text), draws=1024, subjects=["structure"])


def weakest(report: Report) -> str:
    """The weakest link of the chain of the left mount."""
    said = report.figure("structure.weakest.left").remark
    return said.partition("weakest link: ")[2].partition(",")[0]


def test_a_sound_mount_holds_in_every_link() -> None:
    """And none of them is unknown."""
    report = structure()
    figure = report.figure("structure.weakest.left")

    assert figure.value.nominal > 1
    assert "not known" not in figure.remark
    assert weakest(report)
    for link in ("bracket_stress.arm", "weld_throat.seam", "weld_yield.seam", "weld_parent.seam", "sheet_bending.seam"):
        assert report[f"structure.{link}"].verdict == "holds", link


@pytest.mark.parametrize(
    ("change", "link", "finding"),
    [
        (('rated_load = "30 kN', 'rated_load = "2 kN'), "left pressed", "mount_load.left"),
        (
            (
                'depth = "80 ± 0.5 mm, calipered"\nthickness = "6.5',
                'depth = "30 ± 0.5 mm, calipered"\nthickness = "6.5',
            ),
            "root of arm",
            "bracket_stress.arm",
        ),
        (
            ('leg = "4 ± 0.1 mm, gauged"', 'leg = "1.5 ± 0.1 mm, gauged"\nthroat_deduction = "0.8 mm, calipered"'),
            "metal fused into seam",
            "weld_yield.seam",
        ),
        (('base_width = "70', 'base_width = "300'), "sheet under seam", "sheet_bending.seam"),
        (('bolts = "6"', 'bolts = "1"'), "faces of bolts", ""),
    ],
)
def test_the_link_that_is_made_too_weak_is_named(change: tuple[str, str], link: str, finding: str) -> None:
    """Rubber, bracket, weld, sheet, bolts: one after the other."""
    report = structure(change)

    assert weakest(report).startswith(link)
    if finding:
        assert report[f"structure.{finding}"].verdict == "fails"
        assert report.figure("structure.weakest.left").value.nominal < 1


def test_a_link_that_is_not_known_is_said_to_be_unknown() -> None:
    """The free width of the wall is not taped."""
    remark = structure(('base_width = "70 ± 0.5 mm, calipered"\n', "")).figure("structure.weakest.left").remark

    assert "not known: sheet under seam (seam.base_width)" in remark


def test_worst_load_once_and_everyday_load_repeated_are_both_judged() -> None:
    """Of a mount: each state with its own margin; "repeated" on the bracket puts the worst load to the stricter one."""
    both = structure()["structure.bracket_stress.arm"]
    often = structure(('carries = "left"\nreach', 'carries = "left"\nrepeats = "repeated"\nreach'))[
        "structure.bracket_stress.arm"
    ]

    assert both.state in ("worst load, once", "everyday load, repeated")
    assert often.limit.nominal == pytest.approx(60)
    assert often.margin.nominal < both.margin.nominal
