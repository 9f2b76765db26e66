"""A way out on the hoist, in words."""

from __future__ import annotations

import numpy as np
import pytest

from trialfit.subjects.clearance.way_out import Path


@pytest.mark.parametrize(
    ("path", "said"),
    [
        (Path(), "straight up"),
        (Path(0.1), "100 mm forward while it rises through the first third, then straight up"),
        (
            Path(-0.1, np.radians(-20)),
            "100 mm back and nose down by 20° while it rises through the first third, then straight up",
        ),
    ],
)
def test_a_way_is_said_with_its_side_and_without_a_sign(path, said):
    """Back by 100 mm, not by minus 100."""
    assert str(path) == said
