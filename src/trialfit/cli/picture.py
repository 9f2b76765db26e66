"""A picture of the drivetrain at a pose: from the side and from above, with the tightest gaps marked, as PNG.

Answers   picture_file     where it goes, looked at before anything long is worked out
          write_picture    the file
Not here  what is in it (drawing/look/scene.py); a page to turn round (look.py)
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

from trialfit.book.problems import BadInput, Located
from trialfit.drawing.look.scene import said_of_scans, scene_of_placement
from trialfit.drawing.look.views import VIEWS, outline, pair

if TYPE_CHECKING:
    from trialfit.advice.placement_shapes import Placement
    from trialfit.book.build import Build
    from trialfit.drawing.look.scene import Scene
    from trialfit.drawing.look.views import View

_MARKED = 4
_HALO = {"boxstyle": "round,pad=0.15", "facecolor": "white", "edgecolor": "black", "linewidth": 0.6}
_UP = {"side": "up ↑", "plan": "left ↑"}


def picture_file(file: str) -> Path:
    """Where the picture goes. Raises BadInput where none can go there."""
    path = Path(file)
    if path.suffix.lower() != ".png":
        raise BadInput(
            "trialfit place", [Located("--picture", f'is "{file}": expected a PNG file, for example bay.png')]
        )
    if not path.parent.is_dir():
        raise BadInput("trialfit place", [Located("--picture", f'is "{file}": the folder {path.parent} is not there')])
    return path


def write_picture(build: Build, found: Placement, file: Path) -> None:
    """Writes the picture of a placement. Raises BadInput where the file cannot be written."""
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure

    scene = scene_of_placement(build, found)
    figure = Figure(figsize=(11, 10), layout="constrained")
    FigureCanvasAgg(figure)
    for axes, view in zip(figure.subplots(2, 1), VIEWS, strict=True):
        _draw(axes, scene, view)
    figure.supxlabel("\n".join((_told(scene), *said_of_scans(build))), x=0.01, ha="left", fontsize=10, parse_math=False)
    try:
        figure.savefig(file)
    except OSError as wrong:
        raise BadInput("trialfit place", [Located("--picture", f"cannot be written: {wrong.strerror}")]) from None


def _told(scene: Scene) -> str:
    """The words to the numbers, below the drawings, where they hide nothing."""
    marks = scene.marks[:_MARKED]
    rows = [f"{n}  {pair(mark)}: {mark.gap}, wanted {mark.wanted}, {mark.word}" for n, mark in enumerate(marks, 1)]
    return "\n".join([scene.title, *rows, "grey: drivetrain; hatched: car; a gap is drawn where its parts move to"])


def _draw(axes: Any, scene: Scene, view: View) -> None:  # noqa: ANN401 - the library's own
    both = [view.across, view.up]
    for body in sorted(scene.bodies, key=lambda body: body.moves):
        for piece in body.pieces:
            corners = outline(piece[:, both] * 1000)
            look = {"facecolor": "0.75", "alpha": 0.6} if body.moves else {"facecolor": "none", "hatch": "//"}
            axes.fill(*corners.T, edgecolor="black", **look)
    for number, mark in enumerate(scene.marks[:_MARKED], 1):
        ends = mark.ends[:, both] * 1000
        axes.plot(*ends.T, color="black", marker="o", markerfacecolor="white", markersize=4, linewidth=2)
        side = 1 if number % 2 else -1
        axes.annotate(
            str(number),
            ends.mean(axis=0),
            xytext=(side * 14, 14),
            textcoords="offset points",
            ha="center",
            bbox=_HALO,
            arrowprops={"arrowstyle": "-", "linewidth": 0.8},
        )
    axes.set_title(f"{view.called}: forward →, {_UP[view.name]}", loc="left")
    axes.set_aspect("equal")
    axes.set_xlabel("mm")
