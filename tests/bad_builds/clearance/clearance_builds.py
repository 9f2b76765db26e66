"""Builds of a few lines, exact but for what a test says."""

from __future__ import annotations

UPRIGHT = {"roll": "0 ± 0 deg", "inclination": "0 ± 0 deg", "heading": "0 ± 0 deg"}
DRIVETRAIN = {
    **UPRIGHT,
    "x": "0 ± 0 mm",
    "y": "0 ± 0 mm",
    "z": "400 ± 0 mm",
    "rock": "0 ± 0 deg, gauged",
    "heave": "0 ± 0 mm, taped",
    "fore_aft": "0 ± 0 mm, taped",
    "roll_axis_x": "0 ± 0 mm",
    "roll_axis_y": "0 ± 0 mm",
    "roll_axis_z": "0 ± 0 mm",
}


def solid(x: float, y: float, z: float, length: float, width: float, height: float, **more: str) -> dict[str, str]:
    """A box by its middle and its sizes, mm."""
    places = zip(("x", "y", "z", "length", "width", "height"), (x, y, z, length, width, height), strict=True)
    return {"kind": "solid", **UPRIGHT, **{name: f"{value} ± 0 mm" for name, value in places}, **more}
