"""A build that is read again after a change shares with the one before what the change left as it was."""

from __future__ import annotations

from dataclasses import replace

import pytest

from trialfit.book import read_text
from trialfit.parts.old_names import OLD_NAMES, may_be_old

LINES = '[car]\nmass = "900 kg"\n[gearbox]\nratios = ["3.6", "2.1"]\n'


@pytest.fixture
def build():
    """A car and its gearbox."""
    return read_text(LINES, "mine.toml")


def test_a_part_that_was_not_changed_is_read_once(build):
    after = read_text(LINES.replace("900", "901"), "mine.toml")

    assert after.parts["gearbox"] is build.parts["gearbox"]
    assert after.parts["car"].mass.known.si == 901


def test_a_part_of_another_name_or_kind_is_another_part():
    one = read_text('[front]\nkind = "solid"\n[rear]\nkind = "solid"', "mine.toml").parts
    other = read_text('[front]\nkind = "car"', "mine.toml").parts

    assert (one["front"].name, one["rear"].name) == ("front", "rear")
    assert (one["front"].kind, other["front"].kind) == ("solid", "car")


def test_what_is_wrong_with_a_part_is_said_each_time():
    for _ in range(2):
        with pytest.raises(Exception, match="masss"):
            read_text('[car]\nmasss = "900 kg"', "mine.toml")


def test_parts_left_as_they_were_are_told_where_facts_alone_were_changed(build):
    car = type(build.parts["car"])("car", {})

    assert build.untouched_in(replace(build, parts={**build.parts, "car": car})) == {"gearbox"}
    assert build.untouched_in(replace(build, parts={"car": car})) is None, "a part less"
    assert build.untouched_in(read_text(LINES, "mine.toml")) is None, "another document"


@pytest.mark.parametrize("one", OLD_NAMES, ids=lambda one: one.old)
def test_every_old_name_is_looked_into(one):
    assert may_be_old(one.old)
    assert may_be_old(f"{one.old}.more")
    assert may_be_old(f"part.{one.old}")
