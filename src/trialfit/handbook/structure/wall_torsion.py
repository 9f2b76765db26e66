"""Torsion of thin walls: closed round a cell, and open.

Answers   closed_torsion_constant, closed_shear_stress    a thin wall around one cell (Bredt)
          open_torsion_constant, open_shear_stress        strips that are free to warp
          slit_loss                                       loss of stiffness by one slit along a closed tube
Not here  whole sections (sections.py, walled_sections.py); round shafts (torque_path/torsion.py)
Symbols   J torsion constant, t wall, s mid-line length, A_m area inside the mid-line, T torque, τ shear stress
Sources   Mechanics of Materials, torsion of thin-walled tubes (Bredt) and of open sections
"""

from __future__ import annotations

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, where


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
    wall           t, where τ is asked       m      > 0
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
