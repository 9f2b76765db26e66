"""Rows of a page against the table of the library that they stand in for."""

from __future__ import annotations

import io

from hypothesis import given
from hypothesis import strategies as st
from rich.console import Console
from rich.table import Table
from rich.text import Text

from trialfit.cli.rows import Rows

_WORDS = st.text("ab é漢-", min_size=1, max_size=14)
_BODY = st.lists(_WORDS, min_size=1, max_size=12).map(" ".join)
_ROW = st.tuples(st.sampled_from(["", "──╳", "····"]), st.sampled_from(["holds", "unsettled"]), _BODY, st.booleans())


def printed(piece: object, width: int) -> str:
    console = Console(file=io.StringIO(), width=width, highlight=False, markup=False, emoji=False, color_system=None)
    console.print(piece)
    return "\n".join(line.rstrip() for line in console.file.getvalue().split("\n"))  # type: ignore[attr-defined]


def table_of(rows: list[tuple[Text, Text, Text]]) -> Table:
    table = Table.grid(padding=(0, 2, 0, 0), expand=True)
    table.add_column(no_wrap=True)
    table.add_column(no_wrap=True, min_width=9)
    table.add_column(ratio=1)
    for row in rows:
        table.add_row(*row)
    return table


@given(st.lists(_ROW, min_size=1, max_size=5), st.integers(30, 110))
def test_rows_look_as_a_table_of_the_library_does(rows, width):
    texts = [
        (Text(mark), Text(word), Text(body + ("\n" if blank and n < len(rows) - 1 else "")))
        for n, (mark, word, body, blank) in enumerate(rows)
    ]

    assert printed(Rows(texts), width) == printed(table_of(texts), width)


def test_no_blank_line_follows_the_last_row():
    rows = [(Text("a"), Text("holds"), Text("first\n")), (Text("b"), Text("holds"), Text("last\n"))]

    assert printed(Rows(rows), 40) == "a  holds      first\n\nb  holds      last\n"


def test_bold_rows_are_bold_on_every_line():
    console = Console(file=io.StringIO(), width=24, force_terminal=True, color_system="standard")
    console.print(Rows([(Text("x", "bold"), Text("fails", "bold"), Text("one two three", "bold"))]))

    lines = console.file.getvalue().splitlines()  # type: ignore[attr-defined]
    assert len(lines) == 2
    assert all("\x1b[1m" in line for line in lines)
