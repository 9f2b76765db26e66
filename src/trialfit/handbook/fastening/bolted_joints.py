"""A clamped joint under load: how stiff bolt and members are, the bolt's share of a pull, when the faces open or slide.

Answers   bolt_stiffness, layer_compliance, member_stiffness   compliance of bolt and members
          load_share                                           of a pull that goes into the bolt
          bolt_force, clamp_force, separation_load             under a pull
          slip_force                                           of the clamped faces
          angle_after_snug, preload_of_angle                   torque-and-angle tightening
          tapped_grip                                          how far the grip reaches into a tapped hole
Not here  torque and preload (fasteners.py); slip torque on a circle of bolts (torque_path/wheel_joint.py)
Symbols   F preload, P pull on one bolt (in angles: pitch), k_b bolt and k_m member stiffness, Φ load share, E modulus,
          A_d shank area, A_s stress area, l_d and l_t lengths of shank and thread in the grip, D_w bearing face, d_h hole
Sources   [1] machine design textbooks, bolted joints   [2] the cone of 30° under the head, integrated (checked by quadrature)
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, where

if TYPE_CHECKING:
    from trialfit.handbook.arrays import Array

MODULUS = {"steel": 206e9, "iron": 110e9, "aluminium": 70e9}
"""E [Pa], from memory: grey iron 100 to 120 GPa."""

_CONE = np.tan(np.radians(30.0))
_FULL_TURN = 2 * np.pi


def bolt_stiffness(
    shank_area: Numbers, stress_area: Numbers, shank_length: Numbers, thread_length: Numbers, modulus: Numbers
) -> Numbers:
    """Stiffness of a bolt over its grip.

        k_b = A_d·A_s·E/(A_d·l_t + A_s·l_d)

    shank_area      A_d               m²     > 0
    stress_area     A_s               m²     > 0
    shank_length    l_d, in the grip  m      ≥ 0
    thread_length   l_t, in the grip  m      ≥ 0, not both 0
    modulus         E                 Pa     > 0
    returns         k_b               N/m    nan outside that range

    Head and nut give a little too: the true bolt is softer. Source: machine design textbooks.

    >>> f"{bolt_stiffness(78.54e-6, 57.99e-6, 20e-3, 10e-3, 206e9) / 1e6:.1f} N/µm"
    '482.3 N/µm'
    """
    shank, thread, plain, threaded, modulus = as_floats(shank_area, stress_area, shank_length, thread_length, modulus)
    sound = (shank > 0) & (thread > 0) & (plain >= 0) & (threaded >= 0) & (plain + threaded > 0) & (modulus > 0)
    return where(sound, shank * thread * modulus / np.where(sound, shank * threaded + thread * plain, 1.0))


def layer_compliance(
    start: Numbers, end: Numbers, bearing_diameter: Numbers, hole_diameter: Numbers, modulus: Numbers
) -> Numbers:
    """Compliance of a layer inside the cone of pressure that widens from the bearing face.

        δ/F = (1/(π·E·d_h·tan 30°))·[ln((D_w + 2z·tan 30° − d_h)/(D_w + 2z·tan 30° + d_h))] from z₁ to z₂

    start              z₁, from the bearing face     m      ≥ 0
    end                z₂                            m      ≥ z₁
    bearing_diameter   D_w                           m      > d_h
    hole_diameter      d_h                           m      > 0
    modulus            E                             Pa     > 0
    returns            δ/F                           m/N    nan outside that range

    The part must be wider than the cone. Source: the cone of 30°, integrated; the cone itself from machine design
    textbooks.

    >>> f"{2 * layer_compliance(0.0, 15e-3, 15e-3, 10e-3, 206e9) * 1927e6:.3f}"
    '1.000'
    """
    start, end, face, hole, modulus = as_floats(start, end, bearing_diameter, hole_diameter, modulus)
    sound = (start >= 0) & (end >= start) & (hole > 0) & (face > hole) & (modulus > 0)

    def logarithm(depth: Array) -> Array:
        cone = face + 2 * depth * _CONE
        return np.asarray(np.log(np.where(sound, (cone - hole) / (cone + hole), 1.0)))

    gives = (logarithm(end) - logarithm(start)) / np.where(sound, np.pi * modulus * hole * _CONE, 1.0)
    return where(sound, gives)


def member_stiffness(
    head_thickness: Numbers,
    head_modulus: Numbers,
    thread_thickness: Numbers,
    thread_modulus: Numbers,
    bearing_diameter: Numbers,
    hole_diameter: Numbers,
) -> Numbers:
    """Stiffness of two clamped layers: a cone from each end that meet in the middle of the grip.

    head_thickness     of the layer under the head     m      ≥ 0
    head_modulus       its E                           Pa     > 0
    thread_thickness   of the layer at the nut         m      ≥ 0, not both 0
    thread_modulus     its E                           Pa     > 0
    bearing_diameter   D_w, at both ends               m      > d_h
    hole_diameter      d_h                             m      > 0
    returns            k_m                             N/m    nan outside that range

    The layers are springs in a row. A soft gasket adds its own and dominates. Source: machine design textbooks, cones of
    30°.

    >>> f"{member_stiffness(10e-3, 206e9, 20e-3, 206e9, 15e-3, 10e-3) / 1e6:.0f} N/µm"
    '1927 N/µm'
    """
    head, thread = as_floats(head_thickness, thread_thickness)
    middle = (head + thread) / 2
    cone = (bearing_diameter, hole_diameter)
    gives = (
        layer_compliance(0.0, np.minimum(head, middle), *cone, head_modulus)
        + layer_compliance(np.minimum(thread, middle), middle, *cone, head_modulus)
        + layer_compliance(0.0, np.minimum(thread, middle), *cone, thread_modulus)
        + layer_compliance(np.minimum(head, middle), middle, *cone, thread_modulus)
    )
    sound = (head >= 0) & (thread >= 0) & (middle > 0)
    return where(sound, 1 / np.where(sound, gives, 1.0))


def tapped_grip(diameter: Numbers, engagement: Numbers) -> Numbers:
    """How far the grip reaches into a tapped hole.

        the smaller of d/2 and L/2

    diameter     d, nominal     m    > 0
    engagement   L              m    > 0
    returns      length         m    nan outside that range

    Source: machine design textbook, effective grip of tapped holes, from memory.

    >>> f"{tapped_grip(10e-3, 20e-3) * 1e3:.0f} mm"
    '5 mm'
    """
    diameter, engagement = as_floats(diameter, engagement)
    return where((diameter > 0) & (engagement > 0), np.minimum(diameter, engagement) / 2)


def load_share(bolt_stiffness: Numbers, member_stiffness: Numbers) -> Numbers:
    """Share of a pull on the joint that goes into the bolt.

        Φ = k_b/(k_b + k_m)

    bolt_stiffness     k_b     N/m    > 0
    member_stiffness   k_m     N/m    > 0
    returns            Φ       1      nan outside that range

    Pull in the line of the bolt. Source: machine design textbooks.

    >>> f"{load_share(482.3e6, 1927e6):.4f}"
    '0.2002'
    """
    bolt, member = as_floats(bolt_stiffness, member_stiffness)
    sound = (bolt > 0) & (member > 0)
    return where(sound, bolt / np.where(sound, bolt + member, 1.0))


def separation_load(preload: Numbers, share: Numbers) -> Numbers:
    """Pull on one bolt at which the faces come apart.

        P = F/(1 − Φ)

    preload    F     N    ≥ 0
    share      Φ     1    0 ≤ Φ < 1; 0 is on the safe side
    returns    P     N    nan outside that range

    Source: machine design textbooks.

    >>> f"{separation_load(25.23e3, 0.2002) / 1e3:.1f} kN"
    '31.5 kN'
    """
    preload, share = as_floats(preload, share)
    sound = (preload >= 0) & (share >= 0) & (share < 1)
    return where(sound, preload / np.where(sound, 1 - share, 1.0))


def bolt_force(preload: Numbers, share: Numbers, pull: Numbers) -> Numbers:
    """Load of a bolt under a pull: until the faces part F + Φ·P, then the whole pull.

    preload    F                  N    ≥ 0
    share      Φ                  1    0 ≤ Φ < 1
    pull       P, on one bolt     N    ≥ 0
    returns    force              N    nan outside that range

    Source: machine design textbooks.

    >>> f"{bolt_force(25.23e3, 0.2002, 10e3) / 1e3:.2f} kN, {bolt_force(25.23e3, 0.2002, 40e3) / 1e3:.0f} kN"
    '27.23 kN, 40 kN'
    """
    preload, share, pull = as_floats(preload, share, pull)
    sound = (preload >= 0) & (share >= 0) & (share < 1) & (pull >= 0)
    return where(sound, np.maximum(preload + share * pull, pull))


def clamp_force(preload: Numbers, share: Numbers, pull: Numbers) -> Numbers:
    """Remaining clamp load under a pull: F − (1 − Φ)·P, and nothing once they part.

    preload    F                  N    ≥ 0
    share      Φ                  1    0 ≤ Φ < 1; 0 is on the safe side
    pull       P, on one bolt     N    ≥ 0
    returns    force              N    nan outside that range

    Source: machine design textbooks.

    >>> f"{clamp_force(25.23e3, 0.2002, 10e3) / 1e3:.2f} kN"
    '17.23 kN'
    """
    preload, share, pull = as_floats(preload, share, pull)
    sound = (preload >= 0) & (share >= 0) & (share < 1) & (pull >= 0)
    return where(sound, np.maximum(preload - (1 - share) * pull, 0.0))


def slip_force(bolts: Numbers, clamp: Numbers, friction: Numbers, faces: Numbers = 1.0) -> Numbers:
    """Sideways force at which the clamped faces slide.

        Q = N·F·μ·n

    bolts      N                                1    ≥ 1
    clamp      F, of one bolt                   N    ≥ 0
    friction   μ, of the faces                  1    ≥ 0; dry and clean 0.15, from memory
    faces      n, that would have to slide      1    ≥ 1
    returns    Q                                N    nan outside that range

    Bolts in clearance holes clamp, they do not carry shear. Source: friction on a clamped face.

    >>> f"{slip_force(4, 20e3, 0.15) / 1e3:.0f} kN"
    '12 kN'
    """
    bolts, clamp, friction, faces = as_floats(bolts, clamp, friction, faces)
    sound = (bolts >= 1) & (clamp >= 0) & (friction >= 0) & (faces >= 1)
    return where(sound, bolts * clamp * friction * faces)


def angle_after_snug(
    preload: Numbers, pitch: Numbers, bolt_stiffness: Numbers, member_stiffness: Numbers = np.inf
) -> Numbers:
    """Turn of the nut that raises the preload by F, once the parts are seated.

        θ = 360°·(F/P)·(1/k_b + 1/k_m)

    preload            F, gained after snug     N      ≥ 0
    pitch              P                        m      > 0
    bolt_stiffness     k_b                      N/m    > 0
    member_stiffness   k_m                      N/m    > 0; inf: members that do not give, which turns too little
    returns            θ                        rad    nan outside that range

    Elastic. Source: machine design textbooks.

    >>> f"{np.degrees(angle_after_snug(25.23e3, 1.5e-3, 482.3e6, 1927e6)):.2f}°"
    '15.70°'
    """
    preload, pitch = as_floats(preload, pitch)
    gives = as_floats(_gives(bolt_stiffness, member_stiffness))[0]
    sound = (preload >= 0) & (pitch > 0)
    return where(sound, _FULL_TURN * preload * gives / np.where(sound, pitch, 1.0))


def preload_of_angle(
    snug_preload: Numbers,
    angle: Numbers,
    pitch: Numbers,
    bolt_stiffness: Numbers,
    member_stiffness: Numbers,
    yield_preload: Numbers = np.inf,
) -> Numbers:
    """Preload after a torque that seats the parts and a turn: elastic at first, then held by the bolt's yield point.

        F = F_snug + (θ/360°)·P/(1/k_b + 1/k_m), not above F_yield

    snug_preload       F_snug                          N      ≥ 0
    angle              θ                               rad    ≥ 0
    pitch              P                               m      > 0
    bolt_stiffness     k_b                             N/m    > 0
    member_stiffness   k_m                             N/m    > 0
    yield_preload      F_yield, inf: never reached     N      > 0
    returns            F                               N      nan outside that range

    A bolt turned past its yield point hardly gains preload: that is why angle tightening scatters less. It is then longer
    for good. Source: machine design textbooks; the flat yield is ours.

    >>> f"{preload_of_angle(8e3, np.radians(90), 1.5e-3, 482.3e6, 1927e6, 40e3) / 1e3:.0f} kN"
    '40 kN'
    """
    snug, angle, pitch, limit = as_floats(snug_preload, angle, pitch, yield_preload)
    gives = as_floats(_gives(bolt_stiffness, member_stiffness))[0]
    sound = (snug >= 0) & (angle >= 0) & (pitch > 0) & (limit > 0) & (gives > 0)
    return where(sound, np.minimum(snug + angle / _FULL_TURN * pitch / np.where(sound, gives, 1.0), limit))


def _gives(bolt: Numbers, member: Numbers) -> Numbers:
    bolt, member = as_floats(bolt, member)
    sound = (bolt > 0) & (member > 0)
    return where(sound, 1 / np.where(sound, bolt, 1.0) + 1 / np.where(sound, member, 1.0))
