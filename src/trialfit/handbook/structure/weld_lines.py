"""Weld groups treated as lines: how a load spreads along the runs of a joint.

Answers   weld_group       length, centre and line moments of a named pattern
          shared_force     force per length at the worst point, from direct load, bending and twist, each with its sign
          plate_force      the same as a tension that strains the plate beside it as much
          throat_stress    that force over the throat
          PATTERNS         the words for the patterns
Not here  throat of a fillet, what it may carry, least leg (welds.py)
Symbols   q force per length of run, L length, I_u, J_u line moments per unit of throat, t throat; y across, z upright in the
          face that is welded to, x out of it
Method    all of q counts as shear on the throat (the elastic method of AISC part 8): an example in a textbook that halves the
          bending part by taking the principal stress gives half as much, and is not followed
Sources   [1] Mechanical Engineering Design, 9th ed., tables 9-1 and 9-2
          [2] Design of Modern Steel Railway Bridges, table 9.1
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from trialfit.handbook.arrays import Array, Numbers, as_floats, where

if TYPE_CHECKING:
    from numpy.typing import NDArray


_RUNS = {
    "one upright": (((0, 0), (0, 1)),),
    "two upright": (((0, 0), (0, 1)), ((1, 0), (1, 1))),
    "two level": (((0, 0), (1, 0)), ((0, 1), (1, 1))),
    "channel": (((0, 0), (0, 1)), ((0, 0), (1, 0)), ((0, 1), (1, 1))),
    "all round": (((0, 0), (0, 1)), ((1, 0), (1, 1)), ((0, 0), (1, 0)), ((0, 1), (1, 1))),
}
PATTERNS = (*_RUNS, "circle")
_ROUND = np.linspace(0.0, 2 * np.pi, 72, endpoint=False)


@dataclass(frozen=True)
class WeldGroup:
    """A pattern of runs in SI: length L m; across_centre m from its left edge; upright, sideways I_u m³; polar J_u m³;
    points (points, draws) of its ends, across and upright from its centre, m.
    """

    length: Numbers
    across_centre: Numbers
    upright: Numbers
    sideways: Numbers
    polar: Numbers
    points_across: Array
    points_upright: Array


def weld_group(pattern: str, width: Numbers, depth: Numbers) -> WeldGroup:
    """Length, centre and line moments of a pattern of runs.

        I_u = Σ s·(Δ²/12 + c²),   J_u = I_u upright + I_u sideways;   circle: I_u = π·r³, J_u = 2·π·r³

    pattern   one of PATTERNS; "channel" is one upright run with a level one at each end
    width     b, across      m    > 0; of no account for "one upright" and "circle"
    depth     d, upright; the diameter of a circle      m    > 0
    returns   WeldGroup           nan outside that range

    Errors: KeyError for another pattern. Source: Mechanical Engineering Design, 9th ed., tables 9-1 and 9-2.

    >>> group = weld_group("channel", 30e-3, 80e-3)
    >>> f"x {group.across_centre * 1e3:.3f} mm, I {group.upright * 1e9:.0f} mm³, J {group.polar * 1e9:.0f} mm³"
    'x 6.429 mm, I 138667 mm³, J 150881 mm³'
    """
    width, depth = np.broadcast_arrays(*as_floats(width, depth))
    sound = (depth > 0) & ((width > 0) | (pattern in {"one upright", "circle"}))
    if pattern == "circle":
        radius = depth / 2
        across, upright = (np.multiply.outer(part, radius) for part in (np.cos(_ROUND), np.sin(_ROUND)))
        moment = np.pi * radius**3
        values = (2 * np.pi * radius, radius, moment, moment, 2 * moment)
        return _group(sound, values, across, upright)
    runs = np.array(_RUNS[pattern], float)  # (runs, two ends, across and upright)
    y = np.multiply.outer(runs[..., 0], width)
    z = np.multiply.outer(runs[..., 1], depth)
    length = np.hypot(y[:, 1] - y[:, 0], z[:, 1] - z[:, 0])
    total = np.where(sound, length.sum(axis=0), 1.0)
    centre_y, centre_z = ((length * part.mean(axis=1)).sum(axis=0) / total for part in (y, z))
    y, z = y - centre_y, z - centre_z
    upright, sideways = ((length * _mean_square(part)).sum(axis=0) for part in (z, y))
    values = (total, centre_y, upright, sideways, upright + sideways)
    return _group(sound, values, y.reshape(-1, *width.shape), z.reshape(-1, *width.shape))


def shared_force(
    group: WeldGroup,
    down: Numbers = 0.0,
    aside: Numbers = 0.0,
    pull: Numbers = 0.0,
    upright_moment: Numbers = 0.0,
    sideways_moment: Numbers = 0.0,
    twist: Numbers = 0.0,
) -> Numbers:
    """Force per length at the worst point of a weld group.

        q = |(P/L + M_u·z/I_u ± M_s·y/I_s,  ±F_y/L − T·z/J_u,  F_z/L + T·y/J_u)|, the largest over the ends of the runs

    group            from weld_group: its first upright run is at the left, y grows to the right
    down             F_z, in the face                                                       N      any
    aside            F_y, in the face: tried both ways                                      N      any
    pull             P, out of the face                                                     N      any
    upright_moment   M_u, of F_z on an arm out of the face                                  N·m    any
    sideways_moment  M_s, of F_y on an arm: turns with it                                   N·m    any
    twist            T, in the face: of F_z to the right of the centre it has the sign of F_z      N·m    any
    returns          q                                                                      N/m    nan outside the range of the group

    The loads may have axes in front of those of the group. Every pattern is the same upside down, so that P and M_u add at one
    end at least. Source: Mechanical Engineering Design, 9th ed., ch. 9; elastic method of AISC part 8.

    >>> q = shared_force(weld_group("two upright", 60e-3, 80e-3), down=4000.0, upright_moment=400.0)
    >>> f"{q / 1e3:.1f} N/mm: √(25.0² + 187.5²)"
    '189.2 N/mm: √(25.0² + 187.5²)'
    >>> channel = weld_group("channel", 30e-3, 80e-3)
    >>> [f"{shared_force(channel, down=1000.0, twist=twist) / 1e3:.1f} N/mm" for twist in (50.0, -50.0)]
    ['20.0 N/mm', '16.2 N/mm']
    """
    ways = _components(group, down, aside, pull, upright_moment, sideways_moment, twist)
    return _largest(group, [out**2 + level**2 + fall**2 for out, level, fall in ways])


def plate_force(
    group: WeldGroup,
    down: Numbers = 0.0,
    aside: Numbers = 0.0,
    pull: Numbers = 0.0,
    upright_moment: Numbers = 0.0,
    sideways_moment: Numbers = 0.0,
    twist: Numbers = 0.0,
) -> Numbers:
    """Tension per length that strains the plate beside a weld group as much as what comes out of the face and along it.

        q_v = √(q_out² + 3·(q_level² + q_fall²)), the largest over the ends of the runs

    group, down, aside, pull, upright_moment, sideways_moment, twist     as for shared_force
    returns   q_v     N/m    nan outside the range of the group

    Over the thickness of the plate it is its equivalent stress: what comes out of the face counts as tension, all of what is along
    it as shear. Source: components as in Mechanical Engineering Design, 9th ed., ch. 9; distortion energy.

    >>> q = plate_force(weld_group("two upright", 60e-3, 80e-3), down=4000.0, upright_moment=400.0)
    >>> f"{q / 1e3:.1f} N/mm: √(187.5² + 3·25.0²)"
    '192.4 N/mm: √(187.5² + 3·25.0²)'
    """
    ways = _components(group, down, aside, pull, upright_moment, sideways_moment, twist)
    return _largest(group, [out**2 + 3 * (level**2 + fall**2) for out, level, fall in ways])


def throat_stress(force_per_length: Numbers, throat: Numbers) -> Numbers:
    """Shear stress on the throat.

        τ = q/t

    force_per_length  q     N/m    any
    throat            t     m      > 0
    returns           τ     Pa     nan outside that range

    Source: Mechanical Engineering Design, 9th ed., ch. 9.

    >>> f"{throat_stress(189.2e3, 2.12e-3) / 1e6:.1f} MPa"
    '89.2 MPa'
    """
    force, throat = as_floats(force_per_length, throat)
    return where(throat > 0, force / np.where(throat > 0, throat, 1.0))


def _group(sound: NDArray[np.bool_], values: tuple[Array, ...], across: Array, upright: Array) -> WeldGroup:
    """The group of its figures, nan where it is not sound."""
    length, centre, upright_moment, sideways, polar = (where(sound, value) for value in values)
    return WeldGroup(length, centre, upright_moment, sideways, polar, across, upright)


def _largest(group: WeldGroup, squares: list[Array]) -> Numbers:
    """Root of the largest over both ways and all points."""
    return where(np.isfinite(np.asarray(group.length)), np.sqrt(np.maximum(*squares)).max(axis=0))


def _components(group: WeldGroup, *loads: Numbers) -> list[tuple[Array, Array, Array]]:
    """Force per length out of the face, level and downwards at each point, for the load across either way."""
    down, aside, pull, upright_moment, sideways_moment, twist = np.broadcast_arrays(*as_floats(*loads))
    length, upright, sideways, polar = as_floats(group.length, group.upright, group.sideways, group.polar)
    across, high = (_under(part, down.ndim - length.ndim) for part in (group.points_across, group.points_upright))
    # a single upright run has no width to resist a sideways moment: the share is nan there, unless there is none
    aside_bends = np.where(
        sideways_moment == 0, 0.0, sideways_moment * across / np.where(sideways > 0, sideways, np.nan)
    )
    bends, fall = pull / length + upright_moment * high / upright, down / length + twist * across / polar
    turned = twist * high / polar
    return [(bends + way * aside_bends, way * aside / length - turned, fall) for way in (1.0, -1.0)]


def _under(points: Array, axes: int) -> Array:
    """Points with room for axes of the loads between the first axis and those of the draws."""
    return points.reshape(points.shape[0], *(1,) * max(axes, 0), *points.shape[1:])


def _mean_square(ends: Array) -> Array:
    """Mean of c² along straight runs whose two ends stand on axis 1."""
    return np.asarray((ends[:, 0] ** 2 + ends[:, 0] * ends[:, 1] + ends[:, 1] ** 2) / 3)
