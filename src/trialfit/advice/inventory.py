"""The written facts of a build, the typical values in use, and the missing facts.

Answers   inventory   the facts of all parts, or of one
          Inventory   in the shape that `facts --json` prints
Not here  what to measure first (what_to_measure.py); what a kind of part can take (parts/describing.py)
Method    The build is worked out once with its nominal values: what was read is in use, what was needed and not found is missing.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from pydantic import Field

from trialfit.book.problems import BadInput, Located
from trialfit.facts.curve import Curve
from trialfit.facts.fact import Fact
from trialfit.facts.frozen import Frozen
from trialfit.facts.showing_spread import curve_spread, spread_in_use
from trialfit.parts import KINDS
from trialfit.parts.asking import written_refs
from trialfit.parts.declaring import FactSpec, TextSpec
from trialfit.parts.describing import tables_to_add
from trialfit.parts.lists_and_curves import ListSpec
from trialfit.parts.reading import nearest
from trialfit.subjects.catalogue import evaluate

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator

    from trialfit.book.build import Build
    from trialfit.parts.declaring import Part, Spec


class State(StrEnum):
    """The state of a fact."""

    written = "written"
    typical = "typical"
    default = "default"
    missing = "missing"
    to_decide = "to decide"
    open = "open"


_NEEDED = (State.missing, State.to_decide)


class FactLine(Frozen):
    """One fact of one part."""

    path: str
    meaning: str
    state: State = Field(
        description="written; typical: a typical value is in use; default: a default word is in use; "
        "missing: a finding needs it; to decide: the same, and it is your own choice; open: nothing needs it"
    )
    text: str = Field(description="the fact as written, or the typical value in use; empty if it has none")
    spread: str = Field(description="the uncertainty in use, for example ± 2 mm; empty if it has none")
    source: str = Field(description="for a typical value: its source")
    usual: str = Field(default="", description="the usual range, if the value is outside it and not confirmed")
    serves: int = Field(description="number of findings and figures that use it or need it")


class PartFacts(Frozen):
    """The facts of one part."""

    part: str
    kind: str
    note: str
    is_spare: bool = Field(description="an option that was not picked")
    facts: tuple[FactLine, ...]


class Inventory(Frozen):
    """The facts of a build."""

    build: str
    parts: tuple[PartFacts, ...]
    missing_parts: dict[str, str] = Field(
        description="missing parts that findings need, with their meaning: by kind, or by a name for each "
        "where a car needs several of the kind"
    )


@dataclass(frozen=True)
class _Asked:
    """How often each path was read; and how often it was needed and missing, with its meaning."""

    read: Counter[str]
    missed: Counter[str]
    meaning: dict[str, str]


def inventory(build: Build, part: str | None = None) -> Inventory:
    """The facts of all parts, or of the one named. Raises BadInput with the nearest names for an unknown part."""
    everything = {**build.parts, **build.spare}
    if part is not None and part not in everything:
        raise BadInput(build.name or "the build", [Located("", f'unknown part "{part}": {nearest(part, everything)}')])
    asked = _asked(build)
    wanted = [everything[part]] if part else list(everything.values())
    return Inventory(
        build=build.name,
        parts=tuple(_part_facts(build, one, asked) for one in wanted),
        missing_parts={} if part else dict(_missing_parts(build, asked, everything)),
    )


def _missing_parts(build: Build, asked: _Asked, known: Collection[str]) -> Iterator[tuple[str, str]]:
    """By kind, or by table if a car needs several of a kind: a left and a right half-shaft are two parts."""
    taken = {one.claims for one in build.parts.values()}
    for path, says in asked.meaning.items():
        if path in KINDS and (tables := tables_to_add(path, taken)):
            yield from ((name, f"missing: add a table with {words}") for name, words in tables.items())
        elif path in KINDS or path.partition(".")[0] not in known:
            yield path, says


def _asked(build: Build) -> _Asked:
    report = evaluate(build, draws=1)
    results = [*report.findings, *report.figures]
    return _Asked(
        Counter(fact.path for result in results for fact in result.facts),
        Counter(path for result in results for path in result.missing),
        {path: says for result in results for path, says in result.missing.items()},
    )


def _part_facts(build: Build, part: Part, asked: _Asked) -> PartFacts:
    return PartFacts(
        part=part.name,
        kind=part.kind,
        note=build.document.parts[part.name].note,
        is_spare=part.name in build.spare,
        facts=tuple(_with_questions(part, asked)),
    )


def _with_questions(part: Part, asked: _Asked) -> Iterator[FactLine]:
    usual = {ref.path: ref.unusual.usual for ref in written_refs(part) if ref.unusual}
    for key, spec in part.specs_in_use().items():
        for one in _lines(part, key, spec, asked):
            yield one.model_copy(update={"usual": usual[one.path]}) if one.path in usual else one


def _lines(part: Part, key: str, spec: Spec, asked: _Asked) -> Iterator[FactLine]:
    path, value = f"{part.name}.{key}", part.values.get(key)
    if isinstance(value, Fact):
        yield _written(path, spec, value, asked)
    elif isinstance(value, Curve):
        yield _curve(path, spec, value, asked)
    elif isinstance(value, str):
        yield _line(path, spec, State.written, asked, text=value)
    elif value:
        for number, fact in enumerate(value, 1):
            yield _written(f"{path}.{number}", spec, fact, asked)
    else:
        yield _unwritten(path, spec, asked)


def _unwritten(path: str, spec: Spec, asked: _Asked) -> FactLine:
    if isinstance(spec, TextSpec) and spec.default:
        return _line(path, spec, State.default, asked, text=spec.default)
    if isinstance(spec, FactSpec) and spec.typical_fact and asked.read[path]:
        text, spread = spec.typical_fact.plain, spread_in_use(spec.typical_fact)
        return _line(path, spec, State.typical, asked, text=text, spread=spread, source=spec.source or "")
    one = spec.item if isinstance(spec, ListSpec) else spec
    needed = State.to_decide if isinstance(one, FactSpec) and one.is_wish else State.missing
    return _line(path, spec, needed if asked.missed[path] else State.open, asked)


def _written(path: str, spec: Spec, fact: Fact, asked: _Asked) -> FactLine:
    return _line(path, spec, State.written, asked, text=str(fact), spread=spread_in_use(fact))


def _curve(path: str, spec: Spec, curve: Curve, asked: _Asked) -> FactLine:
    text = f"curve of {len(curve.x)} points; {str(curve).partition(chr(10))[0]}"
    return _line(path, spec, State.written, asked, text=text, spread=curve_spread(curve))


def _line(
    path: str, spec: Spec, state: State, asked: _Asked, *, text: str = "", spread: str = "", source: str = ""
) -> FactLine:
    serves = asked.missed[path] if state in _NEEDED else asked.read[path]
    return FactLine(path=path, meaning=spec.says, state=state, text=text, spread=spread, source=source, serves=serves)
