"""One description of a plot for all its uses: pages and sheets, `plot --json`, and the table.

Answers   Plot        axes, series with their spread, bars, limits, spots, notes, and what is missing
          Axis        a quantity with its unit; or names one below the other
          Series      a line with the band of its spread
          Bar         one bar of a row, or a wait
          Limit       a level that values must keep
          Spot        one value of a finding or figure
          table_of    the plot's numbers as CSV
Not here  how it is drawn (plot_picture.py); which plots there are (plots/)

Numbers are in the unit of their axis, rounded to six digits. A band holds 95 % of the draws.
"""

from __future__ import annotations

import csv
from io import StringIO

from pydantic import Field

from trialfit.drawing.pen import Fill, Stroke
from trialfit.evaluation.verdict import Verdict
from trialfit.facts.frozen import Frozen


class Axis(Frozen):
    """What an axis shows: a quantity in a unit, or rows with names, the first on top."""

    says: str
    unit: str = ""
    low: float | None = Field(default=None, description="start of the axis, if the numbers do not decide it")
    high: float | None = None
    rows: tuple[str, ...] = Field(default=(), description="names of the rows of an axis without numbers")
    dates: bool = Field(default=False, description="whether the numbers are days, 1 January of the year 1 being day 1")

    @property
    def words(self) -> str:
        """Quantity and unit."""
        return f"{self.says}, {self.unit}" if self.unit else self.says


class Series(Frozen):
    """A line through points; null for a point outside the range of a formula."""

    says: str
    short: str = Field(default="", description="label at its end; `says` is in the key")
    x: tuple[float, ...]
    y: tuple[float | None, ...]
    low: tuple[float | None, ...] = Field(default=(), description="lower edge of the band; empty without uncertainty")
    high: tuple[float | None, ...] = ()
    ring: bool = Field(
        default=False,
        description="whether low and high are distances from the origin, each along the ray through its point",
    )
    stroke: Stroke
    hatched: bool = Field(default=False, description="whether the band is hatched instead of tinted")


class Bar(Frozen):
    """One bar of a row, from one end to the other."""

    row: int
    start: float
    end: float
    low: float | None = Field(default=None, description="lower end of its spread")
    high: float | None = None
    says: str = ""
    fill: Fill
    hatched: bool = False
    finding: str = Field(default="", description="id of the finding or figure it shows")


class Limit(Frozen):
    """A level that values must keep; with its row if it applies to one row."""

    says: str
    value: float
    low: float | None = None
    high: float | None = None
    along: str = Field(default="y", description="the axis of the level: x or y")
    side: str = Field(default="", description="at most or at least; values on the other side are not allowed")
    row: int | None = None
    finding: str = ""


class Spot(Frozen):
    """One value of a finding or figure, at its place."""

    says: str
    x: float
    y: float
    low: float | None = Field(default=None, description="lower end of its spread, along `along`")
    high: float | None = None
    along: str = "x"
    verdict: Verdict | None = None
    finding: str = ""


class Plot(Frozen):
    """A plot of a build."""

    build: str
    name: str
    title: str
    x: Axis
    y: Axis
    series: tuple[Series, ...] = ()
    bars: tuple[Bar, ...] = ()
    limits: tuple[Limit, ...] = ()
    spots: tuple[Spot, ...] = ()
    notes: tuple[str, ...] = ()
    missing: dict[str, str] = Field(default={}, description="facts to get before it is complete, with their meaning")
    draws: int

    @property
    def is_empty(self) -> bool:
        """Whether there is nothing to draw but the missing facts."""
        return not (self.series or self.bars or self.spots)


class PlotChoice(Frozen):
    """One plot, and the reason if it cannot be drawn."""

    name: str
    says: str
    why_not: str = Field(default="", description="missing facts that it needs; empty if it can be drawn")
    file: str = Field(default="", description="the file that was written; empty in a list")


class PlotList(Frozen):
    """The plots of a build."""

    build: str
    plots: tuple[PlotChoice, ...]


def table_of(plot: Plot) -> str:
    """The numbers of a plot as CSV: a row for each point, bar, limit and spot, with the units in the header."""
    out = StringIO()
    write = csv.writer(out, lineterminator="\n")
    write.writerow(["what", "name", _header(plot.x), _header(plot.y), "low", "high", "finding"])
    for series in plot.series:
        bands = zip(series.low, series.high, strict=True) if series.low else [(None, None)] * len(series.x)
        for x, y, (low, high) in zip(series.x, series.y, bands, strict=True):
            write.writerow(["series", series.says, x, _cell(y), _cell(low), _cell(high), ""])
    for bar in plot.bars:
        row = plot.y.rows[bar.row]
        write.writerow(
            [
                "bar",
                f"{row}: {bar.says}" if bar.says else row,
                bar.end,
                bar.row + 1,
                _cell(bar.low),
                _cell(bar.high),
                bar.finding,
            ]
        )
    for limit in plot.limits:
        level = ("", limit.value) if limit.along == "y" else (limit.value, "")
        write.writerow(["limit", limit.says, *level, _cell(limit.low), _cell(limit.high), limit.finding])
    for spot in plot.spots:
        write.writerow(["spot", spot.says, spot.x, spot.y, _cell(spot.low), _cell(spot.high), spot.finding])
    for path, says in plot.missing.items():
        write.writerow(["missing", f"{path}: {says}", "", "", "", "", ""])
    return out.getvalue()


def _header(axis: Axis) -> str:
    return f"{axis.says} [{axis.unit}]" if axis.unit else axis.says


def _cell(value: float | None) -> float | str:
    return "" if value is None else value
