"""The register: for each kind of part the ways it fails in a conversion, and what judges each of them.

Answers   register      every row of register.csv
          FailureMode   one row: how it fails, what is at stake, which requirements judge it, how to see it by hand and when
          WHEN          the moments by which to look, in their order
          matches       whether the id of a requirement is one of those that a row names
Not here  what of it nothing judges in a certain build (unjudged.py)

`judged by` holds ids of requirements; `*` in an id stands for any name or for nothing. Without one the row is not judged: it is seen by hand.
`about` is what the trade calls the thing, where it has no kind of its own. `source` is that of the figures in the row.
"""

from __future__ import annotations

import csv
import re
from dataclasses import dataclass
from functools import cache, lru_cache
from pathlib import Path

from trialfit.evaluation.requirement import Stake

WHEN = ("first-crank", "first-fire", "first-roll", "road", "after 100 km", "yearly")
"""The gates in their order, and what is looked at again once the car is on the road."""

EVERY_CAR_HAS = frozenset({"car", "engine", "hub", "tyre", "brake"})
"""Kinds whose rows count for every build, also where the part is not written yet."""


@dataclass(frozen=True)
class FailureMode:
    """One way in which a kind of part fails.

    id          stable: the kind, then what fails: "prop_shaft.whirls"
    kind        the kind of part; about, if written, is the thing on the car in the trade's words
    fails       how it fails, and why in a conversion
    stake       what is at stake
    judged_by   ids of requirements, `*` for any name; empty if nothing judges it
    by_hand     how to see it by hand
    before      the gate before which to look, else "after 100 km" or "yearly"
    only_with   the conditions under which a build has it
    source      where the figures come from
    """

    id: str
    kind: str
    about: str
    fails: str
    stake: Stake
    judged_by: tuple[str, ...]
    by_hand: str
    before: str
    only_with: tuple[str, ...]
    source: str


@lru_cache(maxsize=1)
def register() -> tuple[FailureMode, ...]:
    """Every row, kind by kind."""
    text = (Path(__file__).parent / "register.csv").read_text(encoding="utf-8")
    return tuple(_mode(row) for row in csv.DictReader(text.splitlines()))


def _mode(row: dict[str, str]) -> FailureMode:
    return FailureMode(
        id=row["id"],
        kind=row["kind"],
        about=row["about"],
        fails=row["how it fails"],
        stake=Stake(row["stake"]),
        judged_by=tuple(row["judged by"].split()),
        by_hand=row["see it by hand"],
        before=row["before"],
        only_with=tuple(row["only with"].split()),
        source=row["source"],
    )


def matches(pattern: str, identifier: str) -> bool:
    """Whether an id is one that the pattern names.

    >>> matches("driveline.whirl.*", "driveline.whirl.rear_shaft"), matches("torque_path.clutch", "torque_path.clutch")
    (True, True)
    >>> matches("fastening.*.slip", "fastening.flange.slipped")
    False
    """
    return bool(_compiled(pattern).fullmatch(identifier))


@cache
def _compiled(pattern: str) -> re.Pattern[str]:
    return re.compile(".*".join(re.escape(piece) for piece in pattern.split("*")))
