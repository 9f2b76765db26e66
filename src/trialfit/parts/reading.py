"""The text of one part into a part; every fault found is named, not only the first.

Answers   read_part    entries as written into a Part, with the problems met on the way
          read_value   one entry by its declaration: what `set` checks before it writes
          nearest      the right names nearest to a wrong one; not_a_fact  the sentence about a fact that a kind does not take
          bounds_in_words   what a value must be; out_of_range  the sentence about one that it cannot be
Not here  what may be written for a quantity (facts/reading.py); the file and its line numbers (book/)
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from difflib import get_close_matches
from functools import lru_cache
from typing import TYPE_CHECKING

from trialfit.facts.curve import curve_example, read_curve
from trialfit.facts.measure import measure_text
from trialfit.facts.provenance import Provenance
from trialfit.facts.reading import Unreadable, read_fact
from trialfit.facts.showing import show
from trialfit.facts.showing_spread import half_width_text
from trialfit.parts.declaring import Bounds, CodeSpec, FactSpec, Part, RefSpec, Spec, WordSpec
from trialfit.parts.lists_and_curves import CurveSpec, ListSpec
from trialfit.parts.old_names import fact_now
from trialfit.parts.ranges import in_words

if TYPE_CHECKING:
    from collections.abc import Container, Iterable, Mapping

    from trialfit.facts.curve import Curve
    from trialfit.facts.fact import Fact
    from trialfit.facts.units import Unit
    from trialfit.parts.declaring import Value

Entry = str | tuple[str, ...]
MOST_VALUES = 100
"""Values of one list: more than any gearbox or bolt pattern has, and more points than are taped by hand."""


@dataclass(frozen=True)
class Problem:
    """One thing wrong with what was written: `path` says where in the build, `says` is one sentence about it."""

    path: str
    says: str


class _Wrong(ValueError):
    """Carries the sentence of one problem from the place where it is found to the part that collects them."""


_MOST_NAMED = 60
_DIGITS = 6


def nearest(word: str, known: Iterable[str]) -> str:
    """A phrase that names the known words nearest to a wrong one, or all of them when none is near."""
    names = list(dict.fromkeys(known))
    alike = [name for name in names if name.casefold() == word.casefold()]
    near = alike or get_close_matches(word, names, n=3, cutoff=0.5)
    if near:
        return "did you mean " + " or ".join(f'"{name}"' for name in near) + "?"
    more = f" and {len(names) - _MOST_NAMED} more" if len(names) > _MOST_NAMED else ""
    return "known are: " + ", ".join(names[:_MOST_NAMED]) + more


def not_a_fact(key: str, kind: str, known: Iterable[str]) -> str:
    """Says that a kind of part takes no such fact, and which are near."""
    article = "an" if kind[0] in "aeio" else "a"
    return f"is not a fact of {article} {kind}: {nearest(key, known)}"


def read_part(name: str, kind: type[Part], entries: Mapping[str, Entry]) -> tuple[Part, list[Problem]]:
    """The part that the entries describe, without those that could not be read, and what was wrong with these."""
    values: dict[str, Value] = {}
    problems: list[Problem] = []
    specs = kind.specs()
    for key, entry in entries.items():
        if key not in specs:
            problems.append(Problem(f"{name}.{key}", _not_taken(key, kind, entries)))
            continue
        try:
            values[key] = read_value(specs[key], entry)
        except (_Wrong, Unreadable) as wrong:
            problems.append(Problem(f"{name}.{key}", str(wrong)))
    part = kind(name, values)
    problems += [Problem(f"{name}.{key}", says) for key, says in part.faults()]
    return part, problems


def _not_taken(key: str, kind: type[Part], written: Container[str]) -> str:
    """Says why a kind does not take a fact. An old name has been read for the new one before, unless both are written."""
    now = fact_now(kind.kind, key)
    if now != key:
        return f'is now called "{now}"{", which is written too: keep one of the two" if now in written else ""}'
    return not_a_fact(key, kind.kind, kind.specs())


def read_value(spec: Spec, entry: Entry) -> Value:
    """One entry read by its declaration. Raises ValueError with one sentence."""
    if isinstance(spec, ListSpec):
        return _read_list(spec, entry)
    if not isinstance(entry, str):
        raise _Wrong(f"is a list of {len(entry)}: expected one value, {_example(spec)}")
    if isinstance(spec, FactSpec):
        return _read_bounded(entry, spec)
    if isinstance(spec, CurveSpec):
        return _read_curve_bounded(entry, spec)
    if isinstance(spec, WordSpec) and entry not in spec.words:
        raise _Wrong(f'is "{entry}": {nearest(entry, spec.words)}')
    if isinstance(spec, CodeSpec):
        try:
            spec.check(entry)
        except ValueError as wrong:
            raise _Wrong(str(wrong)) from None
    return entry


def _read_list(spec: ListSpec, entry: Entry) -> tuple[Fact, ...]:
    if isinstance(entry, str):
        raise _Wrong(f'is "{entry}": expected a list, {_example(spec)}')
    if len(entry) < spec.least:
        raise _Wrong(f"holds {len(entry)} values: expected at least {spec.least}, {_example(spec)}")
    if len(entry) > MOST_VALUES:
        raise _Wrong(f"holds {len(entry)} values: expected at most {MOST_VALUES}, {_example(spec)}")
    facts = []
    for number, text in enumerate(entry, 1):
        try:
            facts.append(_read_bounded(text, spec.item))
        except ValueError as wrong:
            raise _Wrong(f"number {number} of the list: {wrong}") from None
    return tuple(facts)


@lru_cache(maxsize=8192)  # a book reads its build anew at each change, and of the same texts
def _read_bounded(text: str, spec: FactSpec) -> Fact:
    fact = read_fact(text, spec.quantity, spec.example)
    if says := out_of_range(fact, spec):
        raise _Wrong(f'"{text}" {says}')
    if spec.is_wish and fact.provenance is Provenance.unstated and not fact.spread_is_written:
        return replace(fact, is_set=True)
    return fact


def out_of_range(fact: Fact, spec: FactSpec) -> str:
    """What is wrong with a value, or a spread, that such a fact cannot have, with what it can be and an example; "" where nothing is."""
    unless = f"; {spec.unless}" if spec.unless else ""
    if not spec.bounds.admit(fact.si):
        wanted = bounds_in_words(spec.bounds, spec.range.unit)
        return f"is out of range: expected {spec.quantity.with_article} {wanted}, {_example(spec)}{unless}"
    spread, widest = fact.spread, spec.widest_spread
    if fact.spread_is_written and max(spread.minus, spread.plus) > widest:
        wanted = half_width_text(widest, spec.range.unit)
        return f"has a spread that cannot be meant: expected at most {wanted}, {_example(spec)}"
    return ""


@lru_cache(maxsize=256)
def _read_curve_bounded(text: str, spec: CurveSpec) -> Curve:
    curve = read_curve(text, spec.x_quantity, spec.y_quantity)
    for number, (x, y) in enumerate(zip(curve.x, curve.y, strict=True), 1):
        for value, limits, quantity in ((x, spec.x_range, spec.x_quantity), (y, spec.y_range, spec.y_quantity)):
            if not limits.least <= value <= limits.most:
                point = " : ".join(
                    measure_text(written[number - 1], unit, None)
                    for written, unit in ((curve.written_x, curve.x_unit), (curve.written_y, curve.y_unit))
                )
                wanted = f"expected {quantity.with_article} from {in_words(limits.least, limits.most, limits.unit)}"
                raise _Wrong(f'point {number} of the curve, "{point}", is out of range: {wanted}, {_example(spec)}')
    if max(curve.relative_spread.minus, curve.relative_spread.plus) > 1:
        raise _Wrong(
            f"the curve has a spread that cannot be meant: expected at most ± 100 % of its largest value, {_example(spec)}"
        )
    return curve


def bounds_in_words(bounds: Bounds, unit: Unit) -> str:
    """What a value must be, as it stands in a sentence: "above 0 mm and of at most 3000 mm", "from 0 % to 100 %"."""
    above, at_least, at_most = (
        None if bound is None else show(bound, unit, _DIGITS)
        for bound in (bounds.above, bounds.at_least, bounds.at_most)
    )
    if at_least and at_most:
        return f"from {at_least} to {at_most}"
    words = (("above", above), ("of at least", at_least), ("of at most", at_most))
    return " and ".join(f"{word} {bound}" for word, bound in words if bound)


def _example(spec: Spec) -> str:
    if isinstance(spec, ListSpec):
        return f'for example ["{spec.item.example}"]'
    if isinstance(spec, WordSpec):
        return f'for example "{spec.words[0]}"'
    if isinstance(spec, CurveSpec):
        return f'for example "{curve_example(spec.x_quantity, spec.y_quantity)}"'
    if isinstance(spec, FactSpec | CodeSpec):
        return f'for example "{spec.example}"'
    if isinstance(spec, RefSpec):
        return f"the name of a {' or '.join(spec.kinds)}"
    return "as text"
