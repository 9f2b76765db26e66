"""Cross-sections of members: area, second moments, torsion, of the shapes a builder cuts out and welds in.

Answers   round_tube, box, channel, flat    one Section each
          same_mass                         other shapes of the same height with as much steel in them
Not here  any walls between corners (walled_sections.py); torsion of thin walls (wall_torsion.py); a member under load (beams.py);
          shapes by finite elements (finite_elements/)
Symbols   A area, I second moment, Z section modulus, J torsion constant, W torsion modulus (τ = T/W), t wall, s mid-line length,
          A_m area inside the mid-line; upright: bent by a load from above; sideways: by a load from the side
Sources   [1] Mechanics of Materials, torsion of thin-walled tubes (Bredt) and of open sections
          [2] geometry
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, where
from trialfit.handbook.structure.wall_torsion import closed_torsion_constant

THICKEST_THIN_WALL = 0.15
"""Largest wall over mid-line width for a closed thin wall, which then reads about 5 % low in J: common practice, no source."""

THICKEST_STRIP = 0.2
"""Largest wall over mid-line width for the strips of an open section: common practice, no source."""


@dataclass(frozen=True)
class Section:
    """A cross-section in SI; every field a float or an array of draws.

    area A m²; upright, sideways I m⁴; torsion J m⁴; upright_modulus, sideways_modulus Z m³; torsion_modulus W m³.
    """

    area: Numbers
    upright: Numbers
    sideways: Numbers
    torsion: Numbers
    upright_modulus: Numbers
    sideways_modulus: Numbers
    torsion_modulus: Numbers

    @classmethod
    def of(
        cls,
        sound: np.ndarray,
        area: np.ndarray,
        moments: tuple[Numbers, Numbers, Numbers],
        extremes: tuple[np.ndarray, np.ndarray],
        torsion_modulus: np.ndarray,
    ) -> Section:
        """Of area, moments (upright, sideways, torsion) and how far steel reaches from the middle (up, sideways); nan where not `sound`."""
        upright, sideways, torsion = as_floats(*moments)
        up, side = (np.where(sound, extreme, 1.0) for extreme in extremes)
        values = (area, upright, sideways, torsion, upright / up, sideways / side, torsion_modulus)
        return cls(*(where(sound, value) for value in values))


def round_tube(diameter: Numbers, wall: Numbers) -> Section:
    """A round tube; a bar where the wall is half the diameter.

        A = π·(D² − d²)/4,  I = π·(D⁴ − d⁴)/64,  J = 2·I,  d = D − 2·t

    diameter  D, outside     m    > 0
    wall      t              m    0 < t ≤ D/2
    returns   Section             nan outside that range

    Exact. Source: geometry; torsion of round sections.

    >>> f"{round_tube(50e-3, 2e-3).torsion * 1e12:.0f} mm⁴"
    '174019 mm⁴'
    """
    outside, wall = as_floats(diameter, wall)
    sound = (outside > 0) & (wall > 0) & (wall <= outside / 2)
    inside = outside - 2 * wall
    area = np.pi * (outside**2 - inside**2) / 4
    moment = np.pi * (outside**4 - inside**4) / 64
    modulus = moment / np.where(sound, outside / 2, 1.0)
    return Section(
        *(where(sound, value) for value in (area, moment, moment, 2 * moment, modulus, modulus, 2 * modulus))
    )


def box(width: Numbers, height: Numbers, wall: Numbers) -> Section:
    """A rectangular tube with sharp corners.

        A = b·h − b_i·h_i,  I = (b·h³ − b_i·h_i³)/12,  J = 4·A_m²·t/s,  W = 2·A_m·t

    width     b, across, outside     m    > 0
    height    h, upright, outside    m    > 0
    wall      t                      m    0 < t ≤ 0.15 of the mid-line width and height
    returns   Section                     nan outside that range

    Rounded corners leave less: about 5 % of I at an outside radius of 2·t. Source: geometry; Bredt as in Mechanics of
    Materials.

    >>> f"{box(50e-3, 50e-3, 2e-3).upright * 1e12:.0f} mm⁴: (50⁴ − 46⁴)/12"
    '147712 mm⁴: (50⁴ − 46⁴)/12'
    """
    width, height, wall = as_floats(width, height, wall)
    middle_width, middle_height = width - wall, height - wall
    sound = (wall > 0) & (wall <= THICKEST_THIN_WALL * np.minimum(middle_width, middle_height))
    inner_width, inner_height = width - 2 * wall, height - 2 * wall
    upright = (width * height**3 - inner_width * inner_height**3) / 12
    sideways = (height * width**3 - inner_height * inner_width**3) / 12
    enclosed = middle_width * middle_height
    torsion = closed_torsion_constant(enclosed, 2 * (middle_width + middle_height) / np.where(sound, wall, 1.0))
    return Section.of(
        sound,
        width * height - inner_width * inner_height,
        (upright, sideways, torsion),
        (height / 2, width / 2),
        2 * enclosed * wall,
    )


def channel(width: Numbers, height: Numbers, wall: Numbers) -> Section:
    """An open channel: web upright, two legs to the side, sharp corners.

        I = (b·h³ − (b − t)·(h − 2·t)³)/12,  J = (2·(b − t/2) + h − t)·t³/3,  W = J/t

    width     b, of a leg with the web, outside    m    > t
    height    h, outside                           m    > 2·t
    wall      t                                    m    0 < t ≤ 0.2 of the mid-line width and height
    returns   Section                                   nan outside that range

    Torsion about the shear centre, which lies outside the web; a load anywhere else twists it. Source: geometry; open
    sections as in Mechanics of Materials.

    >>> f"{channel(30e-3, 80e-3, 3e-3).torsion * 1e12:.0f} mm⁴: (2·28.5 + 77)·27/3"
    '1206 mm⁴: (2·28.5 + 77)·27/3'
    """
    width, height, wall = as_floats(width, height, wall)
    sound = (wall > 0) & (wall <= THICKEST_STRIP * np.minimum(width - wall / 2, height - wall))
    upright = (width * height**3 - (width - wall) * (height - 2 * wall) ** 3) / 12
    web, leg = (height - 2 * wall) * wall, width * wall
    area = web + 2 * leg
    centre = (web * wall / 2 + 2 * leg * width / 2) / np.where(sound, area, 1.0)
    sideways = (height - 2 * wall) * wall**3 / 12 + web * (centre - wall / 2) ** 2
    sideways = sideways + 2 * (wall * width**3 / 12 + leg * (width / 2 - centre) ** 2)
    torsion = (2 * (width - wall / 2) + height - wall) * wall**3 / 3
    extremes = (height / 2, np.maximum(centre, width - centre))
    return Section.of(sound, area, (upright, sideways, torsion), extremes, torsion / np.where(sound, wall, 1.0))


def flat(width: Numbers, height: Numbers) -> Section:
    """A flat or square bar.

        A = b·h,  I = b·h³/12,  J = k·l·t³,  k = (1 − 0.630·(t/l)·(1 − t⁴/(12·l⁴)))/3,  W = J/t

    width     b, across     m    > 0
    height    h, upright    m    > 0
    returns   Section            nan outside that range

    l is the longer side, t the shorter. W = J/t is right for a thin flat; a square bar sees a tenth more stress than it says.
    Source: geometry; J from memory, a closed fit to the series solution.

    >>> f"{flat(5e-3, 50e-3).torsion * 1e12:.0f} mm⁴: 50·5³/3 = 2083 less 6 %"
    '1952 mm⁴: 50·5³/3 = 2083 less 6 %'
    """
    width, height = as_floats(width, height)
    sound = (width > 0) & (height > 0)
    longer = np.where(sound, np.maximum(width, height), 1.0)
    thin = np.where(sound, np.minimum(width, height), 1.0)
    share = (1 - 0.630 * thin / longer * (1 - thin**4 / (12 * longer**4))) / 3
    torsion = share * longer * thin**3
    moments = (width * height**3 / 12, height * width**3 / 12, torsion)
    return Section.of(sound, width * height, moments, (height / 2, width / 2), torsion / thin)


def same_mass(area: Numbers, height: Numbers) -> dict[str, Section]:
    """Shapes of one height that weigh the same: what the steel would be worth in each.

        round tube: t = (h − √(h² − 4·A/π))/2;  square tube: t = (h − √(h² − A))/2;
        channel of half the width: t = (h − √(h² − 2·A))/2;  flat: b = A/h

    area      A, of steel         m²    > 0
    height    h, outside          m     > 0
    returns   Section by shape          nan where so much steel does not go into the shape, or its wall is too thick

    Source: geometry.

    >>> shapes = same_mass(384e-6, 50e-3)
    >>> [f"{name} {section.torsion * 1e12:.0f}" for name, section in shapes.items()]
    ['round tube 216532', 'square tube 221184', 'channel 2249', 'flat 6819']
    """
    area, height = as_floats(area, height)
    roots = [np.sqrt(np.where(left > 0, left, np.nan)) for left in (height**2 - 4 * area / np.pi, height**2 - area)]
    slim = height**2 - 2 * area
    channel_root = np.sqrt(np.where(slim > 0, slim, np.nan))
    return {
        "round tube": round_tube(height, (height - roots[0]) / 2),
        "square tube": box(height, height, (height - roots[1]) / 2),
        "channel": channel(height / 2, height, (height - channel_root) / 2),
        "flat": flat(area / np.where(height > 0, height, np.nan), height),
    }
