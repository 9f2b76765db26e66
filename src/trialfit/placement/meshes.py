"""Scans and drawings as surfaces: read, unit and axes fixed by three named points, cleaned, thinned out, with the error.

Answers   read_mesh     a file into triangles, with a list of the repairs
          settle        unit and axes, from three points that are known in the file and on the part
          simplify      fewer triangles, with their distance from the original surface
          BadMesh       a file that cannot be used, in one sentence
Not here  convex pieces of a surface (splitting.py); gaps between surfaces (surfaces.py)
Method    trimesh reads STL, OBJ, PLY, GLB and OFF, cascadio, an extra, turns STEP into triangles; fast-simplification collapses the edges
          that change the surface least. That can tear a closed surface, so the result is checked.
"""

from __future__ import annotations

import shlex
from dataclasses import dataclass
from importlib.util import find_spec
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np

from trialfit.book.disk import is_file, mode_of
from trialfit.placement.solids import BadSolid

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import ArrayLike, NDArray

    from trialfit.handbook.arrays import Array


_DRAWINGS = (".step", ".stp")
SUFFIXES = (".stl", ".obj", ".ply", ".glb", ".off", *_DRAWINGS)
MOST_TRIANGLES = 2_000_000
LARGEST = 10.0
SMALLEST = 0.002
UNITS = {"m": 1.0, "mm": 1e-3, "cm": 1e-2, "in": 0.0254}
_AGREES = 0.02
_FEWEST = 4
_THREE = 3
_TRIES = 3
_CAREFUL = 3  # the library's own default leaves four times the error
NEAR_ENOUGH = 0.5e-3


class BadMesh(BadSolid):
    """A file or mesh that cannot be used; the message is one sentence for a builder."""


@dataclass(frozen=True, eq=False)
class Triangles:
    """A surface: points (n, 3) in the file's unit, triangles (m, 3); `closed` whether it has an inside; `cured` the repairs in words."""

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


def read_mesh(path: Path) -> Triangles:
    """The surface in a file, cleaned where a repair is safe, in the file's unit; a STEP drawing in mm, whatever its unit. Raises BadMesh."""
    import trimesh

    if path.suffix.lower() in {".iges", ".igs"}:
        raise BadMesh(
            f"{path.name} is an IGES drawing: save it as STEP or STL from the drawing program, then bring that in"
        )
    if path.suffix.lower() not in SUFFIXES:
        raise BadMesh(f'{path.name} ends in "{path.suffix}": expected a mesh, one of {", ".join(SUFFIXES)}')
    if not is_file(path):
        found = "is not a file" if mode_of(path) else "does not exist"
        raise BadMesh(f"{path} {found}: expected the path of a mesh file, for example scans/sump.stl")
    is_step = path.suffix.lower() in _DRAWINGS
    if is_step and find_spec("cascadio") is None:
        raise BadMesh(f"{path.name} is a STEP drawing, and the STEP reader is not installed: {_how_to_read_step()}")
    try:
        loaded = trimesh.load_mesh(path, process=False)  # STEP through cascadio
    except Exception as wrong:  # noqa: BLE001 - whatever a reader of foreign files trips over, the file is at fault
        raise BadMesh(
            f"{path.name} cannot be read as a mesh ({type(wrong).__name__}): export it again as binary STL"
        ) from None
    mesh: Any = loaded.to_geometry() if hasattr(loaded, "to_geometry") else loaded
    scale = 1000 if is_step else 1  # it is read in m, and drawings are in mm
    return clean(
        scale * np.asarray(getattr(mesh, "vertices", np.zeros((0, 3))), float),
        np.asarray(getattr(mesh, "faces", np.zeros((0, 3))), np.int64),
    )


def _how_to_read_step() -> str:
    """The command that installs the reader, to paste: a checkout has a script for it."""
    script = Path(__file__).parents[3] / "setup/step.sh"
    command = shlex.quote(str(script)) if script.is_file() else 'pip install "trialfit[step]"'
    return f"install it (99 MB) with {command}, or save the drawing as STL from the drawing program"


