"""A reading against a limit: probability that the limit is kept, guard band, combination of uncertainties.

Answers   conformance_upper, conformance_lower   probability that the true value keeps a limit
          guard_band                             distance from a limit that a reading needs
          combined                               standard uncertainty of a result, correlation included
          root_sum_square, worst_case            of independent contributions, of stacked tolerances
          effective_freedom                      degrees of freedom of a combined uncertainty
          standard_of_rectangular, standard_of_triangular, standard_of_arcsine, standard_of_resolution
Not here  draws of whole builds, verdicts (evaluation): the closed forms here are for single readings, and to check those
Symbols   y reading, u standard uncertainty, a half width, Φ normal distribution, z its quantile, c sensitivity, r correlation,
          ν degrees of freedom
Sources   [1] JCGM 100 (GUM)   [2] JCGM 106:2012, 7.3.3, from memory   [3] ISO 14253-1:2017, from two summaries
"""

from __future__ import annotations

from math import erfc
from statistics import NormalDist
from typing import TYPE_CHECKING

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, plain, where

if TYPE_CHECKING:
    from trialfit.handbook.arrays import Array


def conformance_upper(reading: Numbers, standard_uncertainty: Numbers, upper_limit: Numbers) -> Numbers:
    """Probability that the true value is at or below an upper limit.

        P = Φ((limit − y)/u)

    reading               y                any unit
    standard_uncertainty  u                the same    > 0
    upper_limit           the limit        the same
    returns               P                1           nan outside that range

    Normal spread. Source: JCGM 106:2012, 7.3.3, from memory.

    >>> f"{conformance_upper(-5.47, 0.05, -5.40):.2f}: Φ(1.4)"
    '0.92: Φ(1.4)'
    """
    reading, uncertainty, limit = as_floats(reading, standard_uncertainty, upper_limit)
    return _normal_below(limit - reading, uncertainty)


def conformance_lower(reading: Numbers, standard_uncertainty: Numbers, lower_limit: Numbers) -> Numbers:
    """Probability that the true value is at or above a lower limit.

        P = Φ((y − limit)/u)

    reading               y                any unit
    standard_uncertainty  u                the same    > 0
    lower_limit           the limit        the same
    returns               P                1           nan outside that range

    Normal spread. Source: JCGM 106:2012, 7.3.3, from memory.

    >>> f"{conformance_lower(13.0, 0.5, 12.0):.4f}: Φ(2)"
    '0.9772: Φ(2)'
    """
    reading, uncertainty, limit = as_floats(reading, standard_uncertainty, lower_limit)
    return _normal_below(reading - limit, uncertainty)


def guard_band(standard_uncertainty: Numbers, probability: float = 0.975) -> Numbers:
    """Distance from its limit that a reading needs for a given probability.

        g = z·u,   Φ(z) = P:   1.645 for 0.95, 1.960 for 0.975, 2.576 for 0.995

    standard_uncertainty  u     any unit    ≥ 0
    probability           P     1           0.5 ≤ P < 1
    returns               g     the same    nan outside that range

    One limit, normal spread. By the same band outside the limit a failure is proved; between, nothing is settled.
    Source: ISO 14253-1:2017, from two summaries: 95 % unless agreed otherwise.

    >>> f"{guard_band(1.0, 0.95):.3f}, {guard_band(1.0, 0.975):.3f}, {guard_band(1.0, 0.995):.3f}"
    '1.645, 1.960, 2.576'
    """
    (uncertainty,) = as_floats(standard_uncertainty)
    multiple = NormalDist().inv_cdf(probability) if 1 / 2 <= probability < 1 else np.nan
    return where(uncertainty >= 0, multiple * uncertainty)


def combined(
    sensitivities: Array,
    uncertainties: Array,
    correlations: Array | None = None,
) -> Numbers:
    """Standard uncertainty of a result whose inputs may be correlated.

        u² = Σ_i Σ_j c_i·c_j·r_ij·u_i·u_j

    sensitivities   c = ∂y/∂x, one per input        unit of y over unit of x
    uncertainties   u, one per input                unit of x    ≥ 0
    correlations    r, inputs by inputs, r_ii = 1   1            −1 to 1; independent where none is given
    returns         u                               unit of y    nan outside that range

    First order. Source: JCGM 100, 5.2.2.

    >>> c, u = np.array([1.0, -1.0]), np.array([0.3, 0.3])
    >>> f"{combined(c, u):.3f} independent, {combined(c, u, np.ones((2, 2))):.3f} with one shared error"
    '0.424 independent, 0.000 with one shared error'
    """
    c, u = as_floats(sensitivities, uncertainties)
    r = np.eye(len(c)) if correlations is None else np.asarray(correlations, dtype=np.float64)
    parts = c * u
    square = parts @ r @ parts
    sound = bool((u >= 0).all() and (np.abs(r) <= 1).all() and square >= -1e-12 * (parts @ parts))
    return where(np.bool_(sound), np.sqrt(np.abs(square)))


