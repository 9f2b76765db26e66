"""Several readings become one fact: its mean, its spread, its note, and what the findings say then."""

from __future__ import annotations

import pytest

from trialfit.advice.recording import record
from trialfit.book import BadInput, read
from trialfit.evaluation.verdict import Verdict
from trialfit.facts.provenance import Provenance

TEXT = """# by hand
[car]
rear_suspension = "independent"
[gearbox]
ratios = ["3.5"]
output_x = "-1000 ± 1 mm"
output_y = "0 ± 1 mm"
output_z = "400 ± 1 mm"
output_surge = "0.5 ± 0.1 mm"
[prop_shaft]
after = "gearbox"
slip_gap = "12 ± 4 mm, guess"
[final_drive]
after = "prop_shaft"
input_x = "-2200 ± 1 mm"
input_y = "0 ± 1 mm"
input_z = "390 ± 1 mm"
"""
FINDING, PATH = "driveline.slip.gap", "prop_shaft.slip_gap"


@pytest.fixture
def file(tmp_path):
    """A build whose slip gap is a guess; its finding wants 10 mm."""
    path = tmp_path / "mine.toml"
    path.write_text(TEXT, encoding="utf-8")
    return path


def _written(file):
    return read(file).parts["prop_shaft"].slip_gap.written


def test_the_mean_has_the_spread_of_the_instrument_and_of_its_own_scatter(file):
    """11, 12, 13 mm: scatter 1 mm, mean 12, U = 4.53·1/√3 = 2.61 mm with Student's factor for two degrees of freedom."""
    found = record(file, PATH, ["11 mm, calipered", "12", "13"], draws=64)
    fact = _written(file)

    assert (found.mean, found.scatter) == ("12 mm", "1 mm")
    assert found.coverage_factor == pytest.approx(4.53, abs=0.02)
    assert fact.si == pytest.approx(12e-3)
    assert fact.spread.plus == pytest.approx(4.53e-3 / 3**0.5, rel=0.05)  # to two figures, upwards
    assert found.instrument == "± 0.05 mm"


def test_readings_that_agree_leave_the_spread_of_the_instrument(file):
    """Repeating does not make a caliper finer."""
    record(file, PATH, ["12 mm"] * 8, method="caliper", draws=64)

    assert _written(file).spread.plus == pytest.approx(0.05e-3, rel=0.1)
    assert _written(file).provenance is Provenance.calipered


def test_one_reading_is_itself(file):
    found = record(file, PATH, ["12.5 mm, taped"], draws=64)

    assert (found.scatter, found.coverage_factor, found.warning) == ("", 2, "")
    assert (_written(file).si, _written(file).provenance) == (pytest.approx(12.5e-3), Provenance.taped)
    assert _written(file).spread.plus == pytest.approx(2e-3, rel=0.06)  # k = 2 for 95 %, to two figures, upwards


def test_the_findings_that_stand_on_it_are_told_before_and_after_the_named_one_first(file):
    found = record(file, FINDING, ["11.6 mm", "11.7"], method="caliper", fact=PATH, draws=512)
    turn = found.findings[0]

    assert (turn.finding, turn.before, turn.after) == (FINDING, Verdict.unsettled, Verdict.holds)
    assert turn.margin_before.high - turn.margin_before.low > turn.margin_after.high - turn.margin_after.low
    assert (found.path, found.before) == (PATH, "12 ± 4 mm, guess")


def test_a_reading_out_of_line_counts_and_is_pointed_out(file):
    found = record(file, PATH, ["11.6 mm", "11.7", "11.65", "11.6", "21.6"], method="caliper", draws=64)

    assert [line.number for line in found.readings if line.is_out_of_line] == [5]
    assert all(line.counts for line in found.readings)
    assert "21.6" in found.warning
    assert _written(file).si == pytest.approx(13.63e-3, abs=0.05e-3)


def test_a_reading_left_out_does_not_count_and_its_reason_stays_in_the_note(file):
    found = record(
        file, PATH, ["11.6 mm", "11.7", "21.6"], method="caliper", leave_out=3, because="read in inches", draws=64
    )

    assert [line.counts for line in found.readings] == [True, True, False]
    assert _written(file).si == pytest.approx(11.65e-3)
    assert "21.6" in _written(file).note
    assert "read in inches" in _written(file).note


def test_what_writes_it_is_given_path_and_value(file):
    """A book has its own way to write an entry."""
    from trialfit.book.changing import change_entry

    given = []

    def write(path, value):
        given.append((path, value))
        return change_entry(file, path, value)

    record(file, PATH, ["12 mm, taped"], draws=64, write=write)

    ((path, value),) = given
    assert path == PATH
    assert value.startswith("12")


@pytest.mark.parametrize(
    ("readings", "more", "where"),
    [
        ([], {}, ""),
        (["12 mm"] * 201, {}, ""),
        (["12 kg"], {"method": "caliper"}, "reading 1"),
        (["12 mm", "wide"], {"method": "caliper"}, "reading 2"),
        (["12 mm", "-3"], {"method": "caliper"}, "reading 2"),
        (["12"], {"method": "caliper"}, "reading 1"),
        (["12 mm"], {}, "reading 1"),
        (["12 mm"], {"method": "calliper"}, "--method"),
        (["12 mm", "13"], {"method": "caliper", "leave_out": 3, "because": "x"}, "--leave-out"),
        (["12 mm", "13"], {"method": "caliper", "leave_out": 0, "because": "x"}, "--leave-out"),
        (["12 mm", "13"], {"method": "caliper", "leave_out": 2, "because": " "}, "--leave-out"),
        (["12 mm"], {"method": "caliper", "leave_out": 1, "because": "x"}, "--leave-out"),
        (["12 mm", "13"], {"method": "caliper", "because": "x"}, "--because"),
    ],
)
def test_what_cannot_be_meant_is_refused_at_its_place_and_the_file_stays(file, readings, more, where):
    with pytest.raises(BadInput) as caught:
        record(file, PATH, readings, draws=16, **more)

    (problem,) = caught.value.problems
    assert problem.path == where
    assert file.read_text(encoding="utf-8") == TEXT


def test_a_method_for_another_quantity_is_refused_with_those_that_fit(file):
    from trialfit.handbook.measuring import METHODS

    other = next(name for name, one in METHODS.items() if one.quantity != "length")
    with pytest.raises(BadInput) as caught:
        record(file, PATH, ["12 mm"], method=other, draws=16)

    assert "caliper" in caught.value.problems[0].says
