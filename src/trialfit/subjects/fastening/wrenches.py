"""The torque wrench: its setting, and whether the setting is in its usable range.

Answers   requirements   wrench_range; figure: wrench_setting
          setting        for a torque at the bolt, with the adapter
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.evaluation.requirement import Between, Requirement, Source, SourceKind
from trialfit.facts.quantity import TORQUE
from trialfit.handbook.fastening import fasteners, torque_wrenches
from trialfit.parts import BoltedJoint, TorqueWrench
from trialfit.subjects.fastening import preloads
from trialfit.subjects.fastening.joints import CAUTION, SUBJECT, stake_of, torque

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array


_RANGE = Source("ISO 6789, from memory: tested from 20 % of full scale upwards", SourceKind.from_memory)
_FORMULAS = (torque_wrenches.setting_with_adapter, fasteners.torque_with_running_torque)


def requirements(build: Build, joint: BoltedJoint) -> Iterator[Requirement]:
    """The setting and the range for one joint, where a wrench is named."""
    wrench = build.named(joint.wrench)
    if not isinstance(wrench, TorqueWrench):
        return
    yield Requirement(
        id=f"{SUBJECT}.{joint.name}.wrench_setting",
        about=joint.name,
        says=f"setting of {wrench.name} in {wrench.unit}, adapter and running torque included",
        value=partial(final_setting, joint=joint),
        quantity=TORQUE,
        stake=stake_of(joint),
        formulas=_FORMULAS,
        unit=wrench.unit or "",
        shows=partial(_shown, joint=joint),
        caution=CAUTION,
    )
    yield Requirement(
        id=f"{SUBJECT}.{joint.name}.wrench_range",
        about=joint.name,
        says=f"the setting is in the usable range of {wrench.name}",
        value=partial(final_setting, joint=joint),
        quantity=TORQUE,
        stake=stake_of(joint),
        limit=Between(lambda ev: _range(ev, joint)[0], lambda ev: _range(ev, joint)[1]),
        source=_RANGE,
        formulas=(*_FORMULAS, torque_wrenches.usable_range),
        unit=wrench.unit or "",
        caution=CAUTION,
    )


def named_wrench(ev: Evaluation, joint: BoltedJoint) -> TorqueWrench:
    """The wrench of the joint. Raises MissingFact."""
    wrench = ev.of(preloads.wrench_of, joint)
    if wrench is None:
        raise MissingFact({f"{joint.name}.wrench": BoltedJoint.wrench.says})
    return wrench


def setting(ev: Evaluation, joint: BoltedJoint, at_bolt: Array | float) -> Array:
    """What to set for a torque at the bolt, N·m.

    What a locking nut needs to turn is added to a torque that is worked out; a maker's figure, or the builder's, is set as it is.
    """
    running = ev(joint.running_torque) if preloads.figure_of(joint) is preloads.Figure.computed else 0.0
    wanted = fasteners.torque_with_running_torque(at_bolt, running)
    if joint.adapter_extension.written is None:
        return np.broadcast_to(np.asarray(wanted), ev.draws)
    extension, angle, length = ev.each(joint.adapter_extension, joint.adapter_angle, named_wrench(ev, joint).length)
    return np.asarray(torque_wrenches.setting_with_adapter(wanted, length, extension, angle))


def final_setting(ev: Evaluation, joint: BoltedJoint) -> Array:
    """What to set for the last torque, N·m."""
    return ev.of(setting, joint, float(ev.of(preloads.torque_in_use, joint)[0]))


def usable_range(ev: Evaluation, wrench: TorqueWrench) -> tuple[float, float]:
    """Nominal ends of the usable scale, N·m: as written, else a fifth of full scale to full scale. Raises MissingFact."""
    low, high = torque_wrenches.usable_range(ev(wrench.largest))
    if wrench.smallest.written is not None:
        low = ev(wrench.smallest)
    return float(np.asarray(low)[0]), float(np.asarray(high)[0])


def _range(ev: Evaluation, joint: BoltedJoint) -> tuple[float, float]:
    return usable_range(ev, named_wrench(ev, joint))


def _shown(ev: Evaluation, joint: BoltedJoint) -> str:
    return f"for {torque(ev.of(preloads.torque_in_use, joint))} at the bolt{preloads.whether_it_runs(ev, joint)}"
