"""A small frame in the user's words, against beam formulas; loads and sections with their spread."""

from __future__ import annotations

import pytest

from trialfit.evaluation.verdict import Verdict

ARM = """
[old_tube]
kind = "cut_member"
shape = "round tube"
diameter = "30 ± 0 mm"
wall_thickness = "2 ± 0 mm"

[tube]
kind = "reinforcement"
replaces = "old_tube"
shape = "round tube"
diameter = "30 ± 0 mm"
wall_thickness = "1.5 ± 0 mm"

[bracing]
kind = "frame"
load_factor = "1 ± 0"

[root]
kind = "frame_node"
x = "0 ± 0 m"
y = "0 ± 0 m"
z = "0 ± 0 m"
support = "fixed"

[tip]
kind = "frame_node"
x = "0.5 ± 0 m"
y = "0 ± 0 m"
z = "0 ± 0 m"
load_z = "-100 ± 0 N"

[arm]
kind = "frame_member"
start = "root"
end = "tip"
section = "tube"
"""


def moment(diameter: float, wall: float) -> float:
    """Second moment of a tube, mm⁴."""
    return 3.14159265 / 64 * (diameter**4 - (diameter - 2 * wall) ** 4)


def test_an_arm_is_stressed_and_moves_as_beam_theory_says(structure) -> None:
    """M·c/I over 180 MPa; F·L³/(3·E·I); the root holds 100 N; stiffness over the tube that was cut."""
    report = structure(ARM)

    assert report["structure.frame_stress.bracing"].value.nominal == pytest.approx(
        100 * 500 * 15 / moment(30, 1.5) / 180, rel=1e-6
    )
    assert report.figure("structure.frame_deflection.bracing").value.nominal == pytest.approx(
        100 * 500**3 / (3 * 200e3 * moment(30, 1.5)), rel=1e-6
    )
    assert report.figure("structure.frame_reaction.root").value.nominal == pytest.approx(100)
    ratio = report["structure.frame_ratio.bracing"]
    assert ratio.value.nominal == pytest.approx(moment(30, 1.5) / moment(30, 2), rel=1e-6)
    assert ratio.verdict is Verdict.fails


def test_spreads_of_load_and_wall_go_through(structure) -> None:
    """A load known within 20 % and a wall within 10 % widen stress and movement; the nominal stays."""
    exact = structure(ARM, draws=256)
    wide = structure(ARM, ("-100 ± 0 N", "-100 ± 20 N"), ("1.5 ± 0 mm", "1.5 ± 0.15 mm"), draws=256)

    for report, spread in ((exact, 1e-9), (wide, 0.3)):
        value = report["structure.frame_stress.bracing"].value
        assert (value.high - value.low) / value.nominal == pytest.approx(
            0 if report is exact else 0.43, abs=max(spread / 3, 1e-9)
        )
    ratio = wide["structure.frame_ratio.bracing"].value
    assert ratio.low < ratio.nominal < ratio.high


def test_it_says_what_is_nominal_only(structure) -> None:
    """The builder reads it in the remark, with the member that is worked hardest."""
    remark = structure(ARM)["structure.frame_stress.bracing"].remark

    assert "arm is loaded most" in remark
    assert "nominal shape and sections" in remark


def test_a_frame_that_hangs_loose_is_unknown_in_one_sentence(structure) -> None:
    """Held at one point that may turn, it falls over."""
    finding = structure(ARM, ('support = "fixed"', 'support = "pinned"'))["structure.frame_stress.bracing"]

    assert finding.verdict is Verdict.unknown
    assert "not held fast" in finding.missing["bracing"]


def test_a_frame_without_load_or_members_names_what_is_missing(structure) -> None:
    """Load of the free node; a member."""
    no_load = structure(ARM, ('load_z = "-100 ± 0 N"\n', ""))["structure.frame_stress.bracing"]
    no_member = structure(ARM.split("[arm]", maxsplit=1)[0])["structure.frame_stress.bracing"]

    assert list(no_load.missing) == ["tip.load_z"]
    assert list(no_member.missing) == ["frame_member"]


def test_a_single_draw_is_the_nominal_without_a_spread(structure) -> None:
    """However badly load and wall are known: stress and movement are those of many draws, and their interval is closed."""
    unsure = (("-100 ± 0 N", "-100 ± 20 N"), ("1.5 ± 0 mm", "1.5 ± 0.15 mm"))
    one, many = structure(ARM, *unsure, draws=1), structure(ARM, *unsure, draws=256)

    for found, other in (
        (one["structure.frame_stress.bracing"], many["structure.frame_stress.bracing"]),
        (one.figure("structure.frame_deflection.bracing"), many.figure("structure.frame_deflection.bracing")),
    ):
        assert found.value.nominal == pytest.approx(other.value.nominal)
        assert (found.value.low, found.value.high) == pytest.approx((found.value.nominal, found.value.nominal))
        assert other.value.low < other.value.nominal < other.value.high
