"""Frames of straight members: deflection from the internal forces.

Answers   work_of_members    the part that each member has in a movement, by bending, twist and stretch
          combine            loads that act together, from the answers to one unit of each
Not here  the forces themselves (finite_elements/frames.py)
Symbols   N, V, T, M the forces inside under the load; n, t, m those under one unit of load where the movement is asked
Sources   [1] Mechanics of Materials, virtual work (unit-load method)
"""

from __future__ import annotations

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, where


def work_of_members(inside: Numbers, unit: Numbers, length: Numbers, stiffness: Numbers) -> Numbers:
    """Part of each member in the movement of one place of a frame.

        δ = L/6·(2·N₁·n₁ + N₁·n₂ + N₂·n₁ + 2·N₂·n₂)/S, for each force that runs straight from end 1 to end 2

    inside      forces inside under the load, two ends along the last axis           N or N·m
    unit        the same under a unit load at the place                              1 or m
    length      L                                                                    m            > 0
    stiffness   S: E·A for a pull, G·J for a twist, E·I for bending                  N or N·m²    > 0
    returns     δ                                                                    m            nan outside that range

    Loads act at the nodes only; shear is left out. Where the frame is statically determinate the sum over the members is exact
    for any stiffness; where it is not, and the forces were found with other stiffnesses, it is right to first order.
    Source: Mechanics of Materials, virtual work (unit-load method).

    >>> tip = work_of_members(np.array([1000.0, 0.0]), np.array([1.0, 0.0]), 1.0, 10e3)
    >>> f"{tip * 1e3:.2f} mm: a 1 m arm with 1000 N at its end, F·L³/(3·E·I)"
    '33.33 mm: a 1 m arm with 1000 N at its end, F·L³/(3·E·I)'
    """
    inside, unit, length, stiffness = as_floats(inside, unit, length, stiffness)
    sound = (length > 0) & (stiffness > 0)
    straight = 2 * inside[..., 0] * unit[..., 0] + inside[..., 0] * unit[..., 1]
    straight = straight + inside[..., 1] * unit[..., 0] + 2 * inside[..., 1] * unit[..., 1]
    return where(sound, length / 6 * straight / np.where(sound, stiffness, 1.0))


def combine(loads: Numbers, answers: Numbers) -> Numbers:
    """What several loads do together, from what one unit of each does.

        r = Σ F_k·r_k

    loads     F, (..., loads)             N or N·m
    answers   r, (loads, ...) for one unit each
    returns   (..., ...)

    Elastic frames answer in proportion. Source: superposition as in Mechanics of Materials.

    >>> combine(np.array([[2.0, 3.0]]), np.array([[1.0, 0.0], [0.0, 10.0]])).tolist()
    [[2.0, 30.0]]
    """
    loads, answers = as_floats(loads, answers)
    return where(np.True_, np.tensordot(loads, answers, axes=1))
