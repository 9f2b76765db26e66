"""Does the thread match its designation: by caliper and pitch gauge.

Answers   requirements   identity, for each port that was calipered
Not here  the list of candidates with what tells them apart (trialfit thread: advice/identifying.py)
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.requirement import AtLeast, Requirement, Source, SourceKind
from trialfit.facts.quantity import SHARE
from trialfit.handbook.ports.port_ends import Gender
from trialfit.handbook.ports.port_threads import known_threads
from trialfit.handbook.ports.thread_identity import (
    BAD_FIT,
    PITCH_GAUGE_SPREAD,
    Reading,
    identify,
    likelihoods,
    no_thread,
)
from trialfit.handbook.sources import NO_SOURCE
from trialfit.parts import Port
from trialfit.subjects.ports.runs import caution_of, port_thread, stake_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import FactRef

CRISP = 0.02e-3
"""Spread [m] beside a drawn reading: the draws carry the reading's own spread already. Common practice, no source."""

MORE_LIKELY = 0.5
"""Share from which the thread as written is likelier than all others together."""

LIKELIER = Source(f"likelier than every other thread of the tables together: {NO_SOURCE}", SourceKind.common_practice)
_SHOWN = 4


def requirements(build: Build) -> Iterator[Requirement]:
    """One finding for each port whose thread was calipered."""
    for port in build.all(Port):
        if port.crest_diameter.written is not None:
            yield Requirement(
                id=f"ports.{port.name}.identity",
                about=port.name,
                says="the readings match the thread as written; the value is its likelihood among the threads of the tables, and none of them",
                value=partial(likelihood, port=port),
                quantity=SHARE,
                stake=stake_of(port),
                limit=AtLeast(MORE_LIKELY),
                source=LIKELIER,
                formulas=(likelihoods, identify, no_thread),
                shows=partial(what_it_can_be, port=port),
                caution=caution_of(port),
            )


def likelihood(ev: Evaluation, port: Port) -> Array:
    """Likelihood of the thread as written at each draw of the readings; threads of one form count together, R and G 1/8."""
    pitch = None if port.pitch.written is None else ev(port.pitch)
    shares = likelihoods(ev(port.crest_diameter), CRISP, pitch, CRISP, Gender(port.gender or "female"))
    written = port_thread(port)
    same = np.array([thread.is_of_the_same_form(written) for thread in known_threads()])
    return np.asarray(shares[:, same].sum(axis=-1)) * (1 - no_thread(_as_read(ev, port)))


def what_it_can_be(ev: Evaluation, port: Port) -> str:
    """The likeliest threads by the readings with their spread as a whole."""
    found = identify(_as_read(ev, port))
    if not found:
        return "no thread of the tables matches these readings"
    said = "it can be " + ", ".join(f"{one.thread.designation} ({one.likelihood:.0%})" for one in found[:_SHOWN])
    if found[0].off > BAD_FIT:
        said += "; even the best is a bad fit: measure the pitch over 8 threads and the diameter in two places"
    return said.replace("%", " %")


def _as_read(ev: Evaluation, port: Port) -> Reading:
    """The readings with their spreads, as a whole."""
    diameter, pitch = ev(port.crest_diameter)[0], None if port.pitch.written is None else ev(port.pitch)[0]
    return Reading(
        Gender(port.gender or "female"),
        float(diameter),
        _spread(port.crest_diameter, CRISP),
        None if pitch is None else float(pitch),
        PITCH_GAUGE_SPREAD if pitch is None else _spread(port.pitch, CRISP),
    )


def _spread(ref: FactRef, least: float) -> float:
    """Expanded spread of a reading (k = 2), m."""
    return max(2 * ref.known.spread.standard_uncertainty, least) if ref.known else least
