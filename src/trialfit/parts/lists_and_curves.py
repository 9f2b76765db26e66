"""How a kind of part declares several values under one name: a list in a fixed order, a curve.

Answers   ListSpec    such as the ratios of a gearbox from first gear up
          CurveSpec   such as torque over engine speed
Not here  one quantity, text, and the part itself (declaring.py)
"""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING, Self, overload

from trialfit.parts.declaring import FactSpec, Spec
from trialfit.parts.fact_refs import CurveRef, FactRef, paths_of
from trialfit.parts.ranges import range_of

if TYPE_CHECKING:
    from trialfit.facts.fact import Fact
    from trialfit.facts.quantity import Quantity
    from trialfit.parts.declaring import Bounds, Part
    from trialfit.parts.ranges import Range


class ListSpec(Spec):
    """Several quantities of one sort in a fixed order, such as the ratios of a gearbox from first gear up."""

    def __init__(
        self,
        quantity: Quantity,
        says: str,
        *,
        bounds: Bounds | None = None,
        least: int = 0,
        is_wish: bool = False,
        is_rating: bool = False,
        example: str | None = None,
    ) -> None:
        super().__init__(says)
        self.item = FactSpec(quantity, says, bounds=bounds, is_wish=is_wish, is_rating=is_rating, example=example)
        self.least = least

    def of_kind(self, kind: str) -> Self:
        """The same declaration, as a kind of part has it; its items are judged by the row of the list."""
        own = super().of_kind(kind)
        own.item = self.item.of_kind(kind)
        own.item.name = self.name
        return own

    @overload
    def __get__(self, part: None, owner: type[Part]) -> ListSpec: ...
    @overload
    def __get__(self, part: Part, owner: type[Part]) -> tuple[FactRef, ...]: ...
    def __get__(self, part: Part | None, owner: type[Part]) -> ListSpec | tuple[FactRef, ...]:
        if part is None:
            return self
        written: tuple[Fact, ...] = part.values.get(self.name, ())  # type: ignore[assignment]
        path, seed = paths_of(part, self.name)
        return tuple(
            FactRef(f"{path}.{number}", self.item, fact, f"{seed}.{number}") for number, fact in enumerate(written, 1)
        )


class CurveSpec(Spec):
    """A curve of one quantity over another, such as torque over engine speed."""

    def __init__(self, x_quantity: Quantity, y_quantity: Quantity, says: str) -> None:
        super().__init__(says)
        self.x_quantity, self.y_quantity = x_quantity, y_quantity

    @cached_property
    def x_range(self) -> Range:
        """What its places can be, and what is usual for the largest."""
        return range_of(self.kind, f"{self.name}.x", self.x_quantity)

    @cached_property
    def y_range(self) -> Range:
        """What its values can be, and what is usual for the largest."""
        return range_of(self.kind, f"{self.name}.y", self.y_quantity)

    @overload
    def __get__(self, part: None, owner: type[Part]) -> CurveSpec: ...
    @overload
    def __get__(self, part: Part, owner: type[Part]) -> CurveRef: ...
    def __get__(self, part: Part | None, owner: type[Part]) -> CurveSpec | CurveRef:
        if part is None:
            return self
        path, seed = paths_of(part, self.name)
        return CurveRef(path, self, part.values.get(self.name), seed)  # type: ignore[arg-type]
