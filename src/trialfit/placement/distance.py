"""Signed distances between convex pieces: the one place that knows the distance library.

Answers   Stage    holds all pieces of a build; places them; gives distance and nearest points of pairs
Not here  which pairs matter, gradients and spreads (margins.py); meshes that are not convex (meshes.py)
Method    mujoco-core, `mj_geomDistance`: published as a package of its own that its makers say can be installed directly where
          no viewer is wanted; it needs numpy alone. One model holds all pieces; nothing is simulated. Precision decides here: an
          optimiser finds a library's errors, above all at faces that are nearly parallel, so these are what the tests of
          this module ask for. Vertices of hulls are stored in single precision (no effect seen above 0.0001 mm).
Symbols   d signed distance, m: negative where two pieces overlap, then the depth; a, b nearest points
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from trialfit.placement.solids import Piece

    Array = NDArray[np.float64]
    Indices = NDArray[np.intp]

FARTHEST = 100.0
"""Distances beyond it are reported as it, m."""


class Stage:
    """All pieces in one model.

    own_position, own_turn   (n, 3), (n, 3, 3): the pose of each piece as it was made
    box_middle, box_half     (n, 3): a box round each piece in the axes it was compiled with
    position, turn           views: where each piece stands now; write them with `place`
    """

    def __init__(self, pieces: Sequence[Piece]) -> None:
        import mujoco

        spec = mujoco.MjSpec()
        for number, piece in enumerate(pieces):
            _add(mujoco, spec, number, piece)
        self._model = spec.compile()
        self._data = mujoco.MjData(self._model)
        mujoco.mj_kinematics(self._model, self._data)
        self._call = mujoco.mj_geomDistance
        count = len(pieces)
        self.own_position: Array = self._data.geom_xpos.copy()
        self.own_turn: Array = self._data.geom_xmat.reshape(count, 3, 3).copy()
        self.position: Array = self._data.geom_xpos
        self.turn: Array = self._data.geom_xmat.reshape(count, 3, 3)
        self.box_middle: Array = self._model.geom_aabb[:, :3].copy()
        self.box_half: Array = self._model.geom_aabb[:, 3:].copy()
        self._sizes: Array = self._model.geom_size
        self._points = np.zeros((0, 6))
        self._rows: list[Array] = []

    def place(self, which: slice | Indices, turn: Array, shift: Array) -> None:
        """Puts pieces where they come when turned by (3, 3) or (k, 3, 3) about the origin, then shifted by (3,) or (k, 3)."""
        self.turn[which] = turn @ self.own_turn[which]
        self.position[which] = (turn @ self.own_position[which][..., None])[..., 0] + shift

    @property
    def sizes(self) -> Array:
        """The size of every piece, (n, 3), as `Piece.size` counts it; write it to change them all."""
        return self._sizes

    def resize(self, number: int, size: Sequence[float]) -> None:
        """Another size for a box, cylinder or capsule, as `Piece.size` counts it. Hulls keep their vertices."""
        self._sizes[number, : len(size)] = size

    def distances(self, firsts: Sequence[int], seconds: Sequence[int], reach: float = FARTHEST) -> tuple[Array, Array]:
        """Signed distances of pairs, (n,), and their nearest points, (n, 6): first piece, second piece.

        Beyond `reach` the distance is `reach` and the points mean nothing.
        """
        count = len(firsts)
        if count > len(self._rows):
            self._points = np.zeros((2 * count, 6))
            self._rows = list(self._points)
        call, model, data = self._call, self._model, self._data
        found = [
            call(model, data, first, second, reach, row)
            for first, second, row in zip(firsts, seconds, self._rows, strict=False)
        ]
        return np.array(found), self._points[:count].copy()


def _add(mujoco: object, spec: object, number: int, piece: Piece) -> None:
    kinds = mujoco.mjtGeom  # type: ignore[attr-defined]
    turn = np.zeros(4)
    mujoco.mju_mat2Quat(turn, np.ascontiguousarray(piece.turn, float).ravel())  # type: ignore[attr-defined]
    shared = {"name": f"piece{number}", "pos": piece.position, "quat": turn}
    world = spec.worldbody  # type: ignore[attr-defined]
    if piece.shape == "hull":
        vertices = np.asarray(piece.vertices, float)
        mesh = spec.add_mesh(name=f"hull{number}", uservert=vertices.ravel())  # type: ignore[attr-defined]
        mesh.inertia = mujoco.mjtMeshInertia.mjMESH_INERTIA_CONVEX  # type: ignore[attr-defined]
        world.add_geom(type=kinds.mjGEOM_MESH, meshname=f"hull{number}", **shared)
        return
    kind = {"box": kinds.mjGEOM_BOX, "cylinder": kinds.mjGEOM_CYLINDER, "capsule": kinds.mjGEOM_CAPSULE}[piece.shape]
    size = np.zeros(3)
    size[: len(piece.size)] = piece.size
    world.add_geom(type=kind, size=size, **shared)
