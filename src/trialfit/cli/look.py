"""The option `--look`: what was worked out as a page to turn round in a browser.

Answers   Look          the option
          write_look    the file
Not here  the page itself (drawing/look)
"""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from cyclopts import Parameter

if TYPE_CHECKING:
    from trialfit.drawing.look.scene import Scene

Look = Annotated[
    str | None,
    Parameter(
        help="write a page to this HTML file: the solids to turn round in a browser, with the tightest gaps marked"
    ),
]
_NOT_BUILT = (
    "The 3D view is not built here, so the page shows the side view and the plan alone: start once as ./run, with a network, "
    "to have it built."
)


def look_file(command: str, file: str) -> Path:
    """Where the page goes. Raises BadInput, before anything long is worked out, where no page can go there."""
    from trialfit.book.problems import BadInput, Located

    path = Path(file)
    if path.suffix.lower() not in {".html", ".htm"}:
        raise BadInput(command, [Located("--look", f'is "{file}": expected an HTML file, for example bay.html')])
    if not path.parent.is_dir():
        raise BadInput(command, [Located("--look", f'is "{file}": the folder {path.parent} is not there')])
    return path


def write_look(command: str, scene: Scene, path: Path) -> None:
    """Writes the page of a scene; says so where it has no 3D view. Raises BadInput where the file cannot be written."""
    from trialfit.book.problems import BadInput, Located
    from trialfit.drawing.look.page import bundle, look_page

    script = bundle()
    if script is None:
        sys.stderr.write(f"{_NOT_BUILT}\n")
    try:
        path.write_text(look_page(scene, script), encoding="utf-8")
    except OSError as wrong:
        raise BadInput(command, [Located("--look", f"cannot be written: {wrong.strerror}")]) from None
