"""`trialfit plot`: a plot of a build as SVG or as a table, or the list of plots."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from cyclopts import Parameter

from trialfit.cli.options import BuildFile, Draws, Json, draws_wanted, read_build
from trialfit.cli.sites import When, moment_given, site_at, written_in

if TYPE_CHECKING:
    from trialfit.drawing.plot import Plot

Name = Annotated[str | None, Parameter(help="name of the plot; without it, all plots are listed")]
OutFile = Annotated[
    str | None, Parameter(name=("-o", "--out"), help="the .svg or .csv file to write; else NAME.svg here")
]
_TABLE = ".csv"


def plot(
    build: BuildFile,
    name: Name = None,
    /,
    *,
    out: OutFile = None,
    draws: Draws = 4096,
    when: When = "",
    json: Json = False,
) -> int:
    """Draws a plot of a build; without a name it lists the plots, with the reason if one cannot be drawn yet.

    The spread is drawn as a band or a whisker that holds 95 % of the draws, a verdict as a word and a mark. Missing
    facts are listed below, with lines to fill in by hand. A file name that ends in .csv gives the numbers as a table.
    With a name, --json prints the plot as data, and writes a file only if -o names one.
    """
    from trialfit.book.saving import SVG, TABLE, check_output
    from trialfit.cli.pages.drawings import plots_page
    from trialfit.cli.screen import answer, working
    from trialfit.drawing.plot import PlotChoice, PlotList
    from trialfit.drawing.plots.all_plots import plot_of, plots_of

    wanted = draws_wanted(draws)
    read = read_build(build)
    if name is None:
        _check_list(out)
        listed = plots_of(read)
        answer(listed, plots_page(listed), as_json=json)
        return 0
    file = out or f"{name}.svg"
    if out is not None or not json:
        check_output(Path(file), SVG, TABLE, reads=[build])
    with working(f"working out {wanted} draws"):
        made = plot_of(
            read, name, lambda: site_at(read, build, moment_given(when), written_in(build), with_findings=False), wanted
        )
    if out is not None or not json:
        _write(made, Path(file))
    if json:
        answer(made, (), as_json=True)
        return 0
    written = PlotList(build=read.name, plots=(PlotChoice(name=name, says=made.title, file=file),))
    answer(written, plots_page(written), as_json=False)
    return 0


def _check_list(out: str | None) -> None:
    from trialfit.book.problems import BadInput, Located

    if out is not None:
        raise BadInput("trialfit plot", [Located("-o", "needs the name of a plot: trialfit plot BUILD NAME -o FILE")])


def _write(made: Plot, file: Path) -> None:
    from trialfit.book.saving import SVG, TABLE, save
    from trialfit.drawing.plot import table_of
    from trialfit.drawing.plot_picture import picture_of

    text = table_of(made) if file.suffix.lower() == _TABLE else picture_of(made).svg()
    save(text.encode(), file, SVG, TABLE)
