"""`trialfit mesh`: a scan or drawing brought in."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

from cyclopts import Parameter

from trialfit.cli.options import Json  # noqa: TC001 - read when the command is run

if TYPE_CHECKING:
    from collections.abc import Callable

MeshFile = Annotated[str, Parameter(help="STL, OBJ, PLY, GLB, OFF or STEP")]
ForPart = Annotated[str, Parameter(name="--for", help="name in the build of the part with this shape")]
Points = Annotated[
    list[str] | None,
    Parameter(
        name="--point",
        consume_multiple=False,
        negative="",
        allow_leading_hyphen=True,
        help='a point in the file and the same point on the part, three times: "120 | 0 | 35 = 270 mm | 0 mm | -160 mm"',
    ),
]
Pieces = Annotated[int, Parameter(help="greatest number of convex pieces")]
Kept = Annotated[int, Parameter(name="--triangles", help="number of triangles to keep, about")]
Into = Annotated[str | None, Parameter(help="the build to write the part into; its file is put beside that build")]
FixedTo = Annotated[str | None, Parameter(help="for --into: what the part moves with, car or drivetrain")]


def mesh(
    file: MeshFile,
    /,
    *,
    part: ForPart,
    point: Points = None,
    pieces: Pieces = 32,
    kept: Kept = 20_000,
    into: Into = None,
    fixed_to: FixedTo = None,
    json: Json = False,
) -> int:
    """Brings in a scan or drawing as a surface and its convex pieces.

    Three points that you can find both in the file and on the part set its unit and axes. The surface is cleaned where
    that is safe, thinned out, split into convex pieces, and written beside the build. The search for the best place
    uses the pieces; gaps are judged by the surface. The distance of both from the scan is stated. With --into the part
    is written into the build; if the build would not be sound with it, no file is left behind.
    """
    from pathlib import Path

    from trialfit.advice.bringing import bring
    from trialfit.cli.change import write_part
    from trialfit.cli.pages.mesh import page
    from trialfit.cli.screen import answer, working

    def enter(entries: dict[str, str], write: Callable[[], None]) -> None:
        more = {} if fixed_to is None else {f"{part}.fixed_to": fixed_to}
        write_part(into or "", part, {**entries, **more}, write)

    with working(f"splitting {file}"):
        folder = Path(into).parent if into else Path()
        brought = bring(Path(file), part, point or (), pieces, folder, kept, enter if into else None)
    if into:
        brought = brought.model_copy(update={"into": into})
    answer(brought, page(brought), as_json=json)
    return 0
