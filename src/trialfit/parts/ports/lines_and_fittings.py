"""Ports, fittings and lines: every hole with a thread, what is screwed into it, and what runs from there.

A run starts at a port: `fitted` names what is screwed into it, that piece's own `fitted` the next one, and so on to a
plug, a sender or a line that ends at another port.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.facts.quantity import COEFFICIENT, LENGTH, PRESSURE, STRESS, TEMPERATURE, TORQUE
from trialfit.handbook.ports.port_ends import END_EXAMPLES, Seal, check_size, read_end
from trialfit.handbook.ports.tapping import PLUG_RANGE, plug_torque_range
from trialfit.handbook.sources import NO_SOURCE
from trialfit.parts.declaring import POSITIVE, Bounds, CodeSpec, FactSpec, Part, RefSpec, WordSpec

if TYPE_CHECKING:
    from collections.abc import Iterator

MEDIA = (
    "oil",
    "coolant",
    "fuel",
    "fuel vapour",
    "brake fluid",
    "clutch fluid",
    "steering fluid",
    "gearbox oil",
    "air",
    "vacuum",
    "none",
)
_MOST_YIELD = {"aluminium": 600e6, "iron": 700e6}
"""Pa, wrought alloys and ductile iron of the highest grades: from memory."""
SEALANTS = ("none", "tape", "paste", "fuel-rated paste")
SCREWED_IN = ("fitting", "line", "sender")
_SEALANT_SAYS = "sealant on the thread of the part screwed in here"
_PLUG_SAYS = f"the plug that closes it, as an end: {END_EXAMPLES.partition(', ')[0]} ..."


class Port(Part):
    """One hole or spigot with a thread on engine, gearbox, radiator, tank, cylinder or car.

    Write down every one, also the unused ones: the program finds an open one before the first start. Write the thread
    by its standard's designation; if it is unknown, measure it with a caliper and a pitch gauge.
    """

    kind = "port"

    thread = CodeSpec("thread by its standard, or a dash or tube size", check=check_size, example="M14×1.5")
    gender = WordSpec("which side of the thread it is", "female", "male", default="female")
    sealing = WordSpec(
        "how it seals; left out for NPT, R, Rc, Rp (in the thread) and G (washer)", *(seal.value for seal in Seal)
    )
    medium = WordSpec("fluid behind it", *MEDIA)
    pressure = FactSpec(PRESSURE, "highest pressure behind it, above atmospheric")
    temperature = FactSpec(TEMPERATURE, "highest temperature there")
    material = WordSpec("material that the thread is cut into", "aluminium", "iron", "steel")
    fitted = RefSpec("what is screwed into it", *SCREWED_IN)
    fitted_end = CodeSpec(
        "end of the part screwed in, if that part does not state it", check=read_end, example="male 1/8-27 NPT"
    )
    plug = CodeSpec(_PLUG_SAYS, check=read_end, example="male M14×1.5, washer")
    cover = WordSpec(
        "temporary cover against dirt; it does not close the port", "nothing", "cap", "tape", default="nothing"
    )
    sealant = WordSpec(_SEALANT_SAYS, *SEALANTS)
    torque = FactSpec(TORQUE, "torque of the plug or fitting in it", bounds=POSITIVE)
    specified_torque = FactSpec(
        TORQUE, "torque of the plug or fitting in its maker's manual", bounds=POSITIVE, is_rating=True
    )
    crest_diameter = FactSpec(
        LENGTH,
        "caliper reading over the crests of a male thread, or between the crests of a female one",
        bounds=POSITIVE,
    )
    pitch = FactSpec(
        LENGTH, "pitch by a pitch gauge, or measured over several threads and divided by their number", bounds=POSITIVE
    )
    cut_by = WordSpec("who cut the thread", "maker", "builder", default="maker")
    drill = FactSpec(LENGTH, "diameter of the tap drill", bounds=POSITIVE)
    thread_depth = FactSpec(LENGTH, "length of full thread", bounds=POSITIVE)
    edge_distance = FactSpec(
        LENGTH, "from the middle of the hole to the nearest edge of its boss", bounds=Bounds(at_least=0)
    )
    yield_strength = FactSpec(
        STRESS,
        "what the metal around the thread bears in tension: its yield strength, of grey iron half of its tensile strength",
        bounds=POSITIVE,
        is_rating=True,
    )
    thread_friction = FactSpec(
        COEFFICIENT,
        "friction in the thread as it is tightened, with what is on it",
        bounds=POSITIVE,
        typical="0.14 ± 0.06",
        source=f"{NO_SOURCE}: 0.08 with tape or grease, 0.20 dry",
        lax="high",
    )

    def spec_in_use(self, spec: FactSpec) -> FactSpec:
        """A plug in aluminium without its maker's figure: makers do not agree, the lowest and the highest of them."""
        if spec.name != "specified_torque" or not self.thread or self.material != "aluminium":
            return spec
        low, high = plug_torque_range(self.thread)
        if not low < high:
            return spec
        return spec.with_typical(f"{(low + high) / 2:g} ± {(high - low) / 2:g} N·m", PLUG_RANGE)

    def faults(self) -> Iterator[tuple[str, str]]:
        """A tapered metric thread is a plug's; no metal of the words reaches any strength."""
        if self.thread and self.gender != "male" and "keg" in self.thread.lower():
            plain = self.thread.lower().replace("keg", "").strip().replace("m", "M", 1)
            yield (
                "thread",
                f'is "{self.thread}", but a keg plug seals in a parallel hole: write the hole as {plain}, with sealing = "thread"',
            )
        strength, most = self.yield_strength.written, _MOST_YIELD.get(self.material or "")
        if strength and most and strength.si > most:
            yield (
                "yield_strength",
                f"is {strength}, more than any {self.material} has: expected at most {most / 1e6:.0f} MPa",
            )


