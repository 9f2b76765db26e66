"""A small frame of straight members: the forces inside it under one unit of each load.

Answers   solve            for nodes, members and unit loads
          Member, Frame    what goes in and what comes out
Not here  how far it moves for other stiffnesses, and spreads (handbook/structure/frame_work.py)
Axes      ISO 8855: x forward, y left, z up. Along a member run its own: from start to end; upright, which is the height of the
          section; sideways, square to both. In a member that itself stands upright the height lies along the car.
Method    direct stiffness, dense: slender members that bend without shear, small movements. Six ways to move a node, three
          shifts and three turns.
Sources   [1] W. McGuire, R. H. Gallagher, R. D. Ziemian, Matrix Structural Analysis, 2nd ed., ch. 4 and 5 (from memory)
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from trialfit.handbook.arrays import Array


HELD = {"free": 0, "pinned": 3, "fixed": 6}
"""How many of the six ways to move a node are held: none, the three shifts, or the three turns as well."""

_WAYS = 6
_LOAD = {"x": 0, "y": 1, "z": 2, "about x": 3, "about y": 4, "about z": 5}
_ON_THE_WAY = 1e-9
"""A node this near to the line between two others lies on it: metres, and radians as seen from their middle."""
_LOOSE = 1e-14
"""Least stiffness over that of the nodes alone: rounding leaves 1e-16 or so to a frame that can move, and a stub of 1 mm at the
end of an arm of 2 m is worth 3e-11."""
_NOT_HELD = "the frame is not held fast: it can move without bending; hold more nodes, or join what hangs loose"


@dataclass(frozen=True)
class Member:
    """A straight member from node `start` to node `end`, SI: area A, second moments, torsion constant, moduli E and G."""

    start: int
    end: int
    area: float
    upright: float
    sideways: float
    torsion: float
    youngs_modulus: float
    shear_modulus: float


@dataclass(frozen=True)
class Frame:
    """Answers of a frame to 1 N, or 1 N·m, of each load in turn, SI.

    member     (rows,)               which member a row belongs to: one with a node on its way has several rows
    length     (rows,)
    inside     (loads, rows, 4, 2)   pull, twist, sideways and upright moment at the row's two ends
    moved      (loads, nodes, 3)
    turned     (loads, nodes, 3)     rad
    reactions  (loads, nodes, 3)     of the held nodes on the frame
    """

    member: NDArray[np.int64]
    length: Array
    inside: Array
    moved: Array
    turned: Array
    reactions: Array


def solve(places: Array, held: Sequence[str], members: Sequence[Member], loads: Sequence[tuple[int, str]]) -> Frame:
    """The forces inside a frame, linear and elastic.

        K·u = F over the ways to move that are not held

    places    (nodes, 3)               m
    held      of each node, a word of HELD
    members   at least one
    loads     node and axis of each: "x", "y" or "z" for 1 N, "about x", "about y" or "about z" for 1 N·m
    errors    ValueError with one sentence where the frame is not held fast
    """
    rows = [
        (number, ends) for number, member in enumerate(members) for ends in _pieces(places, member.start, member.end)
    ]
    if not rows:
        raise ValueError(_NOT_HELD)
    along = np.array([places[end] - places[start] for _, (start, end) in rows])
    length = np.linalg.norm(along, axis=1)
    turns = np.array([np.kron(np.eye(4), _axes(one / size)) for one, size in zip(along, length, strict=True)])
    own = np.array([_stiffness(members[number], size) for (number, _), size in zip(rows, length, strict=True)])
    ways = np.array([[*_ways(start), *_ways(end)] for _, (start, end) in rows])
    whole = np.zeros((_WAYS * len(places),) * 2)
    for stiffness, turn, where in zip(own, turns, ways, strict=True):
        whole[np.ix_(where, where)] += turn.T @ stiffness @ turn
    forces = np.zeros((_WAYS * len(places), len(loads)))
    for load, (node, axis) in enumerate(loads):
        forces[_WAYS * node + _LOAD[axis], load] = 1.0
    moves = _moves(whole, forces, np.concatenate([np.arange(_WAYS) >= HELD[word] for word in held]))
    ends = np.einsum("rij,rjk,rkl->lri", own, turns, moves[ways])  # on the member, along its own axes
    by_node = (len(loads), len(places), _WAYS)
    reactions = (whole @ moves - forces).T.reshape(by_node)[:, :, :3]
    return Frame(
        member=np.array([number for number, _ in rows]),
        length=length,
        inside=np.stack([-ends[:, :, [0, 3, 4, 5]], ends[:, :, [6, 9, 10, 11]]], axis=-1),
        moved=moves.T.reshape(by_node)[:, :, :3],
        turned=moves.T.reshape(by_node)[:, :, 3:],
        reactions=reactions * (np.array([HELD[word] for word in held]) > 0)[:, None],
    )


def _pieces(places: Array, start: int, end: int) -> list[tuple[int, int]]:
    """The two ends of each piece of a member: it is joined to every node on its way."""
    along = places[end] - places[start]
    length = float(np.linalg.norm(along))
    if not length:
        return []
    share = (places - places[start]) @ along / length**2
    beside = np.linalg.norm(places - places[start] - share[:, None] * along, axis=1)
    between = np.flatnonzero((share > 0) & (share < 1) & (beside <= _ON_THE_WAY * (1 + length)))
    nodes = [start, *(int(node) for node in between[np.argsort(share[between])] if node not in {start, end}), end]
    return list(pairwise(nodes))


def _axes(along: Array) -> Array:
    """A member's own axes as rows: along, upright, sideways."""
    upright = np.array([0.0, 0.0, 1.0]) - along[2] * along
    if np.linalg.norm(upright) < _ON_THE_WAY:
        upright = np.array([-np.sign(along[2]), 0.0, 0.0])
    upright = upright / np.linalg.norm(upright)
    return np.array([along, upright, np.cross(along, upright)])


