"""`trialfit measure`: what to measure next."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

from rich.table import Table
from rich.text import Text

from trialfit.advice.measuring import MeasuringList, measure_list
from trialfit.cli.options import BuildFile, Draws, Json, draws_wanted, read_build
from trialfit.cli.screen import CAUTION, clean, line, show, working

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rich.console import RenderableType

    from trialfit.advice.measuring import Measurement, Settling


def measure(build: BuildFile, /, *, draws: Draws = 4096, json: Json = False) -> int:
    """Says what to measure next, with what, and what it would settle.

    The list begins with what is at stake most and settles most for the least trouble. Each line names the instrument, the
    spread to expect of it, the spread that each finding needs, and what to write down afterwards.
    """
    read = read_build(build)
    with working("working out what each measurement would settle"):
        measurements = measure_list(read, draws_wanted(draws))
    if json:
        from trialfit.cli.shapes import as_json

        sys.stdout.write(as_json(measurements))
    else:
        show(*page(measurements, build))
    return 0


def page(measurements: MeasuringList, file: str) -> Iterator[RenderableType]:
    """The list as a page."""
    yield line(f"{measurements.build or 'a build without a name'}: what to measure next", "bold")
    if not measurements.measurements:
        yield line("Nothing: no finding is unsettled or unknown.")
    for number, one in enumerate(measurements.measurements, 1):
        yield Text()
        yield _entry(number, one, file)
    yield Text()
    yield line("Each outcome supposes that the value turns out as it stands now; a measurement may move it.")
    yield line(CAUTION)


def _entry(number: int, one: Measurement, file: str) -> Table:
    table = Table.grid(padding=(0, 2, 0, 0), expand=True)
    table.add_column(no_wrap=True, justify="right", width=4)
    table.add_column(no_wrap=True)
    table.add_column(ratio=1)
    table.add_row(f"{number}.", "measure" if one.instrument else "get", line(f"{one.path}, {one.meaning}", "bold"))
    rows = {
        "now": _now(one),
        "with": _instrument(one),
        "settles" if one.settles else "serves": "\n".join(_settling(settling) for settling in one.findings),
        "write": f"trialfit set {file} {one.write}" if one.write else "",
        "helps": one.helps,
        "beware": one.caution,
    }
    for label, text in rows.items():
        if text:
            table.add_row("", label, Text("\n".join(clean(row) for row in text.split("\n"))))
    return table


def _now(one: Measurement) -> str:
    if not one.now:
        return "not known"
    return one.now if "±" in one.now else f"{one.now} ({one.spread_now})"


def _instrument(one: Measurement) -> str:
    return f"{one.instrument}, {one.spread} ({one.source})" if one.instrument else "no instrument"


def _settling(one: Settling) -> str:
    text = f"{one.finding} ({one.stake}) {one.would}"
    if one.spread_needed:
        text += f", {one.spread_needed} or better"
    if one.together_with:
        text += f", together with {', '.join(one.together_with)}"
    return text
