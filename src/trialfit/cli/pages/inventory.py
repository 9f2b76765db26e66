"""The facts of a build as a page."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.table import Table
from rich.text import Text

from trialfit.advice.inventory import State
from trialfit.cli.screen import clean, indented, line

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rich.console import RenderableType

    from trialfit.advice.inventory import FactLine, Inventory, PartFacts


def page(stock: Inventory, *, with_open: bool) -> Iterator[RenderableType]:
    """The inventory as a page."""
    yield line(f"{stock.build or 'a build without a name'}: facts", "bold")
    for part in stock.parts:
        yield Text()
        yield _title(part)
        yield _table(part, with_open=with_open)
    if stock.missing_parts:
        yield Text()
        yield line("parts that findings need and that are missing", "bold")
        for path, meaning in stock.missing_parts.items():
            yield indented(f"{path}: {meaning}")


def _title(part: PartFacts) -> Text:
    title = line(part.part, "bold underline")
    if part.kind != part.part:
        title.append(f"  {part.kind}")
    if part.is_spare:
        title.append("  not picked")
    if part.note:
        title.append(f"  {clean(part.note)}")
    return title


def _table(part: PartFacts, *, with_open: bool) -> Table:
    table = Table.grid(padding=(0, 2, 0, 0), expand=True)
    table.add_column(no_wrap=True)
    table.add_column(ratio=2, overflow="fold")
    table.add_column(ratio=3, overflow="fold")
    for fact in part.facts:
        if fact.state is not State.open or with_open:
            style = "bold" if fact.state in (State.missing, State.to_decide) else ""
            table.add_row(f"  {fact.state}", line(fact.path.removeprefix(f"{part.part}."), style), line(_text(fact)))
    return table


def _text(fact: FactLine) -> str:
    if fact.state is State.written:
        known = f"  ({fact.spread})" if fact.spread and "±" not in fact.text else ""
        return f"{fact.text}{known}" + (f"; really? usual is {fact.usual}" if fact.usual else "")
    if fact.state is State.typical:
        return f"{fact.text}; {fact.source}"
    return f"{fact.text}, while nothing is written" if fact.state is State.default else fact.meaning
