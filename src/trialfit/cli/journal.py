"""`trialfit journal` and `trialfit undo`: what was changed, and a change taken back."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

from cyclopts import Parameter

from trialfit.cli.options import BookFile, Device, Json, device_name

if TYPE_CHECKING:
    from trialfit.book.changes import Recorded
    from trialfit.book.opening import Moment

OfPart = Annotated[
    str | None, Parameter(name="--part", help="only changes of this part, its choice and its attachments")
]
Since = Annotated[
    str | None,
    Parameter(help='changes from this date on, such as 2026-03-14 or "2026-03-14 16:30", or from a change number'),
]
Number = Annotated[int | None, Parameter(help="number of the change, as journal shows it; else the newest")]


def journal(book: BookFile, /, *, part: OfPart = None, since: Since = None, json: Json = False) -> int:
    """Shows every change of a book: when, from which device, the value before and after, and why.

    The journal keeps every entry: also a change that was taken back, and the change that took it back.
    """
    from trialfit.book.opening import read_moment
    from trialfit.book.reports import JournalPage
    from trialfit.cli.books import open_book
    from trialfit.cli.pages.book import journal_page
    from trialfit.cli.screen import answer

    begin = None if since is None else read_moment(since, of_day="begin")
    with open_book(book, read_only=True) as opened:
        changes = tuple(
            one
            for one in opened.journal()
            if (part is None or _is_of(one, part)) and (begin is None or _is_from(one, begin))
        )
    page = JournalPage(file=book, changes=changes)
    answer(page, journal_page(page), as_json=json)
    return 0


def undo(book: BookFile, number: Number = None, /, *, device: Device = "", json: Json = False) -> int:
    """Takes a change back: a new change restores the value before it.

    Without a number it takes back the newest change, even one that was itself an undo. If a later change is in the
    way, that one is named, and nothing is changed.
    """
    from trialfit.book.checking import both, check_sound
    from trialfit.cli.books import answer_made, open_book
    from trialfit.planning.taking_back import check_work

    with open_book(book) as opened:
        made = opened.undo(number, device_name(device), check=both(check_sound(opened.path), check_work(book)))
        return answer_made(opened, made, as_json=json)


def _is_from(one: Recorded, begin: Moment) -> bool:
    return one.number >= begin if isinstance(begin, int) else one.time >= begin


def _is_of(one: Recorded, part: str) -> bool:
    if one.path == part or one.path.startswith((f"{part}.", f"choice.{part}.")) or one.path == f"choice.{part}":
        return True
    cards = [value for value in (one.before, one.after) if isinstance(value, dict)]
    return any(card.get("about") == part for card in cards)
