"""Every joint of a run: do its ends match, and is the sealant right.

Answers   requirements   mates and sealing for each port with something on it; bore, a figure
Not here  openings (openings.py); ratings (ratings.py)
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.evaluation.requirement import AtMost, Requirement, Source, SourceKind, Stake
from trialfit.facts.quantity import COUNT, LENGTH
from trialfit.handbook.ports.sealing import Fit, join_ends, sealant_for
from trialfit.parts import Fitting, Line, Port
from trialfit.subjects.ports.runs import caution_of, port_end, run_from, stake_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.handbook.ports.sealing import Joint
    from trialfit.subjects.ports.runs import Offered

PROFILES = Source(
    "basic profiles of ISO 68-1, ASME B1.1, ASME B1.20.1, ISO 7-1; sealing faces of SAE J514, J512, J1926, ISO 6149, ISO 228-1",
    SourceKind.published,
)
SEALING = Source(
    "SAE J514, J1926, ISO 6149, ISO 228-1, ISO 7-1, ASME B1.20.1: how each joint seals", SourceKind.published
)
_TAKES_SEALANT = "thread sealant"


def requirements(build: Build) -> Iterator[Requirement]:
    """Findings for each port on which something is screwed."""
    for port in build.all(Port):
        run = run_from(build, port)
        if not run.offered and not run.pieces:
            continue
        yield Requirement(
            id=f"ports.{port.name}.mates",
            about=port.name,
            says="the screwed parts match: thread, gender and sealing face; the value counts joints that do not match",
            value=partial(wrong_joints, port=port),
            quantity=COUNT,
            stake=Stake.safety if _starts_and_leaks(run.offered) else stake_of(port),
            limit=AtMost(0),
            source=PROFILES,
            formulas=(join_ends,),
            shows=partial(what_joins, port=port),
            caution=caution_of(port),
            cure=_cure_of_joints(run.offered),
        )
        yield Requirement(
            id=f"ports.{port.name}.sealing",
            about=port.name,
            says="sealant is only on the threads that need it, and one that suits what is behind it; the value counts wrong joints",
            value=partial(wrongly_sealed, port=port),
            quantity=COUNT,
            stake=stake_of(port),
            limit=AtMost(0),
            source=SEALING,
            formulas=(join_ends, sealant_for),
            shows=partial(what_seals, port=port),
            caution=caution_of(port),
            cure=_cure_of_sealing(run.offered, port.medium),
        )
        if any(isinstance(piece, Fitting | Line) for piece in run.pieces):
            yield Requirement(
                id=f"ports.{port.name}.bore",
                about=port.name,
                says="narrowest bore of the parts on it",
                value=partial(narrowest, port=port),
                quantity=LENGTH,
                stake=Stake.comfort,
            )


def _starts_and_leaks(offered: tuple[Offered, ...]) -> bool:
    return any(join_ends(one.end, one.other_end).fit is Fit.dangerous for one in offered)


def _cure_of_joints(offered: tuple[Offered, ...]) -> str:
    """The first bad joint in words, and where to look for the fittings between its ends; "" where all fit."""
    for one in offered:
        joint = join_ends(one.end, one.other_end)
        if joint.fit is not Fit.fits:
            return (
                f"Take {one.other} out of {one.holder}: {joint.why}. "
                f'trialfit join BUILD {one.holder} "{one.other_end.text}" finds the fittings between them.'
            )
    return ""


def _cure_of_sealing(offered: tuple[Offered, ...], medium: str | None) -> str:
    """What to put on, or take off, the first thread that is wrongly sealed; "" where all are right."""
    for one in offered:
        joint = join_ends(one.end, one.other_end)
        if one.sealant is not None and _is_wrongly_sealed(one, joint, medium):
            return f"Clean the thread and seal it as it is meant to be: {_wrong_sealant(one, joint, medium)}."
    return ""


def _joints(ev: Evaluation, port: Port) -> list[tuple[Offered, Joint]]:
    """The joints of a run. Raises MissingFact where an end is not known."""
    port_end(port)
    run = run_from(ev.build, port)
    if run.missing:
        raise MissingFact(run.missing)
    return [(one, join_ends(one.end, one.other_end)) for one in run.offered]


def wrong_joints(ev: Evaluation, port: Port) -> float:
    """Joints of a run whose ends do not belong together."""
    return float(sum(joint.fit is not Fit.fits for _, joint in _joints(ev, port)))


def what_joins(ev: Evaluation, port: Port) -> str:
    """Each joint in words, the bad ones alone where there are some."""
    joints = _joints(ev, port)
    bad = [(one, joint) for one, joint in joints if joint.fit is not Fit.fits]
    if bad:
        return "; ".join(f"{one.other} on {one.holder}: {joint.fit}: {joint.why}" for one, joint in bad)
    return "; ".join(f"{one.other} on {one.holder}: {joint.why}" for one, joint in joints)


def wrongly_sealed(ev: Evaluation, port: Port) -> float:
    """Joints with sealant where none belongs, none where it does, or one that does not suit the medium.

    Raises MissingFact where the sealant of one is missing, or nobody knows whether it suits what is behind it.
    """
    joints = _joints(ev, port)
    unsaid: dict[str, str] = {}
    for one, joint in joints:
        if one.sealant is None and joint.sealant == _TAKES_SEALANT:
            unsaid[f"{one.holder}.sealant"] = Port.sealant.says
        elif _is_sealed_as_meant(one, joint):
            if port.medium is None:
                unsaid[f"{port.name}.medium"] = Port.medium.says
            elif (suits := sealant_for(port.medium, one.sealant or "")).answer == "ask":
                unsaid[f"{one.holder}.sealant"] = suits.why
    wrong = float(sum(_is_wrongly_sealed(one, joint, port.medium) for one, joint in joints))
    if unsaid and not wrong:
        raise MissingFact(unsaid)
    return wrong


def _is_sealed_as_meant(one: Offered, joint: Joint) -> bool:
    """Whether there is sealant on a thread that takes it."""
    return joint.fit is Fit.fits and joint.sealant == _TAKES_SEALANT and one.sealant not in (None, "none")


def _is_wrongly_sealed(one: Offered, joint: Joint, medium: str | None) -> bool:
    has_sealant = one.sealant not in (None, "none")
    if joint.fit is not Fit.fits:
        return has_sealant
    if _is_sealed_as_meant(one, joint):
        return medium is not None and sealant_for(medium, one.sealant or "").answer == "no"
    return one.sealant is not None and has_sealant != (joint.sealant == _TAKES_SEALANT)


def what_seals(ev: Evaluation, port: Port) -> str:
    """What is wrong, or how each joint seals."""
    joints = _joints(ev, port)
    wrong = [
        _wrong_sealant(one, joint, port.medium) for one, joint in joints if _is_wrongly_sealed(one, joint, port.medium)
    ]
    return "; ".join(wrong or [f"{one.other}: {joint.sealing or joint.why}" for one, joint in joints])


def _wrong_sealant(one: Offered, joint: Joint, medium: str | None) -> str:
    if joint.fit is not Fit.fits:
        return f"{one.sealant} on {one.other} hides a joint that does not fit: {joint.why}"
    if one.sealant == "none":
        return f"{one.other} has nothing on its thread: {joint.sealing}"
    if _is_sealed_as_meant(one, joint):
        return f"{one.other} has {one.sealant} on it, with {medium} behind it: {sealant_for(medium or '', one.sealant or '').why}"
    return f"{one.other} has {one.sealant} and must have none: {joint.sealing}"


def narrowest(ev: Evaluation, port: Port) -> Array:
    """Narrowest bore of the fittings and lines on a port, m."""
    pieces = [piece for piece in run_from(ev.build, port).pieces if isinstance(piece, Fitting | Line)]
    return np.min(np.stack(ev.each(*(piece.bore for piece in pieces))), axis=0)  # type: ignore[no-any-return]
