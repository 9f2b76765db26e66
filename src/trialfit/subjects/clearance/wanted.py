"""The required clearance of two neighbours.

Answers   wanted    the gap, what is at stake, and the source: the builder's own figure, else that of the table
          usual_too the table's figure beside a smaller one of the builder's own, where safety is at stake
          Wanted    these three
Source    gaps.csv: no standard gives these figures for a car built at home; each row says common practice, no source.
          They are gaps left after the movement on the mounts and the travel of the neighbour.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from trialfit.evaluation.ranks import is_from_its_maker
from trialfit.evaluation.requirement import BUILDER, STATED, AtLeast, Limit, Source, SourceKind, Stake
from trialfit.parts import Solid
from trialfit.subjects.clearance.pairs import kind_of

if TYPE_CHECKING:
    from trialfit.parts import FactRef
    from trialfit.subjects.clearance.shafts import Shaft

_STAKES = list(Stake)


@dataclass(frozen=True)
class Wanted:
    """A gap, m; `written` where the builder set it."""

    gap: float
    stake: Stake
    source: Source
    written: FactRef | None = None
    why: str = ""


@cache
def _table() -> dict[tuple[str, str], Wanted]:
    with (Path(__file__).parent / "gaps.csv").open(encoding="utf-8", newline="") as file:
        return {
            (row["one"], row["other"]): Wanted(
                float(row["gap_mm"]) / 1000,
                Stake(row["stake"]),
                Source(f"{row['source']}: {row['one']} beside {row['other']}", SourceKind.common_practice),
                why=row["why"],
            )
            for row in csv.DictReader(file)
        }


def wanted(one: Solid | Shaft, other: Solid) -> Wanted:
    """The gap between two bodies: the larger one written on either, else the table's row for the two, else the larger usual one."""
    usual = usual_gap(kind_of(one), kind_of(other))
    refs = [part.required_clearance for part in (one, other) if isinstance(part, Solid)]
    written = [ref for ref in refs if ref.written is not None]
    if not written:
        return usual
    ref = max(written, key=lambda each: each.written.si if each.written else 0.0)
    return Wanted(ref.written.si if ref.written else 0.0, usual.stake, BUILDER, ref, usual.why)


def usual_too(one: Solid | Shaft, other: Solid) -> tuple[Limit, ...]:
    """The table's gap beside a written one that is less, where safety is at stake: the worse decides, or a manual's, and both are shown."""
    want, usual = wanted(one, other), usual_gap(kind_of(one), kind_of(other))
    if usual.stake is not Stake.safety or want.written is None or want.gap >= usual.gap:
        return ()
    replaced_by = STATED if is_from_its_maker(want.written) else ""
    return (Limit("usual", AtLeast(usual.gap), usual.source, replaced_by=replaced_by),)


@cache
def usual_gap(one: str, other: str) -> Wanted:
    """The table's gap for two kinds of neighbour.

    >>> usual_gap("fuel", "hot").gap, usual_gap("access", "hot").gap, usual_gap("plain", "wire").gap
    (0.1, 0.0, 0.012)
    """
    table = _table()
    for pair in ((one, other), (other, one)):
        if pair in table:
            return table[pair]
    if "access" in {one, other}:
        return table["access", "any"]
    rows = [table[kind, "any"] for kind in (one, other) if (kind, "any") in table]
    return max(rows, key=lambda row: (row.gap, -_STAKES.index(row.stake)))
