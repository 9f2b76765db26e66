"""Bolted joints, and the torque wrench they are tightened with."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

from trialfit.facts.quantity import ANGLE, COEFFICIENT, COUNT, FORCE, LENGTH, SHARE, STIFFNESS, STRESS, TORQUE
from trialfit.handbook.fastening.fastener_classes import (
    BOLT_CLASSES,
    NUT_CLASSES,
    THREAD_STATES,
    head_of,
    nut_factor_of,
)
from trialfit.handbook.fastening.thread_sizes import read_fastener_thread
from trialfit.handbook.fastening.tightening_order import read_order
from trialfit.handbook.sources import NO_SOURCE
from trialfit.parts.declaring import (
    NOT_NEGATIVE,
    POSITIVE,
    Bounds,
    CodeSpec,
    FactSpec,
    ListSpec,
    Part,
    RefSpec,
    WordSpec,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.parts.declaring import FactRef

MATERIALS = ("steel", "iron", "aluminium")
PATTERNS = ("circle", "rectangle", "rail pair", "grid", "perimeter")
AXES = ("upright", "hung", "level")
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
_HOLE_STRENGTH = {
    "steel": "430 ± 70 MPa",
    "iron": "220 ± 50 MPa",
    "aluminium": "220 ± 50 MPa",
}
_OWN_HEAD = "1.42 ± 0.08"
_OWN_HOLE = "1.1 ± 0.03"


class BoltedJoint(Part):
    """A joint held by bolts: the bolts, what they are screwed into, how they are tightened, and what the joint holds.

    The maker's torque, angle and order outrank whatever is worked out. Give the thread, the class, the state of the
    threads and how many bolts there are; then as much of the rest as is known.
    """

    kind = "bolted_joint"

    thread = CodeSpec("thread of the bolts", check=read_fastener_thread, example="M10×1.25")
    strength_class = WordSpec("class or grade on the bolt's head", *BOLT_CLASSES)
    threaded_into = WordSpec(
        "what the bolt is screwed into: a nut, or a hole tapped in", "nut", *MATERIALS, default="nut"
    )
    nut_class = WordSpec("class or grade on the nut", *NUT_CLASSES)
    engagement = FactSpec(LENGTH, "length of full threads in a tapped hole", bounds=POSITIVE)
    hole_strength = FactSpec(STRESS, "tensile strength of what the hole is tapped in", bounds=POSITIVE)

    thread_state = WordSpec("coating of the bolts and what is on their threads now", *THREAD_STATES)
    nut_factor = FactSpec(
        COEFFICIENT,
        "torque over preload times diameter, as the threads are now",
        bounds=POSITIVE,
        typical="0.20 ± 0.05",
        source="fastener suppliers' nut-factor table, state of the threads unknown",
    )
    thread_friction = FactSpec(
        COEFFICIENT,
        "friction of the threads; written together with head_friction it replaces the nut factor",
        bounds=POSITIVE,
        typical="0.14 ± 0.05",
        source="from memory",
    )
    head_friction = FactSpec(COEFFICIENT, "friction under the turning head or nut", bounds=POSITIVE)
    running_torque = FactSpec(
        TORQUE,
        "torque that turns a locking nut before it is seated",
        bounds=NOT_NEGATIVE,
        typical="0 ± 0 N·m",
        source=f"{NO_SOURCE}: a nut that runs freely",
    )

    bolts = FactSpec(COUNT, "how many bolts there are", bounds=POSITIVE)
    pattern = WordSpec("how they are arranged", *PATTERNS)
    pitch_circle_diameter = FactSpec(LENGTH, "diameter of the circle they stand on", bounds=POSITIVE)
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
    maker_state = WordSpec("the state of the threads that the maker's figure is meant for", "dry", "oiled")
    torque = FactSpec(
        TORQUE,
        "torque that you mean to set, where it is not the maker's figure; its spread is that of the wrench",
        bounds=POSITIVE,
    )
    service = WordSpec("whether the joint is taken apart again", "taken apart", "permanent", default="taken apart")
    bolt_kind = WordSpec(
        "ordinary, or stretched into yield when it is tightened", "ordinary", "stretch", default="ordinary"
    )
    times_used = FactSpec(COUNT, "how often these bolts have been tightened before", bounds=NOT_NEGATIVE)

    head_side_material = WordSpec("what the part under the head is made of", *MATERIALS, default="steel")
    head_side_thickness = FactSpec(LENGTH, "thickness of the part under the head", bounds=POSITIVE)
    thread_side_material = WordSpec("what the part at the thread is made of", *MATERIALS, default="steel")
    thread_side_thickness = FactSpec(
        LENGTH, "thickness of the part between the other one and the nut; none in a tapped hole", bounds=POSITIVE
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
    hole_diameter = FactSpec(LENGTH, "diameter of the hole the bolt passes through", bounds=POSITIVE)
    gasket_stiffness = FactSpec(STIFFNESS, "stiffness of the gasket that one bolt clamps", bounds=POSITIVE)

    load_type = WordSpec("what the joint holds against; a torque by the name of where it acts", *LOADS)
    carries = RefSpec("the mount it carries: its worst load is taken where pull or shear is missing", "mount")
    bolt_axis = WordSpec(
        "how the bolts stand under the mount it carries: upright with the weight pressing the faces together, upright with "
        "the weight hung from the bolts, or level; the worst of these where it is missing",
        *AXES,
    )
    pull = FactSpec(FORCE, "pull on the whole joint in line with the bolts", bounds=NOT_NEGATIVE)
    shear = FactSpec(FORCE, "force on the whole joint across the bolts", bounds=NOT_NEGATIVE)
    load_torque = FactSpec(
        TORQUE, "torque that the faces carry, where it is not one of the drivetrain", bounds=NOT_NEGATIVE
    )
    face_friction = FactSpec(
        COEFFICIENT,
        "friction between the clamped faces",
        bounds=POSITIVE,
        typical="0.15 ± 0.03",
        source="from memory, dry and clean",
    )
    sliding_faces = FactSpec(
        COUNT,
        "pairs of faces that would have to slide at once",
        bounds=POSITIVE,
        typical="1 ± 0",
        source=NO_SOURCE,
    )
    embedment_loss = FactSpec(
        SHARE,
        "share of the preload that is lost as paint, gaskets and rough faces bed in",
        bounds=Bounds(at_least=0, at_most=1),
        typical="10 ± 5 %",
        source=NO_SOURCE,
    )
    failure_consequence = WordSpec(
        "the worst that follows when the joint fails",
        "somebody is hurt",
        "something breaks",
        "it leaks",
        default="somebody is hurt",
    )

    wrench = RefSpec("the torque wrench it is tightened with", "torque_wrench")
    adapter_extension = FactSpec(
        LENGTH,
        "from the wrench's drive to the bolt, with a crow-foot or another adapter",
        bounds=NOT_NEGATIVE,
        typical="0 ± 0 mm",
        source=f"{NO_SOURCE}: no adapter",
    )
    adapter_angle = FactSpec(
        ANGLE,
        "how far the adapter is turned from straight on; square to the wrench it changes nothing",
        typical="0 ± 0 deg",
        source=f"{NO_SOURCE}: straight on",
    )

    def spec_in_use(self, spec: FactSpec) -> FactSpec:
        """Nut factor by the state of the threads, head and hole by the size, strength by what the hole is in."""
        typical, source = self._typical(spec.name)
        return _narrowed(spec, typical, source) if typical else spec

    def _typical(self, name: str) -> tuple[str, str]:
        if name == "nut_factor" and self.thread_state:
            factor = nut_factor_of(self.thread_state)
            around = f"+{factor.high - factor.usual:.2f}/-{factor.usual - factor.low:.2f}"
            return f"{factor.usual:.2f} {around}", factor.source
        if name == "hole_strength" and self.threaded_into in _HOLE_STRENGTH:
            return _HOLE_STRENGTH[self.threaded_into], f"from memory, {self.threaded_into}, cast or plain"
        if name in ("bearing_diameter", "hole_diameter") and self.thread:
            return _of_size(name, self.thread)
        return "", ""

    @property
    def places(self) -> tuple[tuple[FactRef, FactRef], ...]:
        """Each bolt's place along and across the flange; empty where one of both is not written."""
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
        if self.nut_class and self.threaded_into != "nut":
            yield (
                "nut_class",
                f'is written, but the bolt is screwed into {self.threaded_into}: expected threaded_into = "nut"',
            )


