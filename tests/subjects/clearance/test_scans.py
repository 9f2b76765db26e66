"""A scan in a build: its pieces stick out and steer the search, its surface settles what holds."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import trimesh

from trialfit.advice.clearances import clearances
from trialfit.advice.placing import place
from trialfit.drawing.look.scene import said_of_scans, scene_of_clearances
from trialfit.evaluation.verdict import Verdict
from trialfit.placement.meshes import clean
from trialfit.placement.solids import box
from trialfit.placement.splitting import Split, write_shape
from trialfit.subjects.catalogue import evaluate

GAP = "clearance.gap.sump.rack"


@pytest.fixture
def scanned(build, tmp_path):
    """The sump of the other tests as a scan whose only piece stands out by 15 mm all round."""
    mesh = trimesh.creation.box((0.3, 0.2, 0.1))
    fat = box(0.33, 0.23, 0.13)
    corners = np.array(trimesh.creation.box(2 * np.array(fat.size)).vertices)
    made = Split((replace(fat, shape="hull", size=(), vertices=corners),), 0.015, 0.015, 0.0)
    surface = clean(np.array(mesh.vertices), np.array(mesh.faces, np.int64))
    write_shape(tmp_path / "sump.solid.json", made, "a box", surface, 0.0)
    no_box = dict.fromkeys(("length", "width", "height"))
    made = build(
        sump={**no_box, "shape": "mesh", "file": "sump.solid.json", "x": "0 ± 1 mm"},
        drivetrain={f"{name}_window": "0 mm" for name in "xyz"}
        | {"inclination_window": "0 deg", "heading_window": "0 deg"},
    )
    return replace(made, folder=tmp_path)


def test_the_surface_settles_the_gap_and_not_the_pieces(scanned):
    """20 mm by the surface, 5 by the piece, 12 wanted."""
    finding = evaluate(scanned, 256, ("clearance",))[GAP]

    assert finding.value.nominal == pytest.approx(20.0, abs=1e-3)
    assert finding.verdict is Verdict.holds


def test_a_pose_that_the_pieces_forbid_is_judged_by_the_surface(scanned):
    found = place(scanned, draws=256)
    gap = next(one for one in found.requirements if one.id == GAP)

    assert gap.value == pytest.approx(20.0, abs=0.01)
    assert gap.margin == pytest.approx(8.0, abs=0.01)
    assert found.normalised > 0
    assert not found.conflict


def test_the_page_of_a_pose_says_that_a_scan_is_drawn_by_its_pieces(scanned, build):
    """20 mm stand beside a line of 5 mm: the reader is told why. A build without scans says nothing of it."""
    scene = scene_of_clearances(scanned, clearances(scanned, 64))

    assert any(note.startswith("sump is a scan, drawn as its convex pieces") for note in scene.notes)
    assert said_of_scans(build()) == ()
