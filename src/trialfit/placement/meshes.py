"""Scans and drawings into convex pieces: read, settled in unit and frame by three named points, cleaned, split, error stated.

Answers   read_mesh     a file into triangles, with what was cured on the way
          settle        the unit and the frame, from three points that are known in the file and on the part
          split         convex pieces, with how far they stick out and how much they leave uncovered
          mesh_gap      the exact gap of two meshes (0 where they cross), a swallowed part noticed
          winding       how often a surface goes round a point
          write_pieces, read_pieces    the pieces as a file beside the build
          BadMesh       what cannot be used, in one sentence
Not here  convex pieces themselves (solids.py); when a mesh decides (the pieces steer a search, the mesh settles a finding)
Method    trimesh reads STL, OBJ, PLY and GLB; vhacdx splits (pieces stick out by millimetres: the error is measured both ways
          on sampled points); python-fcl gives triangle-to-triangle distances.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np

from trialfit.placement.solids import BadSolid, hull

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import ArrayLike, NDArray

    from trialfit.placement.solids import Piece

    Array = NDArray[np.float64]

SUFFIXES = (".stl", ".obj", ".ply", ".glb", ".off")
MOST_TRIANGLES = 2_000_000
LARGEST = 10.0
SMALLEST = 0.002
UNITS = {"m": 1.0, "mm": 1e-3, "cm": 1e-2, "in": 0.0254}
_AGREES = 0.02
_FEWEST = 4
_THREE = 3
_HALF = 0.5
_SEAM = 1e-3  # what lies nearer to another piece is the seam of the two, inside the body


class BadMesh(BadSolid):
    """A file or mesh that cannot be used; the message is one sentence for a builder."""


@dataclass(frozen=True, eq=False)
class Triangles:
    """A surface: points (n, 3) in the file's unit, triangles (m, 3); `closed` whether it has an inside; `cured` in words."""

    points: Array
    triangles: NDArray[np.int64]
    closed: bool
    cured: tuple[str, ...] = ()

    @property
    def size(self) -> Array:
        """Its extent along each axis, (3,)."""
        return np.asarray(np.ptp(self.points, axis=0))


@dataclass(frozen=True)
class Settled:
    """How a file's numbers become the part's: p_part = scale·R·p_file + shift; `misfit` of the three points, m."""

    unit: str
    scale: float
    turn: Array
    shift: Array
    misfit: float


@dataclass(frozen=True, eq=False)
class Split:
    """Convex pieces; `sticks_out` and `uncovered` say how far they lie from the surface at most, `usual_out` for 99 %, m."""

    pieces: tuple[Piece, ...]
    sticks_out: float
    usual_out: float
    uncovered: float


def read_mesh(path: Path) -> Triangles:
    """The surface in a file, cleaned where a cure is safe. Raises BadMesh."""
    import trimesh

    if path.suffix.lower() in {".step", ".stp", ".iges", ".igs"}:
        raise BadMesh(
            f"{path.name} is a drawing in solids: save it as STL from the drawing program, in mm, then bring that in"
        )
    if path.suffix.lower() not in SUFFIXES:
        raise BadMesh(f'{path.name} ends in "{path.suffix}": a mesh is wanted, one of {", ".join(SUFFIXES)}')
    if not path.is_file():
        raise BadMesh(f"{path} is not there: the path of a mesh file is wanted, for example scans/sump.stl")
    try:
        loaded = trimesh.load_mesh(path, process=False)
    except Exception as wrong:  # noqa: BLE001 - whatever a reader of foreign files trips over, the file is at fault
        raise BadMesh(
            f"{path.name} cannot be read as a mesh ({type(wrong).__name__}): export it again as binary STL"
        ) from None
    mesh: Any = loaded.to_geometry() if hasattr(loaded, "to_geometry") else loaded
    return clean(
        np.asarray(getattr(mesh, "vertices", np.zeros((0, 3))), float),
        np.asarray(getattr(mesh, "faces", np.zeros((0, 3))), np.int64),
    )


def clean(points: Array, triangles: NDArray[np.int64]) -> Triangles:
    """A surface without doubled points and empty triangles, its faces outward. Raises BadMesh where no cure is safe."""
    import trimesh

    _refuse(points, triangles)
    mesh = trimesh.Trimesh(points, triangles, process=True)
    cured = []
    mesh.update_faces(mesh.nondegenerate_faces())
    mesh.remove_unreferenced_vertices()
    if len(mesh.faces) < len(triangles):
        cured.append(f"{len(triangles) - len(mesh.faces)} triangles without area were taken out")
    if not len(mesh.faces):
        raise BadMesh("the mesh has no triangle with an area: scan or export it again")
    closed = bool(mesh.is_watertight)
    if closed:
        turned = mesh.volume < 0 or not mesh.is_winding_consistent
        mesh.fix_normals()
        if turned:
            cured.append("its faces looked inward and were turned round")
    else:
        cured.append("it is open: what lies inside it cannot be told, and a part inside would not be noticed")
    return Triangles(np.asarray(mesh.vertices, float), np.asarray(mesh.faces, np.int64), closed, tuple(cured))


