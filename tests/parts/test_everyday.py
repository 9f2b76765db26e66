"""The words of the workshop for the kinds of part."""

from __future__ import annotations

import pytest

from trialfit.parts import KINDS
from trialfit.parts.everyday import EVERYDAY, kinds_meant, nearest_kind


@pytest.mark.parametrize(
    ("word", "kinds"),
    [
        ("motor", ("engine",)),
        ("Electric motor", ("engine",)),
        ("transmission", ("gearbox",)),
        ("diff", ("final_drive",)),
        ("axle", ("final_drive", "half_shaft")),
        ("driveshafts", ("prop_shaft", "half_shaft")),
        ("cardan-shaft", ("prop_shaft",)),
        ("wheels", ("tyre", "hub")),
        ("tires", ("tyre",)),
        ("banana", ()),
    ],
)
def test_a_word_of_the_workshop_finds_its_kinds(word, kinds):
    assert kinds_meant(word) == kinds


def test_the_phrase_names_what_is_meant_else_what_is_spelled_alike_else_all():
    assert nearest_kind("tire") == 'did you mean "tyre"?'
    assert nearest_kind("driveshaft") == 'did you mean "prop_shaft" or "half_shaft"?'
    assert nearest_kind("gerabox") == 'did you mean "gearbox"?'
    assert nearest_kind("banana").startswith("known are: car, engine")


def test_each_word_leads_to_kinds_there_are_and_is_none_itself():
    assert not EVERYDAY.keys() & KINDS.keys()
    assert {kind for kinds in EVERYDAY.values() for kind in kinds} <= KINDS.keys()
