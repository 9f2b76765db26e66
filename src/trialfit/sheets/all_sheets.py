"""The list of sheets.

Answers   SHEETS      by name: its purpose, and the function that makes it
          make        one sheet of a build
Not here  their content (their own modules)

A new sheet is one module with a function from Known to Sheet, and its line here.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, cast

from trialfit.book.problems import BadInput, Located
from trialfit.parts.reading import nearest

if TYPE_CHECKING:
    from collections.abc import Callable

    from trialfit.sheets.known import Known
    from trialfit.sheets.sheet import Sheet

SHEETS = {
    "tightening": (
        "every bolted joint: order, stages, wrench setting, a box for each bolt",
        "trialfit.sheets.tightening:tightening_sheet",
    ),
    "measuring": (
        "what to measure next: where, with which instrument, for which limit, room for readings",
        "trialfit.sheets.measuring:measuring_sheet",
    ),
    "driveline-setting": (
        "the angle gauge along the driveline: readings, targets, shim",
        "trialfit.sheets.driveline_setting:driveline_setting_sheet",
    ),
    "ports-and-lines": (
        "every threaded hole: what goes there, how it seals, what closes it",
        "trialfit.sheets.ports_and_lines:ports_and_lines_sheet",
    ),
    "weekend": (
        "the jobs for the weekend: parts, tools, sheets, loose ends",
        "trialfit.sheets.weekend:weekend_sheet",
    ),
    "gate": (
        "what blocks each gate ahead: read aloud, ticked, signed",
        "trialfit.sheets.gate:gate_sheet",
    ),
    "wiring-schedule": (
        "every circuit, gauge and sender: from, to, colour, size, fuse, connector",
        "trialfit.sheets.wiring_schedule:wiring_schedule_sheet",
    ),
    "cut-and-weld": (
        "cut members, their reinforcement, each weld with its boxes",
        "trialfit.sheets.cut_and_weld:cut_and_weld_sheet",
    ),
    "lifting": (
        "hoist, slings, crane and stands, with what to inspect first",
        "trialfit.sheets.lifting:lifting_sheet",
    ),
    "shopping": (
        "what to order, what is on its way, where parts are kept, and the money",
        "trialfit.sheets.shopping:shopping_sheet",
    ),
    "build-record": (
        "for the certifier: requirements, limits and their sources, evidence, open points",
        "trialfit.sheets.build_record:build_record_sheet",
    ),
}
"""By name: its purpose in one line, and the function as "module:name"."""


def make(name: str, known: Known) -> Sheet:
    """The sheet of that name. Raises BadInput for an unknown sheet."""
    if name not in SHEETS:
        raise BadInput("trialfit sheet", [Located("", f'unknown sheet "{name}": {nearest(name, SHEETS)}')])
    module, _, function = SHEETS[name][1].partition(":")
    maker = cast("Callable[[Known], Sheet]", getattr(import_module(module), function))
    return maker(known)
