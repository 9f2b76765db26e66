"""Which thread it is, by another route: threads are made, measured badly, and handed over; how often is the answer right?

Nothing of the handbook's likelihoods is used: a thread of the tables is drawn, its diameter anywhere in its tolerance, the readings around
it; one in twenty is of no standard at all. What the program calls likely must come true as often as it says.
"""

from __future__ import annotations

import numpy as np
from thorough import some

from trialfit.handbook.ports.port_ends import Gender
from trialfit.handbook.ports.port_threads import System, known_threads
from trialfit.handbook.ports.thread_identity import Reading, crest_band, identify, no_thread

MANY = range(4000)
CALIPER, GAUGE = 0.05e-3, 0.03e-3


def test_what_is_called_likely_comes_true_as_often():
    """Of male threads: the share of strangers among all, among those called strange, and of first guesses that are right."""
    threads = [thread for thread in known_threads() if thread.system is not System.parallel]
    one = np.random.default_rng(11)
    said, strange, right, promised = [], [], [], []
    for _ in some(MANY):
        stranger = one.random() < 0.05
        if stranger:
            diameter, pitch, thread = one.uniform(3e-3, 40e-3), one.uniform(0.4e-3, 3e-3), None
        else:
            thread = threads[one.integers(len(threads))]
            diameter, pitch = one.uniform(*crest_band(thread, Gender.male)), thread.pitch
        reading = Reading(
            Gender.male, diameter + one.normal(0, CALIPER / 2), CALIPER, pitch + one.normal(0, GAUGE / 2), GAUGE
        )
        said.append(no_thread(reading))
        strange.append(stranger)
        found = identify(reading)
        if found:
            promised.append(sum(c.likelihood for c in found if c.thread.is_of_the_same_form(found[0].thread)))
            right.append(thread is not None and found[0].thread.is_of_the_same_form(thread))

    called = np.array(said) > 0.5
    among = np.mean(np.array(strange)[called])
    print(f"strangers: {np.mean(said):.3f} said, {np.mean(strange):.3f} made; {among:.2f} of {called.sum()} called so")
    print(f"first guesses: {np.mean(promised):.3f} promised, {np.mean(right):.3f} right")
    allowed = 3 * (0.05 * 0.95 / len(said)) ** 0.5
    assert abs(np.mean(said) - np.mean(strange)) <= allowed
    assert among > 0.8
    assert abs(np.mean(promised) - np.mean(right)) <= 0.01 + 3 * (0.1 * 0.9 / len(right)) ** 0.5
