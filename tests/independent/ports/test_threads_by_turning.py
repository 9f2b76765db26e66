"""Threads by another route: two profiles laid over each other, turned and pushed until they collide.

Nothing of the handbook is used. Each thread is the outline of its flanks in the plane through the axis, point by point; the male one is
moved in by its own lead in small steps, and slid along the hole to find whether there is any place at which the metal does not overlap.
"""

from __future__ import annotations

import math

import numpy as np
from thorough import some

from trialfit.handbook.ports.port_threads import System, known_threads
from trialfit.handbook.ports.thread_mating import Meeting, meet

MANY = range(3000)
STEP = 0.05
"""Turns from one look to the next."""

MOST = 12.0
"""Turns after which it counts as free."""


def gap_along(male, female, turns: float) -> float:
    """Room [m] that the male thread has along the axis, turned in by so many turns, ridge by ridge; negative where metal overlaps.

    A ridge sits in a groove with play tan(α/2) times the room between pitch diameters; every further ridge stands off its groove by
    the difference of the pitches, and of a taper every further one is thicker.
    """
    slope = math.tan(min(male.flank_angle, female.flank_angle) / 2)
    ridges = np.arange(0.0, turns + 1e-9, STEP)
    growth = 1 / 16 if male.is_tapered or female.is_tapered else 0.0
    room = female.pitch_diameter - (male.pitch_diameter - male.back)
    # the tip has gone in by `turns` pitches: a taper has narrowed the room there by what it grows over them
    narrowed = room - growth * male.pitch * turns
    ahead = ridges * (male.pitch - female.pitch)
    play = narrowed * slope
    # both sides of all engaged ridges must find room at once: slide the male thread to the middle of what it needs
    return float(play - (ahead.max() - ahead.min()))


def turns_by_trying(male, female) -> float:
    """Turns until nothing is left, in steps; inf where it never stops."""
    for count in range(int(MOST / STEP)):
        if gap_along(male, female, count * STEP) < 0:
            return max(count - 1, 0) * STEP
    return math.inf


def test_pairs_turn_in_as_far_as_their_outlines_let_them():
    """Pairs of the tables at random: turns before they bind within two steps, and what is free is free."""
    threads = [thread for thread in known_threads() if thread.system is not System.parallel]
    apart, seen = 0.0, {"binds": 0, "free": 0, "no start": 0}
    one = np.random.default_rng(5)
    pairs = one.integers(0, len(threads), (len(MANY), 2))
    for first, second in [pairs[n] for n in some(MANY)]:
        male, female = threads[first], threads[second]
        if female.system is System.keg:
            continue
        met = meet(male, female)
        found = turns_by_trying(male, female)
        if met.meeting is Meeting.same:
            continue
        if math.isinf(found):
            assert met.turns > MOST - 2 * STEP
            seen["free"] += 1
            continue
        apart = max(apart, abs(min(met.turns, MOST) - found))
        seen["no start" if found == 0 else "binds"] += 1

    print(f"pairs: {seen}, worst disagreement {apart:.2f} turns")
    assert apart <= 2 * STEP
    assert seen["binds"] >= 0.02 * len(some(MANY))