class TorqueWrench(Part):
    """A torque wrench at hand."""

    kind = "torque_wrench"

    largest = FactSpec(TORQUE, "largest reading on its scale", bounds=POSITIVE)
    smallest = FactSpec(
        TORQUE, "smallest reading on its scale; a fifth of the largest where nothing is written", bounds=POSITIVE
    )
    unit = WordSpec("unit of its scale", "N·m", "lbf·ft", "lbf·in", "kgf·m", default="N·m")
    reading_error = FactSpec(
        SHARE,
        "wrench error, positive when it over-tightens",
        typical="0 ± 4 %",
        source="from memory: ISO 6789, above 10 N·m",
    )
    length = FactSpec(LENGTH, "from its drive to the mark for the middle of the hand", bounds=POSITIVE)

    def faults(self) -> Iterator[tuple[str, str]]:
        """A scale has two ends."""
        low, high = self.smallest.written, self.largest.written
        if low and high and low.si >= high.si:
            yield (
                "smallest",
                f"is {low}, not below {self.name}.largest ({high}): expected a range, for example 40 to 200 N·m",
            )


def _key(ref: FactRef) -> str:
    return ref.path.rpartition(".")[2]


def _order(text: str | None) -> tuple[int, ...]:
    return read_order(text) if text else ()


def _of_size(name: str, text: str) -> tuple[str, str]:
    diameter = read_fastener_thread(text).diameter
    head = head_of(diameter)
    if head is not None:
        return f"{getattr(head, name) * 1e3:g} ± 0.1 mm", "VDI 2230, hexagon head and medium hole"
    times, _, spread = (_OWN_HEAD if name == "bearing_diameter" else _OWN_HOLE).partition(" ± ")
    size = diameter * 1e3
    return (
        f"{float(times) * size:.2f} ± {float(spread) * size:.2f} mm",
        f"{NO_SOURCE}: {times} diameters",
    )


@lru_cache(maxsize=256)
def _narrowed(spec: FactSpec, typical: str, source: str) -> FactSpec:
    return spec.with_typical(typical, source)
