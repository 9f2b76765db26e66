"""`trialfit as-of`: a reading command on the build as it was."""

from __future__ import annotations

from typing import Annotated

from cyclopts import Parameter

from trialfit.cli.commands import COMMANDS
from trialfit.cli.options import MOMENT, BookFile

Date = Annotated[
    str, Parameter(help='such as 2026-03-14 (the end of that day), "2026-03-14 16:30", or the number of a change')
]
Command = Annotated[str, Parameter(help="a reading command", allow_leading_hyphen=True)]
Words = Annotated[str, Parameter(help="its arguments after the build", allow_leading_hyphen=True, show=False)]


def as_of(book: BookFile, date: Date, command: Command, /, *words: Words) -> int:
    """Runs a reading command on the build as it was at a date.

    Write the book in the place of the build: `trialfit as-of garage.book 2026-03-14 check --figures`. A date alone
    means the end of that day, local time.
    """
    from trialfit.book.opening import read_moment
    from trialfit.book.problems import BadInput, Located
    from trialfit.cli.running import run
    from trialfit.parts.reading import nearest

    reading = [name for name, (typed, _, _) in COMMANDS.items() if typed.startswith("BUILD")]
    if command not in reading:
        says = f'"{command}" is not a command that reads a build: {nearest(command, reading)}'
        raise BadInput("trialfit as-of", [Located("", says)])
    token = MOMENT.set(read_moment(date))
    try:
        return run([command, book, *words])
    finally:
        MOMENT.reset(token)
