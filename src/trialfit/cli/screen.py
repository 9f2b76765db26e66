"""How a page looks: width, weight, hanging lines; plain text when it is not a terminal.

Answers   show         prints pieces of a page
          answer       prints a result, as a page or as JSON
          working      shows a line while work takes longer than a second
          telling      the same, with words that change meanwhile
          mark_of      the line of a verdict
          clean        text of a file without control codes
          line         one piece of a page
          to_paste     a command on one line, also on a narrow terminal
          bar          a bar for a share
          kept_by      the share of draws that keep a limit
          interval, limit_of, source_of   an interval, a limit and its source, as text
          CAUTION      the sentence that closes a page
"""

from __future__ import annotations

import sys
from contextlib import contextmanager
from threading import Timer
from typing import TYPE_CHECKING

from rich.console import Console
from rich.text import Text

from trialfit.advice.next_step import percent
from trialfit.book.problems import harmless
from trialfit.cli.commands import as_started
from trialfit.cli.marks import MARKS, PLAIN
from trialfit.facts.showing import interval_text

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator

    from pydantic import BaseModel
    from rich.console import RenderableType

    from trialfit.evaluation.finding import Finding, Interval, LimitUse
    from trialfit.evaluation.verdict import Verdict

CAUTION = "The maker's manual outranks a computed figure; local codes and licensed certifiers decide what may be driven on a road."
_WIDEST = 110
_NARROWEST = 20  # what a terminal says that has no width, or COLUMNS=0, is not believed
_PATIENCE = 1.0
_BAR = 12


def show(*pieces: RenderableType) -> None:
    """Prints the pieces one below the other, without space at the end of a line; only a command to paste may be longer
    than a line.
    """
    console = Console(file=sys.stdout, highlight=False, markup=False, emoji=False)
    console.width = min(max(console.width, _NARROWEST), _WIDEST)
    with console.capture() as captured:
        for piece in pieces:
            console.print(piece, soft_wrap=isinstance(piece, Text) and piece.overflow == "ignore")
    lines = [line.rstrip(" ") for line in captured.get().split("\n")]
    text = "\n".join(lines)
    encoding = sys.stdout.encoding or "utf-8"
    sys.stdout.write(text.encode(encoding, "replace").decode(encoding))


def answer(result: BaseModel, page: Iterable[RenderableType], *, as_json: bool) -> None:
    """Prints a result: as its page, or as JSON in its documented shape."""
    if as_json:
        from trialfit.cli.shapes import as_json as document

        sys.stdout.write(document(result))
    else:
        show(*page)


def mark_of(verdict: Verdict) -> str:
    """The line of a verdict, in characters that the terminal has."""
    try:
        MARKS[verdict].encode(sys.stdout.encoding or "utf-8")
    except UnicodeEncodeError:
        return PLAIN[verdict]
    return MARKS[verdict]


def clean(text: str) -> str:
    """The text without control codes: a build may come from anywhere. Commands are shown as they are typed here."""
    return as_started(harmless(text))


def line(text: str, style: str = "") -> Text:
    """One piece of a page."""
    return Text(clean(text), style=style)


def to_paste(text: str) -> Text:
    """A command on one line, so that it can be pasted."""
    return Text(clean(text), no_wrap=True, overflow="ignore")


def interval(value: Interval | None) -> str:
    """A value with its spread and unit."""
    return interval_text(value.nominal, value.low, value.high, value.unit) if value else "not known"


def limit_of(finding: Finding | LimitUse) -> str:
    """The limit with its side."""
    if finding.limit is None:
        return f"{finding.side} a limit that is not known"
    if finding.side == "between":
        return f"between two bounds, the nearer one {interval(finding.limit)}"
    return f"{finding.side} {interval(finding.limit)}"


def kept_by(finding: Finding) -> str:
    """The share of draws that keep the limit; with its own spread where that leaves the verdict open."""
    if finding.is_astride and finding.share_ok is not None and finding.share_spread is not None:
        return f"{100 * finding.share_ok:.1f} ± {100 * finding.share_spread:.1f} %"
    return percent(finding.share_ok) if finding.share_ok is not None else ""


def bar(share: float) -> str:
    """A bar for a share of 0 to 1, readable without colour."""
    full = round(share * _BAR)
    return "█" * full + "·" * (_BAR - full)


def source_of(finding: Finding | LimitUse) -> str:
    """The source of the limit, with the kind of source if the text does not say it."""
    text = clean(finding.source)
    return text if finding.source_kind in text else f"{text} ({finding.source_kind})"


@contextmanager
def working(what: str) -> Iterator[Callable[[str], None]]:
    """Shows on the terminal what is being worked out, if it takes longer than a second; nothing if it is not a terminal.

    Call the function that it gives with the next step.
    """
    console = Console(file=sys.stderr, highlight=False)
    if not console.is_terminal:
        yield lambda _: None
        return
    status = console.status(line(what))
    timer = Timer(_PATIENCE, status.start)
    timer.daemon = True
    timer.start()
    try:
        yield lambda now: status.update(line(now))
    finally:
        timer.cancel()
        status.stop()


@contextmanager
def telling(what: str) -> Iterator[Callable[[str], None] | None]:
    """Shows the progress of longer work, in words that change; None if it is not a terminal."""
    console = Console(file=sys.stderr, highlight=False)
    if not console.is_terminal:
        yield None
        return
    with console.status(line(what)) as status:
        yield lambda now: status.update(line(f"{what}: {now}"))
