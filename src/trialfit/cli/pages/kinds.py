"""The kinds of part as pages.

Answers   overview_page   one line for each kind
          kind_page       one kind with its facts
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.table import Table
from rich.text import Text

from trialfit.cli.screen import line
from trialfit.cli.started import started_as

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rich.console import RenderableType

    from trialfit.parts.describing import FactPage, KindList, KindPage


def overview_page(listed: KindList) -> Iterator[RenderableType]:
    """One line for each kind."""
    table = Table.grid(padding=(0, 2, 0, 0), expand=True)
    table.add_column(no_wrap=True)
    table.add_column(ratio=1)
    for kind in listed.kinds:
        table.add_row(line(kind.kind, "bold"), line(kind.says))
    yield table
    yield Text()
    yield line(f"{started_as()} kinds KIND shows the facts that one takes.")


def kind_page(kind: KindPage) -> Iterator[RenderableType]:
    """One kind with its facts."""
    yield line(kind.kind, "bold underline").append(f"  {kind.says}", "not bold not underline")
    if kind.remarks:
        yield line(kind.remarks)
    yield line("a car has one" if kind.place else "a car may have several")
    table = Table.grid(padding=(0, 2, 0, 0), expand=True)
    table.add_column(no_wrap=True)
    table.add_column(ratio=1)
    for fact in kind.facts:
        table.add_row(line(f"  {fact.name}", "bold"), _text(fact))
    yield Text()
    yield table


def _text(fact: FactPage) -> Text:
    takes = fact.takes + (f" in {fact.unit}" if fact.unit else "") + (f", {fact.bounds}" if fact.bounds else "")
    takes += f"; usual {fact.usual}" if fact.usual else ""
    text = f"{fact.meaning}\n{takes}; for example {fact.example}"
    if fact.typical:
        text += f"\ntypical {fact.typical}" + (f" ({fact.source})" if fact.source else "")
    if fact.default:
        text += f"\n{fact.default}, where nothing is written"
    return Text(text)
