"""Bolted joints. Their typical values by size, material and state of the threads are in joint_typicals.py."""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.facts.quantity import ANGLE, COEFFICIENT, COUNT, FORCE, LENGTH, SHARE, STIFFNESS, STRESS, TORQUE
from trialfit.handbook.fastening.fastener_classes import BOLT_CLASSES, NUT_CLASSES, THREAD_STATES
from trialfit.handbook.fastening.joint_faces import FINISHES
from trialfit.handbook.fastening.thread_sizes import read_fastener_thread
from trialfit.handbook.fastening.tightening_order import read_order
from trialfit.handbook.sources import NO_SOURCE
from trialfit.parts.declaring import NOT_NEGATIVE, POSITIVE, Bounds, CodeSpec, FactSpec, Part, RefSpec, WordSpec
from trialfit.parts.fastening.joint_typicals import narrowed, typical_of
from trialfit.parts.lists_and_curves import ListSpec

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.parts.fact_refs import FactRef

MATERIALS = ("steel", "iron", "aluminium")
PATTERNS = ("circle", "rectangle", "rail pair", "grid", "perimeter")
AXES = ("upright", "hung", "level")
HOLLOW = "hollow section"
THROUGH = ("solid", HOLLOW, "crush tube")
LOADS = (
    "a seal only",
    "pull",
    "shear",
    "pull and shear",
    "torque",
    "gearbox torque",
    "prop shaft torque",
    "axle torque",
    "wheel torque",
)


