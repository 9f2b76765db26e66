"""A load leveller: a bar with a screw that moves the hook, and chains from its ends to the load.

Answers   travel_for_tilt   how far the hook has to be from above the centre of mass for a tilt
          level_shift       how far a point of the load is ahead of its centre of mass when the load is tilted
          end_share         share of the load on the chains of one end
Next door hoisting.py (slings that meet in the hook)
Symbols   φ tilt, positive where the rear end hangs lower; places forward and up of the centre of mass
Method    The chains are taken as equally long and parallel, the bar as long as the eyes are apart: bar and load tilt together while
          the chains stay upright. So their length does not count, and the load tilts further than on a plain sling.
Sources   [1] statics
"""

from __future__ import annotations

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, where


def travel_for_tilt(depth: Numbers, tilt: Numbers, eye: Numbers = 0.0) -> Numbers:
    """Distance of the hook along the bar, forward of above the centre of mass, for a tilt.

        s = (d + e)·tan φ

    depth     d, of the centre of mass below the line of the lifting eyes       m      > 0
    tilt      φ, positive where the rear end hangs lower                        rad    |φ| < π/2
    eye       e, height of the hook's eye above the bar                         m      ≥ 0
    returns   s                                                                 m      nan outside that range

    Source: statics of the method of this module.

    >>> f"{travel_for_tilt(0.25, np.radians(30.0), 0.04) * 1e3:.0f} mm"
    '167 mm'
    """
    depth, tilt, eye = as_floats(depth, tilt, eye)
    sound = (depth > 0) & (np.abs(tilt) < np.pi / 2) & (eye >= 0)
    return where(sound, (depth + eye) * np.tan(np.where(sound, tilt, 0.0)))


def level_shift(ahead: Numbers, above: Numbers, tilt: Numbers) -> Numbers:
    """Level distance of a point of the load ahead of its centre of mass, when the load is tilted.

        X = x·cos φ − z·sin φ

    ahead     x, on the load lying level                        m      any
    above     z, the same                                       m      any
    tilt      φ, positive where the rear end hangs lower        rad    |φ| ≤ π/2
    returns   X                                                 m      nan outside that range

    With the rear end low what lies above the centre of mass goes rearward. Source: geometry.

    >>> f"{level_shift(0.25, 0.20, np.radians(30.0)) * 1e3:.0f} mm"
    '117 mm'
    """
    ahead, above, tilt = as_floats(ahead, above, tilt)
    return where(np.abs(tilt) <= np.pi / 2, ahead * np.cos(tilt) - above * np.sin(tilt))


def end_share(here: Numbers, there: Numbers) -> Numbers:
    """Share of a load on upright chains at one place, by the lever rule.

        −X_there/(X_here − X_there)

    here      X of these eyes, ahead of the centre of mass          m    any
    there     X of the eyes of the other end                        m    other than here
    returns   share; below 0 where these chains go slack            1    nan outside that range

    Source: statics.

    >>> f"{end_share(0.117, -0.361):.2f}"
    '0.76'
    """
    here, there = as_floats(here, there)
    sound = here != there
    return where(sound, -there / np.where(sound, here - there, 1.0))
