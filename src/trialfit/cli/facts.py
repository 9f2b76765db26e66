"""`trialfit facts`: what is written of a build."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING, Annotated

from cyclopts import Parameter
from rich.table import Table
from rich.text import Text

from trialfit.advice.inventory import Inventory, State, inventory
from trialfit.cli.options import BuildFile, Json, read_build
from trialfit.cli.screen import clean, line, show

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rich.console import RenderableType

    from trialfit.advice.inventory import FactLine, PartFacts

PartName = Annotated[str | None, Parameter(help="only this part, with the facts that nothing needs so far")]


def facts(build: BuildFile, part: PartName = None, /, *, json: Json = False) -> int:
    """Shows the facts as they are written, the typical values in use, and what is missing.

    A typical value stands in for a fact that nobody has written; it is marked, and its source is named. Missing is what a
    finding asks for in vain.
    """
    stock = inventory(read_build(build), part)
    if json:
        from trialfit.cli.shapes import as_json

        sys.stdout.write(as_json(stock))
    else:
        show(*page(stock, with_open=part is not None))
    return 0


def page(stock: Inventory, *, with_open: bool) -> Iterator[RenderableType]:
    """The inventory as a page."""
    yield line(f"{stock.build or 'a build without a name'}: facts", "bold")
    for part in stock.parts:
        yield Text()
        yield _title(part)
        yield _table(part, with_open=with_open)
    if stock.missing_parts:
        yield Text()
        yield line("parts that findings ask for and nobody has written", "bold")
        for path, meaning in stock.missing_parts.items():
            yield line(f"  {path}: {meaning}")


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
            style = "bold" if fact.state is State.missing else ""
            table.add_row(f"  {fact.state}", line(fact.path.removeprefix(f"{part.part}."), style), line(_text(fact)))
    return table


def _text(fact: FactLine) -> str:
    if fact.state is State.written:
        known = f"  ({fact.spread})" if fact.spread and "±" not in fact.text else ""
        return f"{fact.text}{known}"
    if fact.state is State.typical:
        return f"{fact.text}; {fact.source}"
    return f"{fact.text}, while nothing is written" if fact.state is State.default else fact.meaning
