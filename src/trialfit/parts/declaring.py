"""How a kind of part declares its facts.

Answers   Bounds                                 what a value must be
          FactSpec, CodeSpec, WordSpec, RefSpec  what a kind of part takes under one name
          Part                                   the base of every kind
Not here  several values under one name (lists_and_curves.py); what a part hands out for a fact (fact_refs.py);
          the kinds themselves (car.py, engine.py and the rooms); turning text into parts (reading.py)
"""

from __future__ import annotations

import copy
from dataclasses import dataclass
from functools import cache, cached_property
from types import MappingProxyType
from typing import TYPE_CHECKING, ClassVar, Literal, Self, overload

from trialfit.facts.reading import read_fact
from trialfit.parts.fact_refs import FactRef, paths_of
from trialfit.parts.ranges import range_of
from trialfit.parts.watching import Watched

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping

    from trialfit.facts.curve import Curve
    from trialfit.facts.fact import Fact
    from trialfit.facts.quantity import Quantity
    from trialfit.parts.ranges import Range

    Value = Fact | tuple[Fact, ...] | Curve | str
    Lax = Literal["", "low", "high", "either"]


@dataclass(frozen=True)
class Bounds:
    """What a value must be, in SI: strictly `above`, or `at_least`, and `at_most`; None where there is no bound."""

    above: float | None = None
    at_least: float | None = None
    at_most: float | None = None

    def admit(self, value: float) -> bool:
        """Whether the value lies within the bounds."""
        return (
            (self.above is None or value > self.above)
            and (self.at_least is None or value >= self.at_least)
            and (self.at_most is None or value <= self.at_most)
        )

    def within(self, least: float, most: float) -> Bounds:
        """The same, narrowed to what lies from `least` to `most`: finite on both sides."""
        lowest = [least, *(bound for bound in (self.above, self.at_least) if bound is not None)]
        highest = most if self.at_most is None else min(most, self.at_most)
        if self.above is not None and self.above >= max(lowest):
            return Bounds(above=self.above, at_most=highest)
        return Bounds(at_least=max(lowest), at_most=highest)


POSITIVE = Bounds(above=0)
NOT_NEGATIVE = Bounds(at_least=0)


class Spec:
    """What all declarations share: the name it is written under, and what it means."""

    def __init__(self, says: str) -> None:
        self.says = says
        self.name = ""
        self.kind = ""

    def __set_name__(self, owner: type[Part], name: str) -> None:
        self.name = name

    def of_kind(self, kind: str) -> Self:
        """The same declaration, as a kind of part has it: kinds that share one have ranges of their own."""
        own = copy.copy(self)
        own.kind = kind
        return own


class FactSpec(Spec):
    """One quantity. `typical` is a fact in text form that may stand in, with the `source` of it.

    `unless` says when there is no such fact, as the end of a refusal. `example` is how a builder would write it; without one
    the typical value is shown, else the quantity's own example, else a value in the middle of what is usual.

    A target or setting (`is_wish`) is exact where no spread and no provenance is written: a target value is taken as exact.
    A rating (`is_rating`) is what a part may bear, or a dimension or strength that decides it: guessed, it settles nothing at
    stake safety. `lax` is the side on which a factor, reserve or allowance is laxer than its typical value, so that what a builder
    sets there without a manual settles nothing at stake safety either: "low", "high", or "either".
    """

    def __init__(
        self,
        quantity: Quantity,
        says: str,
        *,
        bounds: Bounds | None = None,
        typical: str | None = None,
        source: str | None = None,
        is_wish: bool = False,
        example: str | None = None,
        unless: str = "",
        is_rating: bool = False,
        lax: Lax = "",
    ) -> None:
        super().__init__(says)
        self.quantity, self.is_rating, self.lax = quantity, is_rating, lax
        self.unless = unless
        self.own_example = example or (f"{typical}, guess" if typical else "")
        self.is_wish = is_wish
        self.own_bounds = bounds or Bounds()
        self.typical = typical
        self.source = source

    @cached_property
    def range(self) -> Range:
        """What its value can be and what is usual, by the table."""
        return range_of(self.kind, self.name, self.quantity)

    @cached_property
    def bounds(self) -> Bounds:
        """What its value must be: by its declaration and by the table."""
        return self.own_bounds.within(self.range.least, self.range.most)

    @cached_property
    def example(self) -> str:
        """How a builder would write it: the quantity's own example only where it is usual for this fact."""
        if self.own_example:
            return self.own_example
        serves = self.range.is_usual(read_fact(self.quantity.example, self.quantity).si)
        return self.quantity.example if serves or not self.range.has_usual else self.range.example

    @property
    def widest_spread(self) -> float:
        """The largest useful spread: half of the way from one bound to the other, SI."""
        return (self.range.most - self.range.least) / 2

    @cached_property
    def typical_fact(self) -> Fact | None:
        """The typical value, read once; None where the kind declares none."""
        return read_fact(f"{self.typical}, typical; {self.source}", self.quantity) if self.typical else None

    @overload
    def __get__(self, part: None, owner: type[Part]) -> FactSpec: ...
    @overload
    def __get__(self, part: Part, owner: type[Part]) -> FactRef: ...
    def __get__(self, part: Part | None, owner: type[Part]) -> FactSpec | FactRef:
        if part is None:
            return self
        path, seed = paths_of(part, self.name)
        return FactRef(path, part.spec_in_use(self), part.values.get(self.name), seed)  # type: ignore[arg-type]

    def with_typical(self, typical: str, source: str) -> FactSpec:
        """The same declaration with another typical value: for a part whose other facts narrow it."""
        spec = FactSpec(
            self.quantity,
            self.says,
            bounds=self.own_bounds,
            typical=typical,
            source=source,
            is_wish=self.is_wish,
            is_rating=self.is_rating,
            lax=self.lax,
        )
        spec.name, spec.kind = self.name, self.kind
        return spec

    def without_typical(self) -> FactSpec:
        """The same declaration without a typical value: for a part whose other facts leave none that is usual."""
        spec = FactSpec(self.quantity, self.says, bounds=self.own_bounds, is_rating=self.is_rating)
        spec.name, spec.kind = self.name, self.kind
        return spec


