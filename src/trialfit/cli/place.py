"""`trialfit place`: the best place of the drivetrain."""

from __future__ import annotations

from typing import Annotated

from cyclopts import Parameter

from trialfit.cli.look import Look  # noqa: TC001 - read when the command is run
from trialfit.cli.options import BuildFile, Draws, Json, draws_wanted, read_build

Tried = Annotated[
    str | None, Parameter(name="--try", help="choices of which all options are tried, such as sump,lever")
]
Held = Annotated[
    list[str] | None,
    Parameter(
        name="--hold",
        consume_multiple=False,
        negative="",
        help='a coordinate to keep fixed, such as "x=-270 mm" or "inclination=3 deg"; may be given several times',
    ),
]

Picture = Annotated[str | None, Parameter(help="write a picture of the pose with its tightest gaps to this PNG file")]


def place(
    build: BuildFile,
    /,
    *,
    tried: Tried = None,
    hold: Held = None,
    draws: Draws = 4096,
    picture: Picture = None,
    look: Look = None,
    json: Json = False,
) -> int:
    """Finds the best place of the drivetrain, and what limits it.

    The best pose is the one with the largest smallest margin, within the window of the build. It is shown with every
    requirement and its spread, which ones limit it, and what relaxing each would gain. If no pose fits, it shows the
    smallest set of requirements that cannot hold together, and the least change that makes everything fit. An
    interrupt gives the best so far. The exit code is 1 when no pose fits, else 0.
    """
    from trialfit.advice.placing import place as best_place
    from trialfit.cli.look import look_file, write_look
    from trialfit.cli.pages.placement import page
    from trialfit.cli.screen import answer, telling

    read = read_build(build)
    page_file = look_file("trialfit place", look) if look else None
    drawing = None
    if picture:
        from trialfit.cli.picture import picture_file

        drawing = picture_file(picture)
    names = [name.strip() for name in (tried or "").split(",") if name.strip()]
    with telling("looking for the best place") as told:
        found = best_place(read, names, hold or (), draws_wanted(draws), told)
    if drawing:
        from trialfit.cli.picture import write_picture

        write_picture(read, found, drawing)
    if page_file:
        from trialfit.drawing.look.scene import scene_of_placement

        write_look(scene_of_placement(read, found), page_file)
    answer(found, page(found, build), as_json=json)
    return int(found.normalised < 0)
