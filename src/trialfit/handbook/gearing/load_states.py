"""A car that carries more than when it was weighed: masses, and what each axle bears.

Answers   laden_mass        every seat taken, each with a person and luggage
          nose_mass         what a trailer puts on the coupling ball
          rear_axle_mass    load on the rear axle after load is added, and with a trailer's nose behind it
Symbols   m mass of the car as weighed, with its driver; m_r the part of it on the rear wheels; n seats; p mass of one more
          person with luggage; s share of the added load that goes to the rear axle; m_n mass on the ball, l_o from the rear
          axle back to the ball, L wheelbase
Sources   [1] ISO 1176, road vehicles, masses, from memory: 68 kg and 7 kg of luggage for each seat, driver 75 kg
          [2] European rules on masses and dimensions, from memory: a trailer puts 4 % of its mass on the ball, at least 25 kg
"""

from __future__ import annotations

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, where

LEAST_NOSE_MASS = 25.0
"""Least mass on the ball, kg: [2]."""


def laden_mass(mass: Numbers, seats: Numbers, person: Numbers) -> Numbers:
    """Mass of a car with every seat taken.

        m_l = m + (n − 1)·p

    mass      m     kg   > 0: as weighed, with its driver
    seats     n     1    ≥ 1
    person    p     kg   ≥ 0: one person with luggage; 68 + 7 kg by the source
    returns   m_l   kg   nan outside that range

    For a car that carries people. A pickup, a van or a truck carries more than its seats say: its plate has the figure.
    Source: ISO 1176, from memory.

    >>> laden_mass(1065.0, 2, 75.0), laden_mass(1200.0, 5, 75.0)
    (np.float64(1140.0), np.float64(1500.0))
    """
    mass, seats, person = as_floats(mass, seats, person)
    return where((mass > 0) & (seats >= 1) & (person >= 0), mass + (seats - 1) * person)


def nose_mass(trailer: Numbers, share: Numbers) -> Numbers:
    """Mass that a trailer puts on the coupling ball.

        m_n = max(s·m_t, 25 kg)

    trailer   m_t   kg   > 0: mass of the loaded trailer
    share     s     1    0 to 1: 0.04 by the source at least; 0.1 is found
    returns   m_n   kg   nan outside that range

    Source: European rules on masses and dimensions, from memory.

    >>> nose_mass(500.0, 0.04), nose_mass(1500.0, 0.04)
    (np.float64(25.0), np.float64(60.0))
    """
    trailer, share = as_floats(trailer, share)
    return where((trailer > 0) & (share >= 0) & (share <= 1), np.maximum(share * trailer, LEAST_NOSE_MASS))


def rear_axle_mass(
    mass: Numbers,
    rear: Numbers,
    new_mass: Numbers,
    share_of_load: Numbers,
    nose: Numbers = 0.0,
    nose_over_wheelbase: Numbers = 0.0,
) -> Numbers:
    """Mass on the rear wheels after load was put in or taken out, and with a nose mass on the ball.

        m_r' = m_r + s·(m' − m) + m_n·(1 + l_o/L)

    mass                  m      kg   > 0: as weighed
    rear                  m_r    kg   from 0 to m: of it on the rear wheels
    new_mass              m'     kg   > 0: of the car with its load, without the nose mass
    share_of_load         s      1    share of what was added that the rear axle bears; above 1 for load behind the axle
    nose                  m_n    kg   ≥ 0
    nose_over_wheelbase   l_o/L  1    ≥ 0: how far the ball is behind the rear axle, over the wheelbase
    returns               m_r'   kg   nan outside that range

    Moments about the front axle, on level ground; the body stays level.
    Source: statics, moments about the front axle.

    >>> f"{rear_axle_mass(1000.0, 480.0, 1300.0, 0.7, 75.0, 0.4):.0f} kg"
    '795 kg'
    """
    mass, rear, new_mass, share_of_load, nose, lever = as_floats(
        mass, rear, new_mass, share_of_load, nose, nose_over_wheelbase
    )
    sound = (mass > 0) & (rear >= 0) & (rear <= mass) & (new_mass > 0) & (nose >= 0) & (lever >= 0)
    return where(sound, rear + share_of_load * (new_mass - mass) + nose * (1 + lever))
