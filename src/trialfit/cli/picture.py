"""A picture of the drivetrain at a pose: from the side and from above, with the tightest gaps marked, as PNG.

Answers   write_picture    the file
Not here  the pose (advice/placing.py); an interactive look
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np

from trialfit.advice.posed import with_picks
from trialfit.book.problems import BadInput, Located
from trialfit.placement.binding import look
from trialfit.placement.pose import turn_of
from trialfit.placement.solids import corners
from trialfit.subjects.clearance.placing import SIGNS, placing_of

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from trialfit.advice.placement_shapes import Placement
    from trialfit.book.build import Build
    from trialfit.placement.problem import Problem

    Array = NDArray[np.float64]

_VIEWS = ((0, 2, "from the right: forward →, up ↑"), (0, 1, "from above: forward →, left ↑"))
_MARKED = 4
_GROUND = "ground"


def write_picture(build: Build, found: Placement, file: str) -> None:
    """Writes the picture of a placement. Raises BadInput where the file cannot be written."""
    if Path(file).suffix.lower() != ".png":
        raise BadInput(
            "trialfit place", [Located("--picture", f'is "{file}": a PNG file is wanted, for example bay.png')]
        )
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure

    problem = placing_of(with_picks(build, found.picks)).problem
    scale = np.array([1000.0] * 3 + [np.degrees(1.0)] * 3)
    pose = np.array([one.best for one in found.coordinates]) / scale * SIGNS
    figure = Figure(figsize=(11, 9), layout="constrained")
    FigureCanvasAgg(figure)
    for axes, (across, up, title) in zip(figure.subplots(2, 1), _VIEWS, strict=True):
        _draw(axes, problem, pose, across, up)
        axes.set_title(title, loc="left")
        axes.set_aspect("equal")
        axes.set_xlabel("mm")
    try:
        figure.savefig(file)
    except OSError as wrong:
        raise BadInput("trialfit place", [Located("--picture", f"cannot be written: {wrong.strerror}")]) from None


def _draw(axes: Any, problem: Problem, pose: Array, across: int, up: int) -> None:  # noqa: ANN401 - the library's own
    from scipy.spatial import ConvexHull

    turn = turn_of(*pose[3:])
    for solids, moves in ((problem.fixed, False), (problem.moving, True)):
        for solid in solids:
            if solid.name == _GROUND or " on its way " in solid.name:
                continue
            for piece in solid.pieces:
                points = corners(solid.states[0].applied(piece))
                points = points @ turn.T + pose[:3] if moves else points
                flat = points[:, [across, up]] * 1000
                outline = flat[ConvexHull(flat).vertices]
                axes.fill(
                    *outline.T,
                    facecolor="0.75" if moves else "none",
                    edgecolor="black",
                    alpha=0.6,
                    hatch=None if moves else "//",
                )
    for seen in [one for one in look(problem, pose) if one.points is not None][:_MARKED]:
        ends = np.asarray(seen.points)[:, [across, up]] * 1000
        axes.plot(*ends.T, color="black", marker="o", linewidth=2)
        axes.annotate(
            f"{seen.value * 1000:.0f} mm {seen.name.partition('.')[2]}",
            ends[0],
            xytext=(8, 8),
            textcoords="offset points",
        )
