"""The same build is worked out once per process, for tests that look at what is made of a report: pages, sheets, drawings.

Dozens of commands are tried on each demo. What a report holds is tested where it is made (tests/evaluation, tests/subjects).
A build with a mesh is worked out each time, because the file of the mesh can change.
"""

from __future__ import annotations

from functools import wraps
from typing import Any

import pytest

from trialfit.evaluation.finding import Report
from trialfit.subjects import catalogue

MOST_KEPT = 100
_kept: dict[tuple[Any, ...], Report] = {}
_work_out = catalogue.work_out
_OF_THE_WORK = {"jobs", "orders", "workshop", "work"}  # no finding reads them


@wraps(_work_out)
def _once(ev: Any, requirements: Any, **how: bool) -> Report:
    text = ev.build.document.model_dump_json(exclude=_OF_THE_WORK)
    if ".solid.json" in text:
        return _work_out(ev, requirements, **how)
    key = (text, ev.build.folder, ev.draws, tuple(one.id for one in requirements), tuple(sorted(how.items())))
    if key not in _kept:
        if len(_kept) >= MOST_KEPT:
            _kept.clear()
        _kept[key] = _work_out(ev, requirements, **how)
    return _kept[key]


@pytest.fixture(autouse=True)
def worked_out_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Puts the kept reports in place of working the same build out again."""
    monkeypatch.setattr(catalogue, "work_out", _once)
