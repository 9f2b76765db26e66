"""The shafts between gearbox and final drive, and their joints.

Answers   find_line      the line of a build, or the gap that keeps it from being one
          the_line       the same inside an evaluation: a gap is a missing fact
          joint_places   the names of the joints on the car, also where the line has a gap
          is_live        whether the pinion rides in a live axle
          name_in_ids    what a part is called in a finding's id: the choice it was picked from, else its own name
Not here  angles (driveline/directions.py); half-shafts, which stand behind the final drive (driveline/half_shafts.py)

A line is a row of members: gearbox output, shafts, pinion. Between two neighbours is a joint, or none (both
are one rigid member). A joint between two tubes is written once: the other tube ends "rigid" in its bearing.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from trialfit.evaluation.evaluation import MissingFact
from trialfit.parts import Car, FinalDrive, Gearbox, PropShaft

if TYPE_CHECKING:
    from collections.abc import Sequence

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.parts import FactRef, Part

_BY_COUNT = {2: ("front", "rear"), 3: ("front", "centre", "rear")}
CARDAN, CONSTANT_VELOCITY, RUBBER_DISC, RIGID = "cardan", "constant velocity", "rubber disc", "rigid"


@dataclass(frozen=True)
class Joint:
    """One joint: its `place` on the car, how it works, the member in front of it, and the shaft that carries it."""

    place: str
    works: str
    behind: int
    shaft: PropShaft
    end: str

    @property
    def is_cardan(self) -> bool:
        """Whether its output runs unevenly."""
        return self.works == CARDAN

    @property
    def angle_limit(self) -> FactRef:
        """The largest angle its maker allows."""
        return self.shaft.front_joint_angle_limit if self.end == "front" else self.shaft.rear_joint_angle_limit


@dataclass(frozen=True)
class ShaftLine:
    """A whole line: shafts and joints from front to rear."""

    gearbox: Gearbox
    shafts: tuple[PropShaft, ...]
    final_drive: FinalDrive
    joints: tuple[Joint, ...]

    @property
    def cardans(self) -> tuple[Joint, ...]:
        """The joints whose output runs unevenly."""
        return tuple(joint for joint in self.joints if joint.is_cardan)

    @property
    def rigid_seats(self) -> tuple[int, ...]:
        """Where two members meet without a joint, by the number of the member in front."""
        jointed = {joint.behind for joint in self.joints}
        return tuple(number for number in range(len(self.shafts) + 1) if number not in jointed)


@dataclass(frozen=True)
class Gap:
    """Why there is no whole line: what to write, by path."""

    wanted: dict[str, str]


def the_line(ev: Evaluation) -> ShaftLine:
    """The line from gearbox to final drive. Raises MissingFact that names what to write where it has a gap."""
    found = find_line(ev.build)
    if found is None:
        raise MissingFact({"prop_shaft": "this part is missing"})
    if isinstance(found, Gap):
        raise MissingFact(found.wanted)
    return found


def find_line(build: Build) -> ShaftLine | Gap | None:
    """The line of a build or its gap; None for a car without prop shafts that needs none."""
    gearbox, final_drive = build.first(Gearbox), build.first(FinalDrive)
    written = build.all(PropShaft)
    if not written and _needs_none(build, final_drive):
        return None
    shafts, wanted = _walk_forward(build, final_drive)
    if gearbox is None:
        wanted["gearbox"] = "this part is missing: the driveline begins at its output"
    elif final_drive is not None and not wanted and not shafts:
        wanted[f"{final_drive.name}.after"] = (
            f"is the gearbox, but {written[0].name} is between them: name the shaft that drives it"
        )
    joints, clashes = _joints(shafts)
    wanted |= clashes
    if wanted or gearbox is None or final_drive is None:
        return Gap(wanted)
    return ShaftLine(gearbox, shafts, final_drive, joints)


def joint_places(build: Build) -> tuple[str, ...]:
    """Front, centre, rear: the joints that the line has, or would have if its gap were closed."""
    found = find_line(build)
    if found is None:
        return ()
    if isinstance(found, Gap):
        tubes = max(len(build.all(PropShaft)), 1)
        return _places(range(tubes + 1), tubes)
    return tuple(joint.place for joint in found.joints)


def is_live(build: Build) -> bool:
    """Whether the final drive sits in a live axle, as far as it is written."""
    car = build.first(Car)
    return car is not None and car.rear_suspension == "live axle"


def may_be_live(build: Build) -> bool:
    """Whether it does, or nobody says that it does not."""
    car = build.first(Car)
    return is_live(build) or (car is not None and car.rear_suspension is None)


def name_in_ids(build: Build, part: Part) -> str:
    """The name of the choice that a part was picked from, so that an id stays when the pick changes; else its own name."""
    for name, choice in build.choices.items():
        if choice.picked == part.name:
            return name
    return part.name


def _needs_none(build: Build, final_drive: FinalDrive | None) -> bool:
    car = build.first(Car)
    if car is not None and car.driven_axle == "front":
        return True
    return final_drive is not None and isinstance(build.named(final_drive.after), Gearbox)


def _walk_forward(build: Build, final_drive: FinalDrive | None) -> tuple[tuple[PropShaft, ...], dict[str, str]]:
    """The shafts from front to rear, found by asking each part what drives it, and the entry where that ends too early."""
    if final_drive is None:
        return (), {"final_drive": "this part is missing: the driveline ends at its pinion"}
    shafts: list[PropShaft] = []
    part: FinalDrive | PropShaft = final_drive
    while True:
        before = build.named(part.after)
        if isinstance(before, Gearbox):
            return tuple(reversed(shafts)), {}
        if not isinstance(before, PropShaft) or before in shafts:
            return tuple(reversed(shafts)), {f"{part.name}.after": _after_says(build, shafts)}
        shafts.append(before)
        part = before


def _after_says(build: Build, shafts: list[PropShaft]) -> str:
    others = [name_in_ids(build, shaft) for shaft in build.all(PropShaft) if shaft not in shafts]
    gearbox = build.first(Gearbox)
    box = name_in_ids(build, gearbox) if gearbox else "gearbox"
    if not shafts and not others:
        return (
            f'what drives it, a prop shaft as a rule: add a table [prop_shaft] with after = "{box}", and write '
            f'after = "prop_shaft" here; after = "{box}" is for a final drive in one case with the gearbox'
        )
    fitting = [*others, box]
    return f'what drives it, so that the line runs from gearbox to final drive: for example after = "{fitting[0]}"'


def _joints(shafts: tuple[PropShaft, ...]) -> tuple[tuple[Joint, ...], dict[str, str]]:
    """The joints of a row of shafts, and the ends that contradict each other."""
    seats: list[tuple[int, PropShaft, str, str]] = []
    wrong: dict[str, str] = {}
    for number, shaft in enumerate(shafts):
        ends = [(shaft, "front", shaft.front_joint)]
        if number:
            ends.insert(0, (shafts[number - 1], "rear", shafts[number - 1].rear_joint))
        seats += _one_seat(number, ends, wrong)
    if shafts:
        seats += _one_seat(len(shafts), [(shafts[-1], "rear", shafts[-1].rear_joint)], wrong)
    places = _places([behind for behind, *_ in seats], len(shafts))
    joints = (
        Joint(place, works, behind, shaft, end)
        for place, (behind, shaft, end, works) in zip(places, seats, strict=True)
    )
    return tuple(joints), wrong


def _one_seat(
    behind: int, ends: list[tuple[PropShaft, str, str | None]], wrong: dict[str, str]
) -> list[tuple[int, PropShaft, str, str]]:
    """The joint at one place, none where every end is rigid; two joints at one place are noted as wrong."""
    giving = [(behind, shaft, end, works) for shaft, end, works in ends if works and works != RIGID]
    if len(giving) > 1:
        front, rear = giving[0][1], giving[1][1]
        wrong[f"{front.name}.rear_joint"] = (
            f'is a joint where {rear.name} begins with one too: write rear_joint = "rigid" for a tube that ends in the stub '
            "of a centre bearing"
        )
    return giving[:1]


def _places(behind: Sequence[int], last: int) -> tuple[str, ...]:
    """Names by place: front, centre and rear for up to three joints, else joint_1, joint_2 and so on."""
    count = len(behind)
    if count == 1:
        return ("rear",) if behind[0] == last else ("front",)
    return _BY_COUNT.get(count) or tuple(f"joint_{number}" for number in range(1, count + 1))