class Fitting(Part):
    """An adapter, union, hose end or banjo: one piece with two ends. It is on the shelf until another part names it as fitted."""

    kind = "fitting"

    end = CodeSpec("the end towards the port", check=read_end, example="male M10×1, washer")
    other_end = CodeSpec("the end away from the port", check=read_end, example="female 1/8-27 NPT")
    length = FactSpec(LENGTH, "length it adds between the two", bounds=POSITIVE)
    bore = FactSpec(LENGTH, "narrowest bore through it", bounds=POSITIVE)
    price = FactSpec(
        COEFFICIENT, "price, in the builder's currency", bounds=Bounds(at_least=0), example="11.50", is_wish=True
    )
    rated_pressure = FactSpec(PRESSURE, "rated working pressure", bounds=POSITIVE, is_rating=True)
    rated_temperature = FactSpec(TEMPERATURE, "rated temperature", is_rating=True)
    fitted = RefSpec("what is screwed onto its other end", *SCREWED_IN)
    fitted_end = CodeSpec(
        "end of the part screwed on, if that part does not state it", check=read_end, example="male 1/8-27 NPT"
    )
    plug = CodeSpec(_PLUG_SAYS, check=read_end, example="male 1/8-27 NPT")
    sealant = WordSpec(_SEALANT_SAYS, *SEALANTS)


class Line(Part):
    """A hose or tube with an end on each side."""

    kind = "line"

    end = CodeSpec("the end at the port that names this line", check=read_end, example="female -6 37° flare")
    other_end = CodeSpec("the end away from it", check=read_end, example="female -6 37° flare")
    far_port = RefSpec("the port at its other end", "port")
    length = FactSpec(LENGTH, "length", bounds=POSITIVE)
    bore = FactSpec(LENGTH, "bore", bounds=POSITIVE)
    rated_pressure = FactSpec(PRESSURE, "rated working pressure", bounds=POSITIVE, is_rating=True)
    rated_temperature = FactSpec(TEMPERATURE, "rated temperature", is_rating=True)
    sealant = WordSpec("sealant on the thread at the far port", *SEALANTS)
