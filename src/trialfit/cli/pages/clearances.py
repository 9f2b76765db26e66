"""Pairs where the drivetrain sits, as a page."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.table import Table
from rich.text import Text

from trialfit.cli.screen import CAUTION, clean, interval, line, mark_of
from trialfit.cli.started import started_as
from trialfit.evaluation.verdict import Verdict
from trialfit.facts.showing import room_text

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rich.console import RenderableType

    from trialfit.advice.placement_shapes import Clearances, PairSeen
    from trialfit.evaluation.finding import Interval


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
    yield line(_summary(found.pairs))
    yield Text()
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
    if found.far:
        yield line(f"{found.far} more {'pair is' if found.far == 1 else 'pairs are'} far apart and not listed.")
    yield Text()
    yield line(found.caution)
    yield line(CAUTION)


def _summary(pairs: tuple[PairSeen, ...]) -> str:
    """How many of each verdict, and the tightest pair."""
    order = (Verdict.fails, Verdict.unsettled, Verdict.holds, Verdict.unknown)
    counts = ", ".join(_counted(sum(pair.verdict is one for pair in pairs), one) for one in order)
    tightest = next((pair for pair in pairs if pair.margin), None)
    return f"{counts}. The tightest: {_called(tightest.id)}, {_room(tightest.margin)}." if tightest else f"{counts}."


def _counted(number: int, verdict: Verdict) -> str:
    return f"{number} {verdict if number == 1 else str(verdict).removesuffix('s')}"


def _called(name: str) -> str:
    """A pair in words, by its id."""
    _, sort, *parts = name.replace("_", " ").split(".")
    ends = {"ground": " to the ground", "removal": " on its way off"}
    return f"{' to '.join(parts)}{ends.get(sort, '')}"


def _room(margin: Interval | None) -> str:
    return room_text(margin.nominal, margin.low, margin.high, margin.unit) if margin else "not known"


def _body(pair: PairSeen) -> Text:
    if pair.margin is None:
        return Text(f"{pair.id}\nnot known: a fact is missing, named below")
    text = Text(f"{pair.id}\n{interval(pair.gap)}, required {interval(pair.wanted)}: {_room(pair.margin)}")
    for words in filter(None, (pair.where, pair.state)):
        text.append(f"\n{clean(words)}")
    return text
