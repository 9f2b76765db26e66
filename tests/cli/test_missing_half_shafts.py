"""A car has two half-shafts: each that is missing is named, with the table to add."""

from __future__ import annotations

import pytest

from trialfit.parts.describing import tables_to_add

BUILD = """
[car]
rear_suspension = "independent"
[gearbox]
ratios = ["3.63", "1.00"]
[final_drive]
ratio = "3.54"
"""
LEFT = 'add a table with kind = "half_shaft", side = "left"'
RIGHT = 'add a table with kind = "half_shaft", side = "right"'


def test_facts_name_both_where_none_is_written(trialfit, written):
    missing = trialfit("facts", written(BUILD), "--json").json["missing_parts"]

    assert missing["half_shaft_left"] == f"missing: {LEFT}"
    assert missing["half_shaft_right"] == f"missing: {RIGHT}"
    assert "half_shaft" not in missing


@pytest.mark.parametrize("name", ["half_shaft", "half_shaft_left", "drive"])
def test_facts_name_the_other_where_one_is_written_whatever_its_name(trialfit, written, name):
    text = f'{BUILD}[{name}]\nkind = "half_shaft"\nside = "left"\n'

    missing = trialfit("facts", written(text), "--json").json["missing_parts"]

    assert {path for path in missing if "half_shaft" in path} == {"half_shaft_right"}


def test_measure_says_which_tables_to_add(trialfit, written):
    """Following it leaves no half-shaft to add."""
    both = 'add [half_shaft_left] with kind = "half_shaft", side = "left" and [half_shaft_right] with kind ='
    followed = "".join(f'[half_shaft_{side}]\nkind = "half_shaft"\nside = "{side}"\n' for side in ("left", "right"))

    before, after = (trialfit("measure", written(text), "--json").json for text in (BUILD, BUILD + followed))

    (found,) = [one for one in before["measurements"] if one["path"] == "half_shaft"]
    assert found["helps"].startswith(f"A half_shaft is missing: {both}")
    assert "half_shaft" not in {one["path"] for one in after["measurements"]}


def test_only_half_shafts_need_a_table_for_each_word():
    """Hubs and tyres take the driven axle where none is written; of anything else one table will do."""
    assert list(tables_to_add("half_shaft", {"left half-shaft"})) == ["half_shaft_right"]
    assert tables_to_add("car", set()) == {}
    assert tables_to_add("tyre", set()) == {}
    assert tables_to_add("angle_readings", set()) == {}
