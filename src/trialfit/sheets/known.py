"""The data of a sheet: the build, its findings and its work at one moment, each worked out once for all sheets.

Answers   Known      build, units, report, site, measurements, previews
          known_of   the data of a file, book or TOML
Not here  the content of a sheet (the sheets), printing (press.py)
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from trialfit.book.opening import is_book, local, number_at, open_build
from trialfit.evaluation.evaluation import DRAWS
from trialfit.sheets.amounts import UnitSystem

if TYPE_CHECKING:
    from collections.abc import Mapping

    from trialfit.advice.what_to_measure import Measurement
    from trialfit.book.build import Build
    from trialfit.book.opening import Moment
    from trialfit.evaluation.finding import Report
    from trialfit.planning.site import Site

NO_JOURNAL = "none, a text file"


@dataclass(frozen=True)
class Known:
    """Everything known about a build at one moment.

    `dated` is when it was last changed and `journal` the number of that change; `now` is the moment of the work. `written`
    is as in network_of, `previews` holds small pictures by the SHA-256 of their photo.
    """

    build: Build
    dated: datetime
    journal: str
    now: datetime
    units: UnitSystem = UnitSystem.metric
    where: str = ""
    written: Mapping[tuple[str, str], int] | None = None
    previews: Mapping[str, bytes] | None = None
    draws: int = DRAWS

    @cached_property
    def report(self) -> Report:
        """Every finding and figure."""
        from trialfit.subjects.catalogue import evaluate

        return evaluate(self.build, self.draws)

    @cached_property
    def measurements(self) -> tuple[Measurement, ...]:
        """What to measure next, the most pressing first."""
        from trialfit.advice.what_to_measure import measure_next

        return measure_next(self.build, self.report, self.draws)

    @cached_property
    def site(self) -> Site:
        """The work at this moment."""
        from trialfit.planning.site import site_of

        return site_of(self.build, self.now, lambda _: self.report, self.where, self.written)


def known_of(
    file: str,
    now: datetime,
    moment: Moment | None = None,
    units: UnitSystem = UnitSystem.metric,
    written: Mapping[tuple[str, str], int] | None = None,
) -> Known:
    """Everything known about the build in a file; a book also has its state at an earlier moment. Raises BadInput.

    A TOML file is dated by the time it was last written, a book by its newest change up to that moment.
    """
    build = open_build(file, moment)
    if not is_book(file):
        dated = datetime.fromtimestamp(int(Path(file).stat().st_mtime)).astimezone()
        return Known(build, dated, NO_JOURNAL, now, units, file, written)
    from trialfit.book.journal import Book

    with Book.open(Path(file), read_only=True) as book:
        number = book.number if moment is None else number_at(book, moment)
        newest = next((change for change in book.journal(number - 1) if change.number == number), None)
        shown = {card.sha256: book.preview(card.sha256) for card in build.document.attachments.values()}
    dated = local(newest.time).replace(microsecond=0) if newest else now
    previews = {digest: picture for digest, picture in shown.items() if picture}
    return Known(build, dated, str(number), now, units, file, written, previews)
