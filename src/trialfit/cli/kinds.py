"""`trialfit kinds`: the kinds of part and the facts each takes."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING, Annotated

from cyclopts import Parameter
from rich.table import Table
from rich.text import Text

from trialfit.book.problems import BadInput, Located
from trialfit.cli.options import Json  # noqa: TC001 - read when the command is run
from trialfit.cli.screen import line, show
from trialfit.parts import KINDS
from trialfit.parts.describing import KindList, describe_kind, describe_kinds
from trialfit.parts.reading import nearest

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rich.console import RenderableType

    from trialfit.parts.describing import FactPage, KindPage

Kind = Annotated[str | None, Parameter(help="one kind, for example prop_shaft")]


def kinds(kind: Kind = None, /, *, json: Json = False) -> int:
    """Shows the kinds of part, or the facts that one kind takes: meaning, unit, typical value and its source."""
    if kind is not None and kind not in KINDS:
        raise BadInput("trialfit kinds", [Located("", f'"{kind}" is no kind of part: {nearest(kind, KINDS)}')])
    listed = KindList(kinds=(describe_kind(kind),)) if kind else describe_kinds()
    if json:
        from trialfit.cli.shapes import as_json

        sys.stdout.write(as_json(listed))
    else:
        show(*(kind_page(listed.kinds[0]) if kind else overview_page(listed)))
    return 0


def overview_page(listed: KindList) -> Iterator[RenderableType]:
    """One line for each kind."""
    table = Table.grid(padding=(0, 2, 0, 0), expand=True)
    table.add_column(no_wrap=True)
    table.add_column(ratio=1)
    for kind in listed.kinds:
        table.add_row(line(kind.kind, "bold"), line(kind.says))
    yield table
    yield Text()
    yield line("trialfit kinds KIND shows the facts that one takes.")


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
    text = f"{fact.meaning}\n{takes}; for example {fact.example}"
    if fact.typical:
        text += f"\ntypical {fact.typical}" + (f" ({fact.source})" if fact.source else "")
    if fact.default:
        text += f"\n{fact.default}, where nothing is written"
    return Text(text)
