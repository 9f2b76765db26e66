"""Do floats stay floats, arrays arrays, and bad draws alone?"""

from __future__ import annotations

import numpy as np

from trialfit.handbook.arrays import as_floats, plain, where


def test_where_keeps_sound_values_and_marks_the_rest() -> None:
    """Arrays keep their shape, a single value comes back as a float."""
    assert isinstance(where(np.True_, 2.0), float)
    assert np.isnan(where(np.False_, 2.0))
    np.testing.assert_array_equal(where(np.array([True, False]), np.array([1.0, 2.0])), [1.0, np.nan])


def test_as_floats_turns_everything_into_float_arrays() -> None:
    """Whole numbers too: integer arithmetic would cut off what stands behind the point."""
    one, many = as_floats(1, [1, 2])

    assert one.dtype == many.dtype == np.float64
    assert one.shape == ()
    assert many.shape == (2,)


def test_plain_takes_off_the_axes_that_are_not_there() -> None:
    """A float from a single value, an array from an array."""
    assert isinstance(plain(np.array(1.0)), float)
    assert np.shape(plain(np.ones(2))) == (2,)
