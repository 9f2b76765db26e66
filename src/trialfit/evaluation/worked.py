"""One requirement worked out: its value, what came out against each limit, and the facts that were read.

Answers   Worked         what came out of one requirement
          worked         works one out in an evaluation
Not here  the limits, and which decides (limits.py); what is shown of it (as_findings.py); a whole build (working.py)
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.evaluation.limits import held_against
from trialfit.evaluation.requirement import AtMost
from trialfit.evaluation.states import as_states

if TYPE_CHECKING:
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.evaluation.limits import Held
    from trialfit.evaluation.requirement import Requirement
    from trialfit.evaluation.states import InStates
    from trialfit.handbook.arrays import Array
    from trialfit.parts.declaring import CurveRef, FactRef


@dataclass(frozen=True)
class Worked:
    """What came out of one requirement: an array of shape (draws,), or what was missing; its limits; the facts that were read."""

    requirement: Requirement
    readings: dict[str, FactRef | CurveRef]
    missing: dict[str, str]
    value: Array | None = None
    state: str = ""
    held: tuple[Held, ...] = ()
    shown: str = ""

    @property
    def judged(self) -> Array | None:
        """What spreads of facts are weighed by: the margin against the limit that decides, else the value."""
        margin = self.held[0].margin if self.held else None
        return self.value if margin is None else margin


def worked(ev: Evaluation, requirement: Requirement) -> Worked:
    """One requirement in an evaluation: what is missing is part of the result."""
    with ev.recording() as readings:
        try:
            value = as_states(requirement.value(ev), ev.draws)
        except MissingFact as missing:
            return Worked(requirement, readings, missing.wanted, held=held_against(ev, requirement, None))
    held = held_against(ev, requirement, value, readings)
    if held:
        readings.update({path: ref for path, ref in held[0].readings.items() if path not in readings})
        if held[0].missing:
            return Worked(requirement, readings, held[0].missing, held=held)
    shown = held[0].shown if held else None
    number = 0 if shown else _extreme(requirement, value)
    one = Worked(
        requirement,
        readings,
        {},
        value=shown.value if shown else value.values[:, number],
        state=shown.state if shown else value.names[number],
        held=held,
    )
    return replace(one, shown=_shown(requirement, ev, one.judged))


def _extreme(requirement: Requirement, value: InStates) -> int:
    """The state that a figure is shown in: the one that a limit would ask for first."""
    nominal = value.values[0] if requirement.turned_by is AtMost else -value.values[0]
    return int(np.argmax(np.where(np.isfinite(nominal), nominal, -np.inf)))


def _shown(requirement: Requirement, ev: Evaluation, judged: Array | None) -> str:
    """The sentence of a requirement with this build's numbers in it; none where the nominal lies outside of a formula."""
    is_known = judged is not None and np.isfinite(judged[0])
    return requirement.shows(ev) if requirement.shows and is_known else ""
