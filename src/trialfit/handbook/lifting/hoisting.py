"""Hoisting an engine or a gearbox: by statics.

Answers   centre_of_mass        of parts that are lifted together
          symmetric_leg         tension of equal legs at one angle
          three_leg_shares      share of each of three legs, also where one is slack
          two_legs, three_legs  tension of each leg in the attitude in which the load hangs
          hook_as_it_hangs      with one or two eyes the load turns about them until its centre is below
          hang_angle, hook_for_angle    how it tilts, and where to hook it for a target tilt
          boom_rating           what a folding crane may carry at a reach
Next door standing.py (a car on stands)
Not here  strength of eyes, slings and cranes: their plates and makers say it
Symbols   W weight, T tension, α angle of a leg from the level, φ tilt, e offset, h height
Caution never go under a load; the plate on the crane and sling decides
Sources   [1] statics   [2] rigging-safety pages quoting ASME B30.9 and OSHA 1910.184: angle limit and load factors
          [3] a folding-crane operating manual: the rating falls hole by hole
"""

from __future__ import annotations

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, where

FLATTEST_LEG = np.radians(30.0)
"""No leg flatter than this from the level: ASME B30.9 and OSHA 1910.184 as quoted on rigging-safety pages."""

GOOD_LEG = np.radians(60.0)
"""Aim for this or steeper: the same."""

LIFT_FACTOR = 1.25
"""On the load, for jerks of the lift: common practice, no source."""

_ON_THE_LINE = 1e-6  # m: nearer to an eye or the line of the eyes nothing says which way the load turns


def centre_of_mass(masses: Numbers, places: Numbers) -> Numbers:
    """Centre of mass of several parts along one axis.

        x = Σ m·x/Σ m

    masses    m, parts along the last axis     kg    ≥ 0, not all nothing
    places    x, the same                      m     any
    returns   x                                m     nan outside that range

    Source: statics.

    >>> f"{centre_of_mass(np.array([165.0, 62.0]), np.array([0.0, -0.78])):.3f} m"
    '-0.213 m'
    """
    masses, places = as_floats(masses, places)
    total = masses.sum(axis=-1)
    sound = np.all(masses >= 0, axis=-1) & (total > 0)
    return where(sound, (masses * places).sum(axis=-1) / np.where(sound, total, 1.0))


def symmetric_leg(weight: Numbers, legs: Numbers, angle: Numbers) -> Numbers:
    """Tension of each of several equal legs with the load in their middle.

        T = W/(n·sin α)

    weight    W                          N      ≥ 0
    legs      n                          1      ≥ 1; of a stiff load no more than two count
    angle     α, from the level          rad    0 < α ≤ π/2
    returns   T                          N      nan outside that range

    Source: statics; the load factors 1, 1.155, 1.414 and 2 printed for 90, 60, 45 and 30° are 1/sin α.

    >>> f"{symmetric_leg(230 * 9.80665, 2, np.radians(50.0)):.0f} N"
    '1472 N'
    """
    weight, legs, angle = as_floats(weight, legs, angle)
    sound = (weight >= 0) & (legs >= 1) & (angle > 0) & (angle <= np.pi / 2 + 1e-12)
    return where(sound, weight / np.where(sound, legs * np.sin(angle), 1.0))


def two_legs(
    weight: Numbers, before: Numbers, behind: Numbers, hook: Numbers, offset: Numbers = 0.0, below: Numbers = 0.0
) -> tuple[Numbers, Numbers]:
    """Tension of two legs between two eyes and a hook, as the load hangs.

        T₁·u₁ + T₂·u₂ = W·g,   u from eye to hook, g from the centre of mass to the hook

    weight    W                                                             N    ≥ 0
    before    from the hook to eye 1, along the line of the eyes            m    any
    behind    the same to eye 2, on the other side                          m    before + behind > 0
    hook      height of the hook over the line of the eyes                  m    > 0
    offset    of the centre of mass from below the hook, towards eye 1      m    any
    below     depth of the centre of mass below the line of the eyes        m    hook + below > 0
    returns   T₁, T₂                                                        N    nan outside that range or where a leg goes slack

    Lengths are as measured on the load lying level; with an offset the load tilts until its centre is under the hook, and
    the tensions are those of that attitude. Source: statics.

    >>> front, rear = two_legs(230 * 9.80665, 0.25, 0.35, 0.50)
    >>> f"{front:.1f} N and {rear:.1f} N"
    '1471.0 N and 1147.2 N'
    """
    weight, before, behind, hook, offset, below = as_floats(weight, before, behind, hook, offset, below)
    sound = (weight >= 0) & (hook > 0) & (before + behind > 0) & (hook + below > 0)
    first, second = np.hypot(before, hook), np.hypot(behind, hook)
    hang = np.hypot(offset, hook + below)
    level, up = -offset / np.where(sound, hang, 1.0), (hook + below) / np.where(sound, hang, 1.0)
    # unknowns are T/length: −before·a + behind·b = W·level,  hook·(a + b) = W·up
    both = weight * up / np.where(sound, hook, 1.0)
    spread = np.where(sound, before + behind, 1.0)
    one = (behind * both - weight * level) / spread
    other = both - one
    sound = sound & (one >= 0) & (other >= 0)
    return where(sound, one * first), where(sound, other * second)


