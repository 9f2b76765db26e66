"""Cross-sections of walls that meet at any angle: what they are worth, by sectionproperties.

Answers   constants_of_walls   area, second moments and torsion constant, with the corners as they are
Not here  the same for every draw, by thin-wall formulas (handbook/structure/walled_sections.py)
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

_MM = 1e3
_ELEMENT = 0.5
"""Largest element over the square of the thinnest wall. At 0.5 a slit square tube comes out within 0.5 %."""


@dataclass(frozen=True)
class Constants:
    """Area m², second moments m⁴ against bending upright and sideways, torsion constant m⁴."""

    area: float
    upright: float
    sideways: float
    torsion: float


def constants_of_walls(
    corners: Sequence[tuple[float, float]], joins: Sequence[tuple[int, int]], walls: Sequence[float]
) -> Constants:
    """What a section of straight walls is worth, with square ends and sharp corners.

    corners   (across, upright) of each corner of the mid-line      m
    joins     the two corners of each wall, from 0
    walls     thickness of each wall                                m     > 0
    errors    ValueError with one sentence where the walls do not hang together
    """
    from sectionproperties.analysis.section import Section
    from sectionproperties.pre.geometry import Geometry
    from shapely import LineString, Polygon, union_all

    strips = [
        LineString([_in_mm(corners[start]), _in_mm(corners[end])]).buffer(
            wall * _MM / 2, cap_style="square", join_style="mitre"
        )
        for (start, end), wall in zip(joins, walls, strict=True)
    ]
    shape = union_all(strips)
    if not isinstance(shape, Polygon):
        says = "the walls of the section do not hang together: each must share a corner with another"
        raise ValueError(says)  # noqa: TRY004 - what was written is wrong here, not its type
    geometry = Geometry(shape).create_mesh(mesh_sizes=[_ELEMENT * (min(walls) * _MM) ** 2])
    section = Section(geometry)
    section.calculate_geometric_properties()
    section.calculate_warping_properties()
    across, upright, _ = section.get_ic()
    area, torsion = section.get_area(), section.get_j()
    return Constants(float(area) / _MM**2, float(across) / _MM**4, float(upright) / _MM**4, float(torsion) / _MM**4)


def _in_mm(corner: tuple[float, float]) -> tuple[float, float]:
    return corner[0] * _MM, corner[1] * _MM
