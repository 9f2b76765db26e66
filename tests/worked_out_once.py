"""The same build is worked out once per process, for tests that look at what is made of a report: pages, sheets, drawings.

Dozens of commands are tried on each demo. What a report holds is tested where it is made (tests/evaluation, tests/subjects),
and what is to be measured next and where a drivetrain sits best in tests/advice.
A build with a mesh is worked out each time, because the file of the mesh can change.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any

import pytest

from trialfit.advice import placing, what_to_measure
from trialfit.evaluation.evaluation import DRAWS
from trialfit.evaluation.finding import Report
from trialfit.subjects import catalogue

MOST_KEPT = 100
_kept: dict[tuple[Any, ...], Any] = {}
_work_out = catalogue.work_out
_place = placing.place
_measure_next = what_to_measure.measure_next
_OF_THE_WORK = {"jobs", "orders", "workshop", "work", "readings"}  # no finding reads them


def _once(build: Any, asked: tuple[Any, ...], work: Callable[[], Any]) -> Any:
    text = build.document.model_dump_json(exclude=_OF_THE_WORK)
    if ".solid.json" in text:
        return work()
    key = (text, *asked)
    if key not in _kept:
        if len(_kept) >= MOST_KEPT:
            _kept.clear()
        _kept[key] = work()
    return _kept[key]


@wraps(_work_out)
def _report_once(ev: Any, requirements: Any, **how: bool) -> Report:
    asked = ("report", ev.draws, tuple(one.id for one in requirements), tuple(sorted(how.items())))
    return _once(ev.build, asked, lambda: _work_out(ev, requirements, **how))


@wraps(_measure_next)
def _measured_once(build: Any, report: Report | None = None, draws: int = DRAWS) -> tuple[Any, ...]:
    report = report or catalogue.evaluate(build, draws)
    asked = ("measure", report.draws, tuple((one.id, one.verdict) for one in report.findings))
    return _once(build, asked, lambda: _measure_next(build, report))


@wraps(_place)
def _placed_once(build: Any, tried: Any = (), held: Any = (), draws: int = DRAWS, told: Any = None) -> Any:
    asked = ("place", tuple(tried), tuple(held), draws)
    return _once(build, asked, lambda: _place(build, tried, held, draws, told))


@pytest.fixture(autouse=True)
def worked_out_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Puts what is kept in place of working the same build out again."""
    monkeypatch.setattr(catalogue, "work_out", _report_once)
    monkeypatch.setattr(placing, "place", _placed_once)
    monkeypatch.setattr(what_to_measure, "measure_next", _measured_once)
