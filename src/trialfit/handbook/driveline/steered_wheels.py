"""Steered wheels that drive: where the stub behind the outer joint points.

Answers   stub_direction    where the stub of a steered wheel points
Not here  the shaft in front of the joint (axle_travel.py), the angle between the two (shaft_lines.py)
Symbols   δ steering angle to the left, k steering axis, κ its lean towards the middle of the car, γ its lean to the rear
          (caster), a stub outward. Vectors in the car's axes (ISO 8855: x forward, y left, z up)
Sources   [1] vector geometry: turning about an axis
"""

from __future__ import annotations

import numpy as np

from trialfit.handbook.arrays import Array, Numbers, as_floats, where


def stub_direction(steer: Numbers, leftward: Numbers, kingpin: Numbers = 0.0, caster: Numbers = 0.0) -> Array:
    """Where the stub of a steered wheel points, from the middle of the car outward.

        a = a₀·cos δ + (k × a₀)·sin δ + k·(k·a₀)·(1 − cos δ),   a₀ = (0, ±1, 0),   k ∝ (−tan γ, ∓tan κ, 1)

    steer      δ, to the left positive                      rad    −π/2 < δ < π/2
    leftward   1 for a left wheel, −1 for a right one       –
    kingpin    κ, top of the steering axis inward           rad    −π/2 < κ < π/2
    caster     γ, top of the steering axis rearward         rad    −π/2 < γ < π/2
    returns    a, unit vectors in the car's axes            1      shape (..., 3); nan outside that range

    Camber and toe straight ahead are left out. Source: vector geometry, turning about an axis.

    >>> print(stub_direction(np.radians(30.0), 1.0).round(3))
    [-0.5    0.866  0.   ]
    """
    steer, leftward, kingpin, caster = np.broadcast_arrays(*as_floats(steer, leftward, kingpin, caster))
    sound = (np.abs(steer) < np.pi / 2) & (np.abs(kingpin) < np.pi / 2) & (np.abs(caster) < np.pi / 2)
    lean = [np.tan(np.where(sound, angle, 0.0)) for angle in (caster, kingpin)]
    axis = np.stack([-lean[0], -leftward * lean[1], np.ones(steer.shape)], axis=-1)
    axis /= np.linalg.norm(axis, axis=-1, keepdims=True)
    stub = np.stack([np.zeros(steer.shape), leftward, np.zeros(steer.shape)], axis=-1)
    cosine, sine = np.cos(steer)[..., None], np.sin(steer)[..., None]
    along = np.vecdot(axis, stub)[..., None]
    turned = stub * cosine + np.cross(axis, stub) * sine + axis * along * (1 - cosine)
    return np.asarray(where(sound[..., None], turned))
