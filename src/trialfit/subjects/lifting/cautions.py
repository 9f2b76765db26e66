"""The cautions of this subject. One stands on every finding and figure."""

from __future__ import annotations

HOISTING = (
    "Nobody under the load or in its path, hands out of the gap; the plates on crane, sling, shackle and eye and their makers' "
    "words stand above this figure. Inspect sling, hooks and eyes first; no side pull on a plain eyebolt; lift a hand's breadth "
    "and wait; load low and slow when the crane rolls, on a hard level floor; block the load at once, never work under it."
)
STANDING = (
    "Nobody under a car that only a jack or a crane holds. Stands in pairs on a hard level floor, under the places the car's maker "
    "names, pins locked, wheels on the floor chocked; rock the car by hand before anybody goes under it. The plate on the stand "
    "stands above this figure."
)
