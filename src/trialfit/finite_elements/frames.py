"""A small frame of straight members: the forces inside it under one unit of each load, by PyNiteFEA.

Answers   solve            for nodes, members and unit loads
          Member, Frame    what goes in and what comes out
Not here  how far it moves for other stiffnesses, and spreads (handbook/frame_work.py)
Axes      ISO 8855: x forward, y left, z up. The height of a section stands upright; in a member that itself stands upright it
          lies along the car.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from trialfit.handbook.arrays import Array


HELD = {"free": 0, "held": 3, "built in": 6}
"""How many of the six ways to move a node are held: none, the three shifts, or the three turns as well."""

_MM = 1e3
_LOAD = {
    "x": ("FX", 1.0),
    "y": ("FZ", -1.0),
    "z": ("FY", 1.0),
    "about x": ("MX", _MM),
    "about y": ("MZ", -_MM),
    "about z": ("MY", _MM),
}
"""The library takes its second axis as up: ours x, z, −y are its X, Y, Z."""


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

    places    (nodes, 3)               m
    held      of each node, a word of HELD
    members   at least one
    loads     node and axis of each: "x", "y" or "z" for 1 N, "about x", "about y" or "about z" for 1 N·m
    errors    ValueError with one sentence where the frame is not held fast
    """
    from Pynite import FEModel3D

    model = FEModel3D()
    for number, (x, y, z) in enumerate(places):
        model.add_node(f"N{number}", x * _MM, z * _MM, -y * _MM)
        model.def_support(f"N{number}", *(way < HELD[held[number]] for way in range(6)))
    for number, member in enumerate(members):
        _add(model, f"M{number}", member)
    for number, (node, axis) in enumerate(loads):
        direction, sign = _LOAD[axis]
        model.add_node_load(f"N{node}", direction, sign, case=f"L{number}")
        model.add_load_combo(f"L{number}", {f"L{number}": 1.0})
    _analyse(model)
    return _answers(model, len(places), len(members), len(loads))


def _add(model: Any, name: str, member: Member) -> None:  # noqa: ANN401 - the library has no type hints
    young, shear = member.youngs_modulus / _MM**2, member.shear_modulus / _MM**2
    model.add_material(name, young, shear, young / (2 * shear) - 1, 0.0)
    model.add_section(
        name, member.area * _MM**2, member.sideways * _MM**4, member.upright * _MM**4, member.torsion * _MM**4
    )
    model.add_member(name, f"N{member.start}", f"N{member.end}", name, name)


def _analyse(model: Any) -> None:  # noqa: ANN401 - the library has no type hints
    wrong = "the frame is not held fast: it can move without bending; hold more nodes, or join what hangs loose"
    try:
        model.analyze_linear(check_stability=True, sparse=False)
    except Exception as cause:  # the library raises bare exceptions for a frame that can move
        raise ValueError(wrong) from cause


def _answers(model: Any, nodes: int, members: int, loads: int) -> Frame:  # noqa: ANN401 - the library has no type hints
    rows = [(number, piece) for number in range(members) for piece in model.members[f"M{number}"].sub_members.values()]
    inside = np.empty((loads, len(rows), 4, 2))
    moved, turned, reactions = (np.empty((loads, nodes, 3)) for _ in range(3))
    for load in range(loads):
        case = f"L{load}"
        for row, (_, piece) in enumerate(rows):
            ends = np.asarray(piece.f(case), float).ravel()
            inside[load, row, :, 0] = -ends[[0, 3, 4, 5]]
            inside[load, row, :, 1] = ends[[6, 9, 10, 11]]
        for number in range(nodes):
            node = model.nodes[f"N{number}"]
            moved[load, number] = node.DX[case], -node.DZ[case], node.DY[case]
            turned[load, number] = node.RX[case], -node.RZ[case], node.RY[case]
            reactions[load, number] = node.RxnFX[case], -node.RxnFZ[case], node.RxnFY[case]
    inside[:, :, 1:] /= _MM
    if not np.all(np.isfinite(moved)):
        raise ValueError("the frame is not held fast: it can move without bending")
    lengths = np.array([float(piece.L()) for _, piece in rows]) / _MM
    return Frame(np.array([number for number, _ in rows]), lengths, inside, moved / _MM, turned, reactions)
