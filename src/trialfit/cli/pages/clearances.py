"""Pairs where the drivetrain sits, as a page."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.table import Table
from rich.text import Text

from trialfit.cli.screen import CAUTION, clean, interval, line, mark_of
from trialfit.cli.started import started_as
from trialfit.evaluation.verdict import Verdict

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rich.console import RenderableType

    from trialfit.advice.placement_shapes import Clearances, PairSeen


def page(found: Clearances) -> Iterator[RenderableType]:
    """The pairs as a page."""
    yield line(
        f"{found.build or 'a build without a name'}: gaps where the drivetrain sits, {found.draws} draws", "bold"
    )
    if not found.pairs:
        yield line(
            f"Nothing to look at: write the drivetrain's place and solids first; {started_as()} kinds solid says how."
        )
        return
    table = Table.grid(padding=(0, 2, 0, 0), expand=True)
    table.add_column(no_wrap=True)
    table.add_column(no_wrap=True, min_width=9)
    table.add_column(ratio=1)
    for pair in found.pairs:
        heavy = "" if pair.verdict is Verdict.holds else "bold"
        table.add_row(Text(mark_of(pair.verdict), heavy), Text(pair.verdict, heavy), _body(pair))
    yield table
    for path, meaning in found.missing.items():
        yield line(f"missing: {path} ({meaning})")
    yield Text()
    yield line(found.caution)
    yield line(CAUTION)


def _body(pair: PairSeen) -> Text:
    text = Text(f"{pair.id}  {interval(pair.gap)}, wanted {interval(pair.wanted)}: {interval(pair.margin)} left")
    if pair.where:
        text.append(f"\n{clean(pair.where)}{f'; {clean(pair.state)}' if pair.state else ''}")
    return text
