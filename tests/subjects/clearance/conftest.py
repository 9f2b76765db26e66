"""Builds of a few lines: a box on the drivetrain, a box of the car, and what a test changes."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from trialfit.book import read_text
from trialfit.book.build import Build

LINES = {
    "drivetrain": {
        "x": "0 ± 0 mm",
        "y": "0 ± 0 mm",
        "z": "400 ± 0 mm",
        "roll": "0 ± 0 deg",
        "inclination": "0 ± 0 deg",
        "heading": "0 ± 0 deg",
        "rock": "0 ± 0 deg",
        "heave": "0 ± 0 mm",
        "fore_aft": "0 ± 0 mm",
        "roll_axis_x": "0 ± 0 mm",
        "roll_axis_y": "0 ± 0 mm",
        "roll_axis_z": "0 ± 0 mm",
    },
    "sump": {
        "kind": "solid",
        "fixed_to": "drivetrain",
        "x": "0 ± 0 mm",
        "y": "0 ± 0 mm",
        "z": "-100 ± 0 mm",
        "length": "300 ± 0 mm",
        "width": "200 ± 0 mm",
        "height": "100 ± 0 mm",
        "roll": "0 ± 0 deg",
        "inclination": "0 ± 0 deg",
        "heading": "0 ± 0 deg",
    },
    "rack": {
        "kind": "solid",
        "x": "190 ± 0 mm",
        "y": "0 ± 0 mm",
        "z": "300 ± 0 mm",
        "length": "40 ± 0 mm",
        "width": "800 ± 0 mm",
        "height": "40 ± 0 mm",
        "roll": "0 ± 0 deg",
        "inclination": "0 ± 0 deg",
        "heading": "0 ± 0 deg",
    },
}


def _quoted(text: str) -> str:
    return f'"{text}"'


@pytest.fixture
def build() -> Callable[..., Build]:
    """A build as in `build(rack={"neighbour": "hot"}, sump={"x": None})`: entries of parts, None takes one away."""

    def make(**parts: dict[str, str | None] | None) -> Build:
        lines: dict[str, dict[str, str]] = {name: dict(entries) for name, entries in LINES.items()}
        for name, entries in parts.items():
            if entries is None:
                lines.pop(name)
                continue
            merged = {**lines.get(name, {}), **entries}
            lines[name] = {key: value for key, value in merged.items() if value is not None}
        text = "\n".join(
            f"[{name}]\n"
            + "\n".join(
                f"{key} = {value if value.startswith('[') else _quoted(value)}" for key, value in entries.items()
            )
            for name, entries in lines.items()
        )
        return read_text(text)

    return make


@pytest.fixture
def lines() -> dict[str, dict[str, str]]:
    """The parts of `build` as written."""
    return LINES
