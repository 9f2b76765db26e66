"""Which fact readings are of: the one that is named, or the only one a finding hangs on that such readings can be of."""

from __future__ import annotations

import pytest

from trialfit.advice.measured_fact import place_of
from trialfit.book import BadInput
from trialfit.facts.quantity import LENGTH, MASS, RATIO
from trialfit.subjects.catalogue import evaluate


def _place(build, named, *readings, wanted=None):
    return place_of(build, evaluate(build, 64), named, wanted or named, readings)


def test_a_path_names_its_fact_with_its_bounds(build):
    place = _place(build(), "prop_shaft.slip_gap", "30 mm")

    assert (place.path, place.quantity) == ("prop_shaft.slip_gap", LENGTH)
    assert place.bounds.admit(0.03)
    assert not place.bounds.admit(-0.03)
    assert place.says == build().parts["prop_shaft"].specs()["slip_gap"].says


def test_a_place_in_a_list_and_a_part_that_is_not_written_yet_can_be_named(build):
    assert _place(build(), "gearbox.ratios.2", "2.1").quantity == RATIO
    assert _place(build(), "engine.max_speed", "6500 rpm").path == "engine.max_speed"


def test_a_finding_that_hangs_on_one_fact_leads_to_it(build):
    assert _place(build(), "bench.reach", "1100 mm").path == "prop_shaft.length"
    assert _place(build(), "bench.figure", "1100 mm").path == "prop_shaft.length"


def test_of_several_facts_the_unit_of_the_reading_decides(build):
    """The grip hangs on a mass and a friction: kilograms can only be the mass."""
    place = _place(build(), "bench.grip", "812 kg")

    assert (place.path, place.quantity) == ("car.mass", MASS)


def test_of_several_facts_the_missing_one_is_meant(build):
    assert _place(build(slip_gap=None), "bench.gap", "30 mm").path == "prop_shaft.slip_gap"


def test_where_several_fit_all_are_named_and_the_builder_decides(build):
    with pytest.raises(BadInput) as caught:
        _place(build(), "bench.gap", "30 mm")

    (problem,) = caught.value.problems
    assert problem.path == "bench.gap"
    assert all(name in problem.says for name in ("prop_shaft.slip_gap", "prop_shaft.spline_overlap", "--fact"))
    assert _place(build(), "prop_shaft.slip_gap", "30 mm", wanted="bench.gap").path == "prop_shaft.slip_gap"


def test_a_reading_that_none_of_the_facts_can_have_is_refused(build):
    with pytest.raises(BadInput) as caught:
        _place(build(), "bench.gap", "30 kg")

    (problem,) = caught.value.problems
    assert '"30 kg"' in problem.says
    assert "prop_shaft.slip_gap" in problem.says


@pytest.mark.parametrize(
    ("named", "near"),
    [("bench.rich", '"bench.reach"'), ("prop_shaft.slip_gab", "prop_shaft.slip_gap"), ("car.rear_suspension", "car")],
)
def test_a_name_of_nothing_is_answered_with_the_nearest(build, named, near):
    with pytest.raises(BadInput) as caught:
        _place(build(), named, "30 mm")

    assert f'"{named}"' in str(caught.value)
    assert near in str(caught.value)


def test_a_fact_given_for_a_finding_that_is_none_is_refused(build):
    with pytest.raises(BadInput, match=r"bench\.rich"):
        _place(build(), "prop_shaft.slip_gap", "30 mm", wanted="bench.rich")
