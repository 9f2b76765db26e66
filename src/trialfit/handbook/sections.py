"""Cross-sections of members: area, second moments, torsion, of the shapes a builder cuts out and welds in.

Answers   round_tube, box, channel, flat, thin_walls   one Section each; thin_walls takes any number of walls and cells
          closed_torsion_constant, closed_shear_stress    a thin wall around one cell (Bredt)
          open_torsion_constant, open_shear_stress        strips that are free to warp
          slit_loss                                       what one slit along a closed tube costs
          same_mass                                       other shapes of the same height with as much steel in them
          bending_stress, bend_at_middle, twist_of        a member under load
          read_walls                                      "1-2, 2-3, 3-1" into pairs of corners
Not here  weld groups (weld_lines.py); frames (frame_work.py); shapes by finite elements (finite_elements/)
Symbols   A area, I second moment, Z section modulus, J torsion constant, W torsion modulus (τ = T/W), t wall, s mid-line length,
          A_m area inside the mid-line; upright: bent by a load from above; sideways: by a load from the side
Sources   [1] Mechanics of Materials, torsion of thin-walled tubes (Bredt) and of open sections
          [2] geometry
"""

from __future__ import annotations

import re
from dataclasses import dataclass

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, plain, where

THICKEST_THIN_WALL = 0.15
"""Largest wall over mid-line width for a closed thin wall, which then reads about 5 % low in J: common practice, no source."""

THICKEST_STRIP = 0.2
"""Largest wall over mid-line width for the strips of an open section: common practice, no source."""

MIDDLE_LOAD = {"held": 48.0, "built in": 192.0, "one end": 3.0}
"""k of δ = F·L³/(k·E·I): ends held, ends built in, built in at one end and loaded at the other. Beam tables, from memory."""

MIDDLE_MOMENT = {"held": 4.0, "built in": 8.0, "one end": 1.0}
"""k of M = F·L/k, the largest moment of the same three. Beam tables, from memory."""


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


def closed_torsion_constant(enclosed_area: Numbers, wall_sum: Numbers) -> Numbers:
    """Torsion constant of a thin wall around one cell.

        J = 4·A_m²/∮(ds/t)

    enclosed_area  A_m, inside the mid-line       m²    > 0
    wall_sum       ∮(ds/t), length over wall      1     > 0
    returns        J                              m⁴    nan outside that range

    About 2 % low at t/b = 0.04. Source: Mechanics of Materials, torsion of thin-walled tubes (Bredt).

    >>> f"{closed_torsion_constant(48e-3**2, 4 * 48 / 2) * 1e12:.0f} mm⁴: 50 × 50 × 2, 48³·2"
    '221184 mm⁴: 50 × 50 × 2, 48³·2'
    """
    area, walls = as_floats(enclosed_area, wall_sum)
    sound = (area > 0) & (walls > 0)
    return where(sound, 4 * area**2 / np.where(sound, walls, 1.0))


def closed_shear_stress(torque: Numbers, enclosed_area: Numbers, wall: Numbers) -> Numbers:
    """Shear stress in one wall around a cell.

        τ = T/(2·A_m·t)

    torque         T                         N·m    any; the sign is kept
    enclosed_area  A_m, inside the mid-line  m²     > 0
    wall           t, where τ is wanted      m      > 0
    returns        τ                         Pa     nan outside that range

    Source: Mechanics of Materials, torsion of thin-walled tubes (Bredt).

    >>> f"{closed_shear_stress(500.0, 48e-3**2, 2e-3) / 1e6:.2f} MPa"
    '54.25 MPa'
    """
    torque, area, wall = as_floats(torque, enclosed_area, wall)
    sound = (area > 0) & (wall > 0)
    return where(sound, torque / np.where(sound, 2 * area * wall, 1.0))


def open_torsion_constant(lengths: Numbers, walls: Numbers) -> Numbers:
    """Torsion constant of an open section made of strips along the last axis.

        J = Σ s·t³/3

    lengths   s, of the strips     m     ≥ 0
    walls     t                    m     ≥ 0
    returns   J                    m⁴    nan outside that range

    Free to warp: ends that are built in twist less. Source: Mechanics of Materials, torsion of open sections.

    >>> f"{open_torsion_constant(np.full(4, 48e-3), np.full(4, 2e-3)) * 1e12:.0f} mm⁴: the same tube slit"
    '512 mm⁴: the same tube slit'
    """
    lengths, walls = as_floats(lengths, walls)
    sound = np.all((lengths >= 0) & (walls >= 0), axis=-1)
    return where(sound, np.sum(lengths * walls**3, axis=-1) / 3)


def open_shear_stress(torque: Numbers, wall: Numbers, torsion_constant: Numbers) -> Numbers:
    """Largest shear stress in a strip of an open section.

        τ = T·t/J

    torque            T                    N·m    any; the sign is kept
    wall              t, of the strip      m      > 0
    torsion_constant  J                    m⁴     > 0
    returns           τ                    Pa     nan outside that range

    Away from inside corners, where it is higher. Source: Mechanics of Materials, torsion of open sections.

    >>> f"{open_shear_stress(5.0, 2e-3, 512e-12) / 1e6:.1f} MPa"
    '19.5 MPa'
    """
    torque, wall, constant = as_floats(torque, wall, torsion_constant)
    sound = (wall > 0) & (constant > 0)
    return where(sound, torque * wall / np.where(sound, constant, 1.0))


