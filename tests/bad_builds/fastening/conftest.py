"""One bolted joint that holds as it stands; a test spoils one thing of it, and mends it."""

from __future__ import annotations

from collections.abc import Callable

import pytest
import tomlkit

from trialfit.book import read_text
from trialfit.evaluation.finding import Report
from trialfit.subjects.catalogue import evaluate

DRAWS = 800
# Six fine bolts of class 10.9 through a flange: the state of the threads, the nuts and the maker's torque go together.
SOUND = """
[flange]
kind = "bolted_joint"
thread = "M10×1.25"
strength_class = "10.9"
nut_class = "10"
bolts = "6"
thread_state = "oiled"
maker_state = "oiled"
maker_torques = ["55 N·m, manual"]
load_type = "shear"
shear = "2 kN ± 10 %, guess"
"""
# One M10 bolt in a tapped hole of cast aluminium.
TAPPED = """
[flange]
kind = "bolted_joint"
thread = "M10"
strength_class = "8.8"
threaded_into = "aluminium"
engagement = "28 mm, calipered"
hole_strength = "300 ± 10 MPa, catalogue"
bolts = "4"
thread_state = "dry"
load_type = "a seal only"
"""

BASES = {"flange": SOUND, "tapped": TAPPED}


def changed(text: str, changes: dict[str, str | list[str] | None]) -> str:
    """The text with entries of the flange replaced, added, or taken out where None."""
    written = tomlkit.parse(text)
    for name, entry in changes.items():
        written["flange"].pop(name, None)
        if entry is not None:
            written["flange"][name] = entry
    return tomlkit.dumps(written)


@pytest.fixture
def joint() -> Callable[..., Report]:
    """The report of the sound flange with what is to be different."""

    def work(base: str = "flange", also: str = "", **changes: str | list[str] | None) -> Report:
        return evaluate(read_text(changed(BASES[base], changes) + also), DRAWS, ["fastening"])

    return work
