"""What is said beside the tightening figure of a joint: why figures differ, what oil does, what is usual.

Answers   why_it_differs   the maker's figure beside the one worked out
          in_use, pulled_and_twisted, what_oil_does, usual_scatter   remarks of one finding each
          whose_figure, strength_source   whose figure it is; the standard of the bolt's strength
Not here  the values (torque_values.py); what is required of them (torque_figures.py)
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from trialfit.handbook.fastening.fastener_classes import scatter_of, strength_of
from trialfit.handbook.fastening.thread_sizes import read_fastener_thread
from trialfit.subjects.fastening import preloads
from trialfit.subjects.fastening.joints import force, nominal, share, strength_is_known, thread_of, torque, word
from trialfit.subjects.fastening.preloads import Figure, figure_of
from trialfit.subjects.fastening.torque_values import (
    TOLERANCE,
    over_intended_preload,
    right_torque,
    share_of_proof,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.parts import BoltedJoint


def why_it_differs(ev: Evaluation, joint: BoltedJoint) -> str:
    """The maker's figure beside the one worked out, and what makes them differ."""
    if not joint.maker_torques:
        return "no maker's figure: look for one before using this one"
    figure = nominal(ev.of(preloads.makers_torque, joint))
    if not strength_is_known(joint):
        return f"the maker's {torque(figure)} counts"
    computed = nominal(ev.of(preloads.computed_torque, joint))
    said = f"the maker's {torque(figure)} counts; {torque(computed)} is worked out"
    if abs(figure / computed - 1) <= TOLERANCE:
        return said
    return f"{said}: {'; '.join(_reasons(ev, joint, figure, computed))}"


def _reasons(ev: Evaluation, joint: BoltedJoint, figure: float, computed: float) -> Iterator[str]:
    if joint.maker_angles:
        yield "the maker's torque only seats the parts, the angle behind it gives the preload"
        return
    if joint.maker_state and joint.thread_state and joint.maker_state != joint.thread_state:
        yield f"it is for {joint.maker_state} threads, these are {joint.thread_state}"
    if figure < computed and joint.threaded_into == "aluminium":
        yield "makers go lower where threads in aluminium, a gasket or a soft part set the limit"
    area, wanted = thread_of(joint).stress_area, ev.of(preloads.target_preload, joint)
    target = wanted / preloads.proof_load(joint)
    yield (
        f"the maker's figure means {100 * (figure / computed * target):.0f} % of proof at this friction, or a nut factor of "
        f"{figure / (thread_of(joint).diameter * wanted):.2f} at {100 * target:.0f} % ({area * 1e6:.1f} mm² of "
        f"{word(joint, 'strength_class')} in {thread_of(joint).designation})"
    )


def in_use(ev: Evaluation, joint: BoltedJoint) -> str:
    """The torque that is set, whose figure it is, and the clamping force that it gives."""
    clamp = force(ev.of(preloads.preload, joint))
    usual = f"{100 * preloads.target_share(joint):.0f} % of proof is usual{_by_word(ev, joint)}"
    if joint.maker_angles:
        return f"{whose_figure(joint)} gives {clamp}; {usual}"
    runs = preloads.whether_it_runs(ev, joint)
    return f"{torque(ev.of(preloads.torque_in_use, joint))}, {whose_figure(joint)}, gives {clamp}; {usual}{runs}"


def _by_word(ev: Evaluation, joint: BoltedJoint) -> str:
    """On a maker's word: what the scatter of friction alone would come to."""
    if not preloads.is_makers_word(joint):
        return ""
    most = float(np.max(ev.of(preloads.preload, joint)) / preloads.proof_load(joint))
    return (
        f"; the maker's manual gives this torque for {joint.thread_state} threads and outranks the scatter of their friction, "
        f"which would reach {share(most)}"
    )


def pulled_and_twisted(ev: Evaluation, joint: BoltedJoint) -> str:
    """Pull and twist in words, and what to do where they are too much."""
    thread, friction = thread_of(joint), nominal(ev.of(preloads.judged_friction, joint))
    pull = nominal(ev.of(preloads.judged_preload, joint)) / thread.stress_area
    said = f"pull alone {pull / 1e6:.0f} MPa, thread friction {friction:.2f}"
    return f"{said}; {torque(ev.of(preloads.computed_torque, joint))} is worked out for this bolt"


def what_oil_does(ev: Evaluation, joint: BoltedJoint) -> str:
    """What the torque does on the threads as they are, and the cure where that is too much or too little."""
    in_use, ratio = ev.of(preloads.torque_in_use, joint), nominal(ev.of(over_intended_preload, joint))
    if abs(ratio - 1) <= TOLERANCE:
        return f"{torque(in_use)} suits {joint.thread_state} threads"
    said = f"{torque(in_use)} on {joint.thread_state} threads gives about {ratio:.2f} times the intended preload"
    if strength_is_known(joint):
        said += f", {share(nominal(ev.of(share_of_proof, joint)))} of proof"
    if ratio > 1:
        cure = f"set about {torque(ev.of(right_torque, joint))}, or bring the threads to the maker's state"
    else:
        cure = f"bring the threads to the maker's state, {joint.maker_state}; a maker's torque is not turned up"
    return f"{said}: {cure}, and ask the maker"


def usual_scatter(_: Evaluation, joint: BoltedJoint) -> str:
    """The usual scatter of this way of tightening, and its source."""
    friction_known = joint.nut_factor.written is not None or joint.thread_friction.written is not None
    way = "torque wrench and known friction" if friction_known else "torque wrench and guessed friction"
    low, high, source = scatter_of(way)
    return f"{way}: {low} to {high} is usual ({source})"


def whose_figure(joint: BoltedJoint) -> str:
    """Whose figure the torque is, in words."""
    figure = figure_of(joint)
    if figure is Figure.computed:
        return "the figure worked out"
    angles = ", torque and angle" if joint.maker_angles else ""
    return f"{figure} figure{angles}"


def strength_source(joint: BoltedJoint) -> str:
    """The standard that the strength of the bolt is taken from."""
    if joint.thread is None or joint.strength_class is None:
        return "ISO 898-1, SAE J429"
    found = strength_of(joint.strength_class, read_fastener_thread(joint.thread).diameter)
    return found.source if found else "ISO 898-1, SAE J429"
