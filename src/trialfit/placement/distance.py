"""Signed distances between convex pieces: the only module that uses the distance library.

Answers   Stage    holds all pieces of a build; places them; gives distance and nearest points of pairs
          Slots    pairs of pieces that are placed again for every distance: the same few pieces in thousands of draws
Not here  which pairs matter, gradients and spreads (margins.py); meshes that are not convex (meshes.py)
Method    mujoco-core, `mj_geomDistance`: a package of its own, which its makers say can be installed directly if no viewer is
          needed; it needs only numpy. One model holds all pieces; nothing is simulated. Precision is what matters here:
          an optimiser finds the errors of a library, above all at nearly parallel faces, so the tests of this module look
          at these. Its routine for a box and a capsule is wrong by decimetres, or finds no overlap, if the middle
          line of the capsule enters the box; so against a box a capsule is that line, as a cylinder of 1 µm, and its radius
          is subtracted afterwards, which is exact in its general routine. Vertices of hulls are stored in single precision (no effect seen above 0.0001 mm).
Symbols   d signed distance, m: negative where two pieces overlap, then the depth; a, b nearest points
"""

from __future__ import annotations

from functools import lru_cache
from itertools import repeat
from typing import TYPE_CHECKING, Any

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from trialfit.handbook.arrays import Array
    from trialfit.placement.solids import Piece

    Indices = NDArray[np.intp]

FARTHEST = 100.0
"""Larger distances are reported as this one, m."""
LINE = 1e-6
"""The radius of the middle line of a capsule, m."""