def slit_loss(enclosed_area: Numbers, midline: Numbers, wall: Numbers) -> Numbers:
    """How many times stiffer in torsion a closed tube is than the same tube slit along its length.

        J_closed/J_slit = 12·A_m²/(s·t)²

    enclosed_area  A_m                   m²    > 0
    midline        s, all the way round  m     > 0
    wall           t, the same all round m     > 0
    returns        ratio                 1     nan outside that range

    Source: Bredt over open strips, both as in Mechanics of Materials; one wall thickness.

    >>> f"{slit_loss(48e-3**2, 4 * 48e-3, 2e-3):.0f} times"
    '432 times'
    """
    area, midline, wall = as_floats(enclosed_area, midline, wall)
    sound = (area > 0) & (midline > 0) & (wall > 0)
    return where(sound, 12 * area**2 / np.where(sound, midline * wall, 1.0) ** 2)


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
    return _section(
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
    return _section(sound, area, (upright, sideways, torsion), extremes, torsion / np.where(sound, wall, 1.0))


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
    return _section(sound, width * height, moments, (height / 2, width / 2), torsion / thin)


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
            raise ValueError(f'is "{text}": the two corners of each wall are wanted, for example "1-2, 2-3, 3-4, 4-1"')
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
    return _section(sound, area, (upright_moment, sideways_moment, torsion), (far_z, far_y), modulus)


def bending_stress(moment: Numbers, modulus: Numbers, force: Numbers = 0.0, area: Numbers = 1.0) -> Numbers:
    """Largest stress along a member from bending and pull.

        σ = |M|/Z + |N|/A

    moment    M                        N·m    any
    modulus   Z                        m³     > 0
    force     N, along the member      N      any
    area      A                        m²     > 0
    returns   σ                        Pa     nan outside that range

    Elastic, no buckling, away from holes and weld roots. Source: beam theory as in Mechanics of Materials.

    >>> f"{bending_stress(600.0, 5.908e-6) / 1e6:.1f} MPa"
    '101.6 MPa'
    """
    moment, modulus, force, area = as_floats(moment, modulus, force, area)
    sound = (modulus > 0) & (area > 0)
    return where(sound, np.abs(moment) / np.where(sound, modulus, 1.0) + np.abs(force) / np.where(sound, area, 1.0))


def bend_at_middle(
    force: Numbers, length: Numbers, moment_of_area: Numbers, youngs_modulus: Numbers, ends: str
) -> Numbers:
    """How far a member gives way under a force on its middle, or on its end where only the other is held.

        δ = F·L³/(k·E·I),   k 48 (held), 192 (built in), 3 (one end)

    force           F                                         N      any
    length          L                                         m      ≥ 0
    moment_of_area  I                                         m⁴     > 0
    youngs_modulus  E                                         Pa     > 0
    ends            "held", "built in" or "one end"
    returns         δ                                         m      nan outside that range

    Slender members: shear is left out. Errors: KeyError for other ends. Source: beam tables, from memory.

    >>> f"{bend_at_middle(1000.0, 0.8, 147712e-12, 200e9, 'held') * 1e3:.2f} mm"
    '0.36 mm'
    """
    force, length, moment, modulus = as_floats(force, length, moment_of_area, youngs_modulus)
    sound = (length >= 0) & (moment > 0) & (modulus > 0)
    return where(sound, force * length**3 / np.where(sound, MIDDLE_LOAD[ends] * modulus * moment, 1.0))


def twist_of(torque: Numbers, length: Numbers, torsion_constant: Numbers, shear_modulus: Numbers) -> Numbers:
    """Angle by which one end of a member turns against the other.

        φ = T·L/(G·J)

    torque            T     N·m    any; the sign is kept
    length            L     m      ≥ 0
    torsion_constant  J     m⁴     > 0
    shear_modulus     G     Pa     > 0
    returns           φ     rad    nan outside that range

    Source: torsion as in Mechanics of Materials.

    >>> f"{np.degrees(twist_of(100.0, 1.0, 221184e-12, 77e9)):.2f}°"
    '0.34°'
    """
    torque, length, constant, modulus = as_floats(torque, length, torsion_constant, shear_modulus)
    sound = (length >= 0) & (constant > 0) & (modulus > 0)
    return where(sound, torque * length / np.where(sound, modulus * constant, 1.0))


def _section(
    sound: np.ndarray,
    area: np.ndarray,
    moments: tuple[Numbers, Numbers, Numbers],
    extremes: tuple[np.ndarray, np.ndarray],
    torsion_modulus: np.ndarray,
) -> Section:
    """The Section of its parts, nan where it is not sound."""
    upright, sideways, torsion = as_floats(*moments)
    up, side = (np.where(sound, extreme, 1.0) for extreme in extremes)
    values = (area, upright, sideways, torsion, upright / up, sideways / side, torsion_modulus)
    return Section(*(where(sound, value) for value in values))


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