def clean(points: Array, triangles: NDArray[np.int64]) -> Triangles:
    """A surface without doubled points and empty triangles, its faces outward. Raises BadMesh if no repair is safe."""
    import trimesh

    _refuse(points, triangles)
    mesh = trimesh.Trimesh(points, triangles, process=True)
    cured = []
    mesh.update_faces(mesh.nondegenerate_faces())
    mesh.remove_unreferenced_vertices()
    if len(mesh.faces) < len(triangles):
        cured.append(f"{len(triangles) - len(mesh.faces)} triangles without area were removed")
    if not len(mesh.faces):
        raise BadMesh("the mesh has no triangle with an area: scan or export it again")
    closed = bool(mesh.is_watertight)
    if closed:
        turned = mesh.volume < 0 or not mesh.is_winding_consistent
        mesh.fix_normals()
        if turned:
            cured.append("its faces pointed inward and were reversed")
    else:
        cured.append("its surface is open: a part inside it would not be detected")
    return Triangles(np.asarray(mesh.vertices, float), np.asarray(mesh.faces, np.int64), closed, tuple(cured))


def _refuse(points: Array, triangles: NDArray[np.int64]) -> None:
    if not len(points) or not len(triangles):
        raise BadMesh("the file has no triangles: expected a surface, not points or lines alone")
    if not np.isfinite(points).all():
        bad = int((~np.isfinite(points)).any(axis=1).sum())
        raise BadMesh(f"{bad} of its {len(points)} points are not numbers: scan or export it again")
    if len(triangles) > MOST_TRIANGLES:
        raise BadMesh(
            f"it has {len(triangles)} triangles: expected at most {MOST_TRIANGLES}; thin it out to 50000 in the scan program, which keeps 0.1 mm"
        )
    flat = np.linalg.svd(points - points.mean(axis=0), compute_uv=False)[-1] if len(points) >= _FEWEST else 0.0
    if flat <= 1e-9 * max(float(np.ptp(points)), 1e-300):
        raise BadMesh("it is flat, without thickness: give the sheet its thickness before export, or write it as a box")


def settle(known: Sequence[tuple[ArrayLike, ArrayLike]]) -> Settled:
    """Unit and axes from three points or more, each in the numbers of the file and on the part in m. Raises BadMesh.

    The unit is the one in the table that fits the distances between the points; if none fits, the file is refused.
    """
    if len(known) < _THREE:
        raise BadMesh(
            f"{len(known)} named points do not fix unit and axes: expected three points not in one line, each as coordinates in the file = coordinates taped on the part"
        )
    there = np.array([one for one, _ in known], float)
    here = np.array([other for _, other in known], float)
    if not (np.isfinite(there).all() and np.isfinite(here).all()):
        raise BadMesh("a named point is not a number: expected three coordinates, for example 120 0 35")
    a, b = there - there.mean(axis=0), here - here.mean(axis=0)
    for points, whose in ((a, "in the file"), (b, "on the part")):
        values = np.linalg.svd(points, compute_uv=False)
        if values[1] < 1e-3 * max(values[0], 1e-300):
            raise BadMesh(f"the named points are in one line {whose}: choose three that form a triangle")
    raw = float(np.linalg.norm(b) / np.linalg.norm(a))
    unit = min(UNITS, key=lambda name: abs(np.log(raw / UNITS[name])))
    if abs(raw / UNITS[unit] - 1) > _AGREES:
        raise BadMesh(
            f"the named points are {raw:.4g} m apart on the part for each unit in the file, which is not a known unit: the nearest, {unit}, is {UNITS[unit]:g} m; tape the three points again"
        )
    u, _, vt = np.linalg.svd(b.T @ a)
    turn = u @ np.diag([1, 1, np.sign(np.linalg.det(u @ vt))]) @ vt
    scale = UNITS[unit]
    shift = here.mean(axis=0) - scale * turn @ there.mean(axis=0)
    misfit = float(np.linalg.norm(scale * there @ turn.T + shift - here, axis=1).max())
    return Settled(unit, scale, turn, shift, misfit)


