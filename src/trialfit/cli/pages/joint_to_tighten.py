"""One joint on the screen: the pattern with each bolt's turn in its place, the stages, and the source of the figures."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.table import Table
from rich.text import Text

from trialfit.cli.labels import labelled
from trialfit.cli.screen import CAUTION, clean, interval, line, mark_of
from trialfit.drawing.bolt_pattern_in_signs import bolt_pattern_in_signs
from trialfit.facts.showing import interval_text

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rich.console import RenderableType

    from trialfit.advice.how_to_tighten import StageLine, TighteningSheet

_WIDTH = 72
_INDENT = "    "


def page(sheet: TighteningSheet) -> Iterator[RenderableType]:
    """The sheet as a page."""
    yield line(sheet.joint, "bold").append(f"  {clean(sheet.bolt)}", "not bold")
    if sheet.note:
        yield line(sheet.note)
    if sheet.places:
        yield Text()
        yield line("each bolt with its turn, and in brackets its number on the flange")
        yield Text()
        for row in _figure(sheet):
            yield Text(f"{_INDENT}{row}", no_wrap=True, overflow="crop")
    yield Text()
    yield from _order(sheet)
    yield Text()
    yield line(f"stages: {sheet.stages_source}; each goes through the whole order", "bold")
    yield _stages(sheet)
    yield Text()
    yield _figures(sheet)
    for warned in sheet.warnings:
        yield Text()
        yield _warning(
            warned.finding, mark_of(warned.verdict), warned.verdict, f"{warned.says}. {warned.remark}".strip()
        )
    yield Text()
    yield line(f"beware: {sheet.caution}", "bold")
    yield line(CAUTION)


def _figure(sheet: TighteningSheet) -> list[str]:
    labels = [f"{place.turn}({place.bolt})" for place in sheet.places]
    return bolt_pattern_in_signs(labels, [(place.x_mm, place.y_mm) for place in sheet.places], _WIDTH)


def _order(sheet: TighteningSheet) -> Iterator[Text]:
    if sheet.order:
        yield line(f"order: {'-'.join(map(str, sheet.order))}", "bold").append(f"  {sheet.order_source}", "not bold")
        yield line(f"loosen: {'-'.join(map(str, sheet.loosening))}")
    else:
        yield line("order: none can be made yet", "bold")
    for path, meaning in sheet.missing.items():
        yield line(f"missing: {path}, {meaning}")


def _stages(sheet: TighteningSheet) -> Table:
    table = Table.grid(padding=(0, 2, 0, 0), expand=True)
    table.add_column(no_wrap=True, justify="right", width=4)
    table.add_column(no_wrap=True)
    table.add_column(ratio=1)
    for stage in sheet.stages:
        table.add_row(f"{stage.number}.", _amount(stage), line(_says(stage)))
    return table


def _amount(stage: StageLine) -> str:
    if stage.angle is not None:
        return _plain(stage.angle, "°")
    if stage.torque is None:
        return "snug"
    return _plain(stage.torque, "N·m")


def _says(stage: StageLine) -> str:
    if stage.setting is None:
        return stage.says
    said = f"{stage.says}; set {_plain(stage.setting, stage.setting_unit)}"
    return said if stage.in_range is not False else f"{said}, outside this wrench's range: use another"


def _plain(value: float, unit: str) -> str:
    """A number without a spread."""
    return interval_text(value, value, value, unit)


def _figures(sheet: TighteningSheet) -> Table:
    makers = "" if sheet.maker_torque is None else _plain(sheet.maker_torque, "N·m")
    rows = {
        "figure": sheet.figure,
        "the maker's": makers,
        "worked out": interval(sheet.computed_torque) if sheet.computed_torque else "",
        "preload": interval(sheet.preload) if sheet.preload else "",
        "compare": sheet.why,
    }
    return labelled(rows)


def _warning(finding: str, mark: str, verdict: str, text: str) -> Text:
    warned = line(f"{mark} {verdict}  {finding}", "bold")
    warned.append(f"\n{clean(text)}", "not bold")
    return warned
