"""Every pair has its finding; those that are near are listed, the others are counted."""

from __future__ import annotations

from dataclasses import replace

import pytest

from trialfit.advice.explaining import explain
from trialfit.evaluation.verdict import Verdict
from trialfit.subjects.catalogue import evaluate, requirements

GAP = "clearance.gap.sump.rack"
AWAY = {"x": "900 ± 0 mm"}


def worked(build, draws=64):
    return evaluate(build, draws, ("clearance",))


def with_limit(build, text):
    return replace(build, document=build.document.model_copy(update={"limits": {GAP: text}}))


@pytest.mark.parametrize(("x", "near"), [("261 ± 0 mm", True), ("263 ± 0 mm", False)])
def test_a_pair_is_listed_up_to_80_mm_more_than_it_wants(build, x, near):
    """Sump front at 150 mm, the rack reaches 20 mm back from its middle: 12 mm wanted and 80 mm more end at 262 mm."""
    report = worked(build(rack={"x": x}))

    assert [one.id for one in report.findings if one.id == GAP] == [GAP] * near
    assert report.findings_left_out == (not near)


def test_a_pair_far_apart_still_has_its_finding(build):
    far = build(rack=AWAY)

    assert GAP in [one.id for one in requirements(far)]
    assert explain(far, GAP, 64).finding.value.nominal == pytest.approx(730)


def test_a_limit_of_the_builders_own_stays_valid_when_the_rack_moves_away(build):
    """Near it is judged as before, far away it is listed and holds; nothing stops and nothing is remarked."""
    near, far = (worked(with_limit(build(rack=rack), "25 mm")) for rack in ({}, AWAY))

    assert (near[GAP].verdict, far[GAP].verdict) == (Verdict.fails, Verdict.holds)
    assert (far.findings_left_out, far.remarks) == (0, ())
    assert [one.id for one in far[GAP].limits] == ["written", "stated"]


def test_the_nearest_pair_comes_first(build):
    """Of the pairs that hold, in the order in which they come near, however they are written."""
    post = {"kind": "solid", "z": "300 ± 0 mm", "length": "10 ± 0 mm", "width": "10 ± 0 mm", "height": "10 ± 0 mm"}
    turned = {"roll": "0 ± 0 deg", "inclination": "0 ± 0 deg", "heading": "0 ± 0 deg", "y": "0 ± 0 mm"}
    found = worked(
        build(
            rack={"x": "230 ± 0 mm"},
            far={**post, **turned, "x": "220 ± 0 mm"},
            near={**post, **turned, "x": "200 ± 0 mm"},
        )
    )
    gaps = [one.id for one in found.findings if one.id.startswith("clearance.gap.")]

    assert gaps == ["clearance.gap.sump.near", GAP, "clearance.gap.sump.far"]


def test_where_a_place_is_not_known_one_finding_stands_for_its_pairs(build):
    report = worked(build(rack={"x": None}))
    about = [one.id for one in report.findings if "rack" in one.id]

    assert about == ["clearance.place.rack"]
    assert report["clearance.place.rack"].missing.keys() == {"rack.x"}
    assert report.findings_left_out == 0
