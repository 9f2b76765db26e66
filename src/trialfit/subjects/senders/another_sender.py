"""Another sender: the usual one whose curve suits a gauge best, without a resistor.

Answers   requirements   other_sender, for each gauge with a needle
          what_helps     a pair of resistors, else that sender, in words
Not here  the curves (handbook/senders/usual_senders.py); whether its thread fits the hole (ports)
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.requirement import Requirement
from trialfit.facts.quantity import SHARE
from trialfit.handbook.senders.usual_senders import best_senders
from trialfit.subjects.senders.media import medium_of
from trialfit.subjects.senders.needle import LARGEST_ERROR
from trialfit.subjects.senders.resistors import best, in_words

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.senders.usual_senders import Suited
    from trialfit.parts import Gauge


def requirements(gauge: Gauge) -> Iterator[Requirement]:
    """One figure for a gauge with a needle."""
    medium = medium_of(gauge)
    yield Requirement(
        id=f"senders.{gauge.name}.other_sender",
        about=gauge.name,
        says="the error that is left with the usual sender that suits the gauge best, as a share of the scale",
        value=partial(error_left, gauge=gauge),
        quantity=SHARE,
        stake=medium.stake,
        formulas=(best_senders,),
        shows=partial(which, gauge=gauge),
    )


def suited(ev: Evaluation, gauge: Gauge) -> tuple[Suited, ...]:
    """The usual senders by the error that they leave, the smallest first."""
    medium = medium_of(gauge)
    scale = ev.curve(medium.curve(gauge))
    return best_senders(medium.word, scale.x, scale.y)


def error_left(ev: Evaluation, gauge: Gauge) -> float:
    """The error that is left with the best of them, share of the scale; nan where none reaches over it."""
    return next((one.error for one in ev.of(suited, gauge)), np.nan)


def what_helps(ev: Evaluation, gauge: Gauge) -> str:
    """The pair of resistors that helps; where none does, the usual sender with its curve."""
    if ev.of(best, gauge).largest_error <= LARGEST_ERROR:
        return in_words(ev, gauge)
    if not ev.of(suited, gauge):
        return "no pair of resistors brings it right: fit the gauge's own sender, or an active converter"
    return f"no pair of resistors brings it right: {which(ev, gauge)}"


def which(ev: Evaluation, gauge: Gauge) -> str:
    """Its curve in words, and where that comes from."""
    first = ev.of(suited, gauge)[0]
    curve = f"a sender of {first.sender.name} ({first.sender.source})"
    if first.error > LARGEST_ERROR:
        within = f"{LARGEST_ERROR:.0%}".replace("%", " %")
        return f"the nearest is {curve}; no usual sender comes within {within}: fit the gauge's own, or an active converter"
    return f"ask for {curve}; compare its data sheet with the gauge, and its thread with the hole"