def _ways(node: int) -> range:
    return range(_WAYS * node, _WAYS * (node + 1))


def _stiffness(member: Member, length: float) -> Array:
    """Forces and moments at both ends of a member for a unit of each of their twelve shifts and turns, in its own axes [1].

    Six at the start, six at the end: shifts along, upright, sideways, then turns about the same three.
    """
    stiffness = np.zeros((12, 12))
    pair = np.array([[1.0, -1.0], [-1.0, 1.0]])
    stiffness[np.ix_([0, 6], [0, 6])] = member.youngs_modulus * member.area / length * pair
    stiffness[np.ix_([3, 9], [3, 9])] = member.shear_modulus * member.torsion / length * pair
    for moment, ways, sign in ((member.upright, [1, 5, 7, 11], 1), (member.sideways, [2, 4, 8, 10], -1)):
        arm = (
            sign * length
        )  # an end that is shifted sideways turns the other way round than one that is shifted upright
        bending = np.array(
            [
                [12, 6 * arm, -12, 6 * arm],
                [6 * arm, 4 * length**2, -6 * arm, 2 * length**2],
                [-12, -6 * arm, 12, -6 * arm],
                [6 * arm, 2 * length**2, -6 * arm, 4 * length**2],
            ]
        )
        stiffness[np.ix_(ways, ways)] = member.youngs_modulus * moment / length**3 * bending
    return stiffness


def _moves(whole: Array, forces: Array, free: NDArray[np.bool_]) -> Array:
    """Shifts and turns under each load. Raises ValueError where the frame can move without bending.

    Each way to move is measured in units of its own stiffness, so that metres and radians, thick and thin compare.
    """
    moves = np.zeros_like(forces)
    matrix = whole[np.ix_(free, free)]
    own = np.diagonal(matrix)
    if not np.all(own > 0):
        raise ValueError(_NOT_HELD)
    unit = 1 / np.sqrt(own)
    scaled = matrix * unit * unit[:, None]
    if len(scaled):
        if np.linalg.eigvalsh(scaled)[0] < _LOOSE:
            raise ValueError(_NOT_HELD)
        moves[free] = unit[:, None] * np.linalg.solve(scaled, unit[:, None] * forces[free])
    return moves
