"""Meshes: what is refused and why, what is cured, unit and frame from three points, the error of the pieces, exact gaps."""

from __future__ import annotations

import numpy as np
import pytest
import trimesh
from step_drawing import step_drawing

from trialfit.placement import meshes
from trialfit.placement.distance import Stage
from trialfit.placement.meshes import (
    MOST_TRIANGLES,
    BadMesh,
    Triangles,
    check_size,
    clean,
    read_mesh,
    settle,
    settled,
    simplify,
)
from trialfit.placement.pose import turn_of
from trialfit.placement.splitting import read_pieces, read_shape, split, write_shape
from trialfit.placement.surfaces import mesh_gap, winding

BOX = trimesh.creation.box((0.3, 0.2, 0.1))
L_SHAPE = trimesh.util.concatenate(
    [
        trimesh.creation.box((0.3, 0.1, 0.1)),
        trimesh.creation.box((0.1, 0.3, 0.1), trimesh.transformations.translation_matrix((-0.1, 0.2, 0))),
    ]
)


def arrays(mesh):
    return np.array(mesh.vertices, float), np.array(mesh.faces, np.int64)


@pytest.mark.parametrize("suffix", ["stl", "obj", "ply", "glb", "off"])
def test_each_format_is_read(tmp_path, suffix):
    BOX.export(tmp_path / f"a.{suffix}")
    found = read_mesh(tmp_path / f"a.{suffix}")

    assert sorted(found.size) == pytest.approx([0.1, 0.2, 0.3], abs=1e-6)
    assert found.closed


@pytest.mark.parametrize(
    ("module", "command"),
    [("meshes.py", 'pip install "trialfit[step]"'), ("checkout/src/trialfit/placement/meshes.py", "setup/step.sh")],
)
def test_a_step_drawing_without_its_reader_gets_the_command_that_installs_it(tmp_path, monkeypatch, module, command):
    """In a checkout its script, elsewhere the extra of the package."""
    (tmp_path / "checkout/setup").mkdir(parents=True)
    (tmp_path / "checkout/setup/step.sh").touch()
    (tmp_path / "sump.stp").touch()
    monkeypatch.setattr(meshes, "find_spec", lambda _: None)
    monkeypatch.setattr(meshes, "__file__", str(tmp_path / module))

    with pytest.raises(BadMesh) as wrong:
        read_mesh(tmp_path / "sump.stp")

    assert str(wrong.value).startswith("sump.stp is a STEP drawing, and the STEP reader is not installed: install it")
    assert command in str(wrong.value)


def test_a_step_drawing_is_read_in_millimetres(tmp_path):
    """A box of 300 x 200 x 100 mm as a drawing program writes it, closed."""
    box = trimesh.creation.box((300, 200, 100))
    (tmp_path / "a.step").write_text(step_drawing(box.vertices, box.faces))
    found = read_mesh(tmp_path / "a.step")

    assert found.size == pytest.approx([300, 200, 100], abs=1e-3)
    assert found.closed


def _nan():
    points, faces = arrays(BOX)
    points[3] = np.nan
    return points, faces


def _flat():
    points, faces = arrays(BOX)
    points[:, 2] = 0
    return points, faces


@pytest.mark.parametrize(
    ("made", "says"),
    [
        (_nan, "1 of its 8 points are not numbers"),
        (_flat, "it is flat, without thickness: give the sheet its thickness"),
        (lambda: (np.zeros((0, 3)), np.zeros((0, 3), int)), "the file has no triangles"),
        (
            lambda: (np.random.default_rng(0).normal(size=(9, 3)), np.zeros((10_000_000, 3), np.int8)),
            f"10000000 triangles: expected at most {MOST_TRIANGLES}",
        ),
        (lambda: (np.random.default_rng(0).normal(size=(9, 3)), np.zeros((4, 3), int)), "no triangle with an area"),
    ],
)
def test_bad_geometry_is_refused_with_a_sentence(made, says):
    with pytest.raises(BadMesh, match=says):
        clean(*made())


def test_an_open_mesh_is_taken_and_said_to_be_open():
    points, faces = arrays(BOX)
    found = clean(points, faces[:-1])

    assert not found.closed
    assert "its surface is open" in found.cured[0]


