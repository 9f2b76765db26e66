"""Golden pictures: what is in them and where, not their pixels.

`python tests/drawing/golden.py` writes them anew; look at each picture before it is kept. They guard against change and
prove nothing by themselves.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path

from svg import read

from trialfit.advice.how_to_tighten import BoltPlace
from trialfit.book.toml_text import read_text
from trialfit.drawing.arrangement.general import arrangement_of
from trialfit.drawing.bolt_pattern import bolt_pattern
from trialfit.drawing.pen import Fill, Stroke
from trialfit.drawing.plot import Axis, Bar, Limit, Plot, Series, Spot
from trialfit.drawing.plot_picture import picture_of
from trialfit.evaluation.verdict import Verdict
from trialfit.handbook.fastening.bolt_patterns import circle
from trialfit.handbook.fastening.tightening_order import circle_order

FOLDER = Path(__file__).parent / "golden"
CAR = """
name = "golden"
[car]
wheelbase = "2400 mm, taped"
rear_track = "1420 mm, taped"
[drivetrain]
x = "-300 mm, taped"
y = "0 mm, taped"
z = "400 mm, taped"
inclination = "3 deg, gauged"
[tyre_rear]
kind = "tyre"
size = "205/55 R16"
[sump]
kind = "solid"
fixed_to = "drivetrain"
x = "200 mm, taped"
z = "-200 mm, taped"
length = "400 mm, taped"
width = "300 mm, taped"
height = "120 mm, taped"
[rack]
kind = "solid"
shape = "cylinder"
axis = "y"
x = "100 mm, taped"
z = "200 mm, taped"
length = "900 mm, taped"
diameter = "50 mm, taped"
"""


def _plot():
    return Plot(
        build="golden",
        name="pull",
        title="Pull",
        x=Axis(says="road speed", unit="km/h", low=0.0),
        y=Axis(says="force", unit="N", low=0.0),
        series=(
            Series(
                says="gear 1",
                short="1",
                x=(10, 20, 30),
                y=(900, 1000, 800),
                low=(850, 950, 760),
                high=(950, 1060, 850),
                stroke=Stroke.thick,
            ),
            Series(
                says="road load",
                short="road load",
                x=(0, 20, 30, 40, 50),
                y=(100, 150, None, 250, 300),
                stroke=Stroke.hidden,
            ),
        ),
        limits=(Limit(says="grip, 700 N", value=700, low=650, high=750, side="at most"),),
        spots=(
            Spot(says="fails: 25 km/h", x=25, y=500, low=22, high=29, verdict=Verdict.fails, finding="some.finding"),
        ),
        notes=("tinted: 95 % of the draws",),
        missing={"car.mass": "mass as driven"},
        draws=1,
    )


def _rows():
    return Plot(
        build="golden",
        name="rows",
        title="Rows",
        x=Axis(says="share", unit="%", low=0.0),
        y=Axis(says="element", rows=("clutch", "gearbox")),
        bars=(
            Bar(row=0, start=0, end=60, low=50, high=75, says="holds: 60", fill=Fill.light),
            Bar(row=1, start=0, end=110, says="fails: 110", fill=Fill.grey, hatched=True),
        ),
        limits=(Limit(says="what it carries", value=100, along="x", side="at most"),),
        draws=1,
    )


def pictures():
    """By name."""
    turns = {bolt: turn for turn, bolt in enumerate(circle_order(8), 1)}
    bolts = [
        BoltPlace(bolt=n, turn=turns[n], x_mm=x * 1e3, y_mm=y * 1e3) for n, (x, y) in enumerate(circle(8, 0.12), 1)
    ]
    drawing = arrangement_of(read_text(CAR, "golden.toml"), date="2026-03-14", journal="1", draws=8)
    return {
        "bolt_pattern": bolt_pattern(bolts, 120, 90, "eight"),
        "plot": picture_of(_plot()),
        "rows": picture_of(_rows()),
        "arrangement": drawing.pictures[0],
    }


def structure(svg):
    """What is compared: how many elements of each kind, all texts, all places to a hundredth of a millimetre."""
    found = read(svg)
    return {
        "size": list(found.size),
        "counts": dict(sorted(found.counts.items())),
        "texts": list(found.texts),
        "places": [round(number, 2) for number in found.numbers],
    }


def write():
    """All of them anew."""
    FOLDER.mkdir(exist_ok=True)
    for name, picture in pictures().items():
        (FOLDER / f"{name}.json").write_text(
            json.dumps(structure(picture.svg()), ensure_ascii=False) + "\n", encoding="utf-8"
        )
        (Path(sys.argv[1]) / f"{name}.svg").write_text(picture.svg(), encoding="utf-8") if len(sys.argv) > 1 else None


if __name__ == "__main__":
    write()
