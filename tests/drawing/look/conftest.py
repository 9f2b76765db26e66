"""A small build with a gap that holds, one that fails and one that is not settled, and the page of it."""

from __future__ import annotations

import pytest

from trialfit.advice.clearances import clearances
from trialfit.book.toml_text import read
from trialfit.drawing.look.scene import scene_of_clearances

BUILD = """
name = "a bay"
[drivetrain]
x = "-276 mm, taped"
y = "0 mm, taped"
z = "384 mm, taped"
inclination = "3 deg, gauged"
ground_clearance = "110 mm"
rock = "2 deg"
heave = "5 mm"
fore_aft = "0 ± 0 mm"
[sump]
kind = "solid"
fixed_to = "drivetrain"
x = "270 mm, taped"
z = "-160 mm, taped"
length = "360 mm, taped"
width = "240 mm, taped"
height = "120 mm, taped"
removal_drop = "80 mm"
[block]
kind = "solid"
fixed_to = "drivetrain"
x = "270 mm, taped"
z = "80 mm, taped"
length = "420 mm, taped"
width = "300 mm, taped"
height = "360 mm, taped"
[rack]
kind = "solid"
shape = "capsule"
neighbour = "moving"
axis = "y"
x = "216 mm, taped"
z = "220 mm, taped"
length = "1040 mm, taped"
diameter = "52 mm, calipered"
[bonnet]
kind = "solid"
x = "0 mm, taped"
z = "690 mm, taped"
length = "900 mm, taped"
width = "1100 mm, taped"
height = "2 mm, calipered"
[wall]
kind = "solid"
x = "0 mm, taped"
y = "220 mm, taped"
z = "400 mm, taped"
length = "900 mm, taped"
width = "40 mm, taped"
height = "120 mm, taped"
required_clearance = "45 mm"
"""


@pytest.fixture(scope="session")
def build(tmp_path_factory):
    file = tmp_path_factory.mktemp("builds") / "bay.toml"
    file.write_text(BUILD, encoding="utf-8")
    return read(str(file))


@pytest.fixture(scope="session")
def found(build):
    return clearances(build, 256)


@pytest.fixture(scope="session")
def scene(build, found):
    return scene_of_clearances(build, found)
