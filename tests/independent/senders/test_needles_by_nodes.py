"""Needles by another route: the circuit solved node by node, the dial read by halving, every pair of resistors tried one by one.

Nothing of the handbook is used. Battery, gauge, resistors and sender are a network of two unknown nodes; the gauge is in balance with
the resistance that takes the same current. The place of the needle is found by halving over the gauge's own curve.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from thorough import some

from trialfit.book import read_text
from trialfit.evaluation.evaluation import Evaluation
from trialfit.evaluation.verdict import Verdict
from trialfit.evaluation.working import work_out
from trialfit.handbook.senders.sender_resistors import best_pair
from trialfit.subjects.senders import requirements

MANY = range(700)
NEAR = 0.012
"""Share of the scale: the program looks at 81 places, this at 401, and the needle's own corners may lie between two."""

VOLTS, GAUGE = 12.0, 60.0
PLACES = 401


class Circuit:
    """One pressure gauge with a sender and up to two resistors, by its numbers in bar and Ω."""

    def __init__(self, seed: int) -> None:
        """Draw it: two thirds near enough to hold, the rest anything."""
        one = np.random.default_rng(seed)
        self.at = np.array([0.0, *np.sort(one.uniform(1, 9, 2)), 10.0])
        self.needs = np.sort(one.uniform(20, 250, 4))[:: one.choice([-1, 1])]
        near = one.random() < 0.75
        self.has = np.maximum(
            self.needs * (1 + one.uniform(-0.05, 0.05)) + one.uniform(-2, 2, 4) if near else one.uniform(5, 300, 4), 1.0
        )
        bare = 0.95 if near else 0.5
        self.series = float(one.choice([0.0, one.uniform(1, 200)], p=[bare, 1 - bare]))
        self.across = float(one.choice([math.inf, one.uniform(1, 500)], p=[bare, 1 - bare]))
        self.limit = one.uniform(0.6, 4.0)

    def text(self) -> str:
        """The same as a build."""

        def curve(ohms: np.ndarray) -> str:
            return "bar : Ω ± 0 % | " + " | ".join(f"{x} : {r}" for x, r in zip(self.at, ohms, strict=True))

        fitted = f'series_resistor = "{self.series} ± 0 Ω"\n' if self.series else ""
        fitted += f'parallel_resistor = "{self.across} ± 0 Ω"\n' if math.isfinite(self.across) else ""
        return (
            f'[s]\nkind = "sender"\nearth_resistance = "0 ± 0 Ω"\npressure_curve = "{curve(self.has)}"\n'
            f'[g]\nkind = "gauge"\nsender = "s"\nmeasures = "pressure"\nlimit_pressure = "{self.limit} ± 0 bar"\n'
            f'pressure_curve = "{curve(self.needs)}"\n{fitted}'
        )

    def balance(self, bar: np.ndarray) -> np.ndarray:
        """What the gauge sees, from the current that flows through it: nodes at its foot and at the sender."""
        sender = 1 / np.interp(bar, self.at, self.has)
        across = 1 / self.across if math.isfinite(self.across) else 0.0
        wire, gauge = 1 / max(self.series, 1e-6), 1 / GAUGE
        network = np.zeros((len(bar), 2, 2))
        network[:, 0, 0], network[:, 0, 1], network[:, 1, 0] = gauge + wire, -wire, -wire
        network[:, 1, 1] = wire + sender + across
        foot = np.linalg.solve(network, np.tile([[gauge * VOLTS], [0.0]], (len(bar), 1, 1)))[:, 0, 0]
        return foot / ((VOLTS - foot) * gauge)

    def shows(self, bar: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """Where the needle stands, and whether it is off its stops, by halving over the dial."""
        ohms = self.balance(bar)
        low, high = np.zeros(len(bar)), np.full(len(bar), 10.0)
        for _ in range(40):
            middle = (low + high) / 2
            beyond = (np.interp(middle, self.at, self.needs) < ohms) == (self.needs[-1] > self.needs[0])
            low, high = np.where(beyond, middle, low), np.where(beyond, high, middle)
        return (low + high) / 2, (self.needs.min() <= ohms) & (ohms <= self.needs.max())

    def worst(self) -> tuple[float, float, float, bool]:
        """Worst error, share of the scale; at the limit the error, bar; the needle's way from end to end; off its stops there."""
        places = np.linspace(0, 10, PLACES)
        shown, _ = self.shows(places)
        (at_limit,), (off_stops,) = self.shows(np.array([self.limit]))
        worst = float(np.abs(shown - places).max() / 10)
        return worst, float(at_limit - self.limit), float(shown[-1] - shown[0]) / 10, bool(off_stops)


def test_needles_agree_node_by_node():
    """Worst error, error at the limit, and both verdicts; those within NEAR of a limit may go either way."""
    apart, judged, read = 0.0, {True: 0, False: 0}, {True: 0, False: 0}
    for seed in some(MANY):
        circuit = Circuit(seed)
        build = read_text(circuit.text())
        asked = [one for one in requirements(build) if one.id in ("senders.g.over_range", "senders.g.reading_at_limit")]
        report = work_out(Evaluation(build, 1), asked)
        over, at_limit, way, off_stops = circuit.worst()
        found = report["senders.g.over_range"]
        apart = max(apart, abs(found.value.nominal / 100 - over))
        if abs(over - 0.10) > NEAR:
            assert (found.verdict is Verdict.holds) == (over < 0.10), seed
            judged[over < 0.10] += 1
        reading = report["senders.g.reading_at_limit"]
        tells = off_stops and way >= 0.3
        if abs(at_limit - 0.3) > 1e-6 and abs(way - 0.3) > 1e-6:
            assert (reading.verdict is Verdict.holds) == (tells and at_limit <= 0.3), seed
            read[tells and at_limit <= 0.3] += 1
        if tells or at_limit > 0.3:
            assert reading.value.nominal == pytest.approx(at_limit, abs=1e-4)

    print(f"needles: {judged} over the range, {read} at the limit, worst disagreement {apart:.4f} of the scale")
    assert apart <= NEAR
    assert min(*judged.values(), *read.values()) >= 0.2 * len(some(MANY))


@pytest.mark.parametrize("seed", some(range(50)))
def test_the_pair_is_the_best_of_all_that_can_be_bought(seed):
    """A grid of E12 values, one by one: no sound pair leaves less, and a named pair lets the needle swing."""
    one = np.random.default_rng(seed)
    levels = np.linspace(0, 1, 21)
    gauge = np.array([one.uniform(150, 260), one.uniform(10, 60)])
    sender = gauge * one.uniform(0.7, 2.5) if one.random() < 0.7 else one.uniform(5, 300, 2)
    ohms = sender[0] + levels * (sender[1] - sender[0])
    decade = [1.0, 1.2, 1.5, 1.8, 2.2, 2.7, 3.3, 3.9, 4.7, 5.6, 6.8, 8.2]
    values = [v * 10**d for d in range(-2, 5) for v in decade]

    def left(series: float, across: float) -> tuple[float, float]:
        seen = series + (ohms if math.isinf(across) else ohms * across / (ohms + across))
        shown = np.clip((gauge[0] - seen) / (gauge[0] - gauge[1]), 0, 1)
        return float(np.abs(shown - levels).max()), float(shown[-1] - shown[0])

    found = best_pair(levels, ohms, [0.0, 1.0], gauge, "E12", by_temperature=False)
    error, swing = left(found.series, found.parallel)
    bare = left(0.0, math.inf)[0]
    assert error == pytest.approx(found.largest_error, abs=1e-9)
    if bare <= 0.03:
        assert (found.series, found.parallel) == (0.0, math.inf)
        return
    tried = [
        (e + 0.01 * ((s > 0) + math.isfinite(p)), s, p)
        for s in [0.0, *(v for v in values if gauge.max() * 1e-3 <= v <= gauge.max())]
        for p in [
            math.inf,
            *(v for v in values if max(ohms.max(), gauge.max()) * 1e-3 <= v <= max(ohms.max(), gauge.max()) * 100),
        ]
        for e, w in [left(s, p)]
        if e <= 0.15 and w >= 0.7
    ]
    assert found.helps == bool(tried)
    if tried:
        cost = error + 0.01 * ((found.series > 0) + math.isfinite(found.parallel))
        assert swing >= 0.7
        assert cost <= min(tried)[0] + 1e-9
