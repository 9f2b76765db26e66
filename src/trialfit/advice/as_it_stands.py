"""What can be measured on the car as it stands: by the work that is done and the parts that have arrived.

Answers   Standing      the car and its parts at one moment
          standing_of   the same, of a build
Not here  which instruments there are (instruments.py); the states of jobs and gates (planning/states.py)
Rule      A coast-down needs a car that drives, corner scales the whole car on its wheels, a rev counter a running engine. The car
          of a build without a record of work has all of it. A job that is begun ends what it takes apart; a job or a gate brings it
          back. A part that is ordered and not there yet cannot be measured, but its maker can be asked.
Source    car_states.csv
"""

from __future__ import annotations

import csv
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING

from trialfit.planning.site import site_of
from trialfit.planning.states import State

if TYPE_CHECKING:
    from collections.abc import Mapping

    from trialfit.advice.instruments import Instrument
    from trialfit.book.build import Build
    from trialfit.planning.site import Site
    from trialfit.planning.states import Status

_GATE = "g:"


@dataclass(frozen=True)
class _CarState:
    says: str
    ended_by: tuple[str, ...]
    again: str


@dataclass(frozen=True)
class Standing:
    """The car at one moment: what it has lost for now (state and words), and the parts that have not arrived (name and words)."""

    lost: Mapping[str, str] = field(default_factory=dict)
    not_there: Mapping[str, str] = field(default_factory=dict)

    def why_later(self, part: str, instrument: Instrument | None) -> str:
        """Why a part cannot be measured now with an instrument, as a sentence; "" if it can."""
        if instrument is None or instrument.is_asked:
            return ""
        if part in self.not_there:
            return f"{part} is not there yet: it {self.not_there[part]}."
        return self.lost.get(instrument.needs, "")


def standing_of(build: Build) -> Standing:
    """The car as it stands by the record of work and orders of a build. Raises BadInput for a record that cannot be read."""
    if not (build.document.work or build.document.orders):
        return Standing()
    site = site_of(build)
    return Standing(dict(_lost(site)), dict(_not_there(site)))


def _lost(site: Site) -> dict[str, str]:
    found = {}
    for name, state in _states().items():
        ended = [job for job in state.ended_by if site.status.job(job).state is not State.not_begun]
        in_hand = [job for job in ended if site.status.job(job).state is State.in_hand]
        if in_hand or (ended and not _is_back(site.status, state.again)):
            job = (in_hand or ended)[-1]
            title = site.network.jobs[job].title if job in site.network.jobs else ""
            found[name] = (
                f"It needs {state.says}, and {job} is begun{f' ({title})' if title else ''}: measure it when the car is back."
            )
    return found


def _is_back(status: Status, again: str) -> bool:
    """Whether the gate is passed or the job done that brings a state back."""
    if again.startswith(_GATE):
        gate = status.gates.get(again.removeprefix(_GATE))
        return gate is not None and gate.is_passed
    return status.is_done(again)


def _not_there(site: Site) -> dict[str, str]:
    """Parts with an order of which nothing is there, by the name of the part and of what it serves as."""
    there, words = site.ground.arrived, site.ground.promised
    found = {}
    for order in site.orders.values():
        if order.part not in there and order.part in words:
            found.update(dict.fromkeys(filter(None, (order.part, order.serves)), words[order.part]))
    return found


@lru_cache(maxsize=1)
def _states() -> dict[str, _CarState]:
    text = (Path(__file__).parent / "car_states.csv").read_text(encoding="utf-8")
    return {
        row["state"]: _CarState(row["says"], tuple(row["ended by"].split()), row["again"])
        for row in csv.DictReader(text.splitlines())
    }
