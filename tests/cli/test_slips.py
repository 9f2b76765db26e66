"""A slip of a unit or a digit that would make a loop or an array endless: refused with one sentence, before it is worked out."""

from __future__ import annotations

import pytest


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ('[sump]\nkind = "solid"\nremoval_drop = "80 m"', "expected a length from 0.1 mm to 2000 mm"),
        ('[drivetrain]\nremoval_height = "400 m"', "expected a length from 1 mm to 5000 mm"),
        ('[lid]\nkind = "bolted_joint"\nbolts = "1000000"', "expected a count from 1 to 120"),
        ('[lid]\nkind = "bolted_joint"\nrows = "1000000"', "expected a count from 1 to 30"),
        ('[lid]\nkind = "bolted_joint"\ncolumns = "1000000"', "expected a count from 1 to 40"),
        (f"[gearbox]\nratios = {['1'] * 101}", "holds 101 values: expected at most 100"),
        ('[solid]\nlength = "1e9 m"', "expected a length from 0.01 mm to 10000 mm"),
        ('[engine]\nmax_speed = "1e9 rpm"', "expected a rotational speed from 500 rpm to 40000 rpm"),
    ],
)
def test_a_fact_that_would_lengthen_a_loop_is_refused(trialfit, written, text, says):
    done = trialfit("check", written(text))

    assert done.code == 2
    assert says in done.err


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ('[job.paint]\nhours = "3/6/90000"', "expected at most 2000 hours for one job"),
        ('[job.paint]\nhours = "3/6/12"\nwaits = "paint 2-7000000 d"', "expected at most 1000 days"),
        ('[order.clutch]\npromised = "2026-03-28 ± 6000000 d"', "expected a spread of at most 1000 days"),
        ('[order.clutch]\npromised = "9999-12-28"', "expected a date from 1950 to 2199"),
        ('[order.clutch]\nprice = "4000000000000 EUR"', "expected an amount of at most 1,000,000,000"),
        ('[workshop]\nbegins = "9998-03-07"', "not a date from 1950 to 2199"),
    ],
)
def test_a_plan_of_thousands_of_years_is_refused(trialfit, written, text, says):
    done = trialfit("plan", written(f"[engine]\n{text}"))

    assert done.code == 2
    assert says in done.err
    assert "Traceback" not in done.err


def test_walls_of_foil_are_unknown_and_the_rest_goes_on(trialfit, written):
    """8 m of wall over 0.05 mm are 160,000 squares of the wall's thickness."""
    sill = """
[sill]
kind = "cut_member"
shape = "walls"
corner_y = ["0 mm", "2000 mm", "2000 mm", "0 mm"]
corner_z = ["0 mm", "0 mm", "2000 mm", "2000 mm"]
walls = "1-2, 2-3, 3-4, 4-1"
wall_thicknesses = ["0.05 mm", "0.05 mm", "0.05 mm", "0.05 mm"]
[sill_patch]
kind = "reinforcement"
replaces = "sill"
shape = "box"
width = "50 mm"
height = "50 mm"
wall_thickness = "2 mm"
"""
    done = trialfit("check", written(sill), "--draws", "16", "--json")

    assert done.code in (0, 1), done.err
    missing = [one["missing"] for one in done.json["findings"] if "sill.wall_thicknesses" in one["missing"]]
    assert missing
    assert "too thin for the size of the section" in missing[0]["sill.wall_thicknesses"]
