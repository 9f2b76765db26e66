"""`trialfit demo`: an invented build worked through."""

from __future__ import annotations

from pathlib import Path

import trialfit
from trialfit.cli.options import Json  # noqa: TC001 - read when the command is run

NAME = "hillclimb.toml"


def demo(*, json: Json = False) -> int:
    """Works through the first demo build and prints its findings.

    The build is invented: some of its facts are measured, some come from catalogues, some are guessed and some are
    missing, so that every verdict appears. The exit code is 0: the failing findings are part of the demonstration.
    """
    from trialfit.book.toml_text import read
    from trialfit.cli.pages.report import page
    from trialfit.cli.screen import answer, line, working
    from trialfit.cli.started import started_as, typed
    from trialfit.subjects.catalogue import evaluate

    file = _file()
    build = read(file)
    with working("working out the demo build"):
        report = evaluate(build)
    program, name = started_as(), typed(str(file))
    story = line(build.document.story)
    after = f"Next: {program} measure {name} says what to measure; {program} why {name} FINDING shows the facts behind a finding."
    answer(report, (story, *page(build, report), line(""), line(after)), as_json=json)
    return 0


def _file() -> Path:
    """The demo build, as a relative path if it lies below the working folder. Raises BadInput if it is missing."""
    from trialfit.book.problems import BadInput, Located

    here = Path(trialfit.__file__).resolve()
    for folder in (here.parent, here.parents[2]):
        file = folder / "demos" / NAME
        if file.is_file():
            return file.relative_to(Path.cwd()) if file.is_relative_to(Path.cwd()) else file
    says = f"demos/{NAME} is missing: it comes with the source of this program, not with the installed package"
    raise BadInput("trialfit demo", [Located("", says)])
