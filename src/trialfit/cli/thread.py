"""`trialfit thread`: naming a thread from readings."""

from __future__ import annotations

from typing import Annotated, Literal

from cyclopts import Parameter

from trialfit.cli.options import Json  # noqa: TC001 - read when the command is run

Reading = Annotated[str, Parameter(help='caliper over the crests, such as "9.7 mm" or "9.70 ± 0.05 mm"')]
Pitch = Annotated[str | None, Parameter(help='pitch gauge, such as "28 tpi", "1.5 mm" or "1.41 ± 0.02 mm"')]
Hole = Annotated[
    bool, Parameter(negative="", show_default=False, help="the thread is in a hole: the reading is between its crests")
]
Tapered = Annotated[Literal["yes", "no"] | None, Parameter(help="whether its diameter grows along its length")]


def thread(
    reading: Reading, /, *, pitch: Pitch = None, hole: Hole = False, tapered: Tapered = None, json: Json = False
) -> int:
    """Shows which threads it can be, how likely each is, and how to tell them apart.

    Measure with a caliper, over the crests of a screw or between those of a hole; a pitch gauge narrows it down.
    Before the reading, all threads of the tables count as equally likely.
    """
    from trialfit.advice.identifying import identify_thread
    from trialfit.cli.pages.thread import page
    from trialfit.cli.screen import answer

    found = identify_thread(reading, pitch, female=hole, tapered=None if tapered is None else tapered == "yes")
    answer(found, page(found), as_json=json)
    return 0
