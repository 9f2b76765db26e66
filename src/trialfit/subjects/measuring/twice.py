"""Facts that say the same thing twice: do they agree within their spreads, and if not, which of them a third one supports.

Answers   requirements   agree.PART.WHAT for each thing that is written in two ways or more
          relations      the table: what is compared, and the ways to say it
Not here  how an expression is read (expressions.py, terms.py); readings of one fact (agreeing.py)
Rule      Two ways agree if their nominal values lie no further apart than the expanded uncertainty of their difference
          (k = 2, JCGM 100, 6.2, from memory), or than what does not matter (column "within"). The pair that lies furthest
          beyond decides. A way is there when at least one of its facts is written and the others are known, so that which
          findings there are follows from what is written.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import lru_cache, partial
from itertools import combinations
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from trialfit.book.conditions import holds
from trialfit.evaluation.requirement import AtMost, Requirement, Source, SourceKind, Stake
from trialfit.facts.quantity import QUANTITIES
from trialfit.facts.reading import read_fact
from trialfit.facts.showing import show
from trialfit.facts.units import display_unit
from trialfit.parts import KINDS
from trialfit.subjects.measuring.expressions import Expression
from trialfit.subjects.measuring.terms import TERMS

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.facts.quantity import Quantity
    from trialfit.handbook.arrays import Array
    from trialfit.parts import Part

_FOLDER = Path(__file__).parent
_BOTH_SPREADS = "expanded uncertainty of a difference, JCGM 100, 6.2, from memory"
_NAMED = 2
_LEAST = 1e-6
_CURE = "Measure again what the others speak against, and correct it; a fact that follows from others can be removed."


@dataclass(frozen=True)
class Way:
    """One way to say a thing: in words, its expression, and the conditions under which it says it."""

    said_by: str
    expression: Expression
    only_with: tuple[str, ...]

    def is_written(self, build: Build, part: Part) -> bool:
        """Whether a build says it in this way."""
        if not holds(build, self.only_with, part):
            return False
        refs = self.expression.reads(build, part)
        if refs is None or any(ref.known is None for ref in refs):
            return False
        return not refs or bool(self.only_with) or any(ref.written is not None for ref in refs)


@dataclass(frozen=True)
class Relation:
    """One thing that can be said in several ways. `one_sided`: the first way must not exceed the others."""

    id: str
    kind: str
    what: str
    one_sided: bool
    quantity: Quantity
    stake: Stake
    within: float
    source: str
    ways: tuple[Way, ...]


@lru_cache(maxsize=1)
def relations() -> tuple[Relation, ...]:
    """The tables relations.csv and ways.csv."""
    ways: dict[tuple[str, str], list[Way]] = {}
    for row in _rows("ways.csv"):
        way = Way(row["said by"], Expression(row["expression"], TERMS), tuple(row["only with"].split()))
        ways.setdefault((row["relation"], row["about"]), []).append(way)
    return tuple(_relation(row, tuple(ways[row["id"], row["about"]])) for row in _rows("relations.csv"))


def _rows(name: str) -> list[dict[str, str]]:
    return list(csv.DictReader((_FOLDER / name).read_text(encoding="utf-8").splitlines()))


def _relation(row: dict[str, str], ways: tuple[Way, ...]) -> Relation:
    quantity = QUANTITIES[row["quantity"]]
    return Relation(
        id=row["id"],
        kind=row["about"],
        what=row["what"],
        one_sided=row["compared"] == "at most",
        quantity=quantity,
        stake=Stake(row["stake"]),
        within=read_fact(row["within"], quantity).si,
        source=row["source"],
        ways=ways,
    )


def requirements(build: Build) -> Iterator[Requirement]:
    """What must agree: each thing that a build says in two ways or more."""
    for relation in relations():
        for part in build.all(KINDS[relation.kind]):
            ways = tuple(way for way in relation.ways if way.is_written(build, part))
            if len(ways) > 1 and (not relation.one_sided or ways[0] is relation.ways[0]):
                yield _requirement(relation, part, ways)


def _requirement(relation: Relation, part: Part, ways: tuple[Way, ...]) -> Requirement:
    of = _Compared(f"{part.name}.{relation.id}", relation, part, ways)
    said = [way.said_by for way in ways]
    if relation.one_sided:
        says = f"{relation.what}: {said[0]} does not exceed {said[1]}; the value is how far it is above"
    else:
        others = ", and others" if len(said) > _NAMED else ""
        says = (
            f"{relation.what}: {' and '.join(said[:_NAMED])}{others} say the same; the value is how far they are apart"
        )
    return Requirement(
        id=f"measuring.agree.{part.name}.{relation.id}",
        about=part.name,
        says=says,
        value=partial(apart, of=of),
        quantity=relation.quantity,
        stake=relation.stake,
        limit=AtMost(partial(allowed, of=of)),
        source=Source(f"{_BOTH_SPREADS}; {relation.source}", SourceKind.from_memory),
        shows=partial(in_words, of=of),
        cure=_CURE,
        away=partial(_comparable, of=of),
    )


@dataclass(frozen=True)
class _Compared:
    """A relation in a build: the part it is about, and the ways in which it is written. By its `name` it is told from others."""

    name: str
    relation: Relation
    part: Part
    ways: tuple[Way, ...]

    def __hash__(self) -> int:
        return hash(self.name)


@dataclass(frozen=True)
class _Pair:
    """Two ways: their numbers, how far their nominal values are apart, and how far they may be."""

    one: int
    other: int
    apart: float
    allowed: float

    @property
    def share(self) -> float:
        """Apart over allowed."""
        return self.apart / self.allowed


def _pairs(ev: Evaluation, of: _Compared) -> tuple[tuple[_Pair, ...], tuple[float, ...]]:
    """Every pair that can be compared, the one furthest beyond its spreads first; and the nominal value of each way."""
    with np.errstate(divide="ignore", invalid="ignore"):  # a draw outside of a formula counts for nothing
        values = [np.broadcast_to(np.asarray(way.expression.value(ev, of.part), float), ev.draws) for way in of.ways]
    nominal = tuple(float(value[0]) for value in values)
    known = [number for number, value in enumerate(nominal) if np.isfinite(value)]
    together = combinations(known, 2)
    if of.relation.one_sided:
        together = ((0, number) for number in known if number and 0 in known)  # type: ignore[assignment]
    pairs = [_pair(of.relation, values, one, other) for one, other in together]
    return tuple(sorted(pairs, key=lambda pair: -pair.share)), nominal


def _pair(relation: Relation, values: list[Array], one: int, other: int) -> _Pair:
    difference = values[one] - values[other]
    away = float(difference[0]) if relation.one_sided else abs(float(difference[0]))
    drawn = difference[1:][np.isfinite(difference[1:])]
    spread = float(2 * np.std(drawn)) if drawn.size else 0.0
    allowed = max(spread, relation.within)
    return _Pair(one, other, away if abs(away) > _LEAST * allowed else 0.0, allowed)


def apart(ev: Evaluation, of: _Compared) -> float:
    """How far the two ways that agree least are apart, SI."""
    return ev.of(_pairs, of)[0][0].apart


def allowed(ev: Evaluation, of: _Compared) -> float:
    """How far these two may be apart, SI."""
    return ev.of(_pairs, of)[0][0].allowed


def _comparable(ev: Evaluation, of: _Compared) -> float | None:
    """Listed where two ways have a value; a torque curve says nothing beyond its ends."""
    return 0.0 if ev.of(_pairs, of)[0] else None


def in_words(ev: Evaluation, of: _Compared) -> str:
    """The two that agree least with their values, and what a third one supports."""
    pairs, nominal = ev.of(_pairs, of)
    worst, unit = pairs[0], display_unit(of.relation.quantity)
    one, other = (f"{of.ways[number].said_by} {show(nominal[number], unit)}" for number in (worst.one, worst.other))
    if worst.share <= 1 and of.relation.one_sided:
        return f"{one}, {other}"
    how = "above it" if of.relation.one_sided else "apart"
    told = f"{one}, {other}: {show(worst.apart, unit)} {how}, {show(worst.allowed, unit)} is within their uncertainty"
    return told + _support(of, pairs, nominal) if worst.share > 1 else told


def _support(of: _Compared, pairs: tuple[_Pair, ...], nominal: tuple[float, ...]) -> str:
    """What a third way supports, as the end of a sentence; of a thing that must only not exceed another there is none."""
    if of.relation.one_sided:
        return ""
    worst, unit = pairs[0], display_unit(of.relation.quantity)
    agree = {frozenset((pair.one, pair.other)) for pair in pairs if pair.share <= 1}
    told = ""
    for third in range(len(of.ways)):
        if third in (worst.one, worst.other) or not np.isfinite(nominal[third]):
            continue
        with_one = frozenset((third, worst.one)) in agree
        with_other = frozenset((third, worst.other)) in agree
        named = f"{of.ways[third].said_by} ({show(nominal[third], unit)})"
        if with_one != with_other:
            told += f"; {named} supports {of.ways[worst.one if with_one else worst.other].said_by}"
        else:
            told += f"; {named} supports {'both' if with_one else 'neither'}"
    return told or "; no third fact says which of them is right"
