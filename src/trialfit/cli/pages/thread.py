"""The threads that a reading can belong to, as a page."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.text import Text

from trialfit.advice.identifying import LIKELY
from trialfit.advice.next_step import percent
from trialfit.cli.screen import bar, indented, line

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rich.console import RenderableType

    from trialfit.advice.identifying import ThreadCandidate, ThreadList


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
    yield line(f"  {bar(found.no_thread)} {percent(found.no_thread):>5}  none of the tables, or misread")
    if found.bad_fit:
        yield Text()
        yield line(found.bad_fit, "bold")
    for one in found.candidates[1:]:
        if one.likelihood >= LIKELY:
            yield Text()
            yield from _telling(found.candidates[0], one)
    yield Text()
    yield line("Only the threads of the tables are compared: a worn or unusual thread is not found.")


def _telling(first: ThreadCandidate, one: ThreadCandidate) -> Iterator[RenderableType]:
    yield line(f"{first.thread} or {one.thread}", "bold")
    if not one.told_apart:
        yield indented("the same thread with another use: look at the sealing face")
    for way in one.told_apart:
        enough = f" ({way.good_enough} is good enough)" if way.good_enough else ""
        yield indented(f"{way.what}: {way.likeliest}, or {way.this}{enough}")
