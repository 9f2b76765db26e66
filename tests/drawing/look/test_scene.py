"""What there is to look at: solids where they sit, gaps where the pairs come nearest, words as on the screen."""

from __future__ import annotations

import json
import re
from base64 import b64decode
from dataclasses import replace
from itertools import combinations

import numpy as np
import pytest
import trimesh
from scipy.spatial import ConvexHull

from trialfit.advice.placing import place
from trialfit.book.toml_text import read
from trialfit.drawing.look.page import WITHOUT, look_page
from trialfit.drawing.look.scene import Body, body_of, round_corners, scene_of_clearances, scene_of_placement
from trialfit.drawing.look.views import VIEWS, outline, side_and_plan
from trialfit.drawing.pen import Box
from trialfit.evaluation.verdict import Verdict
from trialfit.placement.solids import box, capsule, cylinder


def inside(points, corners):
    """How far points stick out of the hull of corners at most, m."""
    planes = ConvexHull(corners).equations
    return float((points @ planes[:, :3].T + planes[:, 3]).max())


def test_the_ends_of_a_gap_lie_on_the_two_bodies_as_they_come_to_when_it_is_tightest(scene):
    bodies = {body.name: body for body in scene.bodies}
    for mark in scene.marks:
        for end, name in zip(mark.ends, (body_of(mark.moving), mark.fixed), strict=True):
            if name == "ground":
                assert end[2] == pytest.approx(0, abs=1e-6)
                continue
            matrix = mark.moved.get(name, np.eye(4))
            corners = np.concatenate(bodies[name].pieces) @ matrix[:3, :3].T + matrix[:3, 3]
            # a round body is drawn with 24 sides inside its circle
            assert abs(inside(end[None], corners)) < 0.0006, (mark.name, name)


def test_the_length_of_each_line_is_the_gap_that_stands_beside_it(scene):
    for mark in scene.marks:
        length = float(np.linalg.norm(mark.ends[0] - mark.ends[1]))
        gap = mark.gap.split()[0]
        last_digit = 10.0 ** -len(gap.partition(".")[2])  # a gap with a wide spread is shown in whole millimetres
        assert length * 1000 == pytest.approx(float(gap), abs=0.6 * last_digit), mark.name


def test_the_marks_are_those_of_the_answer_the_tightest_first(scene, found):
    words = {pair.id: str(pair.verdict) for pair in found.pairs}

    assert {mark.name: mark.word for mark in scene.marks} == words
    assert scene.marks[0].verdict is Verdict.fails
    assert {mark.word for mark in scene.marks} == {"fails", "unsettled", "holds"}


def test_what_is_left_and_what_is_short_stand_in_the_page_in_words(scene):
    marks = {mark.name: mark for mark in scene.marks}
    page = look_page(scene, None)

    assert marks["clearance.gap.sump.rack"].left.endswith("mm short")
    assert marks["clearance.ground.sump"].left.endswith("mm left")
    for mark in scene.marks:
        assert f"required {mark.wanted}, {mark.left}</small>" in page


def test_of_a_sump_on_its_way_off_the_pair_that_decides_is_named(scene):
    mark = next(mark for mark in scene.marks if mark.name == "clearance.removal.sump")

    assert (mark.moving, mark.fixed) == ("sump on its way off", "rack")


def test_no_solid_on_its_way_and_no_ground_is_drawn_as_a_body(scene):
    assert [body.name for body in scene.bodies] == ["rack", "bonnet", "wall", "sump", "block"]
    assert [body.moves for body in scene.bodies] == [False, False, False, True, True]


def test_the_best_pose_is_drawn_where_the_answer_puts_it(build):
    found = place(build, draws=16)
    scene = scene_of_placement(build, found)
    best = {one.name: one.best for one in found.coordinates}
    pitch = -np.radians(best["inclination"])
    sump = next(body for body in scene.bodies if body.name == "sump").pieces[0].mean(axis=0)

    assert sump[0] * 1000 == pytest.approx(best["x"] + 270 * np.cos(pitch) - 160 * np.sin(pitch), abs=0.5)
    assert sump[2] * 1000 == pytest.approx(best["z"] - 270 * np.sin(pitch) - 160 * np.cos(pitch), abs=0.5)
    assert scene.says == found.says
    assert found.caution in scene.notes


def test_without_a_place_it_says_what_is_missing(written_build):
    build = written_build('[sump]\nkind = "solid"\nfixed_to = "drivetrain"\n')
    from trialfit.advice.clearances import clearances

    scene = scene_of_clearances(build, clearances(build, 16))

    assert scene.bodies == scene.marks == ()
    assert scene.says.startswith("Nothing can be drawn. Missing: drivetrain")
    assert "Nothing can be drawn" in look_page(scene, None)


@pytest.fixture
def written_build(tmp_path):
    def write(text):
        file = tmp_path / "build.toml"
        file.write_text(text, encoding="utf-8")
        return read(str(file))

    return write


