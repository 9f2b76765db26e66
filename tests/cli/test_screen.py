"""The pieces of a page: readable in black and white, on any terminal, whatever stands in a build."""

from __future__ import annotations

import io
import sys
from threading import Event

import pytest
from rich.table import Table
from rich.text import Text

from trialfit.cli import screen
from trialfit.cli.rows import Rows
from trialfit.evaluation.finding import Interval
from trialfit.evaluation.verdict import Verdict

HANGS = 120.0  # s: a stop for a hanging test, not a measure


class Terminal(io.StringIO):
    """A stream that says it is a terminal."""

    encoding = "utf-8"

    def isatty(self) -> bool:
        """Always."""
        return True


@pytest.mark.parametrize(("share", "full"), [(0, 0), (0.5, 6), (1, 12)])
def test_a_bar_is_as_long_as_its_share(share, full):
    assert screen.bar(share) == "█" * full + "·" * (12 - full)


def test_signs_that_steer_a_terminal_are_taken_out():
    assert screen.clean("a\x1b[31mb\x07c\u202ed") == "a [31mb c d"
    assert screen.clean("76.2 ± 0.1 mm · 3°") == "76.2 ± 0.1 mm · 3°"


def test_markup_in_a_build_is_text(capsys):
    screen.show(screen.line("[bold]not bold[/bold] :smile:"))

    assert capsys.readouterr().out == "[bold]not bold[/bold] :smile:\n"


def test_an_interval_has_its_unit():
    assert screen.interval(Interval(nominal=13.04, low=8.95, high=17.13, unit="mm")) == "13.0 ± 4.1 mm"
    assert screen.interval(None) == "not known"


def test_a_terminal_that_knows_only_ascii_gets_other_lines(monkeypatch):
    class Old(io.StringIO):
        encoding = "ascii"

    monkeypatch.setattr(sys, "stdout", Old())

    assert screen.mark_of(Verdict.fails) == "-XX-"


def test_work_that_takes_long_is_spoken_of_on_a_terminal(monkeypatch):
    spoken = Event()

    class Heard(Terminal):
        def write(self, text: str) -> int:
            if "working out 4096 draws" in text:
                spoken.set()
            return super().write(text)

    monkeypatch.setattr(sys, "stderr", Heard())
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.setattr(screen, "_PATIENCE", 0.0)
    with screen.working("working out 4096 draws"):
        assert spoken.wait(HANGS)


def test_short_work_and_work_nobody_looks_at_stays_silent(monkeypatch, capsys):
    with screen.working("nothing to see"):
        pass
    errors = Terminal()
    monkeypatch.setattr(sys, "stderr", errors)
    monkeypatch.setattr(screen, "_PATIENCE", HANGS)
    with screen.working("done at once"):
        pass

    assert capsys.readouterr().err == ""
    assert "done at once" not in errors.getvalue()


@pytest.mark.parametrize("width", range(32, 60))
def test_a_figure_stays_with_its_unit_at_any_width(monkeypatch, capsys, width):
    monkeypatch.setenv("COLUMNS", str(width))
    words = "the gap may grow by 13.0 ± 4.1 mm over its travel, at most 100 % of 8.3 +4.1/-3.3 N·m"
    table = Table.grid()
    table.add_row(screen.line(words))

    screen.show(screen.line(words), screen.indented(words), table, Rows([(Text(""), Text("holds"), Text(words))]))

    printed = capsys.readouterr().out
    assert "\ue000" not in printed
    for figure in ("13.0 ± 4.1 mm", "100 %"):
        assert printed.count(figure) == 4


def test_an_indented_text_is_indented_on_every_line(monkeypatch, capsys):
    monkeypatch.setenv("COLUMNS", "20")

    screen.show(screen.indented("caliper it in two places, 5 mm apart"))

    lines = capsys.readouterr().out.splitlines()
    assert len(lines) > 1
    assert all(line.startswith("  ") and line[2] != " " for line in lines)
