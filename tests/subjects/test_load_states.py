"""The load states of a car in a builder's own words."""

from __future__ import annotations

import numpy as np
import pytest

from trialfit.book import read_text
from trialfit.evaluation.evaluation import Evaluation, MissingFact
from trialfit.parts import KINDS
from trialfit.parts.reading import read_part
from trialfit.subjects import load_states

CAR = """
[car]
mass = "1000 ± 0 kg"
rear_axle_mass = "450 ± 0 kg"
wheelbase = "2.5 ± 0 m"
load_per_seat = "75 ± 0 kg"
load_on_rear = "60 ± 0 %"
ball_overhang = "1 ± 0 m"
nose_share = "4 ± 0 %"
"""


def _ev(more: str = "", draws: int = 1) -> Evaluation:
    return Evaluation(read_text(CAR + more), draws)


def _by_name(in_states: load_states.InStates) -> dict[str, float]:
    return {name: float(value) for name, value in zip(in_states.names, np.asarray(in_states.values)[0], strict=True)}


def test_every_car_can_be_laden() -> None:
    assert load_states.names(read_text("[car]")) == ("as weighed", "laden")
    assert load_states.names(read_text("[engine]")) == ("as weighed", "laden")


def test_states_follow_from_what_is_written() -> None:
    ev = _ev('driver_only_mass = "940 kg"\ntrailer_mass = "800 kg"')

    assert load_states.names(ev.build) == ("as weighed", "driver only", "laden", "towing")


def test_a_car_of_five_seats_by_its_seats() -> None:
    ev = _ev('seats = "5"')

    assert _by_name(load_states.mass(ev)) == pytest.approx({"as weighed": 1000, "laden": 1300})
    assert _by_name(load_states.axle_mass(ev, "rear")) == pytest.approx({"as weighed": 450, "laden": 630})
    assert _by_name(load_states.axle_mass(ev, "front")) == pytest.approx({"as weighed": 550, "laden": 670})


def test_without_seats_or_plate_the_laden_mass_spans_a_single_seater_and_a_pickup() -> None:
    laden = np.asarray(load_states.mass(_ev(draws=500)).values)[1:, 1]

    assert laden.min() < 1040
    assert laden.max() > 1460


def test_what_is_on_the_plate_counts() -> None:
    ev = _ev('laden_mass = "1400 ± 0 kg"\nseats = "5"\nladen_rear_axle_mass = "780 ± 0 kg"')

    assert _by_name(load_states.mass(ev))["laden"] == 1400
    assert _by_name(load_states.axle_mass(ev, "rear"))["laden"] == 780
    assert _by_name(load_states.axle_mass(ev, "front"))["laden"] == 620


def test_a_front_axle_load_on_the_plate_counts_laden_and_towing() -> None:
    ev = _ev('laden_mass = "1400 ± 0 kg"\nladen_front_axle_mass = "700 ± 0 kg"\ntrailer_mass = "1000 ± 0 kg"')
    front = _by_name(load_states.axle_mass(ev, "front"))

    assert front["as weighed"] == pytest.approx(550)
    assert front["laden"] == pytest.approx(700)
    assert front["towing"] == pytest.approx(700 - 40 * 1 / 2.5)


def test_a_trailer_presses_on_the_rear_axle_and_lifts_the_front() -> None:
    """40 kg on a ball 1 m behind the axle of a 2.5 m wheelbase: 56 kg more behind, 16 kg less in front."""
    ev = _ev('seats = "1"\ntrailer_mass = "1000 ± 0 kg"')

    assert _by_name(load_states.mass(ev))["towing"] == pytest.approx(1040)
    assert _by_name(load_states.moved_mass(ev)) == pytest.approx({"as weighed": 1000, "laden": 1000, "towing": 2000})
    assert _by_name(load_states.axle_mass(ev, "rear"))["towing"] == pytest.approx(506)
    assert _by_name(load_states.axle_mass(ev, "front"))["towing"] == pytest.approx(534)


def test_the_driver_alone() -> None:
    ev = _ev('driver_only_mass = "900 ± 0 kg"')

    assert _by_name(load_states.mass(ev))["driver only"] == 900
    assert _by_name(load_states.axle_mass(ev, "rear"))["driver only"] == pytest.approx(450 - 0.6 * 100)


def test_a_missing_mass_is_named() -> None:
    ev = Evaluation(read_text("[car]"), 1)

    with pytest.raises(MissingFact) as missing:
        ev.of(load_states.rear_axle_masses)
    assert set(missing.value.wanted) == {"car.mass", "car.rear_axle_mass"}


@pytest.mark.parametrize(
    ("fact", "text", "says"),
    [
        ("driver_only_mass", "1.2 t", "is 1200 kg, above car.mass (1000 kg): expected the mass with the driver alone"),
        ("laden_mass", "900 kg", "is 900 kg, below car.mass (1000 kg): expected the permitted mass on the plate"),
    ],
)
def test_masses_that_contradict_each_other_are_refused(fact: str, text: str, says: str) -> None:
    _, problems = read_part("car", KINDS["car"], {"mass": "1000 kg", fact: text})

    (problem,) = problems
    assert problem.path == f"car.{fact}"
    assert says.partition(", ")[2] in problem.says


def test_a_rear_axle_that_bears_more_than_the_laden_car_is_refused() -> None:
    _, problems = read_part("car", KINDS["car"], {"laden_mass": "1400 kg", "laden_rear_axle_mass": "1500 kg"})

    assert "not below car.laden_mass (1400 kg)" in problems[0].says