def three_legs(weight: Numbers, eyes: Numbers, hook: Numbers, centre: Numbers) -> Numbers:
    """Tension of three legs, as the load hangs.

        Σ T_i·(hook − eye_i)/L_i = W·(hook − centre)/|hook − centre|

    weight    W                                                            N    ≥ 0, (draws,)
    eyes      (..., 3 eyes, 3 coordinates) on the load lying level         m
    hook      (..., 3 coordinates), the same                               m
    centre    of mass, the same                                            m
    returns   T, (..., 3)                                                  N    nan where a leg would go slack or all lie in one plane

    Source: statics.

    >>> eyes = np.array([[0.3, 0.2, 0.0], [0.3, -0.2, 0.0], [-0.3, 0.0, 0.0]])
    >>> tensions = three_legs(1000.0, eyes, np.array([0.0, 0.0, 0.6]), np.array([0.0, 0.0, -0.2]))
    >>> [round(float(tension)) for tension in tensions]
    [292, 292, 559]
    """
    weight, eyes, hook, centre = as_floats(weight, eyes, hook, centre)
    legs = hook[..., None, :] - eyes
    lengths = np.linalg.norm(legs, axis=-1)
    hang = hook - centre
    sides = np.swapaxes(legs, -1, -2)
    sound = (np.abs(np.linalg.det(sides)) > 1e-6 * lengths.prod(axis=-1)) & (hang[..., 2] > 0) & (weight >= 0)
    load = (weight / np.where(sound, np.linalg.norm(hang, axis=-1), 1.0))[..., None] * hang
    shares = np.linalg.solve(np.where(sound[..., None, None], sides, np.eye(3)), load[..., None])[..., 0]
    sound = sound & np.all(shares >= 0, axis=-1)
    return where(sound[..., None], shares * lengths)


def three_leg_shares(eyes: Numbers, hook: Numbers, centre: Numbers) -> Numbers:
    """Share of a load on each of three legs, as it hangs: of the weight where the line from hook to centre meets their eyes.

        s_i = p_i/Σ p,   Σ p_i·(hook − eye_i) = hook − centre

    eyes      (..., 3 eyes, 3 coordinates) on the load lying level         m
    hook      (..., 3 coordinates), the same                               m
    centre    of mass, the same                                            m
    returns   s, (..., 3), below 0 where a leg would be slack              1    nan where all lie in one plane

    Source: statics.

    >>> eyes = np.array([[0.3, 0.2, 0.0], [0.3, -0.2, 0.0], [-0.3, 0.0, 0.0]])
    >>> [round(float(one), 3) for one in three_leg_shares(eyes, np.array([0.0, 0.0, 0.6]), np.array([-0.1, 0.0, -0.2]))]
    [0.188, 0.188, 0.625]
    """
    eyes, hook, centre = as_floats(eyes, hook, centre)
    legs = hook[..., None, :] - eyes
    sides = np.swapaxes(legs, -1, -2)
    sound = np.abs(np.linalg.det(sides)) > 1e-6 * np.linalg.norm(legs, axis=-1).prod(axis=-1)
    hang = np.broadcast_to(hook - centre, (*legs.shape[:-2], 3))
    pulls = np.linalg.solve(np.where(sound[..., None, None], sides, np.eye(3)), hang[..., None])[..., 0]
    total = pulls.sum(axis=-1, keepdims=True)
    sound = sound[..., None] & (total != 0)
    return where(sound, pulls / np.where(sound, total, 1.0))


