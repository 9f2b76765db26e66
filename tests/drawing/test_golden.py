"""Pictures against those that were looked at: same elements, same texts, places within a twentieth of a millimetre."""

from __future__ import annotations

import json

import pytest
from golden import FOLDER, pictures, structure


@pytest.fixture(scope="module")
def drawn():
    return {name: structure(picture.svg()) for name, picture in pictures().items()}


@pytest.mark.parametrize("name", ["bolt_pattern", "plot", "rows", "arrangement"])
def test_the_picture_is_the_one_that_was_looked_at(name, drawn):
    """`python tests/drawing/golden.py FOLDER` writes them anew with their pictures: look at them before they are kept."""
    kept = json.loads((FOLDER / f"{name}.json").read_text(encoding="utf-8"))

    assert drawn[name]["size"] == pytest.approx(kept["size"], abs=0.05)
    assert drawn[name]["counts"] == kept["counts"]
    assert drawn[name]["texts"] == kept["texts"]
    assert drawn[name]["places"] == pytest.approx(kept["places"], abs=0.05)
