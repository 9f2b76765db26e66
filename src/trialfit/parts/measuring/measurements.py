"""Readings as taken at the bench, and tolerance stacks."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from trialfit.facts.quantity import ANGLE, LENGTH, MASS, QUANTITIES, SHARE, TEMPERATURE
from trialfit.handbook.measuring.corrections import EXPANSIONS, METHODS, Method
from trialfit.handbook.sources import NO_SOURCE
from trialfit.parts.declaring import POSITIVE, Bounds, CodeSpec, FactSpec, ListSpec, Part, WordSpec

if TYPE_CHECKING:
    from collections.abc import Iterator

LISTS = {"length": "lengths", "angle": "angles", "mass": "masses"}
"""The list that takes the readings of each quantity."""

_PATH = re.compile(r"[^\W\d][\w-]*(\.\w+)+")


def check_path(text: str) -> None:
    """Raises ValueError where a text is not the path of a fact."""
    if not _PATH.fullmatch(text):
        raise ValueError(f'is "{text}": expected the path of a fact, as in prop_shaft.slip_gap')


def check_finding(text: str) -> None:
    """Raises ValueError where a text is not the id of a finding."""
    if "." not in text.strip(".") or any(sign.isspace() for sign in text) or text.startswith("measuring."):
        raise ValueError(
            f'is "{text}": expected the id of a finding of another subject, as in driveline.plunge.left.in'
        )


class Measurement(Part):
    """Uncorrected readings of one thing by one method.

    Write each reading in the list of its quantity. The program removes no reading: it points out an outlier.
    To leave one out, remove it yourself and say why in the note.
    """

    kind = "measurement"

    method = WordSpec("measuring method; if missing: a tape, an angle gauge or scales, by what was read", *METHODS)
    of = CodeSpec("the fact it measures, as part.fact", check=check_path, example="prop_shaft.slip_gap")
    serves = CodeSpec("the finding that it must settle", check=check_finding, example="driveline.plunge.left.in")
    lengths = ListSpec(LENGTH, "readings of a length")
    angles = ListSpec(ANGLE, "readings of an angle")
    masses = ListSpec(MASS, "readings of a mass", bounds=Bounds(at_least=0))
    gasket = WordSpec("effect on the gap of the gasket that was left out", "opens it", "closes it")
    gasket_thickness = FactSpec(LENGTH, "thickness of that gasket", bounds=POSITIVE)
    gasket_crush = FactSpec(
        SHARE,
        "crush: share of its thickness lost under the bolts; 0 % for a thickness measured crushed",
        bounds=Bounds(at_least=0, at_most=0.9),
        typical="15 +25/-13 %",
        source=f"{NO_SOURCE}: 2 % for steel layers, 40 % for cork; the maker's figure outranks it",
        example="15 ± 10 %, guess",
    )
    floor_slope = FactSpec(ANGLE, "reading of the same gauge, the same way round, on the floor or face taken as level")
    material = WordSpec("material of the part, if its temperature matters", *EXPANSIONS)
    part_temperature = FactSpec(TEMPERATURE, "temperature of the part during the reading", bounds=POSITIVE)
    tool_material = WordSpec("material of the tool", *EXPANSIONS, default="steel")
    tool_temperature = FactSpec(
        TEMPERATURE,
        "temperature of the tool during the reading",
        bounds=POSITIVE,
        typical="20 +15/-20 °C",
        source=f"{NO_SOURCE}: a garage from winter to summer",
        example="20 ± 10 °C, guess",
    )
    reference_temperature = FactSpec(
        TEMPERATURE,
        "temperature for which the fact is stated",
        bounds=POSITIVE,
        typical="20 ± 0 °C",
        source="ISO 1",
        is_wish=True,
    )

    @property
    def way(self) -> Method:
        """The method as written, else the usual one for the list that is written."""
        if self.method is not None:
            return METHODS[self.method]
        quantity = next((quantity for quantity, name in LISTS.items() if name in self.values), "length")
        return next(method for method in METHODS.values() if method.quantity == quantity)

    def faults(self) -> Iterator[tuple[str, str]]:
        """A method reads one quantity, and a correction belongs to one too."""
        method = self.way
        quantity = method.quantity
        for other, name in LISTS.items():
            if name in self.values and other != quantity:
                yield (
                    name,
                    f'are not read with "{method.name}", which reads a {quantity}: write {LISTS[quantity]} = [...]',
                )
        for name, belongs in (("gasket_thickness", "length"), ("part_temperature", "length"), ("floor_slope", "angle")):
            if name in self.values and belongs != quantity:
                yield name, f'corrects {QUANTITIES[belongs].with_article}, and "{method.name}" reads a {quantity}'


class Stack(Part):
    """A tolerance stack: lengths whose sum is a gap or an overlap. Forward is plus, backward is minus, each with its tolerance."""

    kind = "stack"

    members = ListSpec(LENGTH, "the lengths of the stack; minus where it runs backward", least=2)
    smallest = FactSpec(LENGTH, "smallest allowed gap", is_wish=True)
    largest = FactSpec(LENGTH, "largest allowed gap", is_wish=True)
