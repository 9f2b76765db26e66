"""What to measure next, as a page."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.table import Table
from rich.text import Text

from trialfit.cli.screen import CAUTION, clean, line
from trialfit.cli.started import started_as, typed

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rich.console import RenderableType

    from trialfit.advice.what_to_measure import Measurement, MeasuringList, Settling

_MOST_SHOWN = 5


def page(measurements: MeasuringList, file: str) -> Iterator[RenderableType]:
    """The list as a page."""
    yield line(f"{measurements.build or 'a build without a name'}: what to measure next", "bold")
    if not measurements.measurements:
        yield line("Nothing: no finding is unsettled or unknown.")
    for number, one in enumerate(measurements.measurements, 1):
        yield Text()
        yield _entry(number, one, file)
    yield Text()
    yield line("Each outcome assumes that the value turns out as it is now; a measurement may move it.")
    yield line(CAUTION)


def _entry(number: int, one: Measurement, file: str) -> Table:
    table = Table.grid(padding=(0, 2, 0, 0), expand=True)
    table.add_column(no_wrap=True, justify="right", width=4)
    table.add_column(no_wrap=True)
    table.add_column(ratio=1)
    table.add_row(f"{number}.", _what_to_do(one), line(f"{one.path}, {one.meaning}", "bold"))
    rows = {
        "now": _now(one),
        "with": _instrument(one),
        "settles" if one.settles else "serves": "\n".join(_settlings(one)),
        "write": f"{started_as()} {typed('set', file)} {one.write}" if one.write else "",
        "later": one.later,
        "helps": one.helps,
        "beware": one.caution,
    }
    for label, text in rows.items():
        if text:
            table.add_row("", label, Text("\n".join(clean(row) for row in text.split("\n"))))
    return table


def _what_to_do(one: Measurement) -> str:
    if one.is_asked:
        return "ask for"
    if one.is_decided:
        return "decide"
    return "measure" if one.instrument else "get"


def _now(one: Measurement) -> str:
    if not one.now:
        return "not known"
    return one.now if "±" in one.now else f"{one.now} ({one.spread_now})"


def _instrument(one: Measurement) -> str:
    return f"{one.instrument}, {one.spread} ({one.source})" if one.instrument else "no instrument"


def _settlings(one: Measurement) -> list[str]:
    shown = [_settling(settling) for settling in one.findings[:_MOST_SHOWN]]
    more = one.findings[_MOST_SHOWN:]
    return [*shown, f"and {len(more)} more (--json names them)"] if more else shown


def _settling(one: Settling) -> str:
    text = f"{one.finding} ({one.stake}) {one.would}"
    if one.spread_needed:
        text += f", {one.spread_needed} or better"
    if one.together_with:
        text += f", together with {', '.join(one.together_with)}"
    return text
