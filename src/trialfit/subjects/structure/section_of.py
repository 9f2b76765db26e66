"""The section of a part over the draws: by closed form, or for walls at any angle corrected by finite elements.

Answers   section_of   Section of a cut member or of a reinforcement

Walls are worked out by thin-wall formulas for every draw, and multiplied by what finite elements make of the nominal section
over what the formulas make of it. That factor is known at the nominal only.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.handbook.structure import sections
from trialfit.handbook.structure.walled_sections import read_walls, thin_walls

if TYPE_CHECKING:
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.handbook.structure.sections import Section
    from trialfit.parts.structure.members import Sectioned

MOST_SQUARES = 20_000
"""Squares of the thinnest wall in the area of a section that is worked out by finite elements; a sill has about 3,000."""


def section_of(ev: Evaluation, part: Sectioned) -> Section:
    """Section of a part, each field (draws,). Raises MissingFact."""
    match part.shape:
        case "round tube":
            return sections.round_tube(*ev.each(part.diameter, part.wall_thickness))
        case "box":
            return sections.box(*ev.each(part.width, part.height, part.wall_thickness))
        case "channel":
            return sections.channel(*ev.each(part.width, part.height, part.wall_thickness))
        case "flat":
            return sections.flat(*ev.each(part.width, part.height))
        case "walls":
            return ev.of(_of_walls, part)
    raise MissingFact({f"{part.name}.shape": "shape of its section: round tube, box, channel, flat or walls"})


def _of_walls(ev: Evaluation, part: Sectioned) -> Section:
    across = ev.rows(part.corner_y, f"{part.name}.corner_y")
    upright = ev.rows(part.corner_z, f"{part.name}.corner_z")
    if part.walls is None:
        raise MissingFact({f"{part.name}.walls": "the two corners that each wall joins"})
    joins = read_walls(part.walls)
    walls = ev.rows(part.wall_thicknesses, f"{part.name}.wall_thicknesses")
    thin = thin_walls(across, upright, joins, walls)
    if not np.isfinite(np.asarray(thin.area)[0]):
        return thin
    _refuse_foil(part, across[0], upright[0], joins, walls[0])
    return _corrected(thin, list(zip(across[0], upright[0], strict=True)), joins, [float(wall) for wall in walls[0]])


def _refuse_foil(
    part: Sectioned, across: Array, upright: Array, joins: tuple[tuple[int, int], ...], walls: Array
) -> None:
    """Raises MissingFact for walls so thin, or so unlike, that the section takes more elements than can be worked out."""
    area = sum(
        math.hypot(across[start] - across[end], upright[start] - upright[end]) * wall
        for (start, end), wall in zip(joins, walls, strict=True)
    )
    if area > MOST_SQUARES * float(np.min(walls)) ** 2:
        says = "a wall is too thin for the size of the section: check its thickness, for example 2 mm"
        raise MissingFact({f"{part.name}.wall_thicknesses": says})


def _corrected(
    thin: Section, corners: list[tuple[float, float]], joins: tuple[tuple[int, int], ...], walls: list[float]
) -> Section:
    from trialfit.finite_elements.sections import constants_of_walls

    exact = constants_of_walls(corners, joins, walls)
    area = exact.area / np.asarray(thin.area)[0]
    upright = exact.upright / np.asarray(thin.upright)[0]
    sideways = exact.sideways / np.asarray(thin.sideways)[0]
    torsion = exact.torsion / np.asarray(thin.torsion)[0]
    return replace(
        thin,
        area=thin.area * area,
        upright=thin.upright * upright,
        sideways=thin.sideways * sideways,
        torsion=thin.torsion * torsion,
        upright_modulus=thin.upright_modulus * upright,
        sideways_modulus=thin.sideways_modulus * sideways,
        torsion_modulus=thin.torsion_modulus * torsion,
    )
