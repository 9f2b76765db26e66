"""`trialfit draw`: the general arrangement, to scale."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal

from cyclopts import Parameter

from trialfit.cli.options import MOMENT, BuildFile, Draws, Json, draws_wanted, remark_on_names
from trialfit.cli.sites import moment_given

if TYPE_CHECKING:
    from datetime import datetime

    from trialfit.book.build import Build
    from trialfit.drawing.pen import Picture

OutFile = Annotated[
    str | None, Parameter(name=("-o", "--out"), help="the SVG to write, or NAME.pdf; else arrangement.svg here")
]
Against = Annotated[
    str | None,
    Parameter(help="compare with an earlier build: another book or TOML file, or a moment of this book as in as-of"),
]
_FILE = "arrangement.svg"
Size = Annotated[Literal["a4", "a3"], Parameter(name="--paper", help="size of the paper")]


def draw(
    build: BuildFile,
    /,
    *,
    out: OutFile = None,
    against: Against = None,
    paper: Size = "a4",
    draws: Draws = 4096,
    json: Json = False,
) -> int:
    """Draws the car from its left side and from above, to scale, with every part whose place is written, and what does
    not hold there.

    Numbered balloons point at everything that does not hold; the list beside the views has their findings, and continues on
    further sheets (NAME-2.svg and so on; a PDF holds them all, at true size). With --against, earlier positions are
    drawn in thin lines of a long dash and two dots, and every movement is listed in mm. With --json the content of the
    drawing is printed, and SVG is written only if -o names a file. Sizes are the nominal values of the facts.
    """
    from trialfit.book.saving import PDF, SVG, check_output
    from trialfit.cli.pages.drawings import drawing_page
    from trialfit.cli.screen import answer, working
    from trialfit.drawing.arrangement.general import arrangement_of
    from trialfit.drawing.arrangement.report import report_of
    from trialfit.sheets.known import known_of

    wanted = draws_wanted(draws)
    if out is not None or not json:
        check_output(Path(out or _FILE), SVG, PDF, reads=[build, *([against] if against else [])])
    known = known_of(build, moment_given(""), MOMENT.get())
    remark_on_names(known.build, build)
    earlier = _earlier(build, against) if against is not None else None
    with working(f"working out {wanted} draws"):
        made = arrangement_of(
            known.build,
            date=f"{known.dated:%Y-%m-%d}",
            journal=known.journal,
            against=earlier,
            against_name=Path(against).name if against is not None else "",
            paper=paper.upper(),
            draws=wanted,
        )
    files = _written(made.pictures, out or _FILE, known.dated) if out is not None or not json else ()
    report = report_of(known.build.name, made, files)
    answer(report, drawing_page(report), as_json=json)
    return 0


def _earlier(build: str, against: str) -> Build:
    """The build drawn against: in another file, or in this one at an earlier moment. Raises BadInput."""
    from trialfit.book.disk import mode_of
    from trialfit.book.opening import open_build, read_moment
    from trialfit.book.problems import BadInput, Located

    if mode_of(against):
        other = open_build(against)
        remark_on_names(other, against)
        return other
    try:
        moment = read_moment(against)
    except BadInput:
        says = f'is "{against}": expected an existing file or a moment, for example old.toml or 2026-03-14'
        raise BadInput("trialfit draw", [Located("--against", says)]) from None
    return open_build(build, moment)


def _written(pictures: tuple[Picture, ...], out: str, dated: datetime) -> tuple[str, ...]:
    from trialfit.book.saving import PDF, SVG, check_output, save

    first = Path(out)
    if first.suffix.lower() == ".pdf":
        from trialfit.sheets.press import press_plates

        save(press_plates("General arrangement", pictures, dated), first, PDF)
        return (str(first),)
    others = [first.with_name(f"{first.stem}-{number}{first.suffix}") for number in range(2, len(pictures) + 1)]
    files = [first, *others]
    for file in files:  # all of them before the first is written
        check_output(file, SVG)
    for file, picture in zip(files, pictures, strict=True):
        save(picture.svg().encode(), file, SVG)
    return tuple(map(str, files))
