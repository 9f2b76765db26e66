"""Round tubes and bars: which two diameters belong to one.

Answers   is_tube   whether two diameters can belong to one tube or bar
Not here  strength of a tube (torque_path/torsion.py), how fast it may turn (driveline/whirling.py)
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from trialfit.handbook.arrays import Array


def is_tube(outside_diameter: Array, inside_diameter: Array) -> NDArray[np.bool_]:
    """Whether two diameters can belong to one tube, or to a bar where the inside is 0.

        0 ≤ d < D

    outside_diameter   D    m
    inside_diameter    d    m    0 for a bar
    returns            bool

    Source: geometry.

    >>> import numpy as np
    >>> is_tube(np.array([0.05, 0.05, 0.05]), np.array([0.0, 0.046, 0.06]))
    array([ True,  True, False])
    """
    sound: NDArray[np.bool_] = (outside_diameter > 0) & (inside_diameter >= 0) & (inside_diameter < outside_diameter)
    return sound
