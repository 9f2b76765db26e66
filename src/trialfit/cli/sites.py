"""What the commands about the work share.

Answers   read_site      a build's work at a moment, with its findings
          moment_given   a date and time as typed, now where nothing is typed
          written_in     since when each link between jobs exists
          do             one thing done in a book, and the page or document about it
          When, Although, Because   annotated types for the parameters of a command
Not here  pages (pages/work.py); any rule (planning/)
"""

from __future__ import annotations

from datetime import datetime
from functools import cache
from typing import TYPE_CHECKING, Annotated

from cyclopts import Parameter

from trialfit.cli.options import MOMENT, device_name, read_build

if TYPE_CHECKING:
    from collections.abc import Callable

    from trialfit.book.build import Build
    from trialfit.book.history import History
    from trialfit.evaluation.finding import Report
    from trialfit.planning.site import Site
    from trialfit.planning.work import Event

When = Annotated[str, Parameter(show_default=False, help='the moment, such as "2026-03-14 16:30", if it is not now')]
Although = Annotated[
    str, Parameter(show_default=False, help="do it anyway, for this reason, which is kept in the journal")
]
Because = Annotated[str, Parameter(show_default=False, help="the reason, which is kept in the journal")]

_FIRST_YEAR, _LAST_YEAR = 1970, 2200


def moment_given(typed: str) -> datetime:
    """The moment typed, or now; under `as-of` that moment."""
    from trialfit.book.opening import read_moment
    from trialfit.book.problems import BadInput, Located

    if not typed:
        wanted = MOMENT.get()
        return wanted if isinstance(wanted, datetime) else datetime.now().astimezone()
    try:
        moment = read_moment(typed, of_day="begin")
    except BadInput:
        moment = 0
    if isinstance(moment, int) or not _FIRST_YEAR <= moment.year <= _LAST_YEAR:
        says = (
            f'is "{typed}": expected a date and time from {_FIRST_YEAR} to {_LAST_YEAR}, for example "2026-03-14 16:30"'
        )
        raise BadInput("trialfit", [Located("--when", says)])
    return moment


def read_site(file: str, when: str = "", *, with_findings: bool = True) -> tuple[Site, dict[str, int]]:
    """The work of a build, and the change that last wrote each path, if a book records it. Raises BadInput."""
    build = read_build(file)
    changed, ranks = _known_to_book(file)
    return site_at(build, file, moment_given(when), ranks, with_findings=with_findings), changed


def site_at(
    build: Build,
    where: str,
    moment: datetime,
    ranks: dict[tuple[str, str], int] | None = None,
    *,
    with_findings: bool = True,
) -> Site:
    """The work of a build at a moment, with its findings on request."""
    from trialfit.planning.site import site_of

    @cache
    def findings(subject: str) -> Report:
        from trialfit.cli.screen import working
        from trialfit.subjects.catalogue import evaluate

        with working("working out the findings that the work depends on"):
            return evaluate(build, subjects=(subject,) if subject else (), all_figures=False, all_facts=False)

    return site_of(build, moment, findings if with_findings else None, where, ranks)


def do(
    file: str,
    make: Callable[[Site], Event],
    *,
    when: str,
    device: str,
    note: str,
    as_json: bool,
    with_findings: bool = True,
) -> int:
    """One thing done, as one change of the book. Raises BadInput with the reason if it is not allowed."""
    from trialfit.cli.books import open_book, remarks_on
    from trialfit.cli.pages.work import done_page
    from trialfit.cli.screen import answer
    from trialfit.planning.doing import record
    from trialfit.planning.reports import done
    from trialfit.planning.site import site_of

    moment = moment_given(when)
    seen: list[Site] = []

    def made(build: Build) -> Event:
        seen.append(site_at(build, file, moment, with_findings=with_findings))
        return make(seen[-1])

    with open_book(file) as book:
        event, change = record(book, made, device=device_name(device), note=note)
        after = site_of(book.build(), moment, seen[-1].ground.findings, file)
        report = done(seen[-1], after, event, change.number, remarks_on(book, change))
    answer(report, done_page(report, after), as_json=as_json)
    return 0


def written_in(file: str) -> dict[tuple[str, str], int] | None:
    """The change since which each link between jobs exists, if a book records it."""
    return _known_to_book(file)[1]


def _known_to_book(file: str) -> tuple[dict[str, int], dict[tuple[str, str], int] | None]:
    from trialfit.book.opening import is_book

    if not is_book(file):
        return {}, None
    from trialfit.cli.books import open_book

    with open_book(file, read_only=True) as book:
        return _written(book)


def _written(book: History) -> tuple[dict[str, int], dict[tuple[str, str], int]]:
    """The change that last wrote each path; and the change since which each link between jobs exists."""
    from trialfit.book.renaming import kinds_of, path_now

    changed: dict[str, int] = {}
    ranks: dict[tuple[str, str], int] = {}
    kind_of = kinds_of(book.document)
    for change in book.journal():
        changed[path_now(kind_of, change.path)] = change.number
        if change.path.startswith("job."):
            _rank(change.path, change.after, change.number, ranks)
    return changed, ranks


def _rank(path: str, after: object, number: int, ranks: dict[tuple[str, str], int]) -> None:
    _, job, *key = path.split(".")
    if key not in ([], ["needs"]):
        return
    entry = after.get("needs", ()) if isinstance(after, dict) else after if key else ()
    needs = [entry] if isinstance(entry, str) else entry if isinstance(entry, list) else []
    words = {word for text in needs for word in str(text).replace(",", " ").split()}
    for link in [link for link in ranks if link[0] == job and link[1] not in words]:
        del ranks[link]
    for word in words:
        ranks.setdefault((job, word), number)
