"""Sections of any number of thin flat walls between corners: open, closed, with several cells, with fins.

Answers   thin_walls    the Section
          read_walls    "1-2, 2-3, 3-1" into pairs of corners
Not here  the usual shapes (sections.py); the same by finite elements (finite_elements/)
Symbols   as in sections.py
Sources   Mechanics of Materials, torsion of thin-walled tubes; shear flow round several cells, from memory
"""

from __future__ import annotations

import re

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, plain
from trialfit.handbook.structure.sections import Section


def read_walls(text: str) -> tuple[tuple[int, int], ...]:
    """Pairs of corners that a wall joins, counted from 0.

    text      "1-2, 2-3, 3-1": corner numbers from 1, a dash between the two of one wall
    returns   pairs
    errors    ValueError with one sentence

    Source: a way of writing of our own.

    >>> read_walls("1-2, 2-3, 3-1")
    ((0, 1), (1, 2), (2, 0))
    """
    pairs = []
    for piece in text.split(","):
        found = re.fullmatch(r"\s*(\d+)\s*-\s*(\d+)\s*", piece)
        if not found or found[1] == found[2] or "0" in found.groups():
            raise ValueError(f'is "{text}": expected the two corners of each wall, for example "1-2, 2-3, 3-4, 4-1"')
        pairs.append((int(found[1]) - 1, int(found[2]) - 1))
    return tuple(pairs)


def thin_walls(corner_y: Numbers, corner_z: Numbers, joins: tuple[tuple[int, int], ...], walls: Numbers) -> Section:
    """Any section of thin flat walls between corners: open, closed, with several cells, or with fins.

        A = Σ s·t,  I = Σ s·t·(c² + (Δ² + t²·n²)/12) about the centroid
        J = 4·aᵀ·D⁻¹·a + Σ s·t³/3   with a the areas of independent cells, D = C·diag(s/t)·Cᵀ, C the walls round each

    corner_y   across, corners along the last axis      m    any
    corner_z   upright, the same                        m    any
    joins      the two corners of each wall, from 0          as read_walls gives them
    walls      t, walls along the last axis             m    > 0
    returns    Section                                       nan outside that range

    W is J·min(flow/t) over the walls that enclose a cell, or J/t of the thickest where none does. Corners overlap by
    half a wall, which is not taken off. Errors: ValueError for a wall that ends at no corner.
    Source: Mechanics of Materials, torsion of thin-walled tubes; shear flow round several cells, from memory.

    >>> corners = np.array([-24.0, 24, 24, -24]) * 1e-3
    >>> square = thin_walls(corners, np.roll(corners, -1), read_walls("1-2, 2-3, 3-4, 4-1"), np.full(4, 2e-3))
    >>> f"{square.torsion * 1e12:.0f} mm⁴: 221184 + 512"
    '221696 mm⁴: 221184 + 512'
    """
    across, upright, wall = as_floats(corner_y, corner_z, walls)
    starts, ends = np.array(joins).T
    if max(starts.max(), ends.max()) >= across.shape[-1]:
        raise ValueError(
            f"a wall ends at corner {max(starts.max(), ends.max()) + 1}: there are {across.shape[-1]} corners"
        )
    y, z = (across[..., starts] + across[..., ends]) / 2, (upright[..., starts] + upright[..., ends]) / 2
    along_y, along_z = across[..., ends] - across[..., starts], upright[..., ends] - upright[..., starts]
    length = np.hypot(along_y, along_z)
    sound = np.all((wall > 0) & (length > 0), axis=-1)
    wall, length = np.where(wall > 0, wall, 1.0), np.where(length > 0, length, 1.0)
    strip = length * wall
    area = strip.sum(axis=-1)
    centre_y, centre_z = ((strip * part).sum(axis=-1) / area for part in (y, z))
    over_z = along_z**2 + (wall * along_y / length) ** 2
    over_y = along_y**2 + (wall * along_z / length) ** 2
    upright_moment = (strip * ((z - centre_z[..., None]) ** 2 + over_z / 12)).sum(axis=-1)
    sideways_moment = (strip * ((y - centre_y[..., None]) ** 2 + over_y / 12)).sum(axis=-1)
    twist = (across[..., starts] * upright[..., ends] - across[..., ends] * upright[..., starts]) / 2
    torsion, modulus = _torsion_of_walls(joins, length, wall, twist)
    half = wall.max(axis=-1) / 2
    far_z = np.abs(upright - centre_z[..., None]).max(axis=-1) + half
    far_y = np.abs(across - centre_y[..., None]).max(axis=-1) + half
    return Section.of(sound, area, (upright_moment, sideways_moment, torsion), (far_z, far_y), modulus)


def _torsion_of_walls(
    joins: tuple[tuple[int, int], ...], length: np.ndarray, wall: np.ndarray, swept: np.ndarray
) -> tuple[Numbers, np.ndarray]:
    """J and W of walls between corners; `swept` is the area between each wall and the origin, signed along the wall."""
    loops = _loops(joins)
    strips = (length * wall**3).sum(axis=-1) / 3
    if not loops.size:
        return plain(strips), np.asarray(strips / wall.max(axis=-1))
    areas = swept @ loops.T
    flexibility = np.einsum("cw,...w,dw->...cd", loops, length / wall, loops)
    flows = np.linalg.solve(flexibility, 2 * areas[..., None])[..., 0]
    constant = 2 * (areas * flows).sum(axis=-1) + strips
    in_wall = np.abs(flows @ loops)
    return plain(constant), np.asarray(constant / (in_wall / wall).max(axis=-1))


def _loops(joins: tuple[tuple[int, int], ...]) -> np.ndarray:
    """Independent closed loops of walls, one a row: +1 where a wall is run along, −1 against, 0 not at all."""
    paths: dict[int, np.ndarray] = {}
    rows = []
    left = list(enumerate(joins))
    while left:
        here = next((one for one in left if set(one[1]) & paths.keys()), None)
        if here is None:
            here = left[0]
            paths[here[1][0]] = np.zeros(len(joins))
        left.remove(here)
        number, (start, end) = here
        step = np.zeros(len(joins))
        step[number] = 1.0
        if start in paths and end in paths:
            rows.append(paths[start] + step - paths[end])
        elif start in paths:
            paths[end] = paths[start] + step
        else:
            paths[start] = paths[end] - step
    return np.array(rows)
