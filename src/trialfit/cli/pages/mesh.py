"""A mesh brought in, as a page."""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.cli.screen import line

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rich.console import RenderableType

    from trialfit.advice.placement_shapes import MeshBrought


def page(brought: MeshBrought) -> Iterator[RenderableType]:
    """What became of the mesh, as a page."""
    x, y, z = brought.size
    yield line(f"{brought.part}: {brought.triangles} triangles of {brought.file} into {brought.pieces} pieces", "bold")
    yield line(f"unit {brought.unit}; {x:.0f} x {y:.0f} x {z:.0f} mm; the named points fit to {brought.misfit:.1f} mm")
    yield line(
        f"the pieces stick out by {brought.sticks_out:.1f} mm at most ({brought.usual_out:.1f} mm for 99 %) and leave {brought.uncovered:.1f} mm uncovered at most"
    )
    for cure in brought.cured:
        yield line(f"note: {cure}")
    yield line(f"written to {brought.written}; write into the build:")
    yield line(brought.entry)
