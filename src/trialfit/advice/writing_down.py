"""Uncertainties of measurements as text, and what to write down afterwards.

Answers   half_width     a half-width in the unit of a fact
          needed         the same, for the largest that is enough
          spread_of      the uncertainty of an instrument
          what_to_write  path and value as `set` takes them
Not here  what is worth measuring (what_to_measure.py)
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from trialfit.advice.reach import ways_at
from trialfit.facts.curve import Curve
from trialfit.facts.fact import Fact
from trialfit.facts.provenance import default_spread
from trialfit.facts.showing import interval_text
from trialfit.facts.showing_spread import half_width_text
from trialfit.facts.units import display_unit, from_si_difference, to_si_difference

if TYPE_CHECKING:
    from trialfit.advice.instruments import Instrument
    from trialfit.advice.supposing import FactAt
    from trialfit.book.build import Build
    from trialfit.facts.units import Unit

_SAME = 0.01  # half-widths that differ by less than this share are the same
_ROUNDING = 1e-9  # rounding of floats


def half_width(at: FactAt, half: float) -> str:
    """A half-width in SI, in the unit of a fact."""
    return half_width_text(half, _unit(at))


def needed(at: FactAt, half: float) -> str:
    """The largest uncertainty that is enough, to two digits: rounded down, to be on the safe side; "" if none is."""
    unit = _unit(at)
    shown = float(from_si_difference(half, unit))
    if not shown > 0:  # the value equals its limit to the last digit
        return ""
    places = 1 - math.floor(math.log10(shown))
    fewer = math.floor(shown * 10**places * (1 + _ROUNDING)) / 10**places
    return half_width_text(float(to_si_difference(fewer, unit)), unit)


def _unit(at: FactAt) -> Unit:
    return at.known.unit if isinstance(at.known, Fact) else display_unit(at.quantity)


def spread_of(at: FactAt, instrument: Instrument) -> str:
    """The uncertainty of the instrument; as long as the value is not known, for any value."""
    if at.value is not None:
        return half_width(at, instrument.half_width(at.value))
    halves = [half_width_text(instrument.absolute, instrument.unit)] if instrument.absolute else []
    halves += [
        f"± {interval_text(share, share, share, '%')} of the value" for share in [100 * instrument.relative] if share
    ]
    return " and ".join(halves) or "exact"


def what_to_write(build: Build, at: FactAt, instrument: Instrument) -> str:
    """Path and value as `set` takes them, the number left open; the uncertainty is included if the word alone would mean another one."""
    ways = ways_at(build, at)
    if ways.writes:
        return f'{at.part.name}.{ways.writes} "… {instrument.provenance}"'
    if isinstance(at.known, Curve):
        return f"{at.part.name}.{at.key} with {instrument.provenance} in its first line"
    place = ".".join([at.part.name, at.key, *([str(at.item + 1)] if at.item is not None else [])])
    half = instrument.half_width(at.value or 0.0)
    if half and not _is_usual(at, instrument):
        return f'{place} "… {half_width(at, half)}, {instrument.provenance}"'
    unit = (at.known.unit if isinstance(at.known, Fact) else instrument.unit).spelling
    return f'{place} "{f"… {unit}".rstrip()}, {instrument.provenance}"'


def _is_usual(at: FactAt, instrument: Instrument) -> bool:
    value = at.value or 0.0
    try:
        usual = default_spread(at.quantity, instrument.provenance, value).plus
    except ValueError:
        return False
    own = instrument.half_width(value)
    return abs(usual - own) <= _SAME * max(usual, own)
