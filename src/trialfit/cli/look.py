"""The option `--look`: the result as a 3D page for a browser.

Answers   Look          the option
          write_look    the file
Not here  the page itself (drawing/look)
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from cyclopts import Parameter

from trialfit.cli.streams import say

if TYPE_CHECKING:
    from trialfit.drawing.look.scene import Scene

Look = Annotated[
    str | None,
    Parameter(
        help="write a page to this HTML file: the solids to turn round in a browser, with the tightest gaps marked"
    ),
]
_NOT_BUILT = "The 3D view is not built yet, so the page shows only side view and plan. To build it, start ./run once with a network."


def look_file(command: str, file: str) -> Path:
    """The file for the page. Raises BadInput, before any long work, if it cannot be written."""
    from trialfit.book.disk import is_folder
    from trialfit.book.problems import BadInput, Located
    from trialfit.book.saving import PAGE, check_output

    path = Path(file)
    if path.suffix.lower() not in {".html", ".htm"}:
        raise BadInput(command, [Located("--look", f'is "{file}": expected an HTML file, for example bay.html')])
    if not is_folder(path.parent):
        raise BadInput(command, [Located("--look", f'is "{file}": the folder {path.parent} is not there')])
    check_output(path, PAGE)
    return path


def write_look(scene: Scene, path: Path) -> None:
    """Writes the page of a scene; says so if it has no 3D view. Raises BadInput where the file cannot be written."""
    from trialfit.book.saving import PAGE, save
    from trialfit.drawing.look.page import bundle, look_page

    script = bundle()
    if script is None:
        say(_NOT_BUILT)
    save(look_page(scene, script).encode(), path, PAGE)
