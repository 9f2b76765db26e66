"""The best place of the drivetrain, as a page."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from trialfit.advice.placement_shapes import STEPS
from trialfit.cli.screen import CAUTION, bar, clean, line, to_paste
from trialfit.cli.started import started_as, typed
from trialfit.facts.showing import plain, room_text

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rich.console import RenderableType

    from trialfit.advice.placement_shapes import Alternative, Bracket, Coordinate, PlacedRequirement, Placement

_MOST_SHOWN = 12
# Φ(1) = 0.841 and Φ(2) = 0.977 of the normal distribution
_S = (
    "What is left is also counted in s: 1 s is one standard deviation of what the facts leave open. With 1 s left about 84 of 100 "
    "such cars keep the requirement, with 2 s about 98."
)
_ONE_SIDE = 1.96
"""Half of the interval that holds 95 %, s."""
_HARDLY = 0.05
"""A smaller gain of the smallest margin is not shown, s."""


def page(found: Placement, file: str) -> Iterator[RenderableType]:
    """The answer as a page."""
    picked = f" with {', '.join(found.picks.values())}" if found.picks else ""
    yield line(f"{found.build or 'a build without a name'}{picked}: where the drivetrain sits best", "bold")
    yield line(found.says, "bold")
    if found.interrupted:
        yield line("Stopped early: this is the best so far.")
    yield line(_S)
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
        yield to_paste(f"{started_as()} set {typed(file)} {entry}")
    yield Text()
    yield line(found.caution)
    yield line(CAUTION)


def _coordinates(coordinates: tuple[Coordinate, ...]) -> Table:
    table = Table.grid(padding=(0, 2, 0, 0))
    table.add_row("", "now", "best", "can go alone (until)", style="underline")
    for one in coordinates:
        room = "held" if one.held else "\n".join(_ways(one))
        table.add_row(one.name, _shown(one.now, one.unit), _shown(one.best, one.unit), Text(room))
    return table


def _ways(one: Coordinate) -> Iterator[str]:
    ways = (("-", one.down, one.breaks_down), ("+", one.up, one.breaks_up))
    for sign, far, breaks in ways:
        if far is not None:
            yield clean(f"{sign}{_shown(far, one.unit)} ({breaks.partition('.')[2] or f'{one.name}_window'})")


def _shown(value: float, unit: str) -> str:
    return f"{plain(value, 1)} {unit}" if unit == "mm" else f"{plain(value, 2)}{unit}"


def _requirements(requirements: tuple[PlacedRequirement, ...]) -> Table:
    table = Table.grid(padding=(0, 2, 0, 0), expand=True)
    table.add_column(no_wrap=True, min_width=9)
    table.add_column(ratio=1)
    for one in requirements[:_MOST_SHOWN]:
        table.add_row(one.word, _body(one))
    return table


def _body(one: PlacedRequirement) -> Text:
    unit = one.unit if one.unit == "°" else f" {one.unit}"
    room = room_text(one.margin, one.margin - one.spread, one.margin + one.spread, one.unit)
    value, limit = plain(one.value, 1), plain(one.limit, 1)
    text = Text(f"{one.id}\n{value}{unit}, {one.side} {limit}{unit} required: {room} ({plain(one.normalised, 1)} s)")
    for words in filter(None, (one.where, one.state)):
        text.append(f"\n{clean(words)}")
    if round(one.share, 2):
        text.append(f"\nholds it back {bar(one.share)} {100 * one.share:.0f} %")
    if round(one.share, 2) and one.gain is not None:
        text.append(f"\n{_if_relaxed(one)}")
    return text


def _if_relaxed(one: PlacedRequirement) -> str:
    """The gain from relaxing a requirement: less than the whole step, because others limit the pose as well."""
    more = (
        f"{STEPS[one.unit]} more {'room' if one.id.startswith('clearance.') and one.unit == 'mm' else 'allowed'} here"
    )
    if one.gain is None or one.gain < _HARDLY:
        return f"{more} hardly helps"
    unit = one.unit if one.unit == "°" else f" {one.unit}"
    return f"{more} leaves {one.gain * one.spread / _ONE_SIDE:.1f}{unit} more ({one.gain:.1f} s)"


def _conflict(found: Placement) -> Iterator[RenderableType]:
    if not found.conflict:
        return
    yield Text()
    yield line("these cannot hold together, as far as a search can tell", "bold underline")
    for name in found.conflict:
        yield line(name)
    yield Text()
    yield line("one of these changes alone lets everything fit, with nothing to spare", "bold underline")
    for easing in found.easings:
        yield line(easing.id)
        yield Padding(line(easing.says), (0, 0, 0, 2))


def _alternatives(found: Placement) -> Iterator[RenderableType]:
    if len(found.alternatives) <= 1:
        return
    yield Text()
    yield line("alternatives, the best first", "bold underline")
    for one in found.alternatives:
        yield line(f"{', '.join(one.picks.values())}  {_worth(one)}")


def _worth(one: Alternative) -> str:
    if one.normalised is None:
        return f"not known: {one.missing}"
    if one.normalised < 0:
        return f"does not fit, short by {-one.normalised:.1f} s at the tightest"
    return f"fits, {one.normalised:.1f} s left at the tightest"


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