class TextSpec(Spec):
    """What the text-valued declarations share: the text that was written, or the default, or None."""

    default: str | None = None

    @overload
    def __get__(self, part: None, owner: type[Part]) -> TextSpec: ...
    @overload
    def __get__(self, part: Part, owner: type[Part]) -> str | None: ...
    def __get__(self, part: Part | None, owner: type[Part]) -> TextSpec | str | None:
        if part is None:
            return self
        return part.values.get(self.name, self.default)  # type: ignore[return-value]


class CodeSpec(TextSpec):
    """A designation that is printed on the part, such as a tyre size; `check` raises ValueError with one sentence."""

    def __init__(self, says: str, *, check: Callable[[str], object], example: str) -> None:
        super().__init__(says)
        self.check, self.example = check, example


class WordSpec(TextSpec):
    """One word out of a few, such as the way a differential works; `default` where none is written."""

    def __init__(self, says: str, *words: str, default: str | None = None) -> None:
        super().__init__(says)
        self.words, self.default = words, default


class RefSpec(TextSpec):
    """The name of another part (or of a choice) that this part is joined to; of one of the kinds named."""

    def __init__(self, says: str, *kinds: str) -> None:
        super().__init__(says)
        self.kinds = kinds


class Part:
    """A thing on the car. A kind is a subclass whose class attributes declare the facts it takes.

    `kind` is the word written in the build; `place` names the one place on the car that only one part may take,
    None where a car may have several of the kind.
    """

    kind: ClassVar[str]
    place: ClassVar[str | None] = None

    def __init__(self, name: str, values: Mapping[str, Value]) -> None:
        self.name = name
        self.values: Mapping[str, Value] = Watched(name, values)

    def __init_subclass__(cls) -> None:
        """Each kind has its declarations for itself, those of its bases too."""
        super().__init_subclass__()
        for name, spec in _declared(cls) if "kind" in vars(cls) else ():
            setattr(cls, name, spec.of_kind(cls.kind))

    def __repr__(self) -> str:
        return f"{type(self).__name__}({self.name!r})"

    @classmethod
    @cache  # a build asks for them once for every entry it holds
    def specs(cls) -> Mapping[str, Spec]:
        """The declarations of this kind in the order they stand in."""
        return MappingProxyType(dict(_declared(cls)))

    def spec_in_use(self, spec: FactSpec) -> FactSpec:
        """The declaration that holds for this part: that of its kind, unless its other facts narrow what is typical."""
        return spec

    def specs_in_use(self) -> dict[str, Spec]:
        """The declarations that hold for this part, in the order of its kind."""
        return {
            name: self.spec_in_use(spec) if isinstance(spec, FactSpec) else spec for name, spec in self.specs().items()
        }

    @classmethod
    def in_words(cls) -> str:
        """What it is, as it stands inside a sentence."""
        says = (cls.__doc__ or "").partition("\n")[0].partition(". ")[0].rstrip(".")
        return says[:1].lower() + says[1:]

    @property
    def claims(self) -> str | None:
        """The place on the car that this part takes; two parts of a build cannot claim the same one."""
        return self.place

    def faults(self) -> Iterator[tuple[str, str]]:
        """Facts that contradict each other: pairs of a fact's name and one sentence. None by default."""
        return iter(())


def _declared(kind: type[Part]) -> list[tuple[str, Spec]]:
    """The declarations of a kind as they stand in it and its bases now, those of the bases first."""
    bases = reversed(kind.__mro__)
    return [(name, spec) for base in bases for name, spec in vars(base).items() if isinstance(spec, Spec)]