def test_inverted_faces_are_turned_round():
    points, faces = arrays(BOX)
    found = clean(points, faces[:, ::-1])

    assert "pointed inward" in " ".join(found.cured)
    assert trimesh.Trimesh(found.points, found.triangles).volume > 0


@pytest.mark.parametrize(
    ("name", "says"),
    [("a.iges", "save it as STEP or STL"), ("a.txt", 'ends in ".txt": expected a mesh'), ("a.stl", "does not exist")],
)
def test_what_is_no_mesh_file_is_refused(tmp_path, name, says):
    with pytest.raises(BadMesh, match=says):
        read_mesh(tmp_path / name)


@pytest.mark.parametrize("content", [b"", b"solid\n", b"\x00" * 400, b"ply\nnonsense"])
def test_what_cannot_be_read_gets_a_sentence(tmp_path, content):
    for suffix in ("stl", "ply", "glb", "obj"):
        file = tmp_path / f"a.{suffix}"
        file.write_bytes(content)
        with pytest.raises(BadMesh):
            read_mesh(file)


@pytest.mark.parametrize(("unit", "scale"), [("mm", 1e-3), ("in", 0.0254), ("m", 1.0), ("cm", 1e-2)])
def test_unit_and_frame_follow_from_three_points(unit, scale):
    """The part's points, turned and shifted into a file of another unit, come back; 25.4 and 1000 are told apart."""
    rng = np.random.default_rng(1)
    here = np.array([[0.1, 0.05, 0], [-0.12, 0.03, 0.02], [0.02, -0.09, 0.01]])
    turn, shift = turn_of(0.3, -0.7, 2.0), rng.normal(size=3)
    there = (here - shift) @ turn / scale
    found = settle(list(zip(there, here + 1e-3 * rng.normal(size=(3, 3)), strict=True)))

    assert found.unit == unit
    assert found.turn == pytest.approx(turn, abs=0.03)
    assert found.misfit < 0.004


@pytest.mark.parametrize(
    ("known", "says"),
    [
        ([((0, 0, 0), (0, 0, 0))] * 2, "2 named points do not fix unit and axes"),
        ([((n, 0, 0), (n / 1000, 0, 0)) for n in range(3)], "in one line in the file"),
        ([((0, 0, 0), (0, 0, 0)), ((7, 0, 0), (0.2, 0, 0)), ((0, 7, 0), (0, 0.2, 0))], "not a known unit"),
        ([((np.nan, 0, 0), (0, 0, 0)), ((7, 0, 0), (0.2, 0, 0)), ((0, 7, 0), (0, 0.2, 0))], "is not a number"),
    ],
)
def test_points_that_settle_nothing_are_refused(known, says):
    with pytest.raises(BadMesh, match=says):
        settle(known)


@pytest.mark.parametrize(
    ("factor", "says"), [(1000.0, "perhaps its numbers are mm"), (1e-3, "too large or too small for a part of a car")]
)
def test_a_size_of_another_unit_is_refused(factor, says):
    points, faces = arrays(BOX)
    with pytest.raises(BadMesh, match=says):
        check_size(Triangles(points * factor, faces, closed=True))


def test_the_pieces_of_an_l_leave_its_corner_free():
    """A post in the inner corner: the pieces are as far as the L itself, to the error that is stated; its convex hull would overlap."""
    made = split(clean(*arrays(L_SHAPE)), 16)
    post = trimesh.creation.box((0.02, 0.02, 0.3), trimesh.transformations.translation_matrix((0.05, 0.15, 0)))
    from trialfit.placement.solids import box

    stage = Stage([*made.pieces, box(0.02, 0.02, 0.3, (0.05, 0.15, 0))])
    gap = stage.distances(list(range(len(made.pieces))), [len(made.pieces)] * len(made.pieces))[0].min()
    truth = mesh_gap(clean(*arrays(L_SHAPE)), clean(*arrays(post)))

    assert truth == pytest.approx(0.09, abs=1e-6)
    assert truth - made.sticks_out - 1e-3 <= gap <= truth + made.uncovered + 1e-3
    assert made.sticks_out < 0.03


