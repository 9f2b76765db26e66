"""Tyres."""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.facts.quantity import COEFFICIENT, LENGTH
from trialfit.handbook.gearing.tyre_ratings import TyreService, read_service, service_in_size, speed_symbols
from trialfit.handbook.gearing.tyres import read_size
from trialfit.parts.declaring import POSITIVE, CodeSpec, FactSpec, Part, WordSpec

if TYPE_CHECKING:
    from collections.abc import Iterator


class Tyre(Part):
    """The tyres of one axle: both sides alike."""

    kind = "tyre"

    axle = WordSpec("the axle it is on", "front", "rear", default="rear")
    size = CodeSpec("size as printed on the sidewall", check=read_size, example="205/55 R16")
    load_index = CodeSpec(
        "load index as printed behind the size, with or without the speed symbol", check=read_service, example="91V"
    )
    speed_symbol = WordSpec("speed symbol as printed behind the load index", *speed_symbols())
    circumference = FactSpec(
        LENGTH, "distance rolled in one turn, measured with the car loaded", bounds=POSITIVE, example="1.86 m, taped"
    )
    circumference_factor = FactSpec(
        COEFFICIENT,
        "true rolling circumference over the one calculated from the size",
        bounds=POSITIVE,
        typical="1 +2.5/-4.5 %",
        source="ETRTO rule from memory, ± 1.5 %; one published data fit lies 0.75 % higher; a new tyre ± 1 %, a worn one up to 2.5 % smaller: from memory",
        example="1 ± 1.5 %, guess",
    )

    @property
    def service(self) -> TyreService | None:
        """Load index and speed symbol, of the sidewall or behind the size; None where neither is written."""
        return read_service(self.load_index) if self.load_index else service_in_size(self.size or "")

    @property
    def speed_rating(self) -> str | None:
        """The speed symbol, wherever it is written."""
        behind = service_in_size(self.size or "")
        return self.speed_symbol or (self.service and self.service.symbol) or (behind and behind.symbol) or None

    def faults(self) -> Iterator[tuple[str, str]]:
        """A tyre has one load index and one speed symbol, however often they are written."""
        behind, alone = service_in_size(self.size or ""), read_service(self.load_index) if self.load_index else None
        if behind and alone and behind.index != alone.index:
            yield "load_index", f"is {alone.index}, and {self.name}.size says {behind.index}: expected one load index"
        symbols = {name: one for name, one in (("size", behind), ("load_index", alone)) if one and one.symbol}
        for name, one in symbols.items():
            if self.speed_symbol and one.symbol != self.speed_symbol:
                said = f"is {self.speed_symbol}, and {self.name}.{name} says {one.symbol}"
                yield "speed_symbol", f"{said}: expected one speed symbol"

    @property
    def claims(self) -> str | None:
        """One size of tyre per axle."""
        return f"{self.axle} tyres"
