"""A surface as convex pieces, and the file beside the build that holds both.

Answers   split          convex pieces, with how far they stick out and how far the surface is uncovered
          write_shape    pieces and surface as a file
          read_shape     that file, as Shape: pieces, surface, errors
          read_pieces    only its pieces
Not here  reading scans (meshes.py); gaps between surfaces (surfaces.py)
Method    vhacdx splits. Pieces stick out by millimetres, so they only steer a search, and the surface decides a finding; the error
          is measured both ways on sampled points.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from trialfit.book.disk import is_file, read_bytes
from trialfit.book.saving import PIECES, save
from trialfit.placement.meshes import LARGEST, BadMesh, Triangles
from trialfit.placement.solids import BadSolid, hull

if TYPE_CHECKING:
    from collections.abc import Sequence

    from trialfit.placement.solids import Piece


LARGEST_FILE = 64_000_000
"""Bytes of a file with pieces: a hundred times what a surface of 20,000 triangles takes."""
_AGAIN = "import the scan again with trialfit mesh"
_SEAM = 1e-3  # closer to another piece is the seam of the two, inside the body


@dataclass(frozen=True, eq=False)
class Split:
    """Convex pieces; `sticks_out` and `uncovered` are the largest distances from the surface, `usual_out` that of 99 %, m."""

    pieces: tuple[Piece, ...]
    sticks_out: float
    usual_out: float
    uncovered: float


@dataclass(frozen=True, eq=False)
class Shape:
    """The content of a file of `write_shape`, m; `off` is the largest distance of its surface from the scan."""

    pieces: tuple[Piece, ...]
    surface: Triangles | None
    off: float = 0.0


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
        raise BadMesh(
            "splitting gave no convex piece: the mesh is too thin or too torn; write the part as boxes instead"
        )
    return Split(tuple(found), *_errors(mesh, found, samples))


def _errors(mesh: Triangles, pieces: Sequence[Piece], samples: int) -> tuple[float, float, float]:
    """How far the pieces stick out (largest, 99 %), and the largest distance of the surface outside all of them."""
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


def write_shape(path: Path, made: Split, about: str, surface: Triangles, off: float) -> None:
    """Pieces and surface as JSON: points in m in the part's axes, the errors, and where they came from."""
    document = {
        "about": about,
        "unit": "m",
        "sticks_out": made.sticks_out,
        "usual_out": made.usual_out,
        "uncovered": made.uncovered,
        "surface_off": off,
        "closed": surface.closed,
        "pieces": [(np.asarray(piece.vertices) + piece.position).round(6).tolist() for piece in made.pieces],
        "points": surface.points.round(6).tolist(),
        "triangles": surface.triangles.tolist(),
    }
    save((json.dumps(document, separators=(",", ":")) + "\n").encode(), path, PIECES)


def read_pieces(path: str | Path) -> tuple[Piece, ...]:
    """The pieces in a file from `write_shape`. Raises BadMesh."""
    return read_shape(path).pieces


def read_shape(path: str | Path) -> Shape:
    """A file from `write_shape`. Raises BadMesh."""
    file = Path(path)
    text = _text_of(file)
    try:
        document = json.loads(text)
        groups = [np.asarray(points, float).reshape(-1, 3) for points in document["pieces"]]
        surface = _surface(document)
        off = float(document.get("surface_off", 0.0))
    except (ValueError, KeyError, TypeError, IndexError, AttributeError, OverflowError, RecursionError):
        raise BadMesh(f"{file} has no convex pieces: {_AGAIN}") from None
    if not all(map(len, groups)) or not groups:
        raise BadMesh(f"{file} has no piece, or an empty one: {_AGAIN}")
    points = np.concatenate(groups)
    if not np.isfinite(points).all() or np.ptp(points, axis=0).max() > LARGEST or not 0 <= off <= LARGEST:
        raise BadMesh(f"{file} has a solid larger than any part of a car ({LARGEST:g} m), or without a size: {_AGAIN}")
    try:
        pieces = tuple(hull(points - points.mean(axis=0), points.mean(axis=0)) for points in groups)
    except BadSolid as wrong:
        raise BadMesh(f"{file} has a piece that is not a solid ({wrong}): {_AGAIN}") from None
    return Shape(pieces, surface, off)


def _text_of(file: Path) -> str:
    """The text of a file of ordinary size. Raises BadMesh."""
    try:
        if not file.exists():
            says = (
                f"{file} does not exist: trialfit mesh writes it, and its path is relative to the folder of the build"
            )
        elif (size := file.stat().st_size) > LARGEST_FILE:
            says = f"{file} has {size / 1e6:.0f} MB: expected at most {LARGEST_FILE / 1e6:.0f} MB: {_AGAIN}"
        elif not is_file(file):
            says = f"{file} is not a file: expected one that trialfit mesh wrote"
        else:
            return read_bytes(file).decode()
    except OSError as wrong:
        says = f"{file} cannot be read ({wrong.strerror}): expected a file that trialfit mesh wrote"
    except UnicodeDecodeError:
        says = f"{file} has no convex pieces: {_AGAIN}"
    raise BadMesh(says)


def _surface(document: dict[str, object]) -> Triangles | None:
    if "points" not in document:
        return None
    points = np.asarray(document["points"], float).reshape(-1, 3)
    triangles = np.asarray(document["triangles"], np.int64).reshape(-1, 3)
    if not np.isfinite(points).all() or triangles.size == 0 or triangles.min() < 0 or triangles.max() >= len(points):
        raise ValueError
    return Triangles(points, triangles, bool(document["closed"]))
