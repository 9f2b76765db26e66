"""Books of a few changes."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from trialfit.book.changes import Change, Recorded
from trialfit.book.document import Document
from trialfit.book.journal import Book
from trialfit.book.toml_text import read, read_text

DEMOS = Path(__file__).parents[2] / "demos"
SMALL = """
name = "small"
[car]
mass = "960 kg, weighed"
[gearbox]
ratios = ["3.6", "2.1", "1.4"]
[prop_shaft]
after = "gearbox"
length = "1186 mm, taped"
[choice.axle]
options = ["long", "short"]
picked = "long"
[long]
kind = "final_drive"
ratio = "3.54"
[short]
kind = "final_drive"
ratio = "3.91"
[limit]
"gearing.speedometer" = "3 %"
"""


@pytest.fixture(params=["hillclimb.toml", "pickup.toml", "electric.toml"])
def demo(request: pytest.FixtureRequest) -> Document:
    """Each demo build as a document."""
    return read(DEMOS / request.param).document


@pytest.fixture
def small() -> Document:
    """A build of five parts, a choice and a limit."""
    return read_text(SMALL).document


@pytest.fixture
def book(tmp_path: Path, small: Document) -> Iterator[Book]:
    """A book with the small build in it, open."""
    with Book.create(tmp_path / "garage.book", small, "laptop") as opened:
        yield opened


@pytest.fixture
def put() -> Callable[..., Recorded]:
    """Writes over whatever stands at a path, as in `put(book, "car.mass", "970 kg")`."""

    def write(opened: Book, path: str, after: object, device: str = "phone", **more: str) -> Recorded:
        return opened.write(Change(path=path, before=opened.value(path), after=after, **more), device)

    return write
