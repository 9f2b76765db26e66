"""Pull and shear on a joint: as written, else the worst that the engine mount it carries puts on it.

Answers   pull_on, shear_on         N, (draws,)
          on_the_mount, case_names  both loads of the mount in every load case
          held                      what the joint holds against: as written; both ways where it carries a mount
          is_taken, formulas        whether a load comes from the mount, and by which formulas
          pull_shown, shear_shown   where it comes from, as the end of a sentence
Not here  the loads on the mounts (subjects/power_unit.py)

The load cases give each mount an upright load, pressed or pulled, and a level one without a direction:

bolts     pull                       shear
upright   upright load pulled up     level load
hung      upright load pressed down  level load
level     level load                 both together
not told  the larger of the two      both together

Pull and shear are each the worst of all load cases and taken as if they came at once: more than any case brings. A joint at the
end of an arm is judged case by case with its lever (bracket.py).
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.handbook.structure.mounts import load_cases, torque_on_mounts, upright_loads
from trialfit.parts import Mount
from trialfit.subjects import power_unit

if TYPE_CHECKING:
    from collections.abc import Callable

    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import BoltedJoint, FactRef


_AS_PULL = {
    "upright": "its upright load pulled up",
    "hung": "its upright load pressed down, hung from the bolts",
    "level": "its level load, in line with the level bolts",
    None: "the larger of its upright and level load, as bolt_axis is missing",
}
_AS_SHEAR = {
    "upright": "its level load",
    "hung": "its level load",
    "level": "its upright and level load together",
    None: "its upright and level load together, as bolt_axis is missing",
}


def held(joint: BoltedJoint) -> str | None:
    """What the joint holds against: as written; pull and shear where it carries a mount; None where it is unknown."""
    return joint.load_type or ("pull and shear" if joint.carries else None)


def is_taken(joint: BoltedJoint, ref: FactRef) -> bool:
    """Whether its pull or shear comes from the mount: it carries one, and nothing is written by hand."""
    return joint.carries is not None and ref.written is None


def formulas(joint: BoltedJoint, ref: FactRef) -> tuple[Callable[..., Any], ...]:
    """The formulas behind a load that comes from the mount."""
    return (upright_loads, torque_on_mounts) if is_taken(joint, ref) else ()


def pull_on(ev: Evaluation, joint: BoltedJoint) -> Array:
    """Pull on the whole joint in line with its bolts, N. Raises MissingFact."""
    if not is_taken(joint, joint.pull):
        return ev(joint.pull)
    return np.asarray(ev.of(_pulls, joint).max(axis=0))


def shear_on(ev: Evaluation, joint: BoltedJoint) -> Array:
    """Force on the whole joint across its bolts, N. Raises MissingFact."""
    if not is_taken(joint, joint.shear):
        return ev(joint.shear)
    return np.asarray(ev.of(_shears, joint).max(axis=0))


def pull_shown(ev: Evaluation, joint: BoltedJoint) -> str:
    """Where the pull comes from; nothing where it is written."""
    if not is_taken(joint, joint.pull):
        return ""
    return _shown(joint, "pull", _AS_PULL[joint.bolt_axis], ev.of(_pulls, joint))


def shear_shown(ev: Evaluation, joint: BoltedJoint) -> str:
    """Where the shear comes from; nothing where it is written."""
    if not is_taken(joint, joint.shear):
        return ""
    return _shown(joint, "shear", _AS_SHEAR[joint.bolt_axis], ev.of(_shears, joint))


def _shown(joint: BoltedJoint, what: str, taken: str, loads: Array) -> str:
    if not loads[:, 0].any():
        return f"; {what} of {joint.carries}: {taken}, zero in every load case"
    return f"; {what} of {joint.carries}: {taken}, worst in the case: {load_cases()[int(np.argmax(loads[:, 0]))].name}"


def case_names() -> tuple[str, ...]:
    """The load cases of a mount, in words."""
    return tuple(case.name for case in load_cases())


def on_the_mount(ev: Evaluation, joint: BoltedJoint) -> tuple[Array, Array]:
    """Upright and level load of the mount that the joint carries, N, (cases, draws) each. Raises MissingFact."""
    mount = ev.build.named(joint.carries)
    if not isinstance(mount, Mount):
        raise MissingFact({f"{joint.name}.carries": "a mount that is written in the build"})
    return ev.of(power_unit.upright_and_level, mount)


def _pulls(ev: Evaluation, joint: BoltedJoint) -> Array:
    """Pull in each load case, N, (cases, draws)."""
    upright, level = on_the_mount(ev, joint)
    if joint.bolt_axis == "level":
        return level
    if joint.bolt_axis is None:
        return np.asarray(np.maximum(np.abs(upright), level))
    return np.asarray(np.maximum(upright if joint.bolt_axis == "hung" else -upright, 0))


def _shears(ev: Evaluation, joint: BoltedJoint) -> Array:
    """Shear in each load case, N, (cases, draws)."""
    upright, level = on_the_mount(ev, joint)
    if joint.bolt_axis in ("upright", "hung"):
        return level
    return np.asarray(np.hypot(upright, level))
