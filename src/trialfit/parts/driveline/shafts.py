"""Prop shafts and half-shafts, with the joints on their ends.

Positions are in the car's axes (ISO 8855): x forward from the front axle, y to the left, z up from the ground.
An inclination is positive where the line drops towards the rear.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.facts.quantity import ANGLE, COEFFICIENT, LENGTH, STRESS, TORQUE
from trialfit.handbook.sources import NO_SOURCE
from trialfit.parts.declaring import NOT_NEGATIVE, POSITIVE, Bounds, FactSpec, Part, RefSpec, WordSpec

if TYPE_CHECKING:
    from collections.abc import Iterator

SHAFT_JOINTS = ("cardan", "constant velocity", "rubber disc", "rigid")
_RUBBER_DISC = ("3 ± 1 deg", "from memory: discs of rubber or fabric bear 2 to 4° for long")
_PROP_CARDAN_BINDS = (
    "25 ± 10 deg",
    "from memory: a cardan joint of a prop shaft binds at 15° in a close yoke, at 25° in an ordinary one, at 35° in a wide-angle one",
)
_CARDAN_BINDS = ("22.5 ± 7.5 deg", "from memory: a cardan joint of a half-shaft binds at 15 to 30°")


class PropShaft(Part):
    """One tube of the line between gearbox and final drive, with the joints at its ends.

    Of two tubes the first ends rigidly in the stub of a centre bearing: `rear_joint = "rigid"`, and
    `rear_x`, `rear_y`, `rear_z` say where the joint behind the bearing sits.
    """

    kind = "prop_shaft"

    after = RefSpec("what drives it", "gearbox", "prop_shaft")
    length = FactSpec(
        LENGTH,
        "length between the joint centres; with two tubes, to the joint behind the centre bearing",
        bounds=POSITIVE,
        example="1186 mm, taped",
        is_rating=True,
    )
    tube_outside_diameter = FactSpec(LENGTH, "outside diameter of the tube", bounds=POSITIVE, is_rating=True)
    tube_wall_thickness = FactSpec(
        LENGTH, "wall thickness of the tube", bounds=POSITIVE, example="1.65 ± 0.08 mm, calipered", is_rating=True
    )
    material = WordSpec("material of the tube", "steel", "aluminium", default="steel")
    yield_strength = FactSpec(
        STRESS,
        "yield strength of the tube",
        bounds=POSITIVE,
        typical="350 ± 130 MPa",
        source="from memory: welded mild steel tube 220, cold drawn tube 480 MPa",
        is_rating=True,
    )
    notch_factor = FactSpec(
        COEFFICIENT,
        "notch factor: stress at the worst notch, weld or spline over that of the plain tube",
        bounds=Bounds(at_least=1),
        typical="2 ± 0.5",
        source="from memory: 1.5 to 3",
        example="2 ± 0.5, guess",
        lax="low",
    )
    rated_torque = FactSpec(
        TORQUE,
        "rated torque of the tube with its welds and spline",
        bounds=POSITIVE,
        example="2000 N·m, catalogue",
        is_rating=True,
    )
    front_joint = WordSpec("joint at its front end", *SHAFT_JOINTS, default="cardan")
    rear_joint = WordSpec(
        "joint at its rear end; rigid where it ends in a centre bearing", *SHAFT_JOINTS, default="cardan"
    )
    front_joint_rated_torque = FactSpec(
        TORQUE, "rated torque of the front joint", bounds=POSITIVE, example="1450 N·m, catalogue", is_rating=True
    )
    rear_joint_rated_torque = FactSpec(
        TORQUE, "rated torque of the rear joint", bounds=POSITIVE, example="1450 N·m, catalogue", is_rating=True
    )
    front_joint_angle_limit = FactSpec(
        ANGLE,
        "largest angle of the front joint, as its maker states it",
        is_rating=True,
        bounds=POSITIVE,
        example="20°, manual",
    )
    rear_joint_angle_limit = FactSpec(
        ANGLE,
        "largest angle of the rear joint, as its maker states it",
        is_rating=True,
        bounds=POSITIVE,
        example="20°, manual",
    )
    yoke_twist = FactSpec(
        ANGLE,
        "phase angle of its rear yoke against its front yoke, clockwise looking rearward; in phase is zero",
        typical="0 ± 3 deg",
        source=f"{NO_SOURCE}: a shop welds to a degree, a home builder to three",
        example="0 ± 1°, guess",
    )
    inclination = FactSpec(ANGLE, "how far the tube drops towards the rear, where it was gauged")
    heading = FactSpec(
        ANGLE,
        "how far the tube points to the left, looking rearward along it, where it was measured",
        example="0 ± 0.4°, taped",
    )
    rear_x = FactSpec(
        LENGTH,
        "centre of the joint behind its centre bearing: forward of the front axle is positive",
        example="-1729 mm, taped",
    )
    rear_y = FactSpec(
        LENGTH,
        "centre of the joint behind its centre bearing: to the left of the middle of the car is positive",
        example="0 mm, taped",
    )
    rear_z = FactSpec(
        LENGTH, "centre of the joint behind its centre bearing: above the ground", example="492 mm, taped"
    )
    spline_diameter = FactSpec(
        LENGTH, "outside diameter of the sliding spline", bounds=POSITIVE, example="32 mm, calipered", is_rating=True
    )
    spline_overlap = FactSpec(
        LENGTH,
        "engaged length of the sliding spline at ride height",
        bounds=NOT_NEGATIVE,
        example="92 mm, taped",
        is_rating=True,
    )
    slip_gap = FactSpec(
        LENGTH, "how far the slip joint can still close at ride height", bounds=NOT_NEGATIVE, example="30 mm, taped"
    )

    def spec_in_use(self, spec: FactSpec) -> FactSpec:
        """A rubber disc and a cardan joint have an angle that is usual for their kind."""
        usual = {"rubber disc": _RUBBER_DISC, "cardan": _PROP_CARDAN_BINDS}
        for end, joint in (("front", self.front_joint), ("rear", self.rear_joint)):
            if spec.name == f"{end}_joint_angle_limit" and joint in usual:
                return spec.with_typical(*usual[joint])
        return spec

    def faults(self) -> Iterator[tuple[str, str]]:
        """The wall is thinner than half of the outside diameter."""
        wall, outside = self.tube_wall_thickness.written, self.tube_outside_diameter.written
        if wall and outside and wall.si >= outside.si / 2:
            yield (
                "tube_wall_thickness",
                f"is {wall}, half of the {outside} tube or more: expected the wall, for example 1.65 mm",
            )


class HalfShaft(Part):
    """The shaft from the final drive out to one wheel: a joint at each end, or a bare bar inside a live axle.

    The shaft of a swing axle has one joint, at its inner end: `outer_joint = "rigid"`.
    """

    kind = "half_shaft"

    side = WordSpec("which wheel it drives", "left", "right")
    inner_joint = WordSpec("joint at its inner end", "constant velocity", "cardan", default="constant velocity")
    outer_joint = WordSpec(
        "joint at its outer end; rigid where shaft and wheel swing together: a swing axle",
        *("constant velocity", "cardan", "rigid"),
        default="constant velocity",
    )
    steered = WordSpec(
        "whether its wheel is steered; where it is not written, the wheels of a driven front axle are", "yes", "no"
    )
    inner_x = FactSpec(
        LENGTH, "centre of the inner joint: forward of the front axle is positive", example="-2402 mm, taped"
    )
    inner_y = FactSpec(
        LENGTH, "centre of the inner joint: to the left of the middle of the car is positive", example="118 mm, taped"
    )
    inner_z = FactSpec(LENGTH, "centre of the inner joint: above the ground", example="300 mm, taped")
    outer_x = FactSpec(
        LENGTH,
        "centre of the outer joint at ride height: forward of the front axle is positive",
        example="-2402 mm, taped",
    )
    outer_y = FactSpec(
        LENGTH,
        "centre of the outer joint at ride height: to the left of the middle of the car is positive",
        example="598 mm, taped",
    )
    outer_z = FactSpec(LENGTH, "centre of the outer joint at ride height: above the ground", example="281 mm, taped")
    bump_travel = FactSpec(
        LENGTH, "wheel travel from ride height up to the bump stop", bounds=NOT_NEGATIVE, example="62 mm, taped"
    )
    droop_travel = FactSpec(
        LENGTH, "wheel travel from ride height down to full droop", bounds=NOT_NEGATIVE, example="75 mm, taped"
    )
    outward_at_bump = FactSpec(
        LENGTH,
        "how far the outer joint moves outward at full bump",
        typical="0 ± 15 mm",
        source=f"{NO_SOURCE}: nothing on trailing arms, 15 mm on struts and short wishbones",
        example="0 ± 6 mm, guess",
        lax="either",
    )
    outward_at_droop = FactSpec(
        LENGTH,
        "how far the outer joint moves outward at full droop",
        typical="0 ± 15 mm",
        source=f"{NO_SOURCE}: nothing on trailing arms, 15 mm on struts and short wishbones",
        example="0 ± 6 mm, guess",
        lax="either",
    )
    plunge_in = FactSpec(
        LENGTH, "how far the plunging joint can still close at ride height", bounds=NOT_NEGATIVE, example="14 mm, taped"
    )
    plunge_out = FactSpec(
        LENGTH, "how far it can still open at ride height", bounds=NOT_NEGATIVE, example="13 mm, taped"
    )
    inner_movement = FactSpec(
        LENGTH,
        "how far its inner joint moves in any direction with the final drive on its mounts",
        bounds=NOT_NEGATIVE,
        typical="5 ± 5 mm",
        source=f"{NO_SOURCE}: 5 to 10 mm in a unit that rolls by 3 to 5°, next to nothing bolted fast",
        example="4 ± 2 mm, taped; levered with a bar",
        lax="low",
    )
    yoke_twist = FactSpec(
        ANGLE,
        "phase angle of its outer yoke against its inner yoke, with two cardan joints; in phase is zero",
        typical="0 ± 1 deg",
        source=NO_SOURCE,
        example="0 ± 1°, guess",
    )
    inner_joint_working_angle = FactSpec(
        ANGLE,
        "largest angle at which its inner joint runs for long, as its maker states it",
        bounds=POSITIVE,
        typical="9 ± 3 deg",
        source="from memory: 6 to 12° for long life of a plunging joint",
        example="8°, manual",
        lax="high",
    )
    outer_joint_working_angle = FactSpec(
        ANGLE,
        "largest angle at which its outer joint runs for long, straight ahead, as its maker states it",
        bounds=POSITIVE,
        typical="11 ± 4 deg",
        source="from memory: 7 to 15° for long life of a fixed joint",
        example="10°, manual",
        lax="high",
    )
    inner_joint_angle_limit = FactSpec(
        ANGLE,
        "largest angle of the inner, plunging joint",
        is_rating=True,
        bounds=POSITIVE,
        typical="21.5 +4.5/-3.5 deg",
        source="from memory: 18 to 26 deg",
        example="21.5 ± 1.5°, catalogue",
    )
    outer_joint_angle_limit = FactSpec(
        ANGLE,
        "largest angle of the outer, fixed joint",
        is_rating=True,
        bounds=POSITIVE,
        typical="45 +5/-3 deg",
        source="from memory: 42 to 50 deg",
        example="45 ± 2°, catalogue",
    )
    rated_torque = FactSpec(
        TORQUE,
        "rated torque of the shaft and its joints",
        bounds=POSITIVE,
        example="1500 N·m, catalogue",
        is_rating=True,
    )
    bar_diameter = FactSpec(
        LENGTH, "smallest diameter of the solid bar", bounds=POSITIVE, example="25.5 mm, calipered", is_rating=True
    )
    yield_strength = FactSpec(
        STRESS,
        "yield strength of the bar",
        bounds=POSITIVE,
        typical="800 ± 500 MPa",
        source="from memory: mild steel 300, carbon steel 480, hardened alloy steel 1100 MPa; an induction-hardened one bears as if 1300",
        example="850 ± 150 MPa, catalogue",
        is_rating=True,
    )
    notch_factor = FactSpec(
        COEFFICIENT,
        "notch factor: stress at the worst spline or groove over that of the plain bar",
        bounds=Bounds(at_least=1),
        typical="2 +1/-0.8",
        source="from memory: 1.5 to 3 where the spline is as thick as the bar, down to 1.2 where it is thicker",
        example="2 ± 0.5, guess",
        lax="low",
    )

    bearing = WordSpec(
        "in a live axle: whether the shaft carries the wheel too (semi-floating), or the hub on its own bearings does (full-floating)",
        "semi-floating",
        "full-floating",
        default="semi-floating",
    )
    bearing_diameter = FactSpec(
        LENGTH,
        "diameter of a semi-floating shaft beside its wheel bearing",
        bounds=POSITIVE,
        example="30 mm, calipered",
        is_rating=True,
    )
    bearing_offset = FactSpec(
        LENGTH,
        "from the middle of the wheel bearing out to the middle of the tyre; for a semi-floating shaft",
        example="62 mm, taped",
        is_rating=True,
    )

    def spec_in_use(self, spec: FactSpec) -> FactSpec:
        """A cardan joint binds at an angle that is usual for its kind."""
        for end, joint in (("inner", self.inner_joint), ("outer", self.outer_joint)):
            if spec.name == f"{end}_joint_angle_limit" and joint == "cardan":
                return spec.with_typical(*_CARDAN_BINDS)
        return spec

    @property
    def claims(self) -> str | None:
        """One half-shaft per side."""
        side = self.side
        return f"{side} half-shaft" if side else None

    def faults(self) -> Iterator[tuple[str, str]]:
        """The outer joint is further out than the inner one, and the right of the car is negative."""
        inner, outer = self.values.get("inner_y"), self.values.get("outer_y")
        leftward = {"left": 1.0, "right": -1.0}.get(self.side or "")
        if inner and outer and leftward and (outer.si - inner.si) * leftward <= 0:  # type: ignore[union-attr]
            where = "left of" if self.side == "left" else "right of (more negative than)"
            yield (
                "outer_y",
                f"is {outer}, not {where} {self.name}.inner_y ({inner}): y counts from the middle to the left",
            )