def _refuse(points: Array, triangles: NDArray[np.int64]) -> None:
    if not len(points) or not len(triangles):
        raise BadMesh("the file holds no triangles: a surface is wanted, not points or lines alone")
    if not np.isfinite(points).all():
        bad = int((~np.isfinite(points)).any(axis=1).sum())
        raise BadMesh(f"{bad} of its {len(points)} points are no numbers: scan or export it again")
    if len(triangles) > MOST_TRIANGLES:
        raise BadMesh(
            f"it has {len(triangles)} triangles: {MOST_TRIANGLES} at most are taken; thin it out to 50000 in the scan program, which keeps 0.1 mm"
        )
    flat = np.linalg.svd(points - points.mean(axis=0), compute_uv=False)[-1] if len(points) >= _FEWEST else 0.0
    if flat <= 1e-9 * max(float(np.ptp(points)), 1e-300):
        raise BadMesh(
            "it is flat, without any thickness: give the sheet its gauge before it is exported, or write it as a box"
        )


def settle(known: Sequence[tuple[ArrayLike, ArrayLike]]) -> Settled:
    """Unit and frame from three points or more: each in the file's numbers and on the part in m. Raises BadMesh.

    The unit is that of the table whose scale fits the distances between the points; a scale that fits none is refused.
    """
    if len(known) < _THREE:
        raise BadMesh(f"{len(known)} named points do not settle a frame: three are wanted that are not in one line")
    there = np.array([one for one, _ in known], float)
    here = np.array([other for _, other in known], float)
    if not (np.isfinite(there).all() and np.isfinite(here).all()):
        raise BadMesh("a named point is no number: three coordinates are wanted, for example 120 0 35")
    a, b = there - there.mean(axis=0), here - here.mean(axis=0)
    for points, whose in ((a, "in the file"), (b, "on the part")):
        values = np.linalg.svd(points, compute_uv=False)
        if values[1] < 1e-3 * max(values[0], 1e-300):
            raise BadMesh(f"the named points lie in one line {whose}: choose three that span a triangle")
    raw = float(np.linalg.norm(b) / np.linalg.norm(a))
    unit = min(UNITS, key=lambda name: abs(np.log(raw / UNITS[name])))
    if abs(raw / UNITS[unit] - 1) > _AGREES:
        raise BadMesh(
            f"the named points are {raw:.4g} m apart on the part for each unit in the file, which is no unit in use: the nearest, {unit}, is {UNITS[unit]:g} m; tape the three points again"
        )
    u, _, vt = np.linalg.svd(b.T @ a)
    turn = u @ np.diag([1, 1, np.sign(np.linalg.det(u @ vt))]) @ vt
    scale = UNITS[unit]
    shift = here.mean(axis=0) - scale * turn @ there.mean(axis=0)
    misfit = float(np.linalg.norm(scale * there @ turn.T + shift - here, axis=1).max())
    return Settled(unit, scale, turn, shift, misfit)


def settled(mesh: Triangles, frame: Settled) -> Triangles:
    """The surface in the part's axes, m. Raises BadMesh for a size that no part of a car has."""
    moved = Triangles(frame.scale * mesh.points @ frame.turn.T + frame.shift, mesh.triangles, mesh.closed, mesh.cured)
    check_size(moved)
    return moved


def check_size(mesh: Triangles) -> None:
    """Raises BadMesh where the surface in m is larger or smaller than any part of a car, and says which unit it would fit."""
    size = float(mesh.size.max())
    if SMALLEST <= size <= LARGEST:
        return
    fits = [name for name, scale in UNITS.items() if SMALLEST <= size * scale <= LARGEST and name != "m"]
    hint = f": perhaps its numbers are {' or '.join(fits)}" if size > LARGEST and fits else ""
    raise BadMesh(
        f"it would be {size:.4g} m long, which no part of a car is{hint}; name three points to settle its unit"
    )


def split(mesh: Triangles, pieces: int = 32, voxels: int = 200_000, samples: int = 4000) -> Split:
    """Convex pieces of a surface in m, with the error measured on sampled points. Raises BadMesh."""
    import vhacdx

    made = vhacdx.compute_vhacd(
        mesh.points,
        np.column_stack([np.full(len(mesh.triangles), 3), mesh.triangles]).astype(np.uint32).ravel(),
        maxConvexHulls=pieces,
        resolution=voxels,
    )
    found = []
    for points, _ in made:
        try:
            middle = np.asarray(points, float).mean(axis=0)
            found.append(hull(np.asarray(points, float) - middle, middle))
        except BadSolid:
            continue
    if not found:
        raise BadMesh("no convex piece came out of it: the mesh is too thin or too torn; write it as boxes instead")
    return Split(tuple(found), *_errors(mesh, found, samples))


