"""What an evaluation hands on to that of a changed build: everything that did not look at what was changed.

Answers   Kept       draws, worked values and findings of the build before that stand in the build after
          Derived    one worked value, with the facts that it read and all that it looked at
          Made       one finding or figure, with its requirement
          same       whether two values are the same but for the parts that they name, which are looked at when they are used
Method    Whatever is worked out notes what it looks at in the build (parts/watching.py): facts, parts, kinds that are there or not,
          words, limits, files; and the worked values that it used, with what these looked at. A change leaves what finds the
          same everywhere. What a worked value was made from must be the same too: its function and arguments, or for a finding
          its requirement, which the changed build states anew. Where that cannot be told it is worked out anew.
          Parts belong to one build, so a worked value that holds parts is never handed on.
"""

from __future__ import annotations

import dataclasses
from enum import Enum
from functools import cached_property, partial
from pathlib import Path
from types import CellType, FunctionType, MethodType, NoneType
from typing import TYPE_CHECKING, Any, cast

import numpy as np

from trialfit.book.build import OF_BUILD, Build
from trialfit.parts.declaring import Part, Spec
from trialfit.parts.fact_refs import CurveRef, FactRef

if TYPE_CHECKING:
    from collections.abc import Hashable, Iterable, Mapping

    from trialfit.evaluation.finding import Figure, Finding
    from trialfit.evaluation.requirement import Requirement
    from trialfit.facts.spread import Spread
    from trialfit.handbook.arrays import Array

FILE = ":file"
_DEEPEST = 24  # beyond it nothing is compared: what holds itself has no end
_PLAIN = (float, int, str, bool, bytes, NoneType, Enum, type, np.ndarray, np.generic, Path)


@dataclasses.dataclass(frozen=True)
class Drawn:
    """The draws of one fact, and what they were drawn from."""

    seed: str
    value: float
    spread: Spread
    draws: Array


@dataclasses.dataclass(eq=False)
class Derived:
    """One worked value, or the error that tells what was missing for it."""

    result: object
    missing: Exception | None
    readings: dict[str, FactRef | CurveRef]
    seen: set[Hashable]
    made_from: tuple[object, ...]


@dataclasses.dataclass(frozen=True)
class Made:
    """A finding or figure, with its requirement, how it was asked for, and what was looked at."""

    requirement: Requirement
    asked: Hashable
    seen: frozenset[Hashable]
    result: Finding | Figure


class Kept:
    """What stands of an evaluation after a change of its build."""

    def __init__(
        self,
        before: Build,
        after: Build,
        drawn: Mapping[str, Drawn],
        derived: Mapping[Hashable, Derived],
        made: Mapping[str, Made],
    ) -> None:
        self._before, self._after = before, after
        self._found: dict[Hashable, bool] = {}
        self._untouched = before.untouched_in(after)
        self.drawn = dict(drawn)
        self.derived = {key: one for key, one in derived.items() if self._stands(one)}
        self.made = {key: one for key, one in made.items() if self._stand(one.seen)}
        self._found.clear()

    @classmethod
    def nothing(cls, build: Build) -> Kept:
        """For an evaluation that starts anew."""
        return cls(build, build, {}, {}, {})

    def value(self, key: Hashable, made_from: tuple[object, ...]) -> Derived | None:
        """The worked value of these arguments, if it stands and can be handed on."""
        found = self.derived.get(key)
        if found is None or not same(found.made_from, made_from) or not _can_be_handed_on(found.result):
            return None
        return found

    def finding(self, requirement: Requirement, asked: Hashable) -> Made | None:
        """The finding or figure of a requirement, if it stands."""
        found = self.made.get(requirement.id)
        is_it = found is not None and found.asked == asked and same(found.requirement, requirement)
        return found if is_it else None

    def _stand(self, seen: Iterable[Hashable]) -> bool:
        return all(self._stands(one) for one in seen)

    def _stands(self, one: Hashable) -> bool:
        """Whether a thing that was looked at, or a worked value, is as it was."""
        if one not in self._found:
            self._found[one] = self._stand(one.seen) if isinstance(one, Derived) else self._is_unchanged(one)
        return self._found[one]

    def _is_unchanged(self, what: Hashable) -> bool:
        owner, which = cast("tuple[str, Any]", what)
        if owner == FILE:
            path, state = which
            return bool(file_state(path) == state)
        if self._untouched is not None and (owner.startswith(OF_BUILD) or owner in self._untouched):
            return True
        return self._before.found(owner, which) == self._after.found(owner, which)


def file_state(path: str) -> tuple[int, int] | None:
    """When a file was changed last, and its size; None where there is none."""
    try:
        state = Path(path).stat()
    except OSError:
        return None
    return state.st_mtime_ns, state.st_size


def same(one: object, other: object, depth: int = 0) -> bool:
    """Whether both are the same but for the build that they belong to: parts by their names, functions by their code and what they
    hold. False where it cannot be told.
    """
    if one is other or (isinstance(one, Build) and isinstance(other, Build)):
        return True
    if type(one) is not type(other) or depth > _DEEPEST:
        return False
    if isinstance(one, np.ndarray):
        return bool(np.array_equal(one, other))  # type: ignore[arg-type]
    if isinstance(one, (*_PLAIN, frozenset)):
        return bool(one == other)
    made_of, of_other = _made_of(one), _made_of(other)
    if made_of is None or of_other is None or len(made_of) != len(of_other):
        return False
    return all(same(mine, its, depth + 1) for mine, its in zip(made_of, of_other, strict=True))


def _made_of(one: Any) -> tuple[object, ...] | None:  # noqa: ANN401 - of any type
    """What a value consists of; None where that is not known."""
    if isinstance(one, FunctionType | MethodType | partial | CellType):
        return _code_of(one)
    if isinstance(one, Part):
        return (one.name,)
    if isinstance(one, Spec):
        worked_out = {name for name in vars(one) if isinstance(getattr(type(one), name, None), cached_property)}
        return tuple((name, held) for name, held in vars(one).items() if name not in worked_out)
    if isinstance(one, tuple | list | dict):
        return tuple(one.items() if isinstance(one, dict) else one)
    if dataclasses.is_dataclass(one):
        return tuple(getattr(one, field.name) for field in dataclasses.fields(one))
    return None


def _code_of(one: FunctionType | MethodType | partial[Any] | CellType) -> tuple[object, ...]:
    if isinstance(one, FunctionType):
        return id(one.__code__), one.__defaults__, one.__kwdefaults__, one.__closure__
    if isinstance(one, MethodType):
        return one.__func__, one.__self__
    if isinstance(one, partial):
        return one.func, one.args, one.keywords
    return (one.cell_contents,)


def _can_be_handed_on(result: object) -> bool:
    """Whether nothing in a worked value belongs to one build."""
    if isinstance(result, _PLAIN):
        return True
    if isinstance(result, tuple | list | set | frozenset):
        return all(map(_can_be_handed_on, result))
    if isinstance(result, dict):
        return all(_can_be_handed_on(key) and _can_be_handed_on(value) for key, value in result.items())
    if isinstance(result, Part | FactRef | CurveRef | Build) or not dataclasses.is_dataclass(result):
        return False
    return all(_can_be_handed_on(getattr(result, field.name)) for field in dataclasses.fields(result))
