"""Automatic, transfer case, trailer, power alone: what a builder may write wrong or leave out, and what is said of it."""

from __future__ import annotations

import pytest

from trialfit.book import BadInput, read_text
from trialfit.evaluation.unusual import questions
from trialfit.evaluation.verdict import Verdict

CONVERTER = '[torque_converter]\nstall_speed = "2200 rpm, manual"\nstall_torque_ratio = "2.1"\n'


def test_power_alone_holds_nothing_and_names_what_is_enough(line) -> None:
    """300 hp at an unknown speed may be any torque."""
    alone = line({"engine.power": "300 hp, manual"}, without=("engine.torque_curve",))

    assert {one.verdict for one in alone.values()} == {Verdict.unknown}
    assert set(alone["gearbox"].missing) == {"engine.peak_torque", "engine.peak_torque_speed", "engine.power_speed"}


def test_a_clutch_and_a_converter_are_not_fitted_both(line) -> None:
    with pytest.raises(BadInput, match="torque_converter has the place clutch, which clutch already has: remove one"):
        line(also=CONVERTER)


@pytest.mark.parametrize(("ratio", "asked"), [("0.5", ["transfer_case.ratio"]), ("1.00", [])])
def test_a_transfer_case_the_wrong_way_round_is_asked_about(ratio: str, asked: list[str]) -> None:
    """Halved, every shaft behind it sees half: that is a fraction upside down."""
    found = questions(read_text(f'[transfer_case]\nratio = "{ratio}"\n'))

    assert [one.path for one in found] == asked


def test_a_low_range_that_is_no_slower_is_refused(line) -> None:
    with pytest.raises(BadInput, match=r"low_ratio.* not above transfer_case\.ratio"):
        line(also='[transfer_case]\nratio = "1.4"\nlow_ratio = "1.2"\n')


def test_a_trailer_that_pushes_in_braking_loads_the_studs(line) -> None:
    """What the trailer puts on the coupling ball the rear wheels brake too."""
    alone, pulled = line()["studs.rear"], line({"car.trailer_mass": "3000 kg, manual"})["studs.rear"]

    assert pulled.value.nominal < alone.value.nominal
    assert pulled.state == "towing, braking"


def test_a_low_range_without_its_ratio_is_asked_for(line) -> None:
    """What is behind it is worst there: nothing holds until the ratio is known, or the build says that there is no low range."""
    case = '[transfer_case]\nrated_torque = "700 N·m, catalogue"\n'
    bad, mended = line(also=case), line(also=f'{case}low_range = "none"\n')

    assert bad["joint.front"].verdict is Verdict.unknown
    assert set(bad["joint.front"].missing) == {"transfer_case.low_ratio"}
    assert bad["gearbox"].verdict is Verdict.holds
    assert mended["joint.front"].verdict is Verdict.holds
    with pytest.raises(BadInput, match='low_range is "none": remove one of the two'):
        line(also=f'{case}low_range = "none"\nlow_ratio = "2.5"\n')


def test_a_value_just_at_its_bound_has_no_draws_beyond_it(line) -> None:
    """A converter that multiplies by 1.0 ± 0.01: half of that spread cannot be, and what is left is judged."""
    fitted = line(also=CONVERTER.replace('"2.1"', '"1.0 ± 0.01"'), without=("clutch",))["gearbox"]

    assert fitted.verdict is Verdict.holds
    assert "outside the range of the formula" not in fitted.remark