class Stage:
    """All pieces in one model.

    own_position, own_turn   (n, 3), (n, 3, 3): the pose of each piece as it was made
    box_middle, box_half     (n, 3): a box around each piece in the axes it was compiled with
    position, turn           views: the present place of each piece; write them with `place`
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
        self._boxes = np.array([piece.shape == "box" for piece in pieces])
        self._capsules = np.array([piece.shape == "capsule" for piece in pieces])
        self._both = bool(self._boxes.any() and self._capsules.any())

    def place(self, which: slice | Indices, turn: Array, shift: Array) -> None:
        """Puts pieces at their places when turned by (3, 3) or (k, 3, 3) about the origin, then shifted by (3,) or (k, 3)."""
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
        distances, points = np.array(found), self._points[:count].copy()
        if self._both:
            self._see_to_capsules(np.asarray(firsts, np.intp), np.asarray(seconds, np.intp), reach, distances, points)
        return distances, points

    def _see_to_capsules(
        self, firsts: Indices, seconds: Indices, reach: float, distances: Array, points: Array
    ) -> None:
        """Works out again, by their middle lines, the capsules whose middle line may enter a box."""
        ours = self._capsules[firsts] & self._boxes[seconds]
        pairs = np.flatnonzero(ours | (self._boxes[firsts] & self._capsules[seconds]))
        if pairs.size:
            line, block = np.where(ours, firsts, seconds)[pairs], np.where(ours, seconds, firsts)[pairs]
            pairs = pairs[self._may_enter(line, block)]
        if not pairs.size:
            return
        model, sizes = self._model, self._sizes
        radii = sizes[self._capsules, 0]
        taken = sizes[np.where(ours, firsts, seconds)[pairs], 0] - LINE
        model.geom_type[self._capsules], sizes[self._capsules, 0] = KINDS["cylinder"], LINE
        try:
            for pair, off in zip(pairs.tolist(), taken.tolist(), strict=True):
                distances[pair] = self._call(
                    model, self._data, firsts[pair], seconds[pair], reach + off, self._rows[pair]
                )
                points[pair] = self._rows[pair]
        finally:
            model.geom_type[self._capsules], sizes[self._capsules, 0] = KINDS["capsule"], radii
        points[pairs] = _out_to_the_surface(points[pairs], distances[pairs], taken, ours[pairs])
        distances[pairs] -= taken

    def _may_enter(self, line: Indices, block: Indices) -> NDArray[np.bool_]:
        """Whether a box around the middle line of a capsule, in the axes of a box, meets that box; if not, the line cannot enter."""
        turn, along = self.turn[block], self.turn[line, :, 2] * self._sizes[line, 1, None]
        away = self.position[line] - self.position[block]
        middle = np.abs((away[:, None] @ turn)[:, 0])
        return np.asarray((middle <= np.abs((along[:, None] @ turn)[:, 0]) + self._sizes[block] + LINE).all(axis=1))


class Slots:
    """Room for many pairs at once: each pair of a call takes a slot, in the place, turn and size that it has in its draw.

    pieces   all that will be needed; their places are given with each call
    """

    def __init__(self, pieces: Sequence[Piece]) -> None:
        hulls = [number for number, piece in enumerate(pieces) if piece.shape == "hull"]
        self._model, self._data, self._call = _slots(
            tuple(np.ascontiguousarray(pieces[number].vertices, float).tobytes() for number in hulls)
        )
        count = len(pieces)
        self._kind = np.array([KINDS[piece.shape] for piece in pieces], dtype=np.int32)
        self._mesh = np.full(count, -1, dtype=np.int32)
        self.size: Array = np.zeros((count, 3))
        self.own_position: Array = np.array([piece.position for piece in pieces])
        self.own_turn: Array = np.array([piece.turn for piece in pieces])
        for number, piece in enumerate(pieces):
            self.size[number, : len(piece.size)] = piece.size
        for place, number in enumerate(hulls):
            self._mesh[number] = place
            geom, turn = 2 * _SLOTS + place, self.own_turn[number]
            self.own_position[number] += turn @ self._data.geom_xpos[geom]
            self.own_turn[number] = turn @ self._data.geom_xmat[geom].reshape(3, 3)
            self.size[number] = self._model.geom_size[geom]

    def distances(
        self,
        firsts: Indices,
        seconds: Indices,
        placed: tuple[Array, Array, Array],
        others: tuple[Array, Array, Array],
        reach: Array | float = FARTHEST,
        points: Array | None = None,
    ) -> Array:
        """Signed distances (n,) of pieces `firsts` and `seconds`; `placed` and `others` give position (n, 3), turn (n, 3, 3), size (n, 3).

        Position and turn are those of the piece as compiled: `own_position` and `own_turn` carried along. Beyond `reach`
        the distance is `reach`. `points` (n, 6) takes the nearest points.
        """
        found = np.empty(len(firsts))
        far = np.broadcast_to(np.asarray(reach, float), len(firsts))
        model, data = self._model, self._data
        for begin in range(0, len(firsts), _SLOTS):
            end = min(begin + _SLOTS, len(firsts))
            for side, (which, (position, turn, size)) in enumerate(((firsts, placed), (seconds, others))):
                slots = slice(side, 2 * (end - begin), 2)
                these = which[begin:end]
                model.geom_type[slots] = self._kind[these]
                model.geom_dataid[slots] = self._mesh[these]
                model.geom_size[slots] = size[begin:end]
                data.geom_xpos[slots] = position[begin:end]
                data.geom_xmat[slots] = turn[begin:end].reshape(-1, 9)
            first = range(0, 2 * (end - begin), 2)
            second = range(1, 2 * (end - begin), 2)
            taken, ours = self._lines(2 * (end - begin))
            rows = repeat(None) if points is None else iter(points[begin:end])
            found[begin:end] = list(
                map(self._call, repeat(model), repeat(data), first, second, (far[begin:end] + taken).tolist(), rows)
            )
            if taken.any():
                if points is not None:
                    line = taken > 0
                    points[begin:end][line] = _out_to_the_surface(
                        points[begin:end][line], found[begin:end][line], taken[line], ours[line]
                    )
                found[begin:end] -= taken
        return found

    def _lines(self, count: int) -> tuple[Array, NDArray[np.bool_]]:
        """Turns the capsules that meet a box in the first slots into lines; by how much each pair is then too far apart, and whether its first is the line."""
        kinds, sizes = self._model.geom_type[:count].reshape(-1, 2), self._model.geom_size[:count, 0].reshape(-1, 2)
        box, capsule = kinds == KINDS["box"], kinds == KINDS["capsule"]
        lines = capsule & box[:, ::-1]
        taken = np.where(lines, sizes - LINE, 0.0).sum(axis=1)
        kinds[lines], sizes[lines] = KINDS["cylinder"], LINE
        self._model.geom_type[:count], self._model.geom_size[:count, 0] = kinds.ravel(), sizes.ravel()
        return taken, lines[:, 0]


def _out_to_the_surface(points: Array, distances: Array, radii: Array, ours: NDArray[np.bool_]) -> Array:
    """Nearest points (n, 6), one of them on the middle line of a capsule (the first if `ours`), moved out to its surface."""
    step = points[:, 3:] - points[:, :3]
    length = np.maximum(np.linalg.norm(step, axis=1), LINE)
    out = step * (np.sign(distances) * radii / length)[:, None]
    return np.hstack([points[:, :3] + out * ours[:, None], points[:, 3:] - out * ~ours[:, None]])


_SLOTS = 64
KINDS = {"box": 6, "cylinder": 5, "capsule": 3, "hull": 7}
"""The library's numbers of the shapes; a test compares them with its names."""


@lru_cache(maxsize=32)
def _slots(hulls: tuple[bytes, ...]) -> tuple[Any, Any, Any]:
    """A model with the slots first and the hulls behind them, where they were made; a hull is the bytes of its vertices."""
    import mujoco

    spec = mujoco.MjSpec()
    for _ in range(2 * _SLOTS):
        spec.worldbody.add_geom(type=mujoco.mjtGeom.mjGEOM_BOX, size=(1, 1, 1))
    for number, vertices in enumerate(hulls):
        mesh = spec.add_mesh(name=f"hull{number}", uservert=np.frombuffer(vertices))
        mesh.inertia = mujoco.mjtMeshInertia.mjMESH_INERTIA_CONVEX
        spec.worldbody.add_geom(type=mujoco.mjtGeom.mjGEOM_MESH, meshname=f"hull{number}")
    model = spec.compile()
    data = mujoco.MjData(model)
    mujoco.mj_kinematics(model, data)
    return model, data, mujoco.mj_geomDistance


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
