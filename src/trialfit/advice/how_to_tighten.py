"""How to tighten one joint: the order on its flange, the stages, the wrench setting, and the source of the figures.

Answers   tightening        the instructions for one joint
          TighteningSheet   in the shape that `tighten --json` prints
Not here  the findings themselves (subjects/fastening); how the sheet looks (cli/tighten.py)

The maker's torques, angles and order are used as they are. A single torque is reached in stages; without one the figure is
the builder's or is calculated, and the sheet says so.
"""

from __future__ import annotations

from math import degrees
from typing import TYPE_CHECKING

from pydantic import Field

from trialfit.book.problems import BadInput, Located
from trialfit.evaluation.evaluation import DRAWS, Evaluation, MissingFact
from trialfit.evaluation.finding import Figure, Finding, Interval
from trialfit.evaluation.verdict import Verdict
from trialfit.facts.frozen import Frozen
from trialfit.facts.quantity import TORQUE
from trialfit.facts.units import find_unit, from_si
from trialfit.handbook.fastening.tightening_order import loosening_order, torque_stages
from trialfit.parts import BoltedJoint
from trialfit.parts.reading import nearest
from trialfit.subjects.catalogue import evaluate
from trialfit.subjects.fastening import preloads, wrenches
from trialfit.subjects.fastening.joints import CAUTION
from trialfit.subjects.fastening.pattern import lacking_places, order_of, places_of
from trialfit.subjects.fastening.preloads import figure_of
from trialfit.subjects.fastening.torque_remarks import why_it_differs

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.finding import Report

_SUBJECT = "fastening"
_SNUG = "by hand, until every head touches and the parts lie flat"
_AGAIN = "once round again at the same torque, and again until no bolt moves"
_USUAL = "30, 70 and 100 %, then once round again: flange practice, from memory"
_MAKERS = "the maker's stages"


class BoltPlace(Frozen):
    """One bolt on the flange."""

    bolt: int = Field(description="its number on the flange")
    turn: int = Field(description="its turn in the order: 1 is tightened first")
    x_mm: float
    y_mm: float


class StageLine(Frozen):
    """One round through the whole order."""

    number: int
    says: str
    torque: float | None = Field(description="at the bolt, N·m; null for a stage by hand or by angle")
    setting: float | None = Field(description="wrench setting, adapter and running torque included")
    setting_unit: str = Field(description="the unit of the wrench; N·m if none is given")
    angle: float | None = Field(description="turn after the last torque, degrees")
    in_range: bool | None = Field(
        description="whether the setting is within the wrench's range; null if the range is unknown"
    )


class Warned(Frozen):
    """A finding of this joint that does not hold."""

    finding: str
    verdict: Verdict
    says: str
    remark: str


class TighteningSheet(Frozen):
    """How one joint is tightened."""

    build: str
    joint: str
    note: str
    bolt: str = Field(description="thread and class, if written")
    places: tuple[BoltPlace, ...] = Field(description="empty if the bolt positions are missing")
    order: tuple[int, ...] = Field(description="the bolt numbers in order; empty if no order can be made")
    order_source: str
    loosening: tuple[int, ...]
    figure: str = Field(description="source of the torque: the maker, you, or calculated")
    stages: tuple[StageLine, ...]
    stages_source: str
    maker_torque: float | None = Field(description="the maker's last torque stage, N·m")
    computed_torque: Interval | None = Field(description="torque for the usual share of the proof load")
    preload: Interval | None = Field(description="preload of one bolt at that torque")
    why: str = Field(description="both figures side by side, and why they differ")
    warnings: tuple[Warned, ...]
    missing: dict[str, str] = Field(description="facts to get before the sheet is complete, with their meaning")
    caution: str

    @property
    def fails(self) -> bool:
        """Whether a finding of this joint fails."""
        return any(warned.verdict is Verdict.fails for warned in self.warnings)


def tightening(build: Build, name: str, draws: int = DRAWS, report: Report | None = None) -> TighteningSheet:
    """The sheet of one joint. Raises BadInput for an unknown joint.

    `report` is the evaluation of the build, if there is one already.
    """
    joint = _joint(build, name)
    report = report or evaluate(build, draws, (_SUBJECT,))
    ev = Evaluation(build, 1)
    missing: dict[str, str] = {}
    order, source = _order(joint, missing)
    stages = _stages(ev, joint, missing)
    return TighteningSheet(
        build=build.name,
        joint=joint.name,
        note=build.document.parts[joint.name].note,
        bolt=", ".join(filter(None, (joint.thread, joint.strength_class, joint.thread_state))),
        places=() if lacking_places(joint) else _places(joint, order),
        order=order,
        order_source=source,
        loosening=loosening_order(order),
        figure=figure_of(joint),
        stages=stages,
        stages_source=_MAKERS if _has_makers_stages(joint) else _USUAL,
        maker_torque=float(ev.of(preloads.makers_torque, joint)[0]) if joint.maker_torques else None,
        computed_torque=_value(report, joint, "computed_torque"),
        preload=_value(report, joint, "preload"),
        why=_why(ev, joint),
        warnings=tuple(_warnings(report, joint)),
        missing=missing,
        caution=CAUTION,
    )


