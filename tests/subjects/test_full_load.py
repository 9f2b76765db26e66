"""The one torque curve, whatever a builder has: many points, few, a peak and a power."""

from __future__ import annotations

import numpy as np
import pytest

from trialfit.book import read_text
from trialfit.evaluation.evaluation import Evaluation, MissingFact
from trialfit.parts import KINDS
from trialfit.parts.reading import read_part
from trialfit.subjects import full_load, line

RPM = np.pi / 30
FULL = "rpm : N·m ± 0 % | 1000 : 175 | 2000 : 228 | 3000 : 258 | 4000 : 265 | 5000 : 256 | 6000 : 232 | 6500 : 208"
TWO = "rpm : N·m ± 0 % | 1000 : 175 | 6500 : 208"
PEAKS = """peak_torque = "265 ± 0 N·m"
peak_torque_speed = "4000 ± 0 rpm"
power = "145.8 ± 0 kW"
power_speed = "6000 ± 0 rpm"
"""


def _ev(*entries: str, draws: int = 400) -> Evaluation:
    return Evaluation(read_text("[engine]\n" + "\n".join(entries)), draws)


def _curve(text: str) -> str:
    return f'torque_curve = "{text}"'


def test_a_curve_of_seven_points_is_taken_as_drawn() -> None:
    peak = _ev(_curve(FULL)).of(full_load.peak_torque)

    assert peak[0] == 265
    assert peak.max() < 1.01 * 265


def test_a_peak_between_two_far_points_is_within_the_spread() -> None:
    """The ends of the same curve alone: the nominal is the straight line, the draws reach the true peak."""
    peak = _ev(_curve(TWO)).of(full_load.peak_torque)

    assert peak[0] == 208
    assert peak.max() > 264
    assert np.mean(peak > 208) > 0.3


def test_a_written_peak_is_part_of_the_curve() -> None:
    ev = _ev(_curve(TWO), 'peak_torque = "265 ± 0 N·m"', 'peak_torque_speed = "4000 ± 0 rpm"')

    assert ev.of(full_load.peak_torque) == pytest.approx(265)
    assert line.torque_at(ev, np.full(ev.draws, 4000 * RPM)) == pytest.approx(265)
    curve = ev.of(full_load.torque_curve)
    assert (curve.y <= 265 + 1e-9).all()


def test_the_power_is_a_point_of_the_curve_too() -> None:
    ev = _ev(_curve(TWO), 'power = "145.8 ± 0 kW"', 'power_speed = "6000 ± 0 rpm"')

    assert line.torque_at(ev, np.full(ev.draws, 6000 * RPM)) == pytest.approx(145.8e3 / (6000 * RPM))


def test_two_peaks_are_enough_to_begin() -> None:
    """Against the full curve of the same engine: within the spread everywhere, and exact at the peaks."""
    ev = _ev(PEAKS, 'max_speed = "6500 ± 0 rpm"', 'idle_speed = "1000 ± 0 rpm"')
    curve = ev.of(full_load.torque_curve)

    assert ev.of(full_load.peak_torque) == pytest.approx(265)
    for rpm, torque in ((1001, 175), (2000, 228), (3000, 258), (5000, 256), (6500, 208)):
        drawn = line.torque_at(ev, np.full(ev.draws, rpm * RPM))
        assert drawn.min() <= torque <= drawn.max() * 1.001, rpm
    assert curve.x[-1] == pytest.approx(6500 * RPM)


def test_a_motor_has_its_peak_torque_from_rest() -> None:
    ev = _ev(
        'runs_on = "electricity"',
        'peak_torque = "165 ± 0 N·m"',
        'peak_torque_speed = "3600 ± 0 rpm"',
        'power = "62 ± 0 kW"',
        'power_speed = "3600 ± 0 rpm"',
        'max_speed = "11000 rpm"',
    )

    assert line.torque_at(ev, np.zeros(ev.draws)) == pytest.approx(165)
    assert line.starts_from_rest(ev.build)


def test_peak_torque_alone_is_enough_for_strength() -> None:
    ev = _ev('peak_torque = "265 ± 0 N·m"')

    assert ev.of(full_load.peak_torque) == pytest.approx(265)
    with pytest.raises(MissingFact) as missing:
        ev.of(full_load.torque_curve)
    assert set(missing.value.wanted) == {"engine.peak_torque_speed", "engine.power", "engine.power_speed"}


def test_without_anything_the_curve_is_asked_for() -> None:
    for asked in (full_load.torque_curve, full_load.peak_torque):
        with pytest.raises(MissingFact) as missing:
            _ev().of(asked)
        assert set(missing.value.wanted) == {"engine.torque_curve"}


def test_a_curve_goes_on_to_the_limit() -> None:
    """What it gives there is a share of its peak power; torque and shaft speed end at the limit, not at the last point."""
    ev = _ev(_curve(FULL.partition(" | 6000")[0]), 'max_speed = "6200 ± 0 rpm"', 'power_at_limit = "90 ± 0 %"')
    at_limit = line.torque_at(ev, np.full(ev.draws, 6200 * RPM))

    assert at_limit == pytest.approx(0.9 * 256 * 5000 / 6200)


def test_a_petrol_engine_with_a_point_at_rest_does_not_start_without_a_clutch() -> None:
    assert not line.starts_from_rest(read_text('[engine]\ntorque_curve = "rpm : N·m | 0 : 150 | 6000 : 200"'))


@pytest.mark.parametrize(
    ("facts", "path", "says"),
    [
        (
            {"peak_torque": "190 N·m, manual", "power": "155 hp, manual", "power_speed": "5500 rpm, manual"},
            "engine.power",
            "which at 5500 rpm takes 201 N·m, more than engine.peak_torque",
        ),
        (
            {"peak_torque_speed": "5000 rpm", "power_speed": "4000 rpm"},
            "engine.power_speed",
            "below engine.peak_torque_speed (5000 rpm): expected a speed above it",
        ),
        (
            {"power_speed": "9000 rpm", "max_speed": "6500 rpm"},
            "engine.power_speed",
            "above engine.max_speed (6500 rpm): expected a speed that the engine reaches",
        ),
    ],
)
def test_peaks_that_contradict_each_other_are_refused(facts: dict[str, str], path: str, says: str) -> None:
    _, problems = read_part("engine", KINDS["engine"], facts)

    (problem,) = [one for one in problems if one.path == path]
    assert says in problem.says
