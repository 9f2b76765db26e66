"""Where a fact came from, and its default uncertainty if none is written.

Answers   Provenance       guess, catalogue, manual, taped, calipered, gauged, weighed, computed, unstated, typical
          default_spread   the default uncertainty of a quantity and a provenance
          measured_by      the provenances possible for a quantity
Sources   default_spreads.csv, with a source in each line
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache
from typing import TYPE_CHECKING

from trialfit.facts.spread import Shape, Spread
from trialfit.facts.unit_table import FOLDER
from trialfit.facts.units import find_unit, to_si_difference

if TYPE_CHECKING:
    from trialfit.facts.quantity import Quantity


class Provenance(StrEnum):
    """Where a fact came from."""

    guess = "guess"
    catalogue = "catalogue"
    manual = "manual"
    taped = "taped"
    calipered = "calipered"
    gauged = "gauged"
    weighed = "weighed"
    computed = "computed"
    unstated = "unstated"
    typical = "typical"

    @property
    def gives_limits(self) -> bool:
        """Whether an uncertainty is a pair of limits, not an uncertainty of measurement: a tolerance that is kept, or the range
        that a typical value is found in, nothing of which is likelier than the rest.
        """
        return self in {Provenance.manual, Provenance.catalogue, Provenance.typical}


@dataclass(frozen=True)
class _Default:
    absolute: float
    unit: str
    relative: float
    at_zero: float
    shape: Shape
    source: str


@lru_cache(maxsize=1)
def _table() -> dict[tuple[str, str], _Default]:
    lines = csv.DictReader((FOLDER / "default_spreads.csv").read_text(encoding="utf-8").splitlines())
    return {
        (line["provenance"], line["quantity"]): _Default(
            float(line["absolute [in unit]"] or 0),
            line["unit"],
            float(line["relative [% of value]"] or 0) / 100,
            float(line["at zero [in unit]"] or 0),
            Shape(line["shape"]),
            line["source"],
        )
        for line in lines
    }


def _default(quantity: Quantity, provenance: Provenance) -> _Default | None:
    table = _table()
    own = table.get((provenance, quantity.name))
    if own is None and provenance is Provenance.unstated:
        return _default(quantity, Provenance.guess)
    return own or table.get((provenance, "*"))


def measured_by(quantity: Quantity) -> tuple[Provenance, ...]:
    """The provenances that a builder can write for that quantity: a mass is weighed, a length is taped."""
    return tuple(
        provenance
        for provenance in Provenance
        if provenance not in {Provenance.unstated, Provenance.typical} and _default(quantity, provenance)
    )


def check_pair(quantity: Quantity, provenance: Provenance) -> None:
    """Raises ValueError with one sentence if the quantity cannot have that provenance."""
    if provenance is not Provenance.typical and _default(quantity, provenance) is None:
        known = [str(one) for one in measured_by(quantity)]
        msg = f"{quantity.with_article} cannot be {provenance}: write {', '.join(known[:-1])} or {known[-1]}"
        raise ValueError(msg)


def default_spread(quantity: Quantity, provenance: Provenance, value_si: float) -> Spread:
    """The default uncertainty of a value without a written one, SI.

    A guess is 20 % of the value, a tape 2 mm and so on: default_spreads.csv. An unstated provenance counts as a guess;
    a ratio (of teeth) or a count is exact. Raises ValueError with one sentence for an impossible pair (a taped mass) and
    for a typical value, which needs a written uncertainty.
    """
    check_pair(quantity, provenance)
    default = _default(quantity, provenance)
    if default is None:
        msg = f"a typical value needs a written uncertainty, for example {quantity.example}"
        raise ValueError(msg)
    half = abs(value_si) * default.relative
    absolute = default.at_zero if value_si == 0 and default.at_zero else default.absolute
    if absolute:
        half += to_si_difference(absolute, find_unit(quantity, default.unit))
    return Spread(half, half, default.shape)


def source_of_default(quantity: Quantity, provenance: Provenance) -> str:
    """The source of the default uncertainty. Raises KeyError if there is none."""
    default = _default(quantity, provenance)
    if default is None:
        raise KeyError(provenance)
    return default.source
