"""Circuits: what a builder writes of a wire, and what is refused."""

from __future__ import annotations

import pytest

from trialfit.parts import Circuit
from trialfit.parts.reading import read_part


def test_a_circuit_keeps_what_is_written_of_it():
    """Sizes are facts with a spread, labels stay as typed; a wire is of the low-voltage side where nothing is said."""
    part, problems = read_part(
        "pump", Circuit, {"start": "relay 2, pin 87", "conductor_area": "2.5 mm²", "fuse": "20 A"}
    )

    assert problems == []
    assert (part.start, part.side) == ("relay 2, pin 87", "low voltage")
    assert part.conductor_area.written.si == pytest.approx(2.5e-6)
    assert part.fuse.written.si == 20
    assert part.fuse.written.spread.plus == 0


@pytest.mark.parametrize(
    ("key", "text", "says"),
    [
        ("start", " ", 'is " ": expected a word or two for a label, up to 60 letters, as in "fuse box, way 7"'),
        ("side", "medium", "low voltage"),
        ("current", "12 V", "expected a current"),
    ],
)
def test_what_is_no_label_and_no_current_is_refused(key, text, says):
    """The sentence says what is wanted."""
    _, problems = read_part("pump", Circuit, {key: text})

    assert [problem.path for problem in problems] == [f"pump.{key}"]
    assert says in problems[0].says
