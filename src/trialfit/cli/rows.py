"""Rows of a mark, a word and a text that hangs beside them: what a page of hundreds of findings is made of.

Answers   Rows      such rows, as rich prints them
          Hanging   lines of a beginning and a text that hangs beside it: a journal of thousands of changes
A table measures every cell before it draws one, which takes longer than all the rest of a page. Here only the text wraps.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.cells import cell_len
from rich.segment import Segment
from rich.text import Text

from trialfit.cli.screen import figures_held

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from rich.console import Console, ConsoleOptions

    Row = tuple[Text, Text, Text]

_APART = 2
_WORD = 9
_NARROWEST = 8


class Rows:
    """Rows of mark, word and text, one below the other; a blank line after a text that ends with one, but not after the last."""

    def __init__(self, rows: Sequence[Row]) -> None:
        self._rows = rows

    def __rich_console__(self, console: Console, options: ConsoleOptions) -> Iterator[Segment]:
        """The lines, as wide as the options say."""
        mark_width = max((mark.cell_len for mark, _, _ in self._rows), default=0) + _APART
        word_width = max((word.cell_len for _, word, _ in self._rows), default=0)
        word_width = max(word_width, _WORD) + _APART
        room = max(options.max_width - mark_width - word_width, _NARROWEST)
        for number, (mark, word, body) in enumerate(self._rows, 1):
            lines = figures_held(body, room).wrap(console, room, overflow="ellipsis")
            if number == len(self._rows) and len(lines) > 1 and not lines[-1].plain:
                lines.pop()
            yield from (*_styled(mark, console), Segment(" " * (mark_width - mark.cell_len)))
            yield from (*_styled(word, console), Segment(" " * (word_width - word.cell_len)))
            for line in lines:
                if line is not lines[0]:
                    yield Segment(" " * (mark_width + word_width))
                yield from _styled(line, console)
                yield Segment.line()


class Hanging:
    """Lines, each of a beginning, a text beside it that hangs if it is long, and a style. A text that fits is measured
    once.
    """

    def __init__(self, lines: Iterable[tuple[str, str, str]]) -> None:
        self._lines = lines

    def __rich_console__(self, console: Console, options: ConsoleOptions) -> Iterator[Segment]:
        """The lines, as wide as the options say."""
        for beginning, text, style in self._lines:
            look = console.get_style(style) if style else None
            width = cell_len(beginning)
            room = max(options.max_width - width, _NARROWEST)
            if cell_len(text) <= room:
                yield Segment(f"{beginning}{text}", look)
                yield Segment.line()
                continue
            for number, piece in enumerate(figures_held(Text(text), room).wrap(console, room, overflow="fold")):
                yield Segment(f"{' ' * width if number else beginning}{piece.plain.rstrip()}", look)
                yield Segment.line()


def _styled(text: Text, console: Console) -> Iterable[Segment]:
    """A text of one line with the style of the whole and of its pieces."""
    return Segment.apply_style(text.render(console), console.get_style(text.style))
