"""The kinds of part as pages to read: what each is, and every fact it takes.

Answers   describe_kind    one kind
          tables_to_add    the tables of a kind of which a car needs several, such as both half-shafts
          describe_kinds   all of them, in the order in which a builder meets them
Not here  what a part of a build has (part by part: advice/inventory.py)
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from pydantic import Field

from trialfit.facts.curve import curve_example
from trialfit.facts.frozen import Frozen
from trialfit.facts.units import display_unit
from trialfit.parts import KINDS
from trialfit.parts.declaring import CodeSpec, FactSpec, RefSpec, TextSpec, WordSpec
from trialfit.parts.lists_and_curves import CurveSpec, ListSpec
from trialfit.parts.ranges import in_words
from trialfit.parts.reading import bounds_in_words

if TYPE_CHECKING:
    from collections.abc import Collection

    from trialfit.parts.declaring import Spec


class FactPage(Frozen):
    """One fact that a kind of part takes."""

    name: str = Field(description="the word written in a build")
    meaning: str
    takes: str = Field(description="a length, a list of ratios, one of: open, locked ...")
    unit: str = Field(default="", description="the unit it is usually shown in; empty where it has none")
    bounds: str = Field(default="", description="what its value must be; empty for words and names")
    usual: str = Field(
        default="", description="what is usual; a value outside of it is asked about; empty where the trade has none"
    )
    typical: str = Field(default="", description="the value used while none is written; empty where there is none")
    source: str = Field(default="", description="where the typical value comes from")
    default: str = Field(default="", description="the word taken where none is written; empty where there is none")
    example: str = Field(description="how it is written")


class KindPage(Frozen):
    """One kind of part."""

    kind: str
    says: str
    remarks: str = Field(description="what else to know before writing one down")
    place: str = Field(description="the place on the car that only one part takes; empty where a car may have several")
    facts: tuple[FactPage, ...]


class KindList(Frozen):
    """Kinds of part."""

    kinds: tuple[KindPage, ...]


def describe_kinds() -> KindList:
    """Every kind of part."""
    return KindList(kinds=tuple(describe_kind(kind) for kind in KINDS))


def describe_kind(kind: str) -> KindPage:
    """One kind of part. Raises KeyError for an unknown word."""
    part = KINDS[kind]
    says, _, remarks = (part.__doc__ or "").partition("\n")
    return KindPage(
        kind=kind,
        says=says.strip(),
        remarks=" ".join(remarks.split()),
        place=part.place or "",
        facts=tuple(_fact_page(name, spec) for name, spec in part.specs().items()),
    )


def tables_to_add(kind: str, taken: Collection[str | None]) -> dict[str, str]:
    """The tables that a car needs of a kind, by a name for each, with the words that tell them apart.

    Those whose place is `taken` are left out; empty where one table without such a word is enough.
    """
    part = KINDS[kind]
    for key, spec in part.specs().items():
        if isinstance(spec, WordSpec) and spec.default is None:
            places = {word: part("", {key: word}).claims for word in spec.words}
            if len(set(places.values())) == len(spec.words) > 1:
                free = (word for word, place in places.items() if place not in taken)
                return {f"{kind}_{word}": f'kind = "{kind}", {key} = "{word}"' for word in free}
    return {}


def _fact_page(name: str, spec: Spec) -> FactPage:
    one = spec.item if isinstance(spec, ListSpec) else spec
    page = FactPage(name=name, meaning=spec.says, takes=_takes(spec), example=_example(spec))
    if isinstance(one, FactSpec):
        return page.model_copy(
            update={
                "unit": display_unit(one.quantity).canonical,
                "bounds": bounds_in_words(one.bounds, one.range.unit),
                "usual": one.range.usual_in_words,
                "typical": one.typical or "",
                "source": one.source or "",
            }
        )
    if isinstance(one, CurveSpec):
        x, y = display_unit(one.x_quantity), display_unit(one.y_quantity)
        usual = f"largest {one.y_range.usual_in_words} and {one.x_range.usual_in_words}"
        limits = (in_words(limits.least, limits.most, limits.unit) for limits in (one.y_range, one.x_range))
        return page.model_copy(
            update={"unit": f"{y.canonical} over {x.canonical}", "bounds": " over ".join(limits), "usual": usual}
        )
    return page.model_copy(update={"default": one.default or ""}) if isinstance(one, TextSpec) else page


def _takes(spec: Spec) -> str:
    if isinstance(spec, ListSpec):
        return f"a list, each {spec.item.quantity.with_article}"
    if isinstance(spec, FactSpec):
        return spec.quantity.with_article
    if isinstance(spec, CurveSpec):
        return f"a curve of {spec.y_quantity.name} over {spec.x_quantity.name}"
    if isinstance(spec, WordSpec):
        return f"one of: {', '.join(spec.words)}"
    if isinstance(spec, RefSpec):
        return f"the name of a {' or '.join(spec.kinds)}, or of a choice among such"
    return "text as printed on the part" if isinstance(spec, CodeSpec) else "text"


def _example(spec: Spec) -> str:
    if isinstance(spec, FactSpec):
        return spec.example
    if isinstance(spec, ListSpec):
        return f"{spec.item.example} | ..."
    if isinstance(spec, CurveSpec):
        return curve_example(spec.x_quantity, spec.y_quantity)
    if isinstance(spec, CodeSpec):
        return spec.example
    if isinstance(spec, WordSpec):
        return spec.words[0]
    return spec.kinds[0] if isinstance(spec, RefSpec) else ""