def _joint(build: Build, name: str) -> BoltedJoint:
    part = build.named(name)
    if isinstance(part, BoltedJoint):
        return part
    joints = [joint.name for joint in build.all(BoltedJoint)]
    what = f'"{name}" is a {part.kind}, not a bolted joint' if part else f'unknown bolted joint "{name}"'
    known = nearest(name, joints) if joints else 'the build has none: add a table [my_joint] with kind = "bolted_joint"'
    raise BadInput(build.name or "the build", [Located("", f"{what}: {known}")])


def _order(joint: BoltedJoint, missing: dict[str, str]) -> tuple[tuple[int, ...], str]:
    try:
        order = order_of(joint)
    except MissingFact as lacking:
        missing.update(lacking.wanted)
        return (), ""
    except ValueError as wrong:
        raise BadInput(joint.name, [Located(f"{joint.name}.pattern", str(wrong))]) from None
    return order.numbers, order.source


def _places(joint: BoltedJoint, order: tuple[int, ...]) -> tuple[BoltPlace, ...]:
    turns = {bolt: turn for turn, bolt in enumerate(order, 1)}
    return tuple(
        BoltPlace(bolt=bolt, turn=turns[bolt], x_mm=float(x) * 1e3, y_mm=float(y) * 1e3)
        for bolt, (x, y) in enumerate(places_of(joint), 1)
        if bolt in turns
    )


def _has_makers_stages(joint: BoltedJoint) -> bool:
    return joint.torque.written is None and (len(joint.maker_torques) > 1 or bool(joint.maker_angles))


def _stages(ev: Evaluation, joint: BoltedJoint, missing: dict[str, str]) -> tuple[StageLine, ...]:
    try:
        rounds = tuple(_makers_rounds(ev, joint) if _has_makers_stages(joint) else _usual_rounds(ev, joint))
    except MissingFact as lacking:
        missing.update(lacking.wanted)
        return ()
    return tuple(
        _line(ev, joint, number, says, torque, angle, missing) for number, (says, torque, angle) in enumerate(rounds, 1)
    )


def _makers_rounds(ev: Evaluation, joint: BoltedJoint) -> Iterator[tuple[str, float | None, float | None]]:
    yield _SNUG, None, None
    for ref in joint.maker_torques:
        yield "the maker's torque", float(ev(ref)[0]), None
    for ref in joint.maker_angles:
        yield "turn further, from the mark", None, degrees(float(ev(ref)[0]))


def _usual_rounds(ev: Evaluation, joint: BoltedJoint) -> Iterator[tuple[str, float | None, float | None]]:
    full = float(ev.of(preloads.torque_in_use, joint)[0])
    for stage in torque_stages():
        if not stage.share:
            yield _SNUG, None, None
        else:
            yield _AGAIN if stage.again else f"{stage.share:.0%}".replace("%", " %"), stage.share * full, None


def _line(
    ev: Evaluation,
    joint: BoltedJoint,
    number: int,
    says: str,
    torque: float | None,
    angle: float | None,
    missing: dict[str, str],
) -> StageLine:
    wrench = ev.of(preloads.wrench_of, joint)
    unit = find_unit(TORQUE, (wrench.unit if wrench else None) or "N·m")
    setting, in_range = None, None
    if torque is not None:
        try:
            wanted = float(ev.of(wrenches.setting, joint, torque)[0])
            setting = float(from_si(wanted, unit))
            if wrench is not None:
                low, high = wrenches.usable_range(ev, wrench)
                in_range = low <= wanted <= high
        except MissingFact as lacking:
            missing.update(lacking.wanted)
    return StageLine(
        number=number,
        says=says,
        torque=torque,
        setting=setting,
        setting_unit=unit.canonical,
        angle=angle,
        in_range=in_range,
    )


def _value(report: Report, joint: BoltedJoint, what: str) -> Interval | None:
    found: Finding | Figure | None = report.result(f"{_SUBJECT}.{joint.name}.{what}")
    return found.value if found else None


def _why(ev: Evaluation, joint: BoltedJoint) -> str:
    try:
        return why_it_differs(ev, joint)
    except MissingFact:
        return ""


def _warnings(report: Report, joint: BoltedJoint) -> Iterator[Warned]:
    for finding in report.findings:
        if finding.about == joint.name and finding.verdict is not Verdict.holds:
            remark = "; ".join(filter(None, [finding.remark, *(f"get {path}" for path in finding.missing)]))
            yield Warned(finding=finding.id, verdict=finding.verdict, says=finding.says, remark=remark)
