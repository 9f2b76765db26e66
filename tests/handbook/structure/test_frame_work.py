"""Virtual work member by member against beam formulas."""

from __future__ import annotations

import numpy as np
import pytest

from trialfit.handbook.structure.frame_work import combine, work_of_members


def test_a_softer_member_gives_more_in_proportion() -> None:
    """Half the stiffness, twice its part; and a stiffness of nothing has no answer."""
    moment = np.array([[500.0, 0.0]])
    parts = work_of_members(moment, moment / 1000.0, 0.5, np.array([2e4, 1e4, 0.0]))

    assert parts[1] == pytest.approx(2 * parts[0])
    assert np.isnan(parts[2])


def test_a_pull_that_does_not_change_along_the_member() -> None:
    """F·L/(E·A)."""
    assert work_of_members(np.array([800.0, 800.0]), np.array([1.0, 1.0]), 0.6, 2e7) == pytest.approx(800 * 0.6 / 2e7)


def test_loads_add_up() -> None:
    """Two draws of two loads."""
    answers = np.arange(12.0).reshape(2, 2, 3)

    assert combine(np.array([[1.0, 0.0], [2.0, -1.0]]), answers) == pytest.approx(
        np.stack([answers[0], 2 * answers[0] - answers[1]])
    )
