"""The gears the car drives in, reverse and low range among them, as columns of an array.

Answers   Gear, gear_list    what gears there are, in the order of the columns
          gear_ratios      of gearbox and transfer case together, (draws, gears)
          box_ratios, range_ratios   of each of them
          box_efficiency   of gearbox and transfer case together, (draws,)
          driven_axle      the axle at the end of the line: front or rear
          drives_all, has_reverse, has_low_range, ask_low_range
Not here  torques (loads.py); what the tyres hold (grip.py)

Of low range only the lowest gear and reverse are looked at: nothing behind the transfer case sees more than in these.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from trialfit.parts import Car, Gearbox, TransferCase
from trialfit.subjects import line

if TYPE_CHECKING:
    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array


REVERSE = "reverse"
_ENDINGS = {1: "st", 2: "nd", 3: "rd"}


@dataclass(frozen=True)
class Gear:
    """One gear: forward by its number, or reverse (0); in low range of a transfer case or not."""

    number: int
    low: bool = False

    @property
    def is_reverse(self) -> bool:
        """Whether the car goes backwards."""
        return self.number == 0

    @property
    def in_ids(self) -> str:
        """As it stands in an id: 1, reverse, low_1."""
        name = REVERSE if self.is_reverse else str(self.number)
        return f"low_{name}" if self.low else name

    @property
    def spoken(self) -> str:
        """As it stands in a sentence: 1st gear, reverse in low range."""
        name = REVERSE if self.is_reverse else f"{self.number}{_ENDINGS.get(self.number, 'th')} gear"
        return f"{name} in low range" if self.low else name


def has_reverse(build: Build) -> bool:
    """Whether the ratio of reverse is written: where it is not, findings look at the forward gears alone."""
    gearbox = build.first(Gearbox)
    return gearbox is not None and gearbox.reverse_ratio.written is not None


def has_low_range(build: Build) -> bool:
    """Whether there is a transfer case with a low range whose ratio is written."""
    case = build.first(TransferCase)
    return case is not None and line.has_low_range(build) and case.low_ratio.written is not None


def ask_low_range(ev: Evaluation) -> None:
    """Raises MissingFact where there is a low range and its ratio is not written: it is worst behind the transfer case."""
    case = ev.build.first(TransferCase)
    if case is not None and line.has_low_range(ev.build):
        ev(case.low_ratio)


def gear_list(build: Build) -> tuple[Gear, ...]:
    """The gears in the order of the columns: forward, reverse where its ratio is written, both ends in low range."""
    gearbox = build.first(Gearbox)
    forward = [Gear(number) for number in range(1, len(gearbox.ratios) + 1)] if gearbox else []
    reverse = [Gear(0)] if has_reverse(build) else []
    low = [Gear(one.number, low=True) for one in (*forward[:1], *reverse)] if has_low_range(build) else []
    return (*forward, *reverse, *low)


def deciding(build: Build, place: str = "pinion") -> tuple[int, ...]:
    """The columns that can decide at a place: "gearbox input", "gearbox output" or "pinion" and behind it.

    The torque behind the gearbox, limited by the engine or by the tyres, is never less in a lower gear; that at its input never
    less in a higher one. In front of a transfer case the tyres hold less against low range, and behind it the engine sends more.
    """
    gears = gear_list(build)
    forward = [column for column, gear in enumerate(gears) if not gear.is_reverse and not gear.low]
    backward = [column for column, gear in enumerate(gears) if gear.is_reverse and not gear.low]
    low = [column for column, gear in enumerate(gears) if gear.low]
    if place == "gearbox input":
        return tuple(sorted({*forward[:1], *forward[-1:], *backward}))
    high = [*forward[:1], *backward]
    return tuple([*high, *low] if place == "gearbox output" else low or high)


def box_ratios(ev: Evaluation) -> Array:
    """Ratio of the gearbox in each gear, (draws, gears)."""
    forward = ev.of(line.ratios)
    columns = list(forward.T)
    if has_reverse(ev.build):
        columns.append(ev(ev.part(Gearbox).reverse_ratio))
    if has_low_range(ev.build):
        columns += [columns[0], *([columns[-1]] if has_reverse(ev.build) else [])]
    return np.stack(columns, axis=-1)


def range_ratios(ev: Evaluation) -> Array:
    """Ratio of the transfer case in each gear, (draws, gears); 1 without one."""
    gears, case = gear_list(ev.build), ev.build.first(TransferCase)
    if case is None:
        return np.ones((ev.draws, len(gears)))
    high = ev(case.ratio)
    low = ev(case.low_ratio) if has_low_range(ev.build) else high
    return np.stack([low if gear.low else high for gear in gears], axis=-1)


def gear_ratios(ev: Evaluation) -> Array:
    """Ratio from the gearbox's input to the pinion in each gear, (draws, gears)."""
    return np.asarray(ev.of(box_ratios) * ev.of(range_ratios))


def range_efficiency(ev: Evaluation) -> Array:
    """Efficiency of the transfer case, (draws,); 1 without one."""
    case = ev.build.first(TransferCase)
    return ev(case.efficiency) if case else np.ones(ev.draws)


def box_efficiency(ev: Evaluation) -> Array:
    """Efficiency of gearbox and transfer case together, (draws,)."""
    return np.asarray(ev(ev.part(Gearbox).efficiency) * ev.of(range_efficiency))


def driven_axle(build: Build) -> str:
    """The axle that the final drive of the build belongs to; rear where all wheels drive."""
    car = build.first(Car)
    return "front" if car is not None and car.driven_axle == "front" else "rear"


def drives_all(build: Build) -> bool:
    """Whether all wheels drive."""
    car = build.first(Car)
    return car is not None and car.driven_axle == "all"
