"""The options that several commands share, in one wording.

Answers   BuildFile, BookFile, Draws, Subjects, Note, Device, Json    annotated types for the parameters of a command
          read_build      the build of a file, as it is or, under `as-of`, as it was
          remark_on_names   what is said about old names in a build that was read in another way
          device_name     the device that a change is written under
          draws_wanted    a number of draws within the bounds
"""

from __future__ import annotations

import sys
from contextvars import ContextVar
from typing import TYPE_CHECKING, Annotated

from cyclopts import Parameter

if TYPE_CHECKING:
    from trialfit.book.build import Build
    from trialfit.book.opening import Moment

MOST_DRAWS = 1_000_000

MOMENT: ContextVar[Moment | None] = ContextVar("moment", default=None)
"""When set, the build is read as it was then."""

BuildFile = Annotated[str, Parameter(help="the book or the TOML file of the build")]
BookFile = Annotated[str, Parameter(help="the book")]
Note = Annotated[str, Parameter(help="why, for the journal")]
Device = Annotated[
    str,
    Parameter(name="--as", show_default=False, help="name of the device for the journal; else this computer's name"),
]
Draws = Annotated[int, Parameter(help="number of values drawn for each uncertain fact")]
Subjects = Annotated[
    list[str] | None,
    Parameter(
        name="--subject", consume_multiple=False, negative="", help="only this subject; may be given several times"
    ),
]
Json = Annotated[
    bool,
    Parameter(name="--json", negative="", show_default=False, help="print JSON; the command schema shows its shape"),
]


def read_build(file: str, *, remarks_shown: bool = False) -> Build:
    """The build of a file; a remark about old names goes to stderr, unless the command shows remarks. Raises BadInput."""
    from trialfit.book.opening import open_build

    build = open_build(file, MOMENT.get())
    if not remarks_shown:
        remark_on_names(build, file)
    return build


def remark_on_names(build: Build, file: str) -> None:
    """Says on stderr which old names a build was read with, where there are any."""
    if build.renamed:
        from trialfit.book.renaming import remark_on
        from trialfit.cli.screen import clean

        sys.stderr.write(f"{clean(remark_on(build.renamed, file))}\n")


def device_name(given: str) -> str:
    """The name given, else that of this computer."""
    if given:
        return given
    from platform import node

    return node()


def draws_wanted(draws: int) -> int:
    """The number of draws, if within the bounds. Raises BadInput."""
    from trialfit.book.problems import BadInput, Located

    if not 1 <= draws <= MOST_DRAWS:
        says = f"is {draws}: expected a number from 1 to {MOST_DRAWS}, for example 4096"
        raise BadInput("trialfit", [Located("--draws", says)])
    return draws
