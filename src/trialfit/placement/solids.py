"""Solids: boxes, cylinders, cones, capsules and hulls, their places, their movements, and how well these are known.

Answers   box, cylinder, capsule, cone, hull   one convex piece
          Solid            pieces that belong together, with the spread of their place and their movements
          Movement         one state of a moving solid: a turn about a point, then a shift
          corners          points that span a piece, for drawing
          BadSolid         an impossible solid, in one sentence
Not here  distances (distance.py); a drivetrain on its mounts (rocking.py); meshes from files (meshes.py)
Symbols   lengths in m, angles in rad; half sizes where said
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import TYPE_CHECKING, Literal

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

    from trialfit.handbook.arrays import Array


CONE_SIDES = 48
THINNEST = 1e-5
"""The least thickness of a solid, m: a sheet is given its thickness."""


class BadSolid(ValueError):
    """The error for an impossible solid; the message is one sentence for a builder."""


def _nowhere() -> Array:
    return np.zeros(3)


def _straight() -> Array:
    return np.eye(3)


def _exact() -> Array:
    return np.zeros((3, 3))


@dataclass(frozen=True, eq=False)
class Piece:
    """One convex piece in the axes of its solid.

    shape      what it is
    size       box: half length, half width, half height; cylinder and capsule: radius, half length (between the
               middles of the balls for a capsule); empty for a hull
    vertices   of a hull, (n, 3), about `position`
    position   its middle; `turn` its axes as columns; a cylinder is along its own z
    """

    shape: Literal["box", "cylinder", "capsule", "hull"]
    size: tuple[float, ...] = ()
    vertices: Array | None = None
    position: Array = field(default_factory=_nowhere)
    turn: Array = field(default_factory=_straight)

    @cached_property
    def is_straight(self) -> bool:
        """Whether its axes are those of its solid."""
        return bool((self.turn == _straight()).all())

    def moved(self, turn: Array, shift: Array) -> Piece:
        """The piece turned about the origin, then shifted."""
        return replace(self, position=turn @ self.position + shift, turn=turn @ self.turn)


@dataclass(frozen=True, eq=False)
class Movement:
    """One state of a moving solid: turned by `turn` about `about`, then shifted; `words` describe it."""

    turn: Array = field(default_factory=_straight)
    shift: Array = field(default_factory=_nowhere)
    about: Array = field(default_factory=_nowhere)
    words: str = ""

    def applied(self, piece: Piece) -> Piece:
        """The piece in this state."""
        return piece.moved(self.turn, self.about - self.turn @ self.about + self.shift)


AT_REST = Movement()


@dataclass(frozen=True, eq=False)
class Solid:
    """Convex pieces that belong together; the pieces of a body that is not convex may overlap.

    place_covariance   of where it sits, m²; `turn_covariance` of how it is turned about `about`, rad²
    size_sigma         uncertainty of its surface, outwards, 1 s, m
    states             every state it moves into; the worst counts
    """

    name: str
    pieces: tuple[Piece, ...]
    place_covariance: Array = field(default_factory=_exact)
    turn_covariance: Array = field(default_factory=_exact)
    about: Array = field(default_factory=_nowhere)
    size_sigma: float = 0.0
    states: tuple[Movement, ...] = (AT_REST,)


def _check(what: str, sizes: ArrayLike) -> None:
    values = np.asarray(sizes, float)
    if not np.isfinite(values).all():
        raise BadSolid(f"a {what} has a size that is not a number: expected a length, for example 0.3 m")
    if (values < THINNEST).any():
        thin = float(values.min()) * 1000
        raise BadSolid(f"a {what} is {thin:g} mm thick: a solid needs a thickness, for example 1.5 mm for a sheet")


def box(length: float, width: float, height: float, at: ArrayLike = (0, 0, 0), turn: Array | None = None) -> Piece:
    """A box by its full sizes along x, y and z, m. Raises BadSolid."""
    _check("box", (length, width, height))
    return Piece("box", (length / 2, width / 2, height / 2), None, np.asarray(at, float), _turned(turn))


def cylinder(
    diameter: float, length: float, at: ArrayLike = (0, 0, 0), along: str = "x", turn: Array | None = None
) -> Piece:
    """A cylinder by diameter and length along one axis of its solid, m. Raises BadSolid."""
    _check("cylinder", (diameter, length))
    return Piece("cylinder", (diameter / 2, length / 2), None, np.asarray(at, float), _turned(turn) @ ALONG[along])


def capsule(
    diameter: float, length: float, at: ArrayLike = (0, 0, 0), along: str = "x", turn: Array | None = None
) -> Piece:
    """A cylinder with round ends by diameter and overall length, m: hoses, pipes, cables. Raises BadSolid."""
    _check("capsule", (diameter, length - diameter))
    half = (length - diameter) / 2
    return Piece("capsule", (diameter / 2, half), None, np.asarray(at, float), _turned(turn) @ ALONG[along])


def cone(
    diameter: float,
    end_diameter: float,
    length: float,
    at: ArrayLike = (0, 0, 0),
    along: str = "x",
    turn: Array | None = None,
) -> Piece:
    """A cone or truncated cone by its diameters at the back and at the front (along its axis), m.

    It is a hull with 48 sides around the true cone: at most 0.22 % of the radius outside it, never inside.
    """
    _check("cone", (max(diameter, end_diameter), length))
    angles = np.arange(CONE_SIDES) * 2 * np.pi / CONE_SIDES
    ring = np.stack([np.cos(angles), np.sin(angles), np.zeros(CONE_SIDES)], axis=-1) / np.cos(np.pi / CONE_SIDES)
    ends = [
        ring * radius + np.array([0, 0, z])
        for radius, z in ((diameter / 2, -length / 2), (max(end_diameter / 2, THINNEST), length / 2))
    ]
    return hull(np.concatenate(ends), at, _turned(turn) @ ALONG[along])


def hull(points: ArrayLike, at: ArrayLike = (0, 0, 0), turn: Array | None = None) -> Piece:
    """The smallest convex body round points (n, 3), m. Raises BadSolid for points in one plane or not finite."""
    given = np.asarray(points, float).reshape(-1, 3)
    if not np.isfinite(given).all():
        raise BadSolid("a point of a hull is not a number: expected a length, for example 0.3 m")
    spread = np.linalg.svd(given - given.mean(axis=0), compute_uv=False) if len(given) > 3 else np.zeros(3)  # noqa: PLR2004 - four corners at least
    if spread[-1] < THINNEST:
        raise BadSolid(
            f"{len(given)} points of a hull lie in one plane: expected at least 4 that enclose a volume; for a sheet, add its thickness"
        )
    return Piece("hull", (), given, np.asarray(at, float), _turned(turn))


ALONG = {
    "x": np.array([[0.0, 0.0, 1.0], [0.0, 1.0, 0.0], [-1.0, 0.0, 0.0]]),
    "y": np.array([[1.0, 0.0, 0.0], [0.0, 0.0, 1.0], [0.0, -1.0, 0.0]]),
    "z": np.eye(3),
}
"""The axes of a cylinder that lies along x, y or z."""


def _turned(turn: Array | None) -> Array:
    return np.eye(3) if turn is None else turn


def corners(piece: Piece) -> Array:
    """Points whose hull is the piece, drawn with 24 sides where it is round, (n, 3), m."""
    if piece.shape == "hull":
        local = np.asarray(piece.vertices, float)
    elif piece.shape == "box":
        signs = np.array([[a, b, c] for a in (-1, 1) for b in (-1, 1) for c in (-1, 1)], float)
        local = signs * piece.size
    else:
        angles = np.arange(24) * np.pi / 12
        radius, half = piece.size
        ring = np.stack([radius * np.cos(angles), radius * np.sin(angles), 0 * angles], axis=-1)
        ends = [ring + np.array([0, 0, sign * half]) for sign in (-1, 1)]
        if piece.shape == "capsule":
            ends.append(np.array([[0, 0, half + radius], [0, 0, -half - radius]]))
        local = np.concatenate(ends)
    return np.asarray(local @ piece.turn.T + piece.position)


def path_down(drop: float, step: float = 0.01) -> tuple[Movement, ...]:
    """The states of a part on its way straight down, sampled every `step`, m: a sump on its way off."""
    count = max(int(np.ceil(drop / step)), 1)
    return tuple(Movement(shift=np.array([0, 0, -drop * n / count]), words="on its way down") for n in range(count + 1))
