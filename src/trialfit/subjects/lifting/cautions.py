"""The cautions of this subject: every finding and figure has one."""

from __future__ import annotations

HOISTING = (
    "Keep people out from under the load and out of its path, and hands out of the gap. The plates on crane, sling, shackle and "
    "eye and the makers' manuals outrank this figure. Inspect sling, hooks and eyes first. No side pull on a plain eyebolt. Lift "
    "a hand's width and wait. Roll the crane slowly on a hard level floor, load low. Block the load at once, never work under it."
)
STANDING = (
    "Never go under a car that only a jack or a crane holds. Use stands in pairs on a hard level floor, under the car maker's "
    "jacking points, pins locked, wheels on the floor chocked. Rock the car by hand before you go under it. The plate on the "
    "stand outranks this figure."
)