def hook_as_it_hangs(eyes: Numbers, hook: Numbers, centre: Numbers) -> Numbers:
    """Place of the hook over a load on one or two eyes, once the load has turned about them.

        one eye     hook = eye + L·(eye − centre)/|eye − centre|
        two eyes    the same square to the line of the eyes, from the point of that line that is abreast of the hook

    eyes      (..., 1 or 2 eyes, 3 coordinates) on the load lying level    m
    hook      (..., 3 coordinates), with the slings pulled tight over it   m
    centre    of mass, the same                                            m
    returns   hook, (..., 3), in the axes of the load                      m    nan where the centre is on the eye or the line of the eyes

    The legs fix the hook in their own plane only: about the line of the eyes the load is a pendulum. Source: statics.

    >>> left_and_right = np.array([[0.3, 0.25, 0.0], [0.3, -0.25, 0.0]])
    >>> at = hook_as_it_hangs(left_and_right, np.array([0.0, 0.0, 0.5]), np.array([0.0, 0.0, -0.3]))
    >>> f"{np.degrees(hang_angle(at[0], at[2] + 0.3)):.0f}°"
    '45°'
    """
    eyes, hook, centre = as_floats(eyes, hook, centre)
    first = eyes[..., 0, :]
    if eyes.shape[-2] == 1:
        along = np.zeros_like(first)
    else:
        between = eyes[..., 1, :] - first
        along = between / np.linalg.norm(between, axis=-1, keepdims=True)
    to_hook, to_centre = hook - first, centre - first
    abreast = first + (to_hook * along).sum(axis=-1, keepdims=True) * along
    aside = to_centre - (to_centre * along).sum(axis=-1, keepdims=True) * along
    away = np.linalg.norm(aside, axis=-1, keepdims=True)
    sound = away > _ON_THE_LINE
    length = np.linalg.norm(hook - abreast, axis=-1, keepdims=True)
    return where(sound, abreast - length * aside / np.where(sound, away, 1.0))


def hang_angle(offset: Numbers, depth: Numbers) -> Numbers:
    """Tilt at which a load comes to rest under its hook.

        tan φ = e/h

    offset    e, level distance of the centre of mass from below the hook     m      any; the sign is kept
    depth     h, of the centre of mass below the hook                         m      > 0
    returns   φ                                                               rad    nan outside that range

    Source: statics.

    >>> f"{np.degrees(hang_angle(0.08, 0.55)):.2f}°"
    '8.28°'
    """
    offset, depth = as_floats(offset, depth)
    return where(depth > 0, np.arctan2(offset, np.where(depth > 0, depth, 1.0)))


def hook_for_angle(centre: Numbers, depth: Numbers, tilt: Numbers) -> Numbers:
    """Where along the load to hook it, so that it hangs at a target tilt.

        x = x_g − h·tan φ

    centre    x_g, of the centre of mass                                m      any
    depth     h, of the centre of mass below the hook                   m      > 0
    tilt      φ, positive where the end with the larger x hangs lower   rad    |φ| < π/2
    returns   x, of the hook                                            m      nan outside that range

    Source: statics, the inverse of hang_angle.

    >>> f"{hook_for_angle(-0.213, 0.55, np.radians(-10.0)):.3f} m: gearbox end low"
    '-0.116 m: gearbox end low'
    """
    centre, depth, tilt = as_floats(centre, depth, tilt)
    sound = (depth > 0) & (np.abs(tilt) < np.pi / 2)
    return where(sound, centre - depth * np.tan(np.where(sound, tilt, 0.0)))


def boom_rating(reach: Numbers, hole_reaches: Numbers, hole_ratings: Numbers) -> Numbers:
    """Rating of a folding crane at a reach: that of the next longer hole, never one in between.

        W = rating of the first hole with reach ≥ r;   0 beyond the longest

    reach          r                                             m     > 0
    hole_reaches   of the holes, rising                          m     > 0
    hole_ratings   as the plate prints them, in the same order   kg    ≥ 0
    returns        W                                             kg    nan for a reach that is not positive; 0 beyond the
                                                                       longest hole, where the plate allows nothing

    Source: a folding-crane operating manual; the plate on the crane rules.

    >>> holes, ratings = np.array([0.9, 1.1, 1.3, 1.5]), np.array([2000.0, 1500.0, 1000.0, 500.0])
    >>> [float(boom_rating(reach, holes, ratings)) for reach in (0.9, 1.12, 1.5, 1.7)]
    [2000.0, 1000.0, 500.0, 0.0]
    """
    reach, reaches, ratings = as_floats(reach, hole_reaches, hole_ratings)
    hole = np.searchsorted(reaches, np.where(reach > 0, reach, 0.0) - 1e-9)
    return where(reach > 0, np.append(ratings, 0.0)[hole])
