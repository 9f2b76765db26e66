"""Thin sheet under a welded bracket: how hard it bends where the bracket pulls and levers at it.

Answers   sheet_lever_stress, sheet_pull_stress    elastic stress at the toe: what cracks a sheet in time
          sheet_lever_yield, sheet_pull_yield      yield that a sheet needs so as not to fold once
          patch_radius                             a round patch as large as a rectangular one
Not here  stress in the plane of the sheet (weld_lines.py); the weld (welds.py)
Symbols   P pull square to the sheet, M lever on it, t thickness, b₀ free width between what holds the sheet, b₁ and h₁ width and
          length of the patch that is welded on, β = b₁/b₀, η = h₁/b₀, x = r/R patch radius over half the free width
Method    The patch is stiff and the sheet clamped where it is held. Stretching, which helps a sheet that has already bent by more
          than its own thickness, is left out. As wide as the sheet is free, a patch hands its load to what holds the sheet.
Sources   [1] thin plates: solution of the biharmonic equation for a ring, clamped outside and stiff inside
          [2] from memory: EN 1993-1-8, tables 7.11 and 7.14, failure of a chord face by yield lines
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.handbook.arrays import Array, Numbers, as_floats, where

if TYPE_CHECKING:
    from numpy.typing import NDArray

WIDEST_BY_FACE = 0.85
"""β up to which the yield lines of a face hold; a wider patch counts as this wide, then less and less: EN 1993-1-8, from memory."""
_WIDTHS = np.linspace(0.0, 1.0, 25)


def patch_radius(width: Numbers, length: Numbers) -> Numbers:
    """Radius of a round patch of the same area.

        r = √(b₁·h₁/π)

    width     b₁     m    > 0
    length    h₁     m    > 0
    returns   r      m    nan outside that range

    Source: geometry; that area decides is a choice, no source.

    >>> f"{patch_radius(40e-3, 60e-3) * 1e3:.1f} mm"
    '27.6 mm'
    """
    width, length = as_floats(width, length)
    sound = (width > 0) & (length > 0)
    return where(sound, np.sqrt(np.where(sound, width * length, 1.0) / np.pi))


def sheet_lever_stress(moment: Numbers, radius: Numbers, outer_radius: Numbers, thickness: Numbers) -> Numbers:
    """Elastic stress at the edge of a stiff round patch that is levered over.

        σ = (3/π)·M/(r·t²)·(1 − x²)/(1 + x²),   x = r/R; nothing from x = 1 on

    moment         M                               N·m    any
    radius         r, of the patch                 m      > 0
    outer_radius   R, half of the free width       m      > 0
    thickness      t                               m      > 0
    returns        σ                               Pa     nan outside that range

    Elastic: far above yield it only says how far. Source: thin plates, a ring clamped outside and
    stiff inside; tables of formulas for stress print 1.146·M/(R·t²) for x = 0.5.

    >>> f"{sheet_lever_stress(7.5, 25e-3, 100e-3, 0.9e-3) / 1e6:.0f} MPa"
    '312 MPa'
    """
    moment, radius, outer, thickness = as_floats(moment, radius, outer_radius, thickness)
    sound = (radius > 0) & (outer > 0) & (thickness > 0)
    inside = np.minimum(np.where(sound, radius / np.where(sound, outer, 1.0), 0.5), 1.0)
    share = (1 - inside**2) / (1 + inside**2)
    return where(sound, 3 / np.pi * np.abs(moment) * share / np.where(sound, radius * thickness**2, 1.0))


def sheet_pull_stress(pull: Numbers, radius: Numbers, outer_radius: Numbers, thickness: Numbers) -> Numbers:
    """Elastic stress at the edge of a stiff round patch that is pulled square out of a sheet.

        σ = 3·P/(2π·t²)·(2·ln(1/x)/(1 − x²) − 1),   x = r/R; nothing from x = 1 on

    pull           P                               N      any
    radius         r, of the patch                 m      > 0
    outer_radius   R, half of the free width       m      > 0
    thickness      t                               m      > 0
    returns        σ                               Pa     nan outside that range

    Source: thin plates, a ring clamped outside and stiff inside.

    >>> f"{sheet_pull_stress(100.0, 25e-3, 100e-3, 0.9e-3) / 1e6:.0f} MPa"
    '115 MPa'
    """
    pull, radius, outer, thickness = as_floats(pull, radius, outer_radius, thickness)
    sound = (radius > 0) & (outer > 0) & (thickness > 0)
    inside = np.where(sound, radius / np.where(sound, outer, 1.0), 0.5)
    held = inside < 1 - 1e-9
    ratio = np.where(held, inside, 0.5)
    share = np.where(held, -2 * np.log(ratio) / (1 - ratio**2) - 1, 0.0)
    return where(sound, 1.5 / np.pi * np.abs(pull) * share / np.where(sound, thickness**2, 1.0))


def sheet_lever_yield(
    moment: Numbers, width: Numbers, length: Numbers, free_width: Numbers, thickness: Numbers
) -> Numbers:
    """Yield that a sheet needs so that a lever on a patch does not fold it.

        f = M/(t²·h₁·(1/(2η) + 2/√(1 − β) + η/(1 − β))),   the largest for lines within any width from b₁/0.85 to b₀

    moment       M                                           N·m    any
    width        b₁                                          m      > 0
    length       h₁, in the direction of the lever           m      > 0
    free_width   b₀, between what holds the sheet            m      > 0
    thickness    t                                           m      > 0
    returns      f                                           Pa     nan outside that range; β above 0.85 as a share of f at 0.85

    In a wide sheet the lines stay near the patch: they do not reach to what holds it. Source: from memory, EN
    1993-1-8, table 7.14; the search over widths is that of
    the upper-bound theorem.

    >>> f"{sheet_lever_yield(120.0, 40e-3, 50e-3, 200e-3, 0.9e-3) / 1e6:.0f} MPa"
    '696 MPa'
    """
    moment, width, length, free, thickness = as_floats(moment, width, length, free_width, thickness)
    sound = (width > 0) & (length > 0) & (free > 0) & (thickness > 0)
    width, length, beta, falls = _face(width, length, free, sound)
    betas = beta + (WIDEST_BY_FACE - beta) * _WIDTHS.reshape(-1, *(1,) * np.ndim(beta))
    eta = length * betas / width
    per_square = (length * (1 / (2 * eta) + 2 / np.sqrt(1 - betas) + eta / (1 - betas))).min(axis=0)
    return where(sound, np.abs(moment) * falls / np.where(sound, thickness**2 * per_square, 1.0))


def sheet_pull_yield(
    pull: Numbers, width: Numbers, length: Numbers, free_width: Numbers, thickness: Numbers
) -> Numbers:
    """Yield that a sheet needs so that a pull on a patch does not fold it.

        f = P/(t²·min((2η + 4·√(1 − β))/(1 − β), π/(1 − x))),   x = 2r/b₀ of a round patch as large

    pull         P                                           N      any
    width        b₁                                          m      > 0
    length       h₁                                          m      > 0
    free_width   b₀, between what holds the sheet            m      > 0
    thickness    t                                           m      > 0
    returns      f                                           Pa     nan outside that range; β above 0.85 as a share of f at 0.85

    Source: from memory, EN 1993-1-8, table 7.11, for straight lines; a fan round a stiff patch by the upper-bound theorem.

    >>> f"{sheet_pull_yield(500.0, 40e-3, 50e-3, 200e-3, 0.9e-3) / 1e6:.0f} MPa"
    '147 MPa'
    """
    pull, width, length, free, thickness = as_floats(pull, width, length, free_width, thickness)
    sound = (width > 0) & (length > 0) & (free > 0) & (thickness > 0)
    width, length, beta, falls = _face(width, length, free, sound)
    eta, round_share = length * beta / width, 2 * np.sqrt(length / width / np.pi) * beta
    lines = (2 * eta + 4 * np.sqrt(1 - beta)) / (1 - beta)
    fan = np.where(round_share < 1, np.pi / np.where(round_share < 1, 1 - round_share, 1.0), np.inf)
    per_square = np.minimum(lines, fan)
    return where(sound, np.abs(pull) * falls / np.where(sound, thickness**2 * per_square, 1.0))


def _face(
    width: Numbers, length: Numbers, free: Numbers, sound: NDArray[np.bool_]
) -> tuple[Array, Array, Array, Array]:
    """b₁, h₁, β of at most 0.85, and what is left of the need beyond: from all of it at 0.85 to nothing at 1."""
    width, length, free = (np.where(sound, part, 1.0) for part in (width, length, free))
    beta = width / free
    falls = np.clip((1 - beta) / (1 - WIDEST_BY_FACE), 0.0, 1.0)
    return width, length, np.minimum(beta, WIDEST_BY_FACE), falls
