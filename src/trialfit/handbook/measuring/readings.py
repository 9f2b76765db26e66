"""Several readings of one thing: their mean, how well it is known, and whether one of them is out of line.

Answers   combine               readings and instrument into one value with its expanded uncertainty
          scatter               standard deviation of single readings
          student_factor        the coverage factor for few readings
          outlier_statistic, outlier_limit, suspect     Grubbs' test for one reading out of line
          normalised_error      whether two results agree
Not here  limits (conformance.py), corrections of a reading (corrections.py)
Symbols   x reading, n how many, s their standard deviation, u standard uncertainty, U expanded, k coverage factor,
          ν degrees of freedom, G test statistic, α significance
Sources   [1] JCGM 100 (GUM)   [2] Abramowitz and Stegun, 26.7.3 and 26.7.4, from memory
          [3] F. E. Grubbs 1969, procedures for detecting outlying observations, with the limits by Student's t as
              the NIST/SEMATECH e-Handbook of Statistical Methods has them, 1.3.5.17
          [4] ISO 13528, E_n, from memory
"""

from __future__ import annotations

from dataclasses import dataclass
from math import atan, cos, inf, isfinite, nan, pi, sin, sqrt
from statistics import NormalDist
from typing import TYPE_CHECKING

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, where
from trialfit.handbook.measuring.conformance import effective_freedom, root_sum_square

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

TWO_SIGMA = 0.9545
"""Share inside ± 2 standard deviations of a normal distribution: what k = 2 stands for."""

_FEWEST = 3
_MOST_FREEDOM = 200  # from here on Student's distribution is the normal one to 0.5 %
_HALVINGS = 200


@dataclass(frozen=True)
class Combined:
    """One value out of several readings, all in the unit of the readings.

    `scatter` is nan for a single reading; `freedom` is inf where the instrument alone decides.
    """

    mean: float
    scatter: float
    standard_uncertainty: float
    freedom: float
    coverage_factor: float

    @property
    def expanded(self) -> float:
        """U = k·u, covering 95.45 %."""
        return self.coverage_factor * self.standard_uncertainty


def combine(readings: ArrayLike, instrument: float, others: ArrayLike = ()) -> Combined:
    """Mean of repeated readings with its expanded uncertainty.

        u² = (s/√n)² + u_instrument² + Σ u_other²,   U = t(ν)·u,   ν by Welch and Satterthwaite

    readings     x                                        any unit    (n,), n ≥ 1
    instrument   standard uncertainty of the instrument   the same    ≥ 0: it does not shrink with n
    others       of corrections and the like              the same    ≥ 0
    returns      mean, s, u, ν, k
    errors       ValueError, one sentence, for no reading or one that is not finite

    One reading says nothing of the scatter: the instrument alone decides then. Source: JCGM 100, 4.2, 5.1.2, G.4.

    >>> combined = combine([12.9, 13.1, 13.0, 13.2], instrument=0.025)
    >>> f"{combined.mean:.2f} ± {combined.expanded:.2f}, k = {combined.coverage_factor:.2f}"
    '13.05 ± 0.23, k = 3.31'
    """
    x = np.asarray(readings, float)
    if x.ndim != 1 or x.size < 1 or not np.isfinite(x).all():
        raise ValueError("Expected at least one reading, each a finite number, such as 12.9, 13.1, 13.0.")
    spread = float(scatter(x))
    of_mean = spread / sqrt(x.size) if x.size > 1 else 0.0
    parts = np.array([of_mean, instrument, *np.asarray(others, float).ravel()])
    freedoms = np.full(parts.size, inf)
    freedoms[0] = x.size - 1 if x.size > 1 else inf
    freedom = float(effective_freedom(parts, freedoms)) if (parts != 0).any() else inf
    return Combined(float(x.mean()), spread, float(root_sum_square(parts)), freedom, student_factor(freedom))


def scatter(readings: ArrayLike) -> float:
    """Standard deviation of single readings.

        s = √(Σ (x − x̄)²/(n − 1))

    readings   x    any unit    (n,)
    returns    s    the same    nan for fewer than two

    Source: JCGM 100, 4.2.2.

    >>> f"{scatter([12.9, 13.1, 13.0, 13.2]):.3f}"
    '0.129'
    """
    x = np.asarray(readings, float)
    return float(x.std(ddof=1)) if x.size > 1 else nan


def student_factor(freedom: float, probability: float = TWO_SIGMA) -> float:
    """Coverage factor of an uncertainty that was estimated from few readings.

        the t for which a share p of Student's distribution with ν degrees of freedom lies within ± t

    freedom      ν    1    ≥ 1, rounded down to a whole number; inf gives the normal distribution
    probability  p    1    0 < p < 1
    returns      t    1    nan outside that range

    Found by halving on the closed form for whole ν. Source: JCGM 100, G.3, G.4 and table G.2 for p = 95.45 %.

    >>> f"{student_factor(3):.2f}, {student_factor(10):.2f}, {student_factor(float('inf')):.2f}"
    '3.31, 2.28, 2.00'
    """
    if not (freedom >= 1 and 0 < probability < 1):
        return nan
    if freedom > _MOST_FREEDOM:
        return NormalDist().inv_cdf((1 + probability) / 2)
    whole, low, high = int(freedom), 0.0, 1.0
    while _student_within(high, whole) < probability:
        high *= 2
        if not isfinite(high):
            return nan
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if _student_within(middle, whole) < probability else (low, middle)
    return (low + high) / 2


