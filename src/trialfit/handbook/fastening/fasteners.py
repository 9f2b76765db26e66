"""Tightening torque and preload: one from the other, how far apart they scatter, and how much a bolt carries.

Answers   torque_for_preload, preload_of_torque          short form, with a nut factor
          torque_by_friction, preload_by_friction        long form, with thread and head friction
          nut_factor_of_friction                         K that the long form amounts to
          preload_at_yield_share                         pull and twist together at a share of the yield strength
          proof_load, share_of_proof
          combined_scatter, tightening_factor            how far preloads lie apart
          torque_with_running_torque                     prevailing nuts
          LUBRICATED_SHARE, REUSABLE_SHARE, PERMANENT_SHARE
Not here  strengths and nut factors by class and state (fastener_classes.py); joints under load (bolted_joints.py)
Symbols   T torque, F preload, K nut factor, d nominal diameter, P pitch, d₂ pitch diameter, D_K friction diameter of the
          head, μ_G thread and μ_K head friction, A_s stress area, S_p proof stress, R_p yield strength, ν share of it
Sources   [1] fastener suppliers' torque-tension note and nut-factor table   [2] VDI 2230   [3] ISO 898-1
"""

from __future__ import annotations

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, where
from trialfit.handbook.fastening.screw_threads import pitch_diameter, root_diameter, stress_area

LUBRICATED_SHARE = 0.75
"""Torque for lubricated threads over that for dry ones, K 0.15 against 0.20 [1]."""

REUSABLE_SHARE = 0.75
"""Preload of a joint that is taken apart again, over the proof load [1], from memory."""

PERMANENT_SHARE = 0.90
"""Preload of a joint that stays, over the proof load [1], from memory."""


def torque_for_preload(preload: Numbers, nut_factor: Numbers, diameter: Numbers) -> Numbers:
    """Tightening torque for a preload, short form.

        T = K·d·F

    preload      F               N      ≥ 0
    nut_factor   K               1      > 0
    diameter     d, nominal      m      > 0
    returns      T               N·m    nan outside that range

    K lumps all friction: one finish, one size, one tool. Source: fastener suppliers' torque-tension note.

    >>> f"{torque_for_preload(25e3, 0.20, 10e-3):.0f} N·m"
    '50 N·m'
    """
    preload, factor, diameter = as_floats(preload, nut_factor, diameter)
    return where((preload >= 0) & (factor > 0) & (diameter > 0), factor * diameter * preload)


def preload_of_torque(torque: Numbers, nut_factor: Numbers, diameter: Numbers) -> Numbers:
    """Preload that a torque gives, short form.

        F = T/(K·d)

    torque       T               N·m    ≥ 0
    nut_factor   K               1      > 0
    diameter     d, nominal      m      > 0
    returns      F               N      nan outside that range

    Source: fastener suppliers' torque-tension note.

    >>> f"{preload_of_torque(50.0, 0.20, 10e-3) / 1e3:.0f} kN"
    '25 kN'
    """
    torque, factor, diameter = as_floats(torque, nut_factor, diameter)
    sound = (torque >= 0) & (factor > 0) & (diameter > 0)
    return where(sound, torque / np.where(sound, factor * diameter, 1.0))


def torque_by_friction(
    preload: Numbers,
    diameter: Numbers,
    pitch: Numbers,
    thread_friction: Numbers,
    head_friction: Numbers,
    friction_diameter: Numbers,
) -> Numbers:
    """Tightening torque for a preload, long form.

        T = F·(0.159·P + 0.577·d₂·μ_G + ½·D_K·μ_K)

    preload             F                          N      ≥ 0
    diameter            d, nominal                 m
    pitch               P                          m      0 < P < d
    thread_friction     μ_G                        1      ≥ 0
    head_friction       μ_K                        1      ≥ 0
    friction_diameter   D_K = (d_w + d_h)/2        m      > 0
    returns             T                          N·m    nan outside that range

    At μ 0.12 the pitch takes 15 % of the torque, the thread 38 %, the head 47 %: only the first stretches the bolt.
    Source: VDI 2230.

    >>> f"{torque_by_friction(26.3e3, 10e-3, 1.5e-3, 0.14, 0.14, 12.8e-3):.1f} N·m"
    '49.0 N·m'
    """
    (preload,) = as_floats(preload)
    arm = as_floats(_arm(diameter, pitch, thread_friction, head_friction, friction_diameter))[0]
    return where(preload >= 0, preload * arm)


