"""Faces counted twice, hollow rails, one bolt on a circle, locking nuts, paint: each beside its mended twin."""

from __future__ import annotations

import pytest

from trialfit.book.problems import BadInput
from trialfit.evaluation.verdict import Verdict

HOLDS, FAILS, UNSETTLED = Verdict.holds, Verdict.fails, Verdict.unsettled
OF = "fastening.flange."
LOADED = {"shear": "20 kN ± 5 %, guess"}


def test_sliding_faces_of_ones_own_do_not_make_slip_hold(joint) -> None:
    """20 kN on six bolts: four pairs of faces by the builder's word, from a drawing, and a seventh of the load on one pair."""
    own = joint(**LOADED, sliding_faces="4")
    drawn = joint(**LOADED, sliding_faces="4, manual")

    assert own[f"{OF}slip"].verdict is UNSETTLED
    assert any("sliding_faces" in why for why in own[f"{OF}slip"].held_back)
    assert drawn[f"{OF}slip"].verdict is HOLDS
    assert joint(shear="3 kN ± 5 %, guess")[f"{OF}slip"].verdict is HOLDS


def test_more_faces_cannot_slide_than_there_are(joint) -> None:
    """Two parts have one pair of faces between head and nut."""
    with pytest.raises(BadInput, match="more than inner_faces, 2, of which they are some"):
        joint(**LOADED, sliding_faces="4", inner_faces="2")
    joint(**LOADED, sliding_faces="2", inner_faces="2")


def test_a_hollow_rail_needs_a_crush_tube(joint) -> None:
    """The walls fold in before the bolt has its clamp."""
    hollow, tube = joint(through="hollow section"), joint(through="crush tube")

    assert hollow[f"{OF}hollow"].verdict is FAILS
    assert "crush tube" in hollow[f"{OF}hollow"].cure
    assert tube.result(f"{OF}hollow") is None
    assert joint().result(f"{OF}hollow") is None


def test_one_bolt_on_a_circle_holds_by_its_own_face_only(joint) -> None:
    """About 27 kN on a face of 14.6 mm over 11 mm: 6.4 mm of arm, where half of the circle is 25 mm. Three bolts hold on the circle."""
    turned = {
        "load_type": "torque",
        "load_torque": "60 N·m ± 5 %",
        "face_friction": "0.15 ± 0.02, gauged",
        "nut_factor": "0.20 ± 0.01, gauged",
        "pitch_circle_diameter": "50 mm, calipered",
        "pattern": "circle",
    }
    one, three = joint(**turned, bolts="1"), joint(**turned, bolts="3")

    assert one[f"{OF}slip"].verdict is FAILS
    assert "only its own face holds them" in one[f"{OF}slip"].remark
    assert three[f"{OF}slip"].verdict is HOLDS


def test_a_locking_nut_is_not_added_to_a_makers_figure(joint) -> None:
    """55 by the maker and 12 to turn the nut: 55 are set unless 67 are written, and the remark says what to look up."""
    wrench = '[clicker]\nkind = "torque_wrench"\nlargest = "200 N·m"\n'
    his = joint("flange", wrench, wrench="clicker", running_torque="12 N·m, gauged")
    own = joint("flange", wrench, wrench="clicker", running_torque="12 N·m, gauged", torque="67 N·m")

    assert his.figure(f"{OF}wrench_setting").value.nominal == pytest.approx(55)
    assert (
        "55 N·m by the maker, 67 N·m if his figure does not include the running torque"
        in his[f"{OF}preload_share"].remark
    )
    assert own.figure(f"{OF}wrench_setting").value.nominal == pytest.approx(67)
    assert own.figure(f"{OF}preload").value.nominal == pytest.approx(his.figure(f"{OF}preload").value.nominal * 55 / 43)
    assert own[f"{OF}maker_figure"].verdict is HOLDS


def test_paint_in_a_short_stack_is_to_be_bared(joint) -> None:
    """Two films on 6 mm take most of the clamp; bare it holds."""
    short = {
        "head_side_thickness": "3 mm, calipered",
        "thread_side_thickness": "3 mm, calipered",
        "shear": "1 kN ± 5 %, guess",
    }
    painted, bare = joint(**short, paint_films="2"), joint(**short)

    assert painted[f"{OF}slip"].verdict is not HOLDS
    assert painted[f"{OF}slip"].cure.startswith("Bare the faces under heads and nuts and between the parts")
    assert bare[f"{OF}slip"].verdict is HOLDS