def outlier_statistic(readings: ArrayLike, instrument: float = 0.0) -> float:
    """How far the reading farthest from the mean lies, in standard deviations.

        G = max |x − x̄|/max(s, u)

    readings    x                                        any unit    (n,)
    instrument  u, standard uncertainty of the instrument the same   ≥ 0
    returns     G                                        1           0 where all are alike; nan for fewer than three

    With u = 0 it is the statistic of Grubbs' test. Readings are rounded to the marks of the instrument, so two of three
    are often the same, and the third would always be suspected. That readings scatter no less than the instrument is
    uncertain keeps it out: common practice, no source. Source: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.17.

    >>> f"{outlier_statistic([12.9, 13.1, 13.0, 15.8]):.2f}"
    '1.50'
    """
    x = np.asarray(readings, float)
    if x.size < _FEWEST:
        return nan
    spread = max(scatter(x), instrument)
    return float(np.abs(x - x.mean()).max() / spread) if spread > 0 else 0.0


def outlier_limit(count: int, significance: float = 0.05) -> float:
    """The largest distance that chance alone gives, for readings from one normal distribution.

        G = (n − 1)/√n·√(t²/(n − 2 + t²)),   t of Student's distribution, ν = n − 2, two-sided, α/n

    count         n    1    ≥ 3
    significance  α    1    0 < α < 1: the share of sound sets in which a reading is suspected anyway
    returns       G    1    nan outside that range

    With few readings it finds almost nothing: of three, none can be farther than 1.155.
    Source: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.17.

    >>> f"{outlier_limit(4):.3f}, {outlier_limit(10):.3f}"
    '1.481, 2.290'
    """
    if count < _FEWEST or not 0 < significance < 1:
        return nan
    t = student_factor(count - 2, 1 - significance / count)
    return (count - 1) / sqrt(count) * sqrt(t**2 / (count - 2 + t**2))


def suspect(readings: ArrayLike, instrument: float = 0.0, significance: float = 0.05) -> int | None:
    """Which reading is out of line, counted from 0; None where none is.

        the farthest from the mean, where its G is above the limit

    readings      x    any unit    (n,)
    instrument    u    the same    ≥ 0, as in outlier_statistic
    significance  α    1           0 < α < 1
    returns       its place, or None; None too for fewer than three readings

    It is a reason to check the reading, not to remove it.
    Source: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.17.

    >>> suspect([12.9, 13.1, 13.0, 13.1, 15.8]), suspect([12.9, 13.1, 13.0, 13.1, 13.2])
    (4, None)
    """
    x = np.asarray(readings, float)
    if x.size < _FEWEST or not outlier_statistic(x, instrument) > outlier_limit(x.size, significance):
        return None
    return int(np.argmax(np.abs(x - x.mean())))


def normalised_error(first: Numbers, first_expanded: Numbers, second: Numbers, second_expanded: Numbers) -> Numbers:
    """How far two results lie apart, over what their uncertainties allow: up to 1 they agree.

        E_n = |x₁ − x₂|/√(U₁² + U₂²)

    first             x₁    any unit
    first_expanded    U₁    the same    ≥ 0, k = 2
    second            x₂    the same
    second_expanded   U₂    the same    ≥ 0, k = 2, not both 0
    returns           E_n   1           nan outside that range, but 0 for two equal exact results

    Independent results. Source: ISO 13528, from memory.

    >>> f"{normalised_error(13.0, 2.0, 15.5, 0.2):.2f}: 2.5 of 2.01 mm"
    '1.24: 2.5 of 2.01 mm'
    """
    one, of_one, other, of_other = as_floats(first, first_expanded, second, second_expanded)
    apart, allowed = np.abs(one - other), np.hypot(of_one, of_other)
    sound = (of_one >= 0) & (of_other >= 0) & ((allowed > 0) | (apart == 0))
    return where(sound, apart / np.where(allowed > 0, allowed, 1.0))


def _student_within(t: float, freedom: int) -> float:
    """Share of Student's distribution within ± t, whole degrees of freedom."""
    angle = atan(t / sqrt(freedom))
    odd = freedom % 2 == 1
    term, total = (cos(angle), 0.0) if odd else (1.0, 0.0)
    for step in range(1 if odd else 0, freedom - 1, 2):
        total += term
        term *= cos(angle) ** 2 * (step + 1) / (step + 2)
    return 2 / pi * (angle + sin(angle) * total) if odd else sin(angle) * total
