"""The options that several commands share, in one wording.

Answers   BuildFile, Draws, Subjects, Json    annotated types for the parameters of a command
          read_build      the build of a file
          draws_wanted    a number of draws that can be worked with
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

from cyclopts import Parameter

if TYPE_CHECKING:
    from trialfit.book.build import Build

MOST_DRAWS = 1_000_000

BuildFile = Annotated[str, Parameter(help="the TOML file of the build")]
Draws = Annotated[int, Parameter(help="how many values to carry for each uncertain fact")]
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


def read_build(file: str) -> Build:
    """The build of a file. Raises BadInput."""
    from trialfit.book.toml_text import read

    return read(file)


def draws_wanted(draws: int) -> int:
    """The number of draws, if it can be worked with. Raises BadInput."""
    from trialfit.book.problems import BadInput, Located

    if not 1 <= draws <= MOST_DRAWS:
        says = f"is {draws}: a number from 1 to {MOST_DRAWS} is wanted, 4096 are usual"
        raise BadInput("trialfit", [Located("--draws", says)])
    return draws
