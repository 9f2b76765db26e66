"""Importing a scan or drawing: read, unit and axes fixed by named points, split, written beside the build.

Answers   bring         the file of a mesh into a file of convex pieces and surface, and into a build
          named_point   reads "120 | 0 | 35 = 270 mm | 0 mm | -160 mm"
Not here  the work itself (placement/meshes.py)
"""

from __future__ import annotations

from contextlib import contextmanager
from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.advice.placement_shapes import MeshBrought
from trialfit.book.build import NO_PART_NAME, is_part_name
from trialfit.book.disk import is_file
from trialfit.book.problems import BadInput, Located
from trialfit.book.saving import PIECES, check_output
from trialfit.facts.quantity import LENGTH
from trialfit.facts.reading import read_fact
from trialfit.placement.meshes import BadMesh, check_size, read_mesh, settle, settled, simplify
from trialfit.placement.solids import BadSolid
from trialfit.placement.splitting import split, write_shape

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence
    from pathlib import Path

    from trialfit.placement.meshes import Settled, Triangles

Point = tuple[float, float, float]
_EXAMPLES = (
    "120 | 0 | 35 = 270 mm | 0 mm | -160 mm",
    "-60 | 0 | 35 = 90 mm | 0 mm | -160 mm",
    "120 | 95 | 0 = 270 mm | 95 mm | -195 mm",
)
_EXAMPLE = f'"{_EXAMPLES[0]}"'
_COORDINATES = 3
_MOST_PIECES = 256
_FEWEST_TRIANGLES, _MOST_TRIANGLES = 100, 200_000


def named_point(text: str) -> tuple[Point, Point]:
    """A point in the numbers of the file and on the part, m. Raises ValueError with one sentence."""
    left, equals, right = text.partition("=")
    numbers, lengths = left.split("|"), right.split("|")
    if not equals or len(numbers) != _COORDINATES or len(lengths) != _COORDINATES:
        raise ValueError(
            f'"{text}" is not a named point: expected three coordinates in the file = three lengths on the part, for example {_EXAMPLE}'
        )
    try:
        x, y, z = (float(number) for number in numbers)
    except ValueError:
        raise ValueError(
            f'"{left.strip()}" is not three numbers: expected the coordinates that the scan program shows at the point, for example {_EXAMPLE}'
        ) from None
    a, b, c = (read_fact(length.strip(), LENGTH).si for length in lengths)
    return (x, y, z), (a, b, c)


def _frame(file: Path, raw: Triangles, known: Sequence[tuple[Point, Point]]) -> Settled:
    """Unit and axes by the named points. Raises BadInput with an example."""
    try:
        return settle(known)
    except BadMesh as wrong:
        raise BadInput(file.name, [Located("", str(wrong)), Located("", _example(raw))]) from None


def _example(raw: Triangles) -> str:
    """Three points as an example, and the range of the file's own points."""
    low, high = raw.points.min(axis=0), raw.points.max(axis=0)
    lie = ", ".join(f"{axis} from {a:.4g} to {b:.4g}" for axis, a, b in zip("xyz", low, high, strict=True))
    words = " ".join(f'--point "{point}"' for point in _EXAMPLES)
    return f"for example {words}; in the file {lie}: use corners or bolt holes that you can find on the part"


def bring(
    file: Path,
    part: str,
    points: Sequence[str],
    pieces: int,
    into: Path,
    triangles: int = 20_000,
    enter: Callable[[dict[str, str], Callable[[], None]], None] | None = None,
) -> MeshBrought:
    """Pieces and surface of a mesh, written to `into`/PART.solid.json. Raises BadInput; then no new file is there.

    `enter` writes the entries of the part into a build; it calls the function that it is given, which writes the file,
    when the build is found sound with them.
    """
    problems, known = [], []
    if not is_part_name(part):
        problems.append(Located("--for", f'is "{part}", {NO_PART_NAME}'))
    for text in points:
        try:
            known.append(named_point(text))
        except ValueError as wrong:
            problems.append(Located("--point", str(wrong)))
    if not 1 <= pieces <= _MOST_PIECES:
        problems.append(Located("--pieces", f"is {pieces}: expected a number from 1 to {_MOST_PIECES}, 32 are usual"))
    if not _FEWEST_TRIANGLES <= triangles <= _MOST_TRIANGLES:
        says = f"is {triangles}: expected a number from {_FEWEST_TRIANGLES} to {_MOST_TRIANGLES}, 20000 are usual"
        problems.append(Located("--triangles", says))
    if problems:
        raise BadInput("trialfit mesh", problems)
    target = into / f"{part}.solid.json"
    check_output(target, PIECES, reads=[file])
    try:
        raw = read_mesh(file)
        frame = _frame(file, raw, known)
        whole = settled(raw, frame)
        check_size(whole)
        mesh, off = simplify(whole, triangles)
        made = split(mesh, pieces)
        entries = _entries(part, target.name, frame, float(mesh.size.max()))
        came_from = f"{file.name}, {len(whole.triangles)} triangles, unit {frame.unit}"
        with _gone_if_refused(target):
            write = partial(write_shape, target, made, came_from, mesh, off)
            enter(entries, write) if enter else write()
    except BadSolid as wrong:
        raise BadInput(file.name, [Located("", str(wrong))]) from None
    x, y, z = (round(float(size) * 1000, 1) for size in mesh.size)
    return MeshBrought(
        part=part,
        file=str(file),
        written=str(target),
        triangles=len(whole.triangles),
        kept=len(mesh.triangles),
        off=off * 1000,
        closed=mesh.closed,
        unit=frame.unit,
        misfit=frame.misfit * 1000,
        size=(x, y, z),
        pieces=len(made.pieces),
        sticks_out=made.sticks_out * 1000,
        usual_out=made.usual_out * 1000,
        uncovered=made.uncovered * 1000,
        cured=mesh.cured,
        entries=entries,
    )


@contextmanager
def _gone_if_refused(target: Path) -> Iterator[None]:
    """Takes away a new file again if the build was not written after it."""
    was_there = is_file(target)
    try:
        yield
    except BaseException:
        if not was_there:
            target.unlink(missing_ok=True)
        raise


def _entries(part: str, file: str, frame: Settled, size: float) -> dict[str, str]:
    """The facts of the part for the build: its middle is the origin of the named points, known as well as they fit."""
    place = f"0 ± {max(frame.misfit * 1000, 0.1):.1f} mm"
    turned = f"0 ± {max(float(np.degrees(2 * frame.misfit / size)), 0.02):.2f} deg"
    return {
        f"{part}.kind": "solid",
        f"{part}.shape": "mesh",
        f"{part}.file": file,
        **{f"{part}.{axis}": place for axis in ("x", "y", "z")},
        **{f"{part}.{angle}": turned for angle in ("roll", "inclination", "heading")},
    }
