"""A load on one or two eyes against the least height of its centre of mass, tried out turn by turn."""

from __future__ import annotations

import numpy as np
import pytest

from trialfit.handbook.lifting.hoisting import hook_as_it_hangs


def turned(point: np.ndarray, about: np.ndarray, axis: np.ndarray, angles: np.ndarray) -> np.ndarray:
    """A point turned about an axis by each angle (Rodrigues)."""
    axis = axis / np.linalg.norm(axis)
    arm = point - about
    cos, sin = np.cos(angles)[:, None], np.sin(angles)[:, None]
    return about + arm * cos + np.cross(axis, arm) * sin + axis * (arm @ axis) * (1 - cos)


@pytest.mark.parametrize("seed", range(4))
def test_two_eyes_come_to_rest_where_the_centre_is_lowest(seed: int) -> None:
    """Of all turns of the triangle of the legs about its eyes, the one with the centre furthest below the hook; the forces balance."""
    rng = np.random.default_rng(seed)
    eyes = np.array([[0.2, 0.25, 0.8], [0.1, -0.25, 0.75]]) + rng.normal(0, 0.1, (2, 3))
    hook, centre = np.array([0.0, 0.0, 1.3]), np.array([-0.1, 0.05, 0.5]) + rng.normal(0, 0.05, 3)
    every = turned(hook, eyes[0], eyes[1] - eyes[0], np.linspace(-np.pi, np.pi, 20001))
    lowest = every[np.argmax(np.linalg.norm(every - centre, axis=1))]

    at = np.asarray(hook_as_it_hangs(eyes, hook, centre))

    assert at == pytest.approx(lowest, abs=3e-4)
    legs, up = at - eyes, (at - centre) / np.linalg.norm(at - centre)
    assert np.linalg.norm(legs, axis=1) == pytest.approx(np.linalg.norm(hook - eyes, axis=1))
    pulls, *_ = np.linalg.lstsq(legs.T, up, rcond=None)
    assert legs.T @ pulls == pytest.approx(up)  # weight and legs in one plane, through one point


def test_one_eye_has_the_centre_straight_below_it() -> None:
    """Hook, eye and centre of mass in one line, the eye between them."""
    eye, centre = np.array([0.2, 0.0, 0.8]), np.array([-0.1, 0.1, 0.5])
    at = np.asarray(hook_as_it_hangs(eye[None], np.array([-0.1, 0.0, 1.3]), centre))

    assert np.cross(at - eye, eye - centre) == pytest.approx(np.zeros(3))
    assert (at - eye) @ (eye - centre) > 0