class BoltedJoint(Part):
    """A joint held by bolts: the bolts, what they are screwed into, how they are tightened, and what the joint holds.

    The maker's torque, angle and order outrank the calculated figures. Write the thread, the class, the state of the
    threads and the number of bolts; then as much of the rest as is known.
    """

    kind = "bolted_joint"

    thread = CodeSpec("thread of the bolts", check=read_fastener_thread, example="M10×1.25")
    strength_class = WordSpec("class or grade on the bolt's head", *BOLT_CLASSES)
    threaded_into = WordSpec(
        "what the bolt screws into: a nut, or a tapped hole in this material:", "nut", *MATERIALS, default="nut"
    )
    nut_class = WordSpec("class or grade on the nut; 04 and 05 are thin nuts", *NUT_CLASSES)
    engagement = FactSpec(
        LENGTH, "thread engagement: length of full threads in a tapped hole", bounds=POSITIVE, is_rating=True
    )
    hole_strength = FactSpec(
        STRESS, "tensile strength of the material of the tapped hole", bounds=POSITIVE, is_rating=True
    )
    hole_shear_share = FactSpec(
        COEFFICIENT, "shear strength of the material of the tapped hole, over its tensile strength", bounds=POSITIVE
    )
    thread_left = FactSpec(
        COEFFICIENT,
        "shear area of the threads as made, over that of the basic profile",
        bounds=Bounds(above=0, at_most=1),
        typical="0.87 ± 0.13",
        source="ISO 965-1: 6g in 6H, from the loosest fit to the basic profile",
        example="0.9 ± 0.05, computed",
        lax="high",
    )

    thread_state = WordSpec("coating of the bolts and what is on their threads now", *THREAD_STATES)
    nut_factor = FactSpec(
        COEFFICIENT,
        "nut factor K: torque over preload times diameter, as the threads are now",
        bounds=POSITIVE,
        typical="0.20 +0.15/-0.10",
        source="fastener suppliers' nut-factor table, 0.10 oiled to 0.35 zinc plated: state of the threads unknown",
        example="0.20 ± 0.05, guess",
        lax="either",
    )
    thread_friction = FactSpec(
        COEFFICIENT,
        "friction of the threads; together with head_friction it replaces the nut factor",
        bounds=POSITIVE,
        example="0.14 ± 0.05, guess",
    )
    head_friction = FactSpec(COEFFICIENT, "friction under the turning head or nut", bounds=POSITIVE)
    seat = WordSpec(
        "seat of the nut or head: flat, or a cone as on wheel nuts; on a cone bearing_diameter and hole_diameter are those of "
        "the cone where they touch",
        "flat",
        "cone of 60°",
        default="flat",
    )
    running_torque = FactSpec(
        TORQUE,
        "running torque of a locking nut before it seats",
        bounds=NOT_NEGATIVE,
        typical="0 ± 0 N·m",
        source=f"{NO_SOURCE}: a nut that runs freely",
    )

    bolts = FactSpec(COUNT, "number of bolts", bounds=POSITIVE)
    pattern = WordSpec("pattern of the bolts", *PATTERNS)
    pitch_circle_diameter = FactSpec(LENGTH, "diameter of their pitch circle", bounds=POSITIVE, is_rating=True)
    rows = FactSpec(
        COUNT, "bolts across a grid, or along the short edge of a rectangle, corners counted", bounds=POSITIVE
    )
    columns = FactSpec(
        COUNT, "bolts along a grid, a rail or the long edge of a rectangle, corners counted", bounds=POSITIVE
    )
    length = FactSpec(LENGTH, "first to last bolt along the pattern", bounds=POSITIVE)
    width = FactSpec(LENGTH, "first to last bolt across the pattern", bounds=POSITIVE)
    places_x = ListSpec(LENGTH, "each bolt along the flange, in the order of their numbers, from any corner")
    places_y = ListSpec(LENGTH, "each bolt across the flange, in the same order")
    tightening_order = CodeSpec(
        "the maker's order of tightening, by the bolts' numbers", check=read_order, example="1-5-3-7-2-6-4-8"
    )

    maker_torques = ListSpec(TORQUE, "the maker's torque stages in their order", bounds=POSITIVE)
    maker_angles = ListSpec(ANGLE, "the maker's angle stages that follow the torques", bounds=POSITIVE)
    maker_state = WordSpec("state of the threads for which the maker's figure is given", *THREAD_STATES)
    torque = FactSpec(
        TORQUE,
        "torque that you intend to set, if it differs from the maker's figure; its spread is that of the wrench",
        bounds=POSITIVE,
    )
    service = WordSpec("whether the joint is taken apart again", "taken apart", "permanent", default="taken apart")
    bolt_kind = WordSpec("ordinary, or a stretch bolt (torque to yield)", "ordinary", "stretch", default="ordinary")
    times_used = FactSpec(COUNT, "number of times that these bolts have been tightened before", bounds=NOT_NEGATIVE)

    head_side_material = WordSpec("material of the part under the head", *MATERIALS, default="steel")
    head_side_thickness = FactSpec(LENGTH, "thickness of the part under the head", bounds=POSITIVE)
    thread_side_material = WordSpec("material of the part at the thread", *MATERIALS, default="steel")
    thread_side_thickness = FactSpec(
        LENGTH, "thickness of the part at the nut; not used with a tapped hole", bounds=POSITIVE
    )
    shank_length = FactSpec(
        LENGTH,
        "length of the bolt without thread, inside the grip",
        bounds=NOT_NEGATIVE,
        typical="0 ± 0 mm",
        source=f"{NO_SOURCE}: threaded up to the head",
    )
    bearing_diameter = FactSpec(LENGTH, "outside diameter of the face under the head", bounds=POSITIVE)
    washer_diameter = FactSpec(LENGTH, "outside diameter of a flat washer under the head", bounds=POSITIVE)
    nut_washer_diameter = FactSpec(LENGTH, "outside diameter of a flat washer under the nut", bounds=POSITIVE)
    washer_thickness = FactSpec(LENGTH, "thickness of these washers", bounds=POSITIVE)
    head_side_bearing = FactSpec(
        STRESS, "allowed pressure on the face of the part under the head", bounds=POSITIVE, is_rating=True
    )
    thread_side_bearing = FactSpec(
        STRESS, "allowed pressure on the face of the part under the nut", bounds=POSITIVE, is_rating=True
    )
    hole_diameter = FactSpec(LENGTH, "diameter of the hole the bolt passes through", bounds=POSITIVE)
    through = WordSpec(
        "what the bolts pass through: solid metal, a hollow section that they pull together, or a hollow section with a tube round "
        "each bolt from wall to wall",
        *THROUGH,
        default="solid",
    )
    gasket_stiffness = FactSpec(STIFFNESS, "stiffness of the gasket that one bolt clamps", bounds=POSITIVE)

    lever_out = FactSpec(
        LENGTH,
        "from the clamped faces to where the load acts on the arm, measured along the bolts; 0 where there is no arm",
        bounds=NOT_NEGATIVE,
        is_rating=True,
    )
    lever_aside = FactSpec(
        LENGTH,
        "from the middle of the bolts to where the load acts, measured along the clamped faces; 0 where it acts in line",
        bounds=NOT_NEGATIVE,
        is_rating=True,
    )
    edge_distance = FactSpec(
        LENGTH,
        "from the outermost bolt to the edge of the bracket's foot that it tips about",
        bounds=NOT_NEGATIVE,
        is_rating=True,
    )
    web_distance = FactSpec(
        LENGTH,
        "from a bolt to the web or wall of the bracket that rises from its foot; half the bolt's diameter for a solid foot",
        bounds=POSITIVE,
        is_rating=True,
    )
    foot_width = FactSpec(LENGTH, "width of the foot that each bolt holds down", bounds=POSITIVE, is_rating=True)
    foot_strength = FactSpec(
        STRESS, "yield strength of the foot; its thickness is head_side_thickness", bounds=POSITIVE, is_rating=True
    )

    load_type = WordSpec("type of load on the joint; a torque is named by where it acts", *LOADS)
    carries = RefSpec(
        "the mount that it carries: the worst load of that mount is used where pull or shear is missing", "mount"
    )
    bolt_axis = WordSpec(
        "direction of the bolts under that mount: upright with the weight pressing the faces together, upright with the "
        "weight hanging from the bolts, or level; if missing, the worst of these is used",
        *AXES,
    )
    pull = FactSpec(FORCE, "pull on the whole joint in line with the bolts", bounds=NOT_NEGATIVE)
    shear = FactSpec(FORCE, "force on the whole joint across the bolts", bounds=NOT_NEGATIVE)
    load_torque = FactSpec(
        TORQUE, "torque that the clamped faces carry, if it is not a drivetrain torque", bounds=NOT_NEGATIVE
    )
    face_friction = FactSpec(
        COEFFICIENT,
        "friction between the clamped faces",
        bounds=POSITIVE,
        typical="0.15 +0.05/-0.07",
        source="from memory: 0.08 with a trace of oil or paint, 0.20 dry and clean",
        example="0.15 ± 0.03, guess",
        lax="high",
    )
    sliding_faces = FactSpec(
        COUNT,
        "number of pairs of faces that slide together",
        bounds=POSITIVE,
        typical="1 ± 0",
        source=NO_SOURCE,
        lax="high",
    )
    embedment_loss = FactSpec(
        SHARE,
        "embedment loss: share of the preload lost as paint, gaskets and rough faces bed in",
        bounds=Bounds(at_least=0, at_most=1),
        typical="10 +30/-7 %",
        source="from VDI 2230 as quoted in public codes: 3 % for a long bolt, 40 % for thin painted sheet; worked out where the "
        "grip is written",
        example="10 ± 5 %, guess",
        lax="low",
    )
    inner_faces = FactSpec(
        COUNT,
        "pairs of faces between head and nut or hole: one for two parts, two for three",
        bounds=POSITIVE,
        typical="1 ± 0",
        source=f"{NO_SOURCE}: two parts",
    )
    paint_films = FactSpec(
        COUNT,
        "films of paint between head and nut or hole: two where two painted parts lie on each other",
        bounds=NOT_NEGATIVE,
        typical="0 ± 0",
        source=f"{NO_SOURCE}: bare faces",
    )
    face_finish = WordSpec(
        "finish of these faces: smooth as ground, machined, or rough as sawn or cast", *FINISHES, default="machined"
    )
    embedment = FactSpec(
        LENGTH,
        "how far thread, head, nut and faces bed in, used where the grip is known",
        bounds=POSITIVE,
        typical="11 +11/-5 µm",
        source="VDI 2230 table 5, as a research code quotes it",
        example="11 ± 4 µm, guess",
        lax="low",
    )
    failure_consequence = WordSpec(
        "worst consequence if the joint fails",
        "somebody is hurt",
        "something breaks",
        "it leaks",
        default="somebody is hurt",
    )

    wrench = RefSpec("the torque wrench it is tightened with", "torque_wrench")
    adapter_extension = FactSpec(
        LENGTH,
        "length from the drive square of the wrench to the bolt, with a crow-foot or another adapter",
        bounds=NOT_NEGATIVE,
        typical="0 ± 0 mm",
        source=f"{NO_SOURCE}: no adapter",
    )
    adapter_angle = FactSpec(
        ANGLE,
        "angle of the adapter from straight ahead; at 90° it changes nothing",
        typical="0 ± 0 deg",
        source=f"{NO_SOURCE}: straight on",
    )

    def spec_in_use(self, spec: FactSpec) -> FactSpec:
        """Nut factor by the state of the threads, head and hole by the size, strength by what the hole is in."""
        typical, source = typical_of(self, spec.name)
        return narrowed(spec, typical, source) if typical else spec

    @property
    def places(self) -> tuple[tuple[FactRef, FactRef], ...]:
        """Each bolt's place along and across the flange; empty where one of the two is missing."""
        return tuple(zip(self.places_x, self.places_y, strict=False))

    def faults(self) -> Iterator[tuple[str, str]]:
        """Counts are whole, and places, order and number of bolts agree."""
        for ref in (self.bolts, self.rows, self.columns):
            if ref.written and ref.written.si != round(ref.written.si):
                yield _key(ref), f"is {ref.written}: expected a whole number, for example 8"
        if self.places_x and self.places_y and len(self.places_x) != len(self.places_y):
            yield (
                "places_y",
                f"has {len(self.places_y)} places, places_x has {len(self.places_x)}: expected one each per bolt",
            )
        bolts = self.bolts.written
        for name, count in (("places_x", len(self.places_x)), ("tightening_order", len(_order(self.tightening_order)))):
            if bolts and count and count != round(bolts.si):
                yield name, f"is for {count} bolts, {self.name}.bolts is {bolts}: one of them is wrong"
        sliding, inner = self.sliding_faces.written, self.inner_faces.written
        if sliding and inner and sliding.si > inner.si:
            yield (
                "sliding_faces",
                f"is {sliding}, more than inner_faces, {inner}, of which they are some: one of them is wrong",
            )
        if self.nut_class and self.threaded_into != "nut":
            yield (
                "nut_class",
                f'is written, but the bolt is screwed into {self.threaded_into}: expected threaded_into = "nut"',
            )


def _key(ref: FactRef) -> str:
    return ref.path.rpartition(".")[2]


def _order(text: str | None) -> tuple[int, ...]:
    return read_order(text) if text else ()
