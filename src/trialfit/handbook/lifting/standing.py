"""A car on stands: what each stand carries by its place, and what tips the car.

Answers   load_at          load on the supports at one place along the car
          heavier_stand    the heavier one of a pair that is not under the centre of mass
          rocking_stand    the most that one of four stands can carry on a floor that is not flat
          push_to_tip      push from the side that tips it
          lean_to_tip      mass on the end of the car that tips it over a pair of stands
          without          mass and centre of mass of a car with something taken out
Next door hoisting.py (loads on a hook)
Symbols   m mass, x place along the car (forward is positive), b distance between left and right stand, e offset sideways
Caution   never go under a car that only a jack or crane holds; the plate on the stand decides
Sources   [1] statics of a stiff body on supports that can push but not pull
"""

from __future__ import annotations

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, where


def load_at(mass: Numbers, centre: Numbers, here: Numbers, there: Numbers) -> Numbers:
    """Mass on the supports at one place, where the car rests on two places along its length.

        F = m·(x_g − x_there)/(x_here − x_there)

    mass      m                                              kg   ≥ 0
    centre    x_g, of the centre of mass                     m    any
    here      place of these supports                        m    any
    there     place of the other supports                    m    other than here
    returns   F, negative where the car tips off them        kg   nan outside that range

    Stands further inboard carry more than the axle: 0.6 m behind a front axle of a wheelbase of 2.4 m, 2.4/1.8 of it.
    Source: statics.

    >>> f"{load_at(1100.0, -1.047, -0.6, -2.4):.0f} kg against {load_at(1100.0, -1.047, 0.0, -2.4):.0f} kg at the axle"
    '827 kg against 620 kg at the axle'
    """
    mass, centre, here, there = as_floats(mass, centre, here, there)
    sound = (mass >= 0) & (here != there)
    return where(sound, mass * (centre - there) / np.where(sound, here - there, 1.0))


def heavier_stand(load: Numbers, offset: Numbers, spacing: Numbers) -> Numbers:
    """Mass on the heavier one of a pair of stands, if the load between them is not in their middle.

        F·(1/2 + |e|/b), at most F

    load      F, on both together                                     kg   ≥ 0
    offset    e, of the load from the middle between the stands       m    any
    spacing   b, between the stands                                   m    > 0
    returns   mass on the heavier one                                 kg   nan outside that range

    Beyond |e| = b/2 the load lies outside the pair: one carries all and the car falls off. Source: statics.

    >>> f"{heavier_stand(620.0, 0.05, 0.8):.1f} kg"
    '348.8 kg'
    """
    load, offset, spacing = as_floats(load, offset, spacing)
    sound = (load >= 0) & (spacing > 0)
    share = 0.5 + np.abs(offset) / np.where(sound, spacing, 1.0)
    return where(sound, load * np.minimum(share, 1.0))


def rocking_stand(
    load: Numbers, other: Numbers, offset: Numbers, spacing: Numbers, other_offset: Numbers, other_spacing: Numbers
) -> Numbers:
    """The most that one stand of a pair can carry, where a car stands on four and rocks on two of them.

        at most F, and at most (F·b/2 + G·c/2 + |F·e + G·h|)/b

    load            F, on this pair                                  kg   ≥ 0
    other           G, on the pair under the other end               kg   ≥ 0
    offset          e, of the load from the middle of this pair      m    any
    spacing         b, of this pair                                  m    > 0
    other_offset    h, as e for the other pair                       m    any
    other_spacing   c, of the other pair                             m    > 0
    returns         mass on the most loaded stand of this pair       kg   nan outside that range

    A stiff body on four supports: which of them carry depends on a few millimetres of floor. This is the worst of all floors:
    the stand at the other end on the same side carries nothing. Source: statics of supports that cannot pull.

    >>> f"{rocking_stand(620.0, 480.0, 0.0, 0.8, 0.0, 0.8):.0f} kg of 620 kg"
    '550 kg of 620 kg'
    """
    load, other, offset, spacing, other_offset, other_spacing = as_floats(
        load, other, offset, spacing, other_offset, other_spacing
    )
    sound = (load >= 0) & (other >= 0) & (spacing > 0) & (other_spacing > 0)
    moment = load * spacing / 2 + other * other_spacing / 2 + np.abs(load * offset + other * other_offset)
    return where(sound, np.minimum(load, moment / np.where(sound, spacing, 1.0)))


def lean_to_tip(mass: Numbers, inside: Numbers, beyond: Numbers) -> Numbers:
    """Mass on one end of the car that lifts its other end off.

        m·d/a

    mass      m, of the car                                                        kg   ≥ 0
    inside    d, of the centre of mass from the line of the stands inwards         m    any
    beyond    a, from that line out to where somebody leans on the car             m    > 0
    returns   mass that tips it; negative where the car tips by itself             kg   nan outside that range

    Source: statics.

    >>> f"{lean_to_tip(1100.0, 0.45, 1.4):.0f} kg"
    '354 kg'
    """
    mass, inside, beyond = as_floats(mass, inside, beyond)
    sound = (mass >= 0) & (beyond > 0)
    return where(sound, mass * inside / np.where(sound, beyond, 1.0))


def without(mass: Numbers, centre: Numbers, out: Numbers, out_centre: Numbers) -> tuple[Numbers, Numbers]:
    """Mass and centre of mass of a car with something taken out.

        m' = m − o;   x' = (m·x − o·x_o)/m'

    mass         m                            kg       more than o
    centre       x                            m        any
    out          o, what is taken out         kg       ≥ 0
    out_centre   x_o, its centre              m        any
    returns      m', x'                       kg, m    nan outside that range

    Source: statics.

    >>> left, centre = without(1100.0, -1.047, 230.0, -0.2)
    >>> f"{left:.0f} kg at {centre:.3f} m"
    '870 kg at -1.271 m'
    """
    mass, centre, out, out_centre = as_floats(mass, centre, out, out_centre)
    sound = (out >= 0) & (mass > out)
    left = np.where(sound, mass - out, 1.0)
    return where(sound, left), where(sound, (mass * centre - out * out_centre) / left)


def push_to_tip(weight: Numbers, spread: Numbers, height: Numbers) -> Numbers:
    """Push from the side that lifts a car off one stand of a pair.

        F = W·(b/2)/h

    weight    W, on the pair                            N    ≥ 0
    spread    b, between the two stands                 m    > 0
    height    h, of the push over the stands' feet      m    > 0
    returns   F                                         N    nan outside that range

    The other end of the car helps to hold it: left out. Source: statics.

    >>> f"{push_to_tip(5000.0, 0.9, 1.0):.0f} N"
    '2250 N'
    """
    weight, spread, height = as_floats(weight, spread, height)
    sound = (weight >= 0) & (spread > 0) & (height > 0)
    return where(sound, weight * spread / np.where(sound, 2 * height, 1.0))