def _errors(mesh: Triangles, pieces: Sequence[Piece], samples: int) -> tuple[float, float, float]:
    """How far the pieces stick out (largest, 99 %), and how far the surface lies outside all of them at most."""
    import trimesh
    from scipy.spatial import ConvexHull, cKDTree

    body = trimesh.Trimesh(mesh.points, mesh.triangles, process=False)
    surface, _ = trimesh.sample.sample_surface(body, samples, seed=1)
    dense, _ = trimesh.sample.sample_surface(body, 20 * samples, seed=2)
    hulls = [ConvexHull(np.asarray(piece.vertices) + piece.position) for piece in pieces]
    planes = [each.equations for each in hulls]
    outside = np.min([(surface @ each[:, :3].T + each[:, 3]).max(axis=1) for each in planes], axis=0)
    skins = []
    for number, each in enumerate(hulls):
        skin, _ = trimesh.sample.sample_surface(
            trimesh.Trimesh(each.points, each.simplices, process=False), samples // 8, seed=3
        )
        inner = [other for place, other in enumerate(planes) if place != number]
        hidden = (
            np.min([(skin @ other[:, :3].T + other[:, 3]).max(axis=1) for other in inner], axis=0)
            if inner
            else np.ones(len(skin))
        )
        skins.append(skin[hidden > _SEAM])
    away, _ = cKDTree(dense).query(np.concatenate(skins))
    return float(away.max()), float(np.quantile(away, 0.99)), float(max(outside.max(), 0.0))


def mesh_gap(one: Triangles, other: Triangles) -> float:
    """The gap of two surfaces in the same axes, m: exact where they are apart, 0 where they cross or one swallows the other."""
    import fcl

    distance = float(fcl.distance(_object(fcl, one), _object(fcl, other), fcl.DistanceRequest(), fcl.DistanceResult()))
    if distance <= 0:
        return 0.0
    for outer, inner in ((one, other), (other, one)):
        if outer.closed and winding(outer, inner.points[0]) > _HALF:
            return 0.0
    return distance


def winding(mesh: Triangles, point: Array) -> float:
    """How often a surface goes round a point: 1 inside, 0 outside, between them near a hole of an open one.

        Σ 2·atan2(a·(b × c), |a||b||c| + (a·b)|c| + (b·c)|a| + (c·a)|b|)/4π over the triangles a, b, c seen from the point

    Source: van Oosterom and Strackee 1983, solid angle of a triangle (from memory).
    """
    a, b, c = np.swapaxes(mesh.points[mesh.triangles] - point, 0, 1)
    la, lb, lc = (np.linalg.norm(each, axis=1) for each in (a, b, c))
    over = np.vecdot(a, np.cross(b, c))
    under = la * lb * lc + np.vecdot(a, b) * lc + np.vecdot(b, c) * la + np.vecdot(c, a) * lb
    return float(abs(np.arctan2(over, under).sum() / (2 * np.pi)))


def _object(fcl: Any, mesh: Triangles) -> Any:  # noqa: ANN401 - the library brings no types
    model = fcl.BVHModel()
    model.beginModel(len(mesh.points), len(mesh.triangles))
    model.addSubModel(mesh.points, mesh.triangles)
    model.endModel()
    return fcl.CollisionObject(model, fcl.Transform())


def write_pieces(path: Path, made: Split, about: str) -> None:
    """The pieces as JSON: points in m in the part's axes, the error, and where they came from."""
    document = {
        "about": about,
        "unit": "m",
        "sticks_out": made.sticks_out,
        "usual_out": made.usual_out,
        "uncovered": made.uncovered,
        "pieces": [(np.asarray(piece.vertices) + piece.position).round(6).tolist() for piece in made.pieces],
    }
    path.write_text(json.dumps(document) + "\n", encoding="utf-8")


def read_pieces(path: str | Path) -> tuple[Piece, ...]:
    """The pieces of a file that `write_pieces` wrote. Raises BadMesh."""
    file = Path(path)
    try:
        document = json.loads(file.read_text(encoding="utf-8"))
        groups = [np.asarray(points, float).reshape(-1, 3) for points in document["pieces"]]
    except FileNotFoundError:
        raise BadMesh(
            f"{file} is not there: trialfit mesh writes it; start in the folder the path counts from"
        ) from None
    except (ValueError, KeyError, TypeError, UnicodeDecodeError):
        raise BadMesh(f"{file} does not hold convex pieces: bring the scan in again with trialfit mesh") from None
    if not groups:
        raise BadMesh(f"{file} holds no piece: bring the scan in again with trialfit mesh")
    return tuple(hull(points - points.mean(axis=0), points.mean(axis=0)) for points in groups)
