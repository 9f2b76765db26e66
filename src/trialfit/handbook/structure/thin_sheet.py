"""Thin sheet under a welded bracket: how hard it bends where the bracket pulls and levers at it.

Answers   lever_stress_along, lever_stress_across, pull_stress    elastic stress at the toe: what cracks a sheet in time
          lever_yield_along, lever_yield_across, pull_yield       yield that a sheet needs so as not to fold once
Not here  stress in the plane of the sheet (weld_lines.py); the weld (welds.py)
Symbols   P pull square to the sheet, M lever on it, t thickness; a strip of sheet of free width b₀ between what holds it on both
          sides, and on it a patch of width b₁ across the strip and length h₁ along it; g = (b₀ − b₁)/2, r = √(b₁·h₁/π), β = b₁/b₀, η = h₁/b₀
Method    The patch is stiff and the strip clamped along both sides. Stretching, which helps a sheet that has already bent by more
          than its own thickness, is left out. As wide as the strip is free, a patch hands its load to what holds it.
Sources   [1] thin plates: a strip whose one side is clamped and whose other moves with the patch; a stiff patch in a wide sheet
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


def lever_stress_along(
    moment: Numbers, width: Numbers, length: Numbers, free_width: Numbers, thickness: Numbers
) -> Numbers:
    """Elastic stress at the toe of a stiff patch that is levered over along its strip.

        σ = 6·M/(t²·√(1/m_s² + 1/m_w²)),   m_s = 3·g/(2·h₁²) by the sides alone, m_w = (b₁/h₁)^¼/(2π·r) in a wide sheet, b₁/h₁ at least 1

    moment       M                               N·m    any
    width        b₁, across the strip            m      > 0
    length       h₁, along it                    m      > 0
    free_width   b₀                              m      > 0
    thickness    t                               m      > 0
    returns      σ                               Pa     nan outside that range; nothing from b₁ = b₀ on

    Far above yield it only says how far. Source: thin plates: a clamped strip and a stiff patch in a wide sheet, joined by the root of
    squares, and the power for short bands, which are choices: 0.9 to 2.3 times what finite elements find.

    >>> f"{lever_stress_along(7.5, 40e-3, 50e-3, 200e-3, 0.9e-3) / 1e6:.0f} MPa"
    '347 MPa'
    """
    moment, width, length, free, thickness = as_floats(moment, width, length, free_width, thickness)
    sound = (width > 0) & (length > 0) & (free > 0) & (thickness > 0)
    width, length, gap = _strip(width, length, free, sound)
    in_wide = _in_wide_sheet(width, length) * np.maximum(width / length, 1.0) ** 0.25
    return _at_toe(moment, 1.5 * gap / length**2, in_wide, thickness, sound)


def lever_stress_across(
    moment: Numbers, width: Numbers, length: Numbers, free_width: Numbers, thickness: Numbers
) -> Numbers:
    """Elastic stress at the toe of a stiff patch that is levered over across its strip.

        σ = 6·M/(t²·√(1/m_s² + 1/m_w²)),   m_s = g·(3·b₁ + 4·g)/(h₁·(6·b₁² + 12·b₁·g + 8·g²)),   m_w = 1/(2π·r)

    moment       M                               N·m    any
    width        b₁, across the strip            m      > 0
    length       h₁, along it                    m      > 0
    free_width   b₀                              m      > 0
    thickness    t                               m      > 0
    returns      σ                               Pa     nan outside that range; nothing from b₁ = b₀ on

    Source: thin plates, as for lever_stress_along: 1.0 to 1.2 times what finite elements find.

    >>> f"{lever_stress_across(7.5, 50e-3, 40e-3, 200e-3, 0.9e-3) / 1e6:.0f} MPa"
    '276 MPa'
    """
    moment, width, length, free, thickness = as_floats(moment, width, length, free_width, thickness)
    sound = (width > 0) & (length > 0) & (free > 0) & (thickness > 0)
    width, length, gap = _strip(width, length, free, sound)
    by_sides = gap * (3 * width + 4 * gap) / (length * (6 * width**2 + 12 * width * gap + 8 * gap**2))
    return _at_toe(moment, by_sides, _in_wide_sheet(width, length), thickness, sound)


def pull_stress(pull: Numbers, width: Numbers, length: Numbers, free_width: Numbers, thickness: Numbers) -> Numbers:
    """Elastic stress at the toe of a stiff patch that is pulled square out of its strip.

        σ = 6·P/t²·min(g/(4·h₁), (2·ln(1/x)/(1 − x²) − 1)/(4π)),   x = min(b₁, h₁)/(1.5·b₀)

    pull         P                               N      any
    width        b₁, across the strip            m      > 0
    length       h₁, along it                    m      > 0
    free_width   b₀                              m      > 0
    thickness    t                               m      > 0
    returns      σ                               Pa     nan outside that range; nothing from b₁ = b₀ on

    Source: thin plates: a clamped strip, and a ring clamped outside and stiff inside whose outside is 1.5 times as wide as the strip,
    which is a choice: 1.05 to 1.8 times what finite elements find.

    >>> f"{pull_stress(100.0, 40e-3, 50e-3, 200e-3, 0.9e-3) / 1e6:.0f} MPa"
    '183 MPa'
    """
    pull, width, length, free, thickness = as_floats(pull, width, length, free_width, thickness)
    sound = (width > 0) & (length > 0) & (free > 0) & (thickness > 0)
    width, length, gap = _strip(width, length, free, sound)
    inside = np.minimum(np.minimum(width, length) / (1.5 * np.where(sound, free, 1.0)), 0.99)
    by_ring = (-2 * np.log(inside) / (1 - inside**2) - 1) / (4 * np.pi)
    share = np.minimum(gap / (4 * length), by_ring)
    return where(sound, 6 * np.abs(pull) * share / np.where(sound, thickness**2, 1.0))


def _strip(width: Numbers, length: Numbers, free: Numbers, sound: NDArray[np.bool_]) -> tuple[Array, Array, Array]:
    """b₁, h₁ and g, which is nothing where the patch is as wide as the strip."""
    width, length, free = (np.where(sound, part, 1.0) for part in (width, length, free))
    return width, length, np.maximum(free - width, 0.0) / 2


def _in_wide_sheet(width: Array, length: Array) -> Array:
    return np.asarray(1 / (2 * np.pi * np.sqrt(width * length / np.pi)))


def _at_toe(moment: Numbers, by_sides: Array, in_wide: Array, thickness: Numbers, sound: NDArray[np.bool_]) -> Numbers:
    both = by_sides * in_wide / np.hypot(by_sides, in_wide)
    return where(sound, 6 * np.abs(moment) * both / np.where(sound, thickness, 1.0) ** 2)


def lever_yield_along(
    moment: Numbers, width: Numbers, length: Numbers, free_width: Numbers, thickness: Numbers
) -> Numbers:
    """Yield that a sheet needs so that a lever along its strip does not fold it.

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

    >>> f"{lever_yield_along(120.0, 40e-3, 50e-3, 200e-3, 0.9e-3) / 1e6:.0f} MPa"
    '696 MPa'
    """
    moment, width, length, free, thickness = as_floats(moment, width, length, free_width, thickness)
    sound = (width > 0) & (length > 0) & (free > 0) & (thickness > 0)
    width, length, beta, falls = _face(width, length, free, sound)
    betas = beta + (WIDEST_BY_FACE - beta) * _WIDTHS.reshape(-1, *(1,) * np.ndim(beta))
    eta = length * betas / width
    per_square = (length * (1 / (2 * eta) + 2 / np.sqrt(1 - betas) + eta / (1 - betas))).min(axis=0)
    return where(sound, np.abs(moment) * falls / np.where(sound, thickness**2 * per_square, 1.0))


def lever_yield_across(
    moment: Numbers, width: Numbers, length: Numbers, free_width: Numbers, thickness: Numbers
) -> Numbers:
    """Yield that a sheet needs so that a lever across its strip does not fold it.

        f = M/(t²·(h₁·(1 + β)/(2·(1 − β)) + √(2·b₀·b₁·(1 + β)/(1 − β)))),   the largest for lines within any width from b₁/0.85 to b₀

    moment       M                                           N·m    any
    width        b₁, across the strip                        m      > 0
    length       h₁, along it                                m      > 0
    free_width   b₀                                          m      > 0
    thickness    t                                           m      > 0
    returns      f                                           Pa     nan outside that range; β above 0.85 as a share of f at 0.85

    Source: from memory, EN 1993-1-8, table 7.14; the search over widths is that of the upper-bound theorem.

    >>> f"{lever_yield_across(120.0, 50e-3, 40e-3, 200e-3, 0.9e-3) / 1e6:.0f} MPa"
    '695 MPa'
    """
    moment, width, length, free, thickness = as_floats(moment, width, length, free_width, thickness)
    sound = (width > 0) & (length > 0) & (free > 0) & (thickness > 0)
    width, length, beta, falls = _face(width, length, free, sound)
    betas = beta + (WIDEST_BY_FACE - beta) * _WIDTHS.reshape(-1, *(1,) * np.ndim(beta))
    open_share = (1 + betas) / (1 - betas)
    per_square = (length * open_share / 2 + width * np.sqrt(2 * open_share / betas)).min(axis=0)
    return where(sound, np.abs(moment) * falls / np.where(sound, thickness**2 * per_square, 1.0))


def pull_yield(pull: Numbers, width: Numbers, length: Numbers, free_width: Numbers, thickness: Numbers) -> Numbers:
    """Yield that a sheet needs so that a pull on a patch does not fold it.

        f = P/(t²·min((2η + 4·√(1 − β))/(1 − β), π/(1 − x))),   x = 2r/b₀ of a round patch as large

    pull         P                                           N      any
    width        b₁                                          m      > 0
    length       h₁                                          m      > 0
    free_width   b₀, between what holds the sheet            m      > 0
    thickness    t                                           m      > 0
    returns      f                                           Pa     nan outside that range; β above 0.85 as a share of f at 0.85

    Source: from memory, EN 1993-1-8, table 7.11, for straight lines; a fan round a stiff patch by the upper-bound theorem.

    >>> f"{pull_yield(500.0, 40e-3, 50e-3, 200e-3, 0.9e-3) / 1e6:.0f} MPa"
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
