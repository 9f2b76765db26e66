"""Parts that know their neighbours."""

from __future__ import annotations

from trialfit.book import read_text
from trialfit.parts import FinalDrive, Gearbox, Hub

TEXT = """
name = "two boxes"
[choice.box]
options = ["strong", "light"]
picked = "light"
[strong]
kind = "gearbox"
ratios = ["3.0"]
[light]
kind = "gearbox"
ratios = ["3.5", "1.0"]
[shaft]
kind = "prop_shaft"
after = "box"
[final_drive]
after = "shaft"
ratio = 3.73
"""


def test_what_was_not_picked_is_spare() -> None:
    """Only the picked option is on the car."""
    build = read_text(TEXT)

    assert [box.name for box in build.all(Gearbox)] == ["light"]
    assert list(build.spare) == ["strong"]


def test_a_choice_stands_for_the_part_picked() -> None:
    """A part joined to a choice is joined to whatever was picked."""
    build = read_text(TEXT)

    assert build.named(build.parts["shaft"].after) is build.parts["light"]


def test_a_kind_may_be_left_out_where_the_name_says_it() -> None:
    """[final_drive] is a final drive; a bare number is read like a text."""
    final_drive = read_text(TEXT).first(FinalDrive)

    assert final_drive.ratio.written.si == 3.73


def test_a_kind_that_is_not_there_is_none() -> None:
    """A build without hubs has no first hub."""
    assert read_text(TEXT).first(Hub) is None