@pytest.mark.parametrize(
    ("piece", "volume"),
    [
        (box(0.3, 0.2, 0.1), 0.006),
        (cylinder(0.1, 0.4), np.pi * 0.05**2 * 0.4),
        (capsule(0.1, 0.5), np.pi * 0.05**2 * 0.4 + 4 / 3 * np.pi * 0.05**3),
    ],
)
def test_a_drawn_piece_fills_nearly_what_the_piece_fills(piece, volume):
    assert ConvexHull(round_corners(piece)).volume == pytest.approx(volume, rel=0.03)


def test_the_triangles_of_the_page_close_each_body_and_face_outwards(scene):
    data = json.loads(re.search(r'id="scene">(.*?)</script>', look_page(scene, "0"))[1])
    for body, drawn in zip(data["bodies"], scene.bodies, strict=True):
        points = np.frombuffer(b64decode(body["points"]), "<f4").reshape(-1, 3)
        triangles = np.frombuffer(b64decode(body["triangles"]), "<u4").reshape(-1, 3)
        mesh = trimesh.Trimesh(points, triangles, process=False)
        assert mesh.is_watertight
        assert mesh.volume == pytest.approx(ConvexHull(drawn.pieces[0]).volume, rel=1e-4)


def test_without_a_script_the_page_runs_none_and_says_why_it_does_not_turn(scene):
    page = look_page(scene, None)

    assert WITHOUT in page
    assert "script-src 'none'" in page
    assert page.count('<svg class="drawing"') == 2


def test_a_drawing_names_every_body_and_numbers_every_gap_once_per_view(scene):
    text = side_and_plan(scene)

    for name in ("sump", "block", "rack", "bonnet", "wall"):
        assert text.count('class="name"') == 10
        assert text.count(f">{name}</text>") == 2
    for number in range(1, len(scene.marks) + 1):
        assert text.count(f">{number}</text>") == 2
    assert text.count("stroke-dasharray") == 2 * sum(mark.verdict is Verdict.unsettled for mark in scene.marks)


@pytest.mark.parametrize("count", [5, 20, 40])
def test_no_name_in_a_drawing_stands_on_another(scene, count):
    """Solids crowded as they are about an engine: 40 in a car of 4 m by 1.4 m, most of them within 0.8 m."""
    draw = np.random.default_rng(count)
    middles = draw.uniform([-0.8, -0.4, 0.2], [0.0, 0.4, 0.9], (count, 3))
    car = Body("car", moves=False, pieces=(round_corners(box(4, 1.4, 1.2, (-1.0, 0, 0.6))),))
    crowd = [
        Body(f"solid number {n}", moves=True, pieces=(round_corners(box(0.2, 0.1, 0.1, at)),))
        for n, at in enumerate(middles)
    ]
    text = side_and_plan(replace(scene, bodies=(car, *crowd), marks=()))

    for view in text.split("</svg>")[:2]:
        names = re.findall(r'class="name" x="([-0-9.]+)" y="([-0-9.]+)">([^<]*)<', view)
        assert len(names) == count + 1
        width, height = map(float, re.search(r'viewBox="0 0 (\d+) (\d+)"', view).groups())
        boxes = [Box(float(x) - 4.6 * len(name), float(y) - 15, 9.2 * len(name), 20) for x, y, name in names]
        assert not any(one.meets(other, -0.2) for one, other in combinations(boxes, 2))
        assert all(one.left >= -0.1 and one.right <= width + 0.1 and one.bottom <= height for one in boxes)


def test_a_name_that_stands_outside_its_body_has_a_line_to_it(scene):
    bodies = [
        Body(name, moves=True, pieces=(round_corners(box(0.02, 0.02, 0.02, (0, 0, 0.5))),))
        for name in ("first", "second")
    ]
    frame = Body("frame", moves=False, pieces=(round_corners(box(4, 1.4, 1, (-1.0, 0, 0.5))),))
    text = side_and_plan(replace(scene, bodies=(*bodies, frame), marks=()))

    assert text.count('class="leader"') == 2  # one of the two, in each view


def test_a_gap_that_fails_is_told_by_form_not_by_colour(scene):
    """Black number on the drawing; where the line is long enough it is struck through."""
    long = replace(scene.marks[0], ends=np.array([[0.0, 0, 0.2], [0.0, 0, 0.5]]))
    text = side_and_plan(replace(scene, marks=(long,)))

    assert 'class="badge fails"' in text
    assert text.count('class="strike"') == 1  # from above it is a point
    assert not re.search(r"(fill|stroke)=\"(?!#000)", text)


def test_the_outline_of_a_box_from_the_side_is_its_rectangle():
    points = round_corners(box(0.3, 0.2, 0.1))
    corners = outline(points[:, [VIEWS[0].across, VIEWS[0].up]])

    assert sorted(map(tuple, corners.round(6).tolist())) == [(-0.15, -0.05), (-0.15, 0.05), (0.15, -0.05), (0.15, 0.05)]
