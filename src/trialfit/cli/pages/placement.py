"""The best place of the drivetrain, as a page."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.table import Table
from rich.text import Text

from trialfit.cli.screen import CAUTION, bar, clean, line
from trialfit.cli.started import started_as, typed

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rich.console import RenderableType

    from trialfit.advice.placement_shapes import Bracket, Coordinate, PlacedRequirement, Placement

_MOST_SHOWN = 12


def page(found: Placement, file: str) -> Iterator[RenderableType]:
    """The answer as a page."""
    picked = f" with {', '.join(found.picks.values())}" if found.picks else ""
    yield line(f"{found.build or 'a build without a name'}{picked}: where the drivetrain sits best", "bold")
    yield line(found.says, "bold")
    if found.interrupted:
        yield line("Stopped early: this is the best so far.")
    yield Text()
    yield _coordinates(found.coordinates)
    yield Text()
    yield line("requirements there, the tightest first", "bold underline")
    yield _requirements(found.requirements)
    if len(found.requirements) > _MOST_SHOWN:
        yield line(f"and {len(found.requirements) - _MOST_SHOWN} with more room (--json names them)")
    yield from _conflict(found)
    yield from _alternatives(found)
    yield from _brackets(found)
    for name, lacks in found.left_out.items():
        yield line(f"left out: {name}, for want of {lacks}")
    yield Text()
    yield line("to take this pose", "bold underline")
    for entry in found.write:
        yield line(f"{started_as()} set {typed(file)} {entry}")
    yield Text()
    yield line(found.caution)
    yield line(CAUTION)


def _coordinates(coordinates: tuple[Coordinate, ...]) -> Table:
    table = Table.grid(padding=(0, 2, 0, 0))
    table.add_row("", "now", "best", "can go alone", style="underline")
    for one in coordinates:
        if one.held:
            room = "held"
        elif one.down is None or one.up is None:
            room = ""
        else:
            ends = [f"−{one.down:.1f}{_at(one.breaks_down)}", f"+{one.up:.1f}{_at(one.breaks_up)}"]
            room = ", ".join(ends)
        table.add_row(one.name, _shown(one.now, one.unit), _shown(one.best, one.unit), Text(clean(room)))
    return table


def _shown(value: float, unit: str) -> str:
    return f"{value:.1f} {unit}" if unit == "mm" else f"{value:.2f}{unit}"


def _at(name: str) -> str:
    return f" ({name.partition('.')[2]})" if name else " (window)"


def _requirements(requirements: tuple[PlacedRequirement, ...]) -> Table:
    table = Table.grid(padding=(0, 2, 0, 0), expand=True)
    table.add_column(no_wrap=True, min_width=9)
    table.add_column(ratio=1)
    for one in requirements[:_MOST_SHOWN]:
        table.add_row(str(one.verdict or ""), _body(one))
    return table


def _body(one: PlacedRequirement) -> Text:
    unit = one.unit if one.unit == "°" else f" {one.unit}"
    text = Text(
        f"{one.id}  {one.value:.1f}{unit}, wanted {one.limit:.1f}{unit}: {one.margin:.1f} ± {one.spread:.1f}{unit} left, {one.normalised:.1f} s"
    )
    if one.where:
        text.append(f"\n{clean(one.where)}{f'; {clean(one.state)}' if one.state else ''}")
    if one.share:
        text.append(f"\nholds it back {bar(one.share)} {one.share:.0%}".replace("%", " %"))
        if one.gain is not None:
            step = {"mm": "5 mm", "°": "0.5°"}.get(one.unit, "0.5 %")
            text.append(f"; relaxed by {step} it gives {one.gain:.2f} s")
    return text


def _conflict(found: Placement) -> Iterator[RenderableType]:
    if not found.conflict:
        return
    yield Text()
    yield line("these cannot hold together, as far as a search can tell", "bold underline")
    for name in found.conflict:
        yield line(name)
    yield line("one of these changes alone lets everything fit", "bold underline")
    for easing in found.easings:
        yield line(f"{easing.id}: {easing.says}")


def _alternatives(found: Placement) -> Iterator[RenderableType]:
    if len(found.alternatives) <= 1:
        return
    yield Text()
    yield line("alternatives, the best first", "bold underline")
    for one in found.alternatives:
        worth = f"{one.normalised:+.1f} s" if one.normalised is not None else f"not known: {one.missing}"
        yield line(f"{', '.join(one.picks.values())}  {worth}")


def _brackets(found: Placement) -> Iterator[RenderableType]:
    if not found.brackets:
        return
    yield Text()
    yield line("brackets, from bolt to bolt, mm", "bold underline")
    table = Table.grid(padding=(0, 2, 0, 0))
    table.add_row("", "axes", "engine end", "car end", "length", style="underline")
    for one in found.brackets:
        for row in _bracket(one):
            table.add_row(*row)
    yield table


def _bracket(one: Bracket) -> list[tuple[str, ...]]:
    def point(values: tuple[float, float, float]) -> str:
        return " ".join(f"{value:.0f}" for value in values)

    return [
        (clean(one.mount), "car", point(one.engine_end_in_car), point(one.car_end_in_car), f"{one.length:.0f}"),
        ("", "drivetrain", point(one.engine_end_in_drivetrain), point(one.car_end_in_drivetrain), ""),
    ]
