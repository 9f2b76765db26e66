"""`trialfit mesh`: a scan or drawing brought in."""

from __future__ import annotations

from typing import Annotated

from cyclopts import Parameter

from trialfit.cli.options import Json  # noqa: TC001 - read when the command is run

MeshFile = Annotated[str, Parameter(help="STL, OBJ, PLY, GLB or OFF")]
ForPart = Annotated[str, Parameter(name="--for", help="the part it is the shape of, as the build names it")]
Points = Annotated[
    list[str] | None,
    Parameter(
        name="--point",
        consume_multiple=False,
        negative="",
        allow_leading_hyphen=True,
        help='a point as the file counts it and as it is on the part, three times: "120 | 0 | 35 = 270 mm | 0 mm | -160 mm"',
    ),
]
Pieces = Annotated[int, Parameter(help="how many convex pieces at most")]


def mesh(file: MeshFile, /, *, part: ForPart, point: Points = None, pieces: Pieces = 32, json: Json = False) -> int:
    """Brings in a scan or drawing as convex pieces.

    Three points that you can find in the file and on the part settle its unit and its axes. The surface is cleaned where that is
    safe, split into convex pieces, and written beside the build; how far the pieces stick out is said, since that is how
    much a gap to them is under-stated.
    """
    from pathlib import Path

    from trialfit.advice.bringing import bring
    from trialfit.cli.pages.mesh import page
    from trialfit.cli.screen import answer, working

    with working(f"splitting {file}"):
        brought = bring(Path(file), part, point or (), pieces, Path())
    answer(brought, page(brought), as_json=json)
    return 0
