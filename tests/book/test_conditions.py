"""Which usual jobs a build has, by its words."""

from __future__ import annotations

import pytest

from trialfit.book import read_text
from trialfit.book.conditions import holds


@pytest.mark.parametrize(
    ("text", "with_live_axle", "without"),
    [
        ('[car]\nrear_suspension = "live axle"', True, False),
        ('[car]\nrear_suspension = "independent"', False, True),
        ('[car]\nmass = "960 kg"', True, True),
        ("[engine]", True, True),
    ],
)
def test_a_car_whose_rear_suspension_is_missing_keeps_the_jobs_of_both(text, with_live_axle, without):
    """Better a job too many than one forgotten."""
    build = read_text(text)

    assert holds(build, ("car.rear_suspension=live_axle",)) is with_live_axle
    assert holds(build, ("car.rear_suspension!=live_axle",)) is without


@pytest.mark.parametrize("text", ["[clutch]", "[car]"])
def test_a_word_with_a_usual_value_counts_as_that_where_it_is_missing(text):
    """A clutch is released by fluid unless it says otherwise."""
    build = read_text(text)

    assert holds(build, ("clutch.release=hydraulic",))
    assert not holds(build, ("clutch.release=cable",))