def test_pieces_are_read_as_they_were_written(tmp_path):
    made = split(clean(*arrays(L_SHAPE)), 8)
    mesh = clean(*arrays(L_SHAPE))
    write_shape(tmp_path / "l.solid.json", made, "an L", mesh, 0.0002)
    back = read_pieces(tmp_path / "l.solid.json")
    shape = read_shape(tmp_path / "l.solid.json")

    assert len(back) == len(made.pieces)
    assert Stage([*back]).own_position == pytest.approx(Stage([*made.pieces]).own_position, abs=1e-5)
    assert shape.surface is not None
    assert shape.surface.points == pytest.approx(mesh.points, abs=1e-6)
    assert (shape.surface.triangles == mesh.triangles).all()
    assert shape.off == 0.0002


def test_a_surface_is_thinned_out_with_its_error_stated_and_stays_closed():
    """A ball of 0.2 m with 82,000 triangles: some thousands lie within a millimetre, about what chords of their length do."""
    ball = trimesh.creation.icosphere(6, radius=0.2)
    mesh = clean(*arrays(ball))
    thin, off = simplify(mesh, 4000)

    assert thin.closed
    assert 3000 < len(thin.triangles) <= 16000
    assert 0 < off < 1e-3
    assert np.abs(np.linalg.norm(thin.points, axis=1) - 0.2).max() <= off + 1e-5
    assert simplify(thin, 20000) == (thin, 0.0)


def test_thinning_out_never_tears_a_closed_surface(monkeypatch):
    """Where the library tears it each time, all triangles stay, and that is said."""
    import fast_simplification

    mesh = clean(*arrays(trimesh.creation.icosphere(3)))
    torn = mesh.points.astype(np.float32), mesh.triangles[:-3].astype(np.int32)
    monkeypatch.setattr(fast_simplification, "simplify", lambda *_args, **_named: torn)
    kept, off = simplify(mesh, 100)

    assert kept.closed
    assert len(kept.triangles) == len(mesh.triangles)
    assert off == 0.0
    assert "would have torn the surface" in kept.cured[-1]


@pytest.mark.parametrize("text", ["", "{}", '{"pieces": []}', '{"pieces": [[[0, 0, 0]]]}', "[1]"])
def test_a_file_that_holds_no_pieces_is_refused(tmp_path, text):
    from trialfit.placement.solids import BadSolid

    (tmp_path / "x.solid.json").write_text(text)
    with pytest.raises(BadSolid):
        read_pieces(tmp_path / "x.solid.json")


def test_gaps_of_meshes_are_exact_where_they_are_apart():
    points, faces = arrays(BOX)
    one = Triangles(points, faces, closed=True)

    assert mesh_gap(one, Triangles(points + np.array([0.5, 0, 0]), faces, closed=True)) == pytest.approx(0.2, abs=1e-6)
    assert mesh_gap(one, Triangles(points + np.array([0.25, 0, 0.03]), faces, closed=True)) == 0.0


def test_a_part_swallowed_whole_has_no_gap():
    small = trimesh.creation.box((0.02, 0.02, 0.02))
    one, other = (Triangles(*arrays(mesh), closed=True) for mesh in (BOX, small))

    assert mesh_gap(one, other) == 0.0
    assert mesh_gap(other, one) == 0.0


def test_the_winding_number_is_one_inside_and_none_outside():
    mesh = Triangles(*arrays(trimesh.creation.icosphere(3)), closed=True)

    assert winding(mesh, np.array([0.3, -0.2, 0.4])) == pytest.approx(1.0)
    assert winding(mesh, np.array([1.3, 0.2, 0.4])) == pytest.approx(0.0, abs=1e-9)


def test_settled_points_are_those_of_the_part():
    points, faces = arrays(BOX)
    turn = turn_of(0.1, 0.2, 0.3)
    raw = Triangles((points @ turn - 0.2) * 1000, faces, closed=True)
    frame = settle([(raw.points[n], points[n]) for n in (0, 3, 5)])

    assert settled(raw, frame).points == pytest.approx(points, abs=1e-9)
