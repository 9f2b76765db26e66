"""Large books and builds: the work grows with their size and no faster. What is counted is work, never time."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
from rich.console import Console
from rich.text import Text

from trialfit.book.changes import Change
from trialfit.book.journal import Book
from trialfit.book.lines import _places
from trialfit.book.toml_text import read_text


@pytest.fixture
def garage(tmp_path):
    """A book and how to put more changes into it."""
    file = tmp_path / "g.book"
    Book.create(file, read_text('[car]\nmass = "900 kg"').document).close()

    def grow(count: int) -> None:
        with Book.open(file) as book:
            for number in range(count):
                after = f"{901 + number}.{book.number} kg"
                book.write(Change(path="car.mass", before=book.value("car.mass"), after=after))

    return file, grow


@pytest.fixture
def counted(monkeypatch):
    """How often something of a class is called."""

    def count(kind: type, name: str) -> list[int]:
        calls: list[int] = []
        real = getattr(kind, name)
        monkeypatch.setattr(kind, name, lambda *words, **more: (calls.append(1), real(*words, **more))[1])
        return calls

    return count


def test_a_journal_is_laid_out_as_a_whole(trialfit, garage, counted):
    """A table laid out for each change took 2 ms."""
    file, grow = garage
    grow(3)
    prints, wraps = counted(Console, "print"), counted(Text, "wrap")
    trialfit("journal", file)
    few = len(prints), len(wraps)
    grow(60)
    prints.clear(), wraps.clear()
    ran = trialfit("journal", file)

    assert ran.out.count("car.mass") == 63
    assert (len(prints), len(wraps)) == few


def test_more_values_than_any_list_has_are_refused(trialfit, written):
    """Findings grow with the square of the number of gears."""
    ratios = ", ".join(f'"{4 - number * 0.0001:.4f}"' for number in range(20_000))
    ran = trialfit("check", written(f"[gearbox]\nratios = [{ratios}]"))

    assert ran.code == 2
    assert "line 2: gearbox.ratios holds 20000 values: expected at most 100" in ran.err


def test_more_parts_than_any_car_has_are_refused_before_one_is_read(trialfit, written, monkeypatch):
    def never(*_: object) -> None:
        raise AssertionError

    monkeypatch.setattr("trialfit.book.build.read_part", never)
    ran = trialfit("check", written("\n".join(f'[b{number}]\nkind = "hose"' for number in range(40_000))))

    assert ran.code == 2
    assert "has 40000 parts: expected at most 5000" in ran.err


def test_the_lines_of_many_problems_are_looked_up_in_one_reading(trialfit, written):
    _places.cache_clear()
    ran = trialfit("check", written("[car]\n" + "\n".join(f'nonsense_{number} = "1"' for number in range(300))))

    assert ran.err.count("nonsense_") >= 300
    assert _places.cache_info().misses == 1


@pytest.mark.parametrize("columns", ["0", "1", "-3", "x"])
def test_a_terminal_without_a_width_gets_its_page(trialfit, written, monkeypatch, columns):
    monkeypatch.setenv("COLUMNS", columns)
    ran = trialfit("facts", written('[car]\nmass = "960 kg, weighed"'))

    assert "960" in ran.out


@pytest.mark.parametrize("zone", ["Asia/Tokyo", "America/Los_Angeles"])
@pytest.mark.parametrize("time", [datetime.max.replace(tzinfo=UTC), datetime(1970, 1, 1, tzinfo=UTC)])
def test_a_change_at_the_end_of_the_calendar_is_shown_in_every_zone(trialfit, tmp_path, monkeypatch, zone, time):
    import time as clock

    monkeypatch.setenv("TZ", zone)
    clock.tzset()
    try:
        file = tmp_path / "g.book"
        Book.create(file, read_text('[car]\nmass = "900 kg"').document).close()
        with Book.open(file, clock=lambda: time) as book:
            book.write(Change(path="car.mass", before="900 kg", after="910 kg"))
        for words in (
            ("journal", file),
            ("journal", file, "--since", "9999-12-31 23:59-12:00"),
            ("as-of", file, "9999-12-31", "check"),
            ("set", file, "car.mass", "920 kg"),
            ("undo", file),
            ("facts", file),
            ("sheet", file),
            ("jobs", file),
            ("sheet", file, "tightening", "-o", tmp_path / "t.pdf"),
        ):
            ran = trialfit(*words)
            assert ran.code in (0, 2), (words, ran.err)
            assert "Traceback" not in ran.err
    finally:
        monkeypatch.undo()
        clock.tzset()
