"""The line of an entry, so that a message can show it."""

from __future__ import annotations

from trialfit.book.lines import line_of

TEXT = '''name = "x"
[car]
mass = "1 kg"

[engine]
torque_curve = """
rpm : N·m
[not.a] = table
"""
max_speed = "6000 rpm"
[limit]
"gearing.speedometer" = "3 %"
'''


def test_entries_are_found() -> None:
    """Plain, after a long text, and with dots in a quoted key."""
    assert line_of(TEXT, "car.mass") == 3
    assert line_of(TEXT, "engine.max_speed") == 10
    assert line_of(TEXT, "limit.gearing.speedometer") == 12


def test_what_is_not_found_shows_its_table() -> None:
    """An entry of a list shows its list, an entry that is not there its part, and a stranger nothing."""
    assert line_of(TEXT, "car.mass.2") == 3
    assert line_of(TEXT, "car.wheelbase") == 2
    assert line_of(TEXT, "gearbox") is None


def test_a_key_of_several_steps_is_found_by_its_first() -> None:
    """A dotted key that TOML reads as nested tables still has its line."""
    assert line_of("[limit]\na.b = 3", "limit.a") == 2
