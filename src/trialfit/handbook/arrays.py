"""One habit for every formula: floats in, float out; arrays in, arrays out; nan where a formula does not hold.

Answers   Array      floats along any number of axes
          Numbers    what a formula takes and returns: one float or an array
          as_floats  the arguments of a formula as float arrays
          where      the value where it is sound, nan elsewhere
          plain      an array without axes as a float
Not here  formulas
"""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeAlias, cast

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

Array: TypeAlias = "NDArray[np.float64]"
"""Floats along any number of axes."""
Numbers: TypeAlias = "float | Array"
"""One float or an array of them."""


def as_floats(*values: Numbers) -> tuple[Array, ...]:
    """Every value as an array of floats, in the order given; shapes are left alone.

    >>> as_floats(1, [2, 3])
    (array(1.), array([2., 3.]))
    """
    return tuple(np.asarray(value, dtype=np.float64) for value in values)


def where(sound: NDArray[np.bool_] | np.bool_, value: Numbers) -> Numbers:
    """`value` where `sound`, nan elsewhere: one bad draw among thousands is nan, never an exception or a clip.

    Both broadcast. A result without axes comes back as a plain float.

    >>> where(np.array([True, False]), 3.0)
    array([ 3., nan])
    """
    return cast("Numbers", np.where(sound, value, np.nan)[()])


def plain(value: Numbers) -> Numbers:
    """The value itself; an array without axes comes back as a float.

    >>> plain(np.array(3.0))
    np.float64(3.0)
    """
    return cast("Numbers", np.asarray(value, dtype=np.float64)[()])
