"""A mesh brought in, as a page."""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.cli.screen import line

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rich.console import RenderableType

    from trialfit.advice.placement_shapes import MeshBrought


def page(brought: MeshBrought) -> Iterator[RenderableType]:
    """The result of a mesh, as a page."""
    x, y, z = brought.size
    yield line(f"{brought.part}: {brought.triangles} triangles of {brought.file} into {brought.pieces} pieces", "bold")
    yield line(f"unit {brought.unit}; {x:.0f} x {y:.0f} x {z:.0f} mm; the named points fit to {brought.misfit:.1f} mm")
    if brought.kept < brought.triangles:
        yield line(f"thinned out to {brought.kept} triangles, which lie within {brought.off:.2f} mm of the scan")
    yield line(
        f"the pieces stick out by {brought.sticks_out:.1f} mm at most ({brought.usual_out:.1f} mm for 99 %) and leave {brought.uncovered:.1f} mm uncovered at most: they steer the search; the surface itself decides"
    )
    for cure in brought.cured:
        yield line(f"note: {cure}")
    if brought.into:
        yield line(f"written to {brought.written} and into {brought.into} as {brought.part}")
        return
    yield line(f"written to {brought.written}; put it beside the build and write into that (--into BUILD does both):")
    yield line(f"[{brought.part}]")
    for path, value in brought.entries.items():
        yield line(f'{path.rpartition(".")[2]} = "{value}"')
