"""A picture of the drivetrain at a pose: from the side and from above, with the tightest gaps marked, as PNG.

Answers   picture_file     the file, checked before any long work
          write_picture    the file
Not here  what is in it (drawing/look/scene.py, drawing/look/pictured.py); the 3D page (look.py)
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from trialfit.book.disk import is_folder
from trialfit.book.problems import BadInput, Located
from trialfit.book.saving import PICTURE, check_output, save
from trialfit.drawing.look.scene import said_of_scans, scene_of_placement

if TYPE_CHECKING:
    from trialfit.advice.placement_shapes import Placement
    from trialfit.book.build import Build


def picture_file(file: str) -> Path:
    """The file for the picture. Raises BadInput if it cannot be written."""
    path = Path(file)
    if path.suffix.lower() != ".png":
        raise BadInput(
            "trialfit place", [Located("--picture", f'is "{file}": expected a PNG file, for example bay.png')]
        )
    if not is_folder(path.parent):
        raise BadInput("trialfit place", [Located("--picture", f'is "{file}": the folder {path.parent} is not there')])
    check_output(path, PICTURE)
    return path


def write_picture(build: Build, found: Placement, file: Path) -> None:
    """Writes the picture of a placement. Raises BadInput where the file cannot be written."""
    from trialfit.drawing.look.pictured import pictured
    from trialfit.sheets.press import press_png

    save(press_png(pictured(scene_of_placement(build, found), said_of_scans(build))), file, PICTURE)
