"""The same word opens the same door on every floor: handbook, parts, subjects, tests, published checks and the manual."""

from __future__ import annotations

from pathlib import Path

import pytest

from trialfit.subjects.catalogue import OURS

ROOT = Path(__file__).parents[1]
SOURCE = ROOT / "src" / "trialfit"
FLOORS = ("handbook", "parts", "subjects")
NO_ROOM = {"tables", "__pycache__"}


def rooms(folder: Path) -> set[str]:
    """The folders in a folder."""
    return {path.name for path in folder.iterdir() if path.is_dir() and path.name not in NO_ROOM}


ROOMS = sorted(set().union(*(rooms(SOURCE / floor) for floor in FLOORS)))


def test_every_subject_is_a_room():
    assert set(OURS) <= set(ROOMS)


@pytest.mark.parametrize("room", ROOMS)
def test_every_room_has_its_page_in_the_manual(room):
    assert (ROOT / "docs" / f"{room}.md").is_file()


@pytest.mark.parametrize("floor", FLOORS)
def test_the_tests_of_a_floor_stand_in_the_rooms_of_that_floor(floor):
    assert rooms(ROOT / "tests" / floor) <= rooms(SOURCE / floor)


@pytest.mark.parametrize("room", sorted(rooms(SOURCE / "handbook")))
def test_every_room_of_formulas_has_its_tests_and_its_published_checks(room):
    assert list((ROOT / "tests" / "handbook" / room).glob("test_*.py"))
    assert list((ROOT / "tests" / "published" / room).glob("test_*.py"))


def test_published_checks_stand_in_the_room_or_on_the_floor_that_they_check():
    floors = {path.name for path in SOURCE.iterdir() if path.is_dir()}

    assert rooms(ROOT / "tests" / "published") <= set(ROOMS) | floors


@pytest.mark.parametrize("room", ROOMS)
def test_a_room_of_parts_or_subjects_says_what_it_holds(room):
    doors = [SOURCE / floor / room / "__init__.py" for floor in FLOORS if room in rooms(SOURCE / floor)]

    assert all(door.read_text(encoding="utf-8").startswith('"""') for door in doors)
