"""What to do where nothing fits: every requirement that a placement can have has its own words."""

from __future__ import annotations

import pytest

from trialfit.advice.easing import amount_up, easing_of, summary
from trialfit.book.toml_text import read
from trialfit.facts.quantity import LENGTH
from trialfit.facts.units import display_unit
from trialfit.subjects.clearance.placing import placing_of

MM = display_unit(LENGTH)


@pytest.mark.parametrize("demo", ["pickup", "hillclimb", "electric"])
def test_every_requirement_of_a_demo_says_what_to_move_cut_or_have_made(demo):
    names = {limit.name for limit in placing_of(read(f"demos/{demo}.toml")).problem.limits}

    for name in names:
        says = easing_of(name, 0.004, MM, ("sump", "rack")).says
        assert "let it give" not in says, name
        assert "4.0 mm" in says or "the same amount" in says, name


def test_an_amount_is_rounded_up_so_that_it_is_enough():
    assert amount_up(1.62, "mm") == "1.7 mm"
    assert amount_up(5.0, "mm") == "5.0 mm"
    assert easing_of("clearance.gap.sump.rack", 0.00162, MM, ("sump_deep", "rack"), "with 5 mm more").says == (
        "move sump deep and rack 1.7 mm apart, cut one of them back by the same amount, or accept a smaller gap; with 5 mm more"
    )


def test_where_no_amount_is_enough_none_is_named():
    found = easing_of("driveline.residual", None, MM, None)

    assert (found.by, found.says) == (None, "this change alone is not enough")


def test_a_placement_without_requirements_is_no_fit():
    assert summary((), 0.0).startswith("No requirement applies there")
