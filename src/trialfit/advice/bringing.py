"""A scan or drawing brought in: read, settled by named points, split, written beside the build.

Answers   bring         the file of a mesh into a file of convex pieces
          named_point   "120 | 0 | 35 = 270 mm | 0 mm | -160 mm" read
Not here  the work itself (placement/meshes.py)
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.advice.placement_shapes import MeshBrought
from trialfit.book.problems import BadInput, Located
from trialfit.facts.quantity import LENGTH
from trialfit.facts.reading import read_fact
from trialfit.placement.meshes import check_size, read_mesh, settle, settled, split, write_pieces
from trialfit.placement.solids import BadSolid

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

Point = tuple[float, float, float]
_EXAMPLE = '"120 | 0 | 35 = 270 mm | 0 mm | -160 mm"'
_COORDINATES = 3
_MOST_PIECES = 256


def named_point(text: str) -> tuple[Point, Point]:
    """A point as the file counts it and as it is on the part, m. Raises ValueError with one sentence."""
    left, equals, right = text.partition("=")
    numbers, lengths = left.split("|"), right.split("|")
    if not equals or len(numbers) != _COORDINATES or len(lengths) != _COORDINATES:
        raise ValueError(
            f'"{text}" is no named point: three numbers of the file = three lengths on the part are wanted, for example {_EXAMPLE}'
        )
    try:
        x, y, z = (float(number) for number in numbers)
    except ValueError:
        raise ValueError(
            f'"{left.strip()}" are no three numbers: what the scan program shows at the point is wanted, for example {_EXAMPLE}'
        ) from None
    a, b, c = (read_fact(length.strip(), LENGTH).si for length in lengths)
    return (x, y, z), (a, b, c)


def bring(file: Path, part: str, points: Sequence[str], pieces: int, into: Path) -> MeshBrought:
    """The pieces of a mesh, written to `into`/PART.solid.json. Raises BadInput."""
    problems, known = [], []
    for text in points:
        try:
            known.append(named_point(text))
        except ValueError as wrong:
            problems.append(Located("--point", str(wrong)))
    if not 1 <= pieces <= _MOST_PIECES:
        problems.append(Located("--pieces", f"is {pieces}: a number from 1 to {_MOST_PIECES} is wanted, 32 are usual"))
    if problems:
        raise BadInput("trialfit mesh", problems)
    try:
        raw = read_mesh(file)
        frame = settle(known)
        mesh = settled(raw, frame)
        check_size(mesh)
        made = split(mesh, pieces)
        target = into / f"{part}.solid.json"
        write_pieces(target, made, f"{file.name}, {len(mesh.triangles)} triangles, unit {frame.unit}")
    except BadSolid as wrong:
        raise BadInput(file.name, [Located("", str(wrong))]) from None
    x, y, z = (round(float(size) * 1000, 1) for size in mesh.size)
    entry = f'[{part}]\nkind = "solid"\nshape = "mesh"\nfile = "{target.name}"\nx = "0 ± {1000 * max(frame.misfit, 0.001):.1f} mm"\nz = "0 ± {1000 * max(frame.misfit, 0.001):.1f} mm"'
    return MeshBrought(
        part=part,
        file=str(file),
        written=str(target),
        triangles=len(mesh.triangles),
        closed=mesh.closed,
        unit=frame.unit,
        misfit=frame.misfit * 1000,
        size=(x, y, z),
        pieces=len(made.pieces),
        sticks_out=made.sticks_out * 1000,
        usual_out=made.usual_out * 1000,
        uncovered=made.uncovered * 1000,
        cured=mesh.cured,
        entry=entry,
    )
