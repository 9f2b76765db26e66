"""Critical speed of prop shafts against print, and against a beam of finite elements."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.linalg import eigh

from trialfit.handbook.constants import REVOLUTION_PER_MINUTE
from trialfit.handbook.driveline import whirling


def _lowest_frequency_of_a_beam(
    length: float, area: float, second_moment: float, modulus: float, density: float
) -> float:
    """First natural frequency, rad/s, of forty Euler-Bernoulli beam elements hinged at both ends."""
    step = length / 40
    s = step
    stiff = np.array([[12, 6 * s, -12, 6 * s], [6 * s, 4 * s**2, -6 * s, 2 * s**2],
                      [-12, -6 * s, 12, -6 * s], [6 * s, 2 * s**2, -6 * s, 4 * s**2]])  # fmt: skip
    heavy = np.array([[156, 22 * s, 54, -13 * s], [22 * s, 4 * s**2, 13 * s, -3 * s**2],
                      [54, 13 * s, 156, -22 * s], [-13 * s, -3 * s**2, -22 * s, 4 * s**2]])  # fmt: skip
    stiffness, mass = np.zeros((82, 82)), np.zeros((82, 82))
    for element in range(40):
        place = slice(2 * element, 2 * element + 4)
        stiffness[place, place] += modulus * second_moment / step**3 * stiff
        mass[place, place] += density * area * step / 420 * heavy
    free = [place for place in range(82) if place not in (0, 80)]
    return float(np.sqrt(eigh(stiffness[np.ix_(free, free)], mass[np.ix_(free, free)], eigvals_only=True)[0]))


# Cardan-shaft supplier, critical speeds: n = 1.21e8·√(D² + d²)/L² for steel, and no more than 0.7 of it in a car. Tube
# 76.2 × 1.65 mm, 1300 mm: 7550 rpm, × 0.7 5285; tube 88.9 × 2.1 mm, 1500 mm: 6603 rpm, × 0.7 4622. The closed form with
# E 206 GPa, ρ 7850 kg/m³ gives 7532 and 6587 rpm; the beam of forty elements gives the same.
@pytest.mark.parametrize(
    ("outside", "wall", "length", "closed", "rule", "usable"),
    [(0.0762, 0.00165, 1.3, 7532, 7550, 5285), (0.0889, 0.0021, 1.5, 6587, 6603, 4622)],
)
def test_critical_speed_of_steel_tubes(
    outside: float, wall: float, length: float, closed: float, rule: float, usable: float
) -> None:
    """Figures to their last digit, rule within 0.3 % of the closed form, beam within 2e-6."""
    inside = outside - 2 * wall
    found = whirling.critical_speed(length, outside, inside, 206e9, 7850.0)
    by_rule = 1.21e8 * math.hypot(outside * 1e3, inside * 1e3) / (length * 1e3) ** 2 * REVOLUTION_PER_MINUTE
    beam = _lowest_frequency_of_a_beam(
        length, math.pi / 4 * (outside**2 - inside**2), math.pi / 64 * (outside**4 - inside**4), 206e9, 7850.0
    )

    assert found / REVOLUTION_PER_MINUTE == pytest.approx(closed, abs=0.5)
    assert by_rule / REVOLUTION_PER_MINUTE == pytest.approx(rule, abs=0.5)
    assert whirling.USABLE_SHARE * by_rule / REVOLUTION_PER_MINUTE == pytest.approx(usable, abs=1.0)
    assert by_rule == pytest.approx(found, rel=3e-3)
    assert found == pytest.approx(beam, rel=2e-6)