def preload_by_friction(
    torque: Numbers,
    diameter: Numbers,
    pitch: Numbers,
    thread_friction: Numbers,
    head_friction: Numbers,
    friction_diameter: Numbers,
) -> Numbers:
    """Preload that a torque gives, long form.

        F = T/(0.159·P + 0.577·d₂·μ_G + ½·D_K·μ_K)

    torque              T                          N·m    ≥ 0
    diameter            d, nominal                 m
    pitch               P                          m      0 < P < d
    thread_friction     μ_G                        1      ≥ 0
    head_friction       μ_K                        1      ≥ 0
    friction_diameter   D_K = (d_w + d_h)/2        m      > 0
    returns             F                          N      nan outside that range

    Source: VDI 2230.

    >>> f"{preload_by_friction(49.0, 10e-3, 1.5e-3, 0.14, 0.14, 12.8e-3) / 1e3:.1f} kN"
    '26.3 kN'
    """
    (torque,) = as_floats(torque)
    arm = as_floats(_arm(diameter, pitch, thread_friction, head_friction, friction_diameter))[0]
    sound = (torque >= 0) & (arm > 0)
    return where(sound, torque / np.where(sound, arm, 1.0))


def nut_factor_of_friction(
    diameter: Numbers, pitch: Numbers, thread_friction: Numbers, head_friction: Numbers, friction_diameter: Numbers
) -> Numbers:
    """Nut factor that the long form amounts to.

        K = T/(d·F) = (0.159·P + 0.577·d₂·μ_G + ½·D_K·μ_K)/d

    diameter            d, nominal                 m
    pitch               P                          m      0 < P < d
    thread_friction     μ_G                        1      ≥ 0
    head_friction       μ_K                        1      ≥ 0
    friction_diameter   D_K = (d_w + d_h)/2        m      > 0
    returns             K                          1      nan outside that range

    Source: VDI 2230.

    >>> f"{nut_factor_of_friction(10e-3, 1.5e-3, 0.14, 0.14, 12.8e-3):.3f}"
    '0.186'
    """
    (diameter,) = as_floats(diameter)
    arm = _arm(diameter, pitch, thread_friction, head_friction, friction_diameter)
    return where(diameter > 0, arm / np.where(diameter > 0, diameter, 1.0))


def preload_at_yield_share(
    share: Numbers, yield_strength: Numbers, diameter: Numbers, pitch: Numbers, thread_friction: Numbers
) -> Numbers:
    """Preload at which pull and twist together reach a share of the yield strength.

        F = ν·R_p·A_s/√(1 + 3·[1.5·(d₂/d_s)·(P/(π·d₂) + 1.155·μ_G)]²),   d_s = (d₂ + d₃)/2

    share             ν                 1     > 0; 0.9 in the tables of the source, 1 at yield
    yield_strength    R_p               Pa    > 0
    diameter          d, nominal        m
    pitch             P                 m     0 < P < d
    thread_friction   μ_G               1     ≥ 0
    returns           F                 N     nan outside that range

    Metric thread. Source: VDI 2230.

    >>> f"{preload_at_yield_share(0.9, 940e6, 10e-3, 1.25e-3, 0.12) / 1e3:.1f} kN"
    '46.5 kN'
    """
    share, strength, pitch, friction = as_floats(share, yield_strength, pitch, thread_friction)
    middle = as_floats(pitch_diameter(diameter, pitch))[0]
    stressed = (middle + root_diameter(diameter, pitch)) / 2
    sound = np.isfinite(middle) & (share > 0) & (strength > 0) & (friction >= 0)
    twist = 1.5 * (middle / stressed) * (pitch / (np.pi * middle) + 1.155 * friction)
    return where(sound, share * strength * stress_area(diameter, pitch) / np.sqrt(1 + 3 * twist**2))