def root_sum_square(contributions: Numbers) -> Numbers:
    """Spread of a sum of independent contributions.

        u = √(Σ (c_i·u_i)²)

    contributions   c_i·u_i, along the first axis, all standard or all expanded by one k     any unit
    returns         u                                                                        the same

    Source: JCGM 100, 5.1.2. Multiply by 1.5 where lots may be shifted: common practice, no source.

    >>> f"{root_sum_square([3.0, 4.0]):.1f}"
    '5.0'
    """
    (parts,) = as_floats(contributions)
    return plain(np.sqrt(np.sum(parts**2, axis=0)))


def worst_case(contributions: Numbers) -> Numbers:
    """Spread of a sum when every contribution errs the same way.

        t = Σ |c_i|·t_i

    contributions   c_i·t_i, along the first axis     any unit
    returns         t                                 the same

    Source: arithmetic.

    >>> f"{worst_case([3.0, -4.0]):.1f}"
    '7.0'
    """
    (parts,) = as_floats(contributions)
    return plain(np.sum(np.abs(parts), axis=0))


def effective_freedom(contributions: Array, freedoms: Array) -> Numbers:
    """Degrees of freedom of a combined standard uncertainty.

        ν = u⁴/Σ ((c_i·u_i)⁴/ν_i),   u the root sum square

    contributions   c_i·u_i, one per input              any unit
    freedoms        ν_i, one per input; inf is allowed  1           > 0
    returns         ν                                   1           inf where every ν_i is; nan outside that range

    Independent inputs. Source: JCGM 100, G.4.1, Welch-Satterthwaite.

    >>> f"{effective_freedom(np.array([1.0, 1.0]), np.array([9.0, 9.0])):.0f}: 2²/(1/9 + 1/9)"
    '18: 2²/(1/9 + 1/9)'
    """
    parts, freedoms = as_floats(contributions, freedoms)
    sound = (freedoms > 0).all() and np.any(parts != 0)
    below = np.sum(parts**4 / np.where(freedoms > 0, freedoms, np.nan))
    with np.errstate(divide="ignore", invalid="ignore"):
        return where(np.bool_(sound), np.sum(parts**2) ** 2 / below)


def standard_of_rectangular(half_width: Numbers) -> Numbers:
    """Standard uncertainty of a value that lies anywhere within ± a.

        u = a/√3

    half_width   a     any unit    ≥ 0
    returns      u     the same    nan outside that range

    Source: JCGM 100, 4.3.7, clause from memory.

    >>> f"{standard_of_rectangular(0.3):.4f}"
    '0.1732'
    """
    return _share_of(half_width, 3.0)


def standard_of_triangular(half_width: Numbers) -> Numbers:
    """Standard uncertainty of a value within ± a that is more likely in the middle.

        u = a/√6

    half_width   a     any unit    ≥ 0
    returns      u     the same    nan outside that range

    Source: JCGM 100, 4.3.9, clause from memory.

    >>> f"{standard_of_triangular(0.3):.4f}"
    '0.1225'
    """
    return _share_of(half_width, 6.0)


def standard_of_arcsine(half_width: Numbers) -> Numbers:
    """Standard uncertainty of a value that swings to and fro within ± a.

        u = a/√2

    half_width   a     any unit    ≥ 0
    returns      u     the same    nan outside that range

    Source: JCGM 100, 4.3 and H.1, clause from memory.

    >>> f"{standard_of_arcsine(0.3):.4f}"
    '0.2121'
    """
    return _share_of(half_width, 2.0)


def standard_of_resolution(resolution: Numbers) -> Numbers:
    """Standard uncertainty that the last digit of a display brings along.

        u = d/√12

    resolution   d, one step of the last digit     any unit    ≥ 0
    returns      u                                 the same    nan outside that range

    Source: JCGM 100, F.2.2.1, clause from memory.

    >>> f"{standard_of_resolution(0.1):.4f}"
    '0.0289'
    """
    return _share_of(resolution, 12.0)


def _share_of(width: Numbers, square: float) -> Numbers:
    (width,) = as_floats(width)
    return where(width >= 0, width / np.sqrt(square))


def _normal_below(clear: Array, uncertainty: Array) -> Numbers:
    """Φ(clear/u), sharp in the tails; one call of erfc per number, so not for millions of them."""
    sound = uncertainty > 0
    below = -clear / np.where(sound, uncertainty, 1.0) / np.sqrt(2)
    return where(sound, np.vectorize(erfc, otypes=[float])(below) / 2)
