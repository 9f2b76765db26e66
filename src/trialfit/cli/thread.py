"""`trialfit thread`: which thread it is."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING, Annotated, Literal

from cyclopts import Parameter
from rich.text import Text

from trialfit.advice.identifying import LIKELY, identify_thread
from trialfit.advice.next_step import percent
from trialfit.cli.options import Json  # noqa: TC001 - read when the command is run
from trialfit.cli.screen import bar, line, show

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rich.console import RenderableType

    from trialfit.advice.identifying import ThreadCandidate, ThreadList

Reading = Annotated[str, Parameter(help='caliper over the crests, such as "9.7 mm" or "9.70 ± 0.05 mm"')]
Pitch = Annotated[str | None, Parameter(help='pitch gauge, such as "28 tpi", "1.5 mm" or "1.41 ± 0.02 mm"')]
Hole = Annotated[bool, Parameter(negative="", show_default=False, help="it is a hole: the reading is between its crests")]
Tapered = Annotated[Literal["yes", "no"] | None, Parameter(help="whether it grows along its length")]


def thread(
    reading: Reading, /, *, pitch: Pitch = None, hole: Hole = False, tapered: Tapered = None, json: Json = False
) -> int:
    """Says which thread it can be, how likely each is, and what would tell them apart.

    The reading is a caliper's, over the crests of a screw or between those of a hole; a pitch gauge narrows it down. All
    threads of the tables count as equally likely beforehand.
    """
    found = identify_thread(reading, pitch, female=hole, tapered=None if tapered is None else tapered == "yes")
    if json:
        from trialfit.cli.shapes import as_json

        sys.stdout.write(as_json(found))
    else:
        show(*page(found))
    return 0


def page(found: ThreadList) -> Iterator[RenderableType]:
    """The candidates as a page."""
    pitch = f", pitch {found.pitch}" if found.pitch else ""
    yield line(f"{found.reading}{pitch}, {found.gender} thread", "bold")
    if not found.candidates:
        yield line("No thread of the tables has these readings: measure again, on a clean thread, away from its end.")
        return
    for one in found.candidates:
        used = f"  {one.met_as}" if one.met_as else ""
        yield line(f"  {bar(one.likelihood)} {percent(one.likelihood):>5}  {one.thread:<12}{used}")
    for one in found.candidates[1:]:
        if one.likelihood >= LIKELY:
            yield Text()
            yield from _telling(found.candidates[0], one)
    yield Text()
    yield line("Likelihoods are among the threads of the tables; a thread that is worn or not in them is not found.")


def _telling(first: ThreadCandidate, one: ThreadCandidate) -> Iterator[Text]:
    yield line(f"{first.thread} or {one.thread}", "bold")
    if not one.told_apart:
        yield line("  one and the same thread but for its use: look at the sealing face")
    for way in one.told_apart:
        enough = f"  ({way.good_enough} is good enough)" if way.good_enough else ""
        yield line(f"  {way.what}: {way.likeliest}, or {way.this}{enough}")