def settled(mesh: Triangles, frame: Settled) -> Triangles:
    """The surface in the part's axes, m. Raises BadMesh if the size is impossible for a part of a car."""
    moved = Triangles(frame.scale * mesh.points @ frame.turn.T + frame.shift, mesh.triangles, mesh.closed, mesh.cured)
    check_size(moved)
    return moved


def check_size(mesh: Triangles) -> None:
    """Raises BadMesh if the surface in m is larger or smaller than any part of a car, with the unit that would fit."""
    size = float(mesh.size.max())
    if SMALLEST <= size <= LARGEST:
        return
    fits = [name for name, scale in UNITS.items() if SMALLEST <= size * scale <= LARGEST and name != "m"]
    hint = f": perhaps its numbers are {' or '.join(fits)}" if size > LARGEST and fits else ""
    raise BadMesh(
        f"it would be {size:.4g} m long, too large or too small for a part of a car{hint}; name three points to fix its unit"
    )


def simplify(mesh: Triangles, triangles: int = 20_000, samples: int = 4000) -> tuple[Triangles, float]:
    """The surface with about this many triangles, and its largest distance from the original, m.

    A closed surface stays closed: if collapsing edges tears it, or moves it by more than 0.5 mm, up to four times as many
    triangles are kept; if it is torn every time, all of them.
    """
    import fast_simplification
    import trimesh

    if len(mesh.triangles) <= triangles:
        return mesh, 0.0
    thinned: list[tuple[Triangles, float]] = []
    for attempt in range(_TRIES):
        wanted = triangles * 2**attempt
        if wanted >= len(mesh.triangles):
            break
        points, faces = fast_simplification.simplify(
            mesh.points.astype(np.float32), mesh.triangles.astype(np.int32), target_count=wanted, agg=_CAREFUL
        )
        made = trimesh.Trimesh(points, faces, process=True)
        if made.is_watertight or not mesh.closed:
            arrays = np.asarray(made.vertices, float), np.asarray(made.faces, np.int64)
            thin = Triangles(*arrays, bool(made.is_watertight), mesh.cured)
            thinned.append((thin, max(_away(mesh, thin, samples), _away(thin, mesh, samples))))
            if thinned[-1][1] <= NEAR_ENOUGH:
                break
    if thinned:
        return thinned[-1]
    kept = "thinning would have torn the surface: all triangles are kept"
    return Triangles(mesh.points, mesh.triangles, mesh.closed, (*mesh.cured, kept)), 0.0


def _away(one: Triangles, other: Triangles, samples: int) -> float:
    """The largest distance of one surface from the other: at sampled points, and at its corners if it has few."""
    import fcl
    import trimesh

    surface = trimesh.Trimesh(one.points, one.triangles, process=False)
    points, _ = trimesh.sample.sample_surface(surface, samples, seed=1)
    points = np.concatenate([points, one.points[:: max(len(one.points) // samples, 1)]])
    whole = fcl.CollisionObject(bvh(other.points, other.triangles), fcl.Transform())
    speck = bvh(_SPECK * np.eye(3), np.array([[0, 1, 2]]))
    return max(
        float(
            fcl.distance(
                fcl.CollisionObject(speck, fcl.Transform(point)), whole, fcl.DistanceRequest(), fcl.DistanceResult()
            )
        )
        for point in points
    )


_SPECK = 1e-6
"""A triangle of this size represents a point, m."""


def bvh(points: Array, triangles: NDArray[np.int64]) -> Any:  # noqa: ANN401 - the library brings no types
    """A surface in the form of the library for distances between triangles."""
    import fcl

    model = fcl.BVHModel()
    model.beginModel(len(points), len(triangles))
    model.addSubModel(points, triangles)
    model.endModel()
    return model