def proof_load(area: Numbers, proof_stress: Numbers) -> Numbers:
    """Pull that a bolt carries without permanent stretch.

        F_p = A_s·S_p

    area           A_s              m²    > 0
    proof_stress   S_p              Pa    > 0
    returns        F_p              N     nan outside that range

    Source: ISO 898-1, proof loads.

    >>> f"{proof_load(58.0e-6, 830e6) / 1e3:.1f} kN"
    '48.1 kN'
    """
    area, stress = as_floats(area, proof_stress)
    return where((area > 0) & (stress > 0), area * stress)


def share_of_proof(preload: Numbers, area: Numbers, proof_stress: Numbers) -> Numbers:
    """Preload over proof load.

        F/(A_s·S_p)

    preload        F            N     ≥ 0
    area           A_s          m²    > 0
    proof_stress   S_p          Pa    > 0
    returns        share        1     nan outside that range

    0.75 is usual where the joint is taken apart again, 0.90 where it stays. Source: fastener suppliers' charts, ISO 898-1.

    >>> f"{share_of_proof(25.2e3, 58.0e-6, 580e6):.2f}"
    '0.75'
    """
    (preload,) = as_floats(preload)
    bears = as_floats(proof_load(area, proof_stress))[0]
    return where(preload >= 0, preload / bears)


def combined_scatter(nut_factor_scatter: Numbers, wrench_scatter: Numbers) -> Numbers:
    """Relative scatter of the preload from that of friction and wrench.

        s_F² = s_K² + s_wrench²

    nut_factor_scatter   s_K          1     ≥ 0
    wrench_scatter       s_wrench     1     ≥ 0
    returns              s_F          1     nan outside that range

    Source: combination of independent uncertainties, JCGM 100.

    >>> f"{combined_scatter(0.25, 0.04):.3f}"
    '0.253'
    """
    friction, wrench = as_floats(nut_factor_scatter, wrench_scatter)
    return where((friction >= 0) & (wrench >= 0), np.hypot(friction, wrench))


def tightening_factor(scatter: Numbers) -> Numbers:
    """Largest over smallest preload for a relative scatter.

        α_A = (1 + s)/(1 − s)

    scatter    s, half-width over the mean     1     0 ≤ s < 1
    returns    α_A                             1     nan outside that range

    VDI 2230 (from memory): 1.4 to 1.6 with a torque wrench and known friction, 1.7 to 2.5 where it is guessed, 1.2 to 1.4
    by angle or to yield. Source: VDI 2230.

    >>> f"{tightening_factor(0.30):.2f}"
    '1.86'
    """
    (scatter,) = as_floats(scatter)
    sound = (scatter >= 0) & (scatter < 1)
    return where(sound, (1 + scatter) / np.where(sound, 1 - scatter, 1.0))


def torque_with_running_torque(torque: Numbers, running_torque: Numbers) -> Numbers:
    """Torque to set for a nut that turns hard: the measured running torque is added.

        T' = T + T_run

    torque           T, without it     N·m    ≥ 0
    running_torque   T_run             N·m    ≥ 0
    returns          T'                N·m    nan outside that range

    Source: common practice, no source.

    >>> f"{torque_with_running_torque(45.0, 6.0):.0f} N·m"
    '51 N·m'
    """
    torque, running = as_floats(torque, running_torque)
    return where((torque >= 0) & (running >= 0), torque + running)


def _arm(
    diameter: Numbers, pitch: Numbers, thread_friction: Numbers, head_friction: Numbers, friction_diameter: Numbers
) -> Numbers:
    """Torque over preload [m]."""
    pitch, thread, head, face = as_floats(pitch, thread_friction, head_friction, friction_diameter)
    middle = as_floats(pitch_diameter(diameter, pitch))[0]
    sound = np.isfinite(middle) & (thread >= 0) & (head >= 0) & (face > 0)
    return where(sound, 0.159 * pitch + 0.577 * middle * thread + face * head / 2)
