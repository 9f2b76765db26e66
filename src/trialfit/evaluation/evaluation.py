"""One pass over a build: facts as arrays of draws, each derived value calculated once, with the facts it read.

Answers   Evaluation      ev(part.fact) reads a fact; ev.of(function, part) works a derived value out once
          Evaluation.after   the same for a changed build, which keeps what the change leaves as it was
          MissingFact     raised where a fact is neither written nor typical: the finding that needs it is unknown
Not here  how draws are made (draws.py); what a change leaves (keeping.py); what is judged (requirement.py, verdict.py)
"""

from __future__ import annotations

from contextlib import contextmanager
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any, Concatenate, ParamSpec, TypeVar

import numpy as np

from trialfit.evaluation.draws import draws_of, stretched
from trialfit.evaluation.keeping import FILE, Derived, Drawn, Kept, file_state
from trialfit.evaluation.laxer import is_laxer
from trialfit.evaluation.typical_ends import ends_of, is_typical
from trialfit.facts.spread import Shape, Spread
from trialfit.parts.fact_refs import CurveRef, FactRef
from trialfit.parts.watching import seen, watching

if TYPE_CHECKING:
    from collections.abc import Callable, Hashable, Iterator, Mapping
    from pathlib import Path

    from trialfit.book.build import Build
    from trialfit.evaluation.finding import Figure, Finding
    from trialfit.evaluation.keeping import Made
    from trialfit.evaluation.requirement import Requirement
    from trialfit.handbook.arrays import Array
    from trialfit.parts.declaring import Part


Args = ParamSpec("Args")
Result = TypeVar("Result")
SomePart = TypeVar("SomePart", bound="Part")
DRAWS = 4096
_REFS = (FactRef, CurveRef)
_EXACT = Spread(0.0, 0.0, Shape.normal)


class MissingFact(LookupError):
    """A missing fact that a finding needs. `wanted` maps each path to its meaning."""

    def __init__(self, wanted: dict[str, str]) -> None:
        self.wanted = wanted
        super().__init__("missing: " + ", ".join(wanted))


@dataclass(frozen=True)
class DrawnCurve:
    """A curve with its spread: `y` (points,) holds the values as written at `x` (points,), `scale` (draws,) a factor on all of them."""

    x: Array
    y: Array
    scale: Array


class Evaluation:
    """Carries `draws` values of every uncertain fact of a build, in SI; draw 0 is the nominal. `block` tells blocks of draws apart.

    Reading is explicit, so that each calculated value has a list of the facts it depends on:

        od = ev(shaft.tube_outside_diameter)     # array of shape (draws,); the reading is recorded
        angles = ev.of(joint_angles, shaft)      # joint_angles(ev, shaft), worked out once, its readings inherited
    """

    def __init__(self, build: Build, draws: int = DRAWS, block: int = 0) -> None:
        if draws < 1:
            msg = f"{draws} draws: expected at least 1, 4096 are usual"
            raise ValueError(msg)
        self.build = build
        self.draws = draws
        self.block = block
        self._drawn: dict[str, Drawn] = {}
        self._worked: dict[Hashable, Derived] = {}
        self._made: dict[str, Made] = {}
        self._kept = Kept.nothing(build)
        self._recorders: list[dict[str, FactRef | CurveRef]] = []
        self._own: Evaluation | None = None
        self._worked_by_own: dict[Hashable, Derived] = {}
        self._by_ours: Evaluation | None = None
        self._ends: Evaluation | None = None
        self._is_at_ends = False
        self._blocks: dict[tuple[int, int], Evaluation] | None = None

    def __call__(self, ref: FactRef) -> Array:
        """The draws of one fact, shape (draws,), SI. Raises MissingFact."""
        self._record(ref)
        if self._own and not self._reads_anew(ref):
            return self._own(ref)
        drawn = self._drawn.get(ref.path)
        if drawn is None:
            fact = ref.spec.typical_fact if self._own else ref.known
            if fact is None:
                raise MissingFact({ref.path: ref.spec.says})
            drawn = self._draw(ref, fact.si, fact.spread)
            if self._own and self._is_at_ends:
                drawn = replace(drawn, draws=ends_of(fact, drawn.draws))
            self._drawn[ref.path] = drawn
        return drawn.draws

    def _reads_anew(self, ref: FactRef | CurveRef) -> bool:
        """Whether this evaluation beside another one has draws of its own of a fact."""
        return is_typical(ref) if self._is_at_ends else is_laxer(ref)

    def _draw(self, ref: FactRef | CurveRef, value: float, spread: Spread) -> Drawn:
        kept = self._kept.drawn.get(ref.path)
        if kept and (kept.seed, kept.value, kept.spread) == (ref.drawn_as, value, spread):
            return kept
        if spread.is_zero:
            return Drawn(ref.drawn_as, value, spread, stretched(value, self.draws))
        draws = self.spread_around(ref.drawn_as, value, spread)
        if isinstance(ref, FactRef) and value in {ref.spec.own_bounds.at_least, ref.spec.own_bounds.at_most}:
            # a value just at its bound: half of its spread cannot be, and is cut
            draws = np.clip(draws, ref.spec.own_bounds.at_least, ref.spec.own_bounds.at_most)
        return Drawn(ref.drawn_as, value, spread, draws)

    def each(self, *refs: FactRef) -> tuple[Array, ...]:
        """The draws of several facts; if some are missing, MissingFact names them all."""
        missing = {ref.path: ref.spec.says for ref in refs if ref.known is None}
        if missing:
            for ref in refs:
                if ref.path in missing:
                    self._record(ref)
                else:
                    self(ref)
            raise MissingFact(missing)
        return tuple(self(ref) for ref in refs)

    def rows(self, refs: tuple[FactRef, ...], what: str) -> Array:
        """The draws of a list of facts, shape (draws, items). Raises MissingFact naming `what` if the list is empty."""
        if not refs:
            raise MissingFact({what: "none in the build"})
        return np.stack(self.each(*refs), axis=-1)

    def curve(self, ref: CurveRef) -> DrawnCurve:
        """A curve with the draws of its scale. Raises MissingFact."""
        self._record(ref)
        curve = ref.written
        if curve is None:
            raise MissingFact({ref.path: ref.spec.says})
        return DrawnCurve(np.array(curve.x), np.array(curve.y), self._scale(ref))

    def _scale(self, ref: CurveRef) -> Array:
        if ref.path not in self._drawn:
            spread = ref.written.relative_spread if ref.written else _EXACT
            self._drawn[ref.path] = self._draw(ref, 1.0, spread)
        return self._drawn[ref.path].draws

    def spread_around(self, seed: str, value: float, spread: Spread) -> Array:
        """The draws of a value that is not a fact of the build, such as the error of a scan; `seed` tells it from all others."""
        return draws_of(seed, value, spread, self.draws, self.block)

    def further(self, block: int, draws: int) -> Evaluation:
        """The same build with other draws: those of a further block, with the nominal before them."""
        if self._blocks is None:
            return Evaluation(self.build, draws + 1, block)
        before = self._blocks.get((block, draws))
        self._blocks[block, draws] = before.after(self.build) if before else Evaluation(self.build, draws + 1, block)
        return self._blocks[block, draws]

    def keep_blocks(self) -> None:
        """From now on further blocks are kept too, for the evaluations `after` this one; those kept until now are given up.

        For many small changes, one after the other, with one finding in view: the blocks take memory.
        """
        self._blocks = {}

    def by_ours(self) -> Evaluation:
        """The same build and draws with the usual value of every factor that is laxer by the builder's word (laxer.py).

        What reads none of them is taken from here.
        """
        if self._by_ours is None:
            ours: Evaluation = type(self)(self.build, self.draws, self.block)
            ours._own, ours._worked_by_own = self, self._worked
            self._by_ours = ours
        return self._by_ours

    @property
    def is_by_ours(self) -> bool:
        """Whether it is one of `by_ours`."""
        return self._own is not None and not self._is_at_ends

    def at_ends(self) -> Evaluation:
        """The same build and draws with each typical value at the end of its range that it is nearer to (typical_ends.py)."""
        if self._ends is None:
            ends: Evaluation = type(self)(self.build, self.draws, self.block)
            ends._own, ends._worked_by_own, ends._is_at_ends = self, self._worked, True
            self._ends = ends
        return self._ends

    def after(self, build: Build) -> Evaluation:
        """An evaluation of the changed build that keeps every draw, worked value and finding which did not look at what changed.

        What it gives is the same as if all had been worked out anew. Paths of files count from the folder of the build: in
        another folder all starts anew.
        """
        new = Evaluation(build, self.draws, self.block)
        if build.folder == self.build.folder:
            new._blocks = self._blocks
            known = self._kept
            new._kept = Kept(
                self.build,
                build,
                {**known.drawn, **self._drawn},
                {**known.derived, **self._worked},
                {**known.made, **self._made},
            )
        return new

    def kept(self, requirement: Requirement, asked: Hashable) -> Finding | Figure | None:
        """The finding or figure of an evaluation before, if no change concerns it; `asked` tells how it is asked for."""
        found = self._kept.finding(requirement, asked)
        if found is None:
            return None
        self._made[requirement.id] = found
        return found.result

    def keep(self, made: Made) -> None:
        """Remembers a finding or figure for the evaluation of a changed build."""
        self._made[made.requirement.id] = made

    def reads_file(self, path: Path) -> Path:
        """The path of a file that a value is read from, noted with the state of the file."""
        seen((FILE, (str(path), file_state(str(path)))))
        return path

    def part(self, kind: type[SomePart]) -> SomePart:
        """The part of a kind that a car has once. Raises MissingFact if the build has none."""
        found = self.build.first(kind)
        if found is None:
            raise MissingFact({kind.kind: f"this part is missing: {kind.in_words()}"})
        return found

    def of(
        self,
        function: Callable[Concatenate[Evaluation, Args], Result],
        *args: Args.args,
        **kwargs: Args.kwargs,
    ) -> Result:
        """A derived value, worked out once for a function and its arguments; the caller inherits the facts it read."""
        named = ((name, _identity(arg)) for name, arg in kwargs.items()) if kwargs else ()
        key = (function, *map(_identity, args), *named)
        worked = self._worked.get(key)
        if worked is None:
            made_from = (*args, *kwargs.values())
            worked = self._worked[key] = (
                self._same_by_own(key)
                or self._kept.value(key, made_from)
                or self._derived(function, args, kwargs, made_from)
            )
        seen(worked)
        if self._recorders:
            self._recorders[-1].update(worked.readings)
        if worked.missing:
            raise worked.missing
        return worked.result  # type: ignore[return-value]

    def _same_by_own(self, key: Hashable) -> Derived | None:
        """What the builder's own factors give, where none of them was read."""
        found = self._worked_by_own.get(key)
        if found is None or isinstance(found.result, Evaluation):  # another evaluation of the build reads on
            return None
        return None if any(map(self._reads_anew, found.readings.values())) else found

    def _derived(
        self, function: Callable[..., object], args: tuple[Any, ...], kwargs: dict[str, Any], made_from: tuple[Any, ...]
    ) -> Derived:
        with self.recording() as readings, watching() as looked_at:
            try:
                return Derived(function(self, *args, **kwargs), None, readings, looked_at, made_from)
            except MissingFact as missing:
                return Derived(None, missing, readings, looked_at, made_from)

    @contextmanager
    def recording(self) -> Iterator[dict[str, FactRef | CurveRef]]:
        """The facts read inside the block, by path, in the order they were first read."""
        readings: dict[str, FactRef | CurveRef] = {}
        self._recorders.append(readings)
        try:
            yield readings
        finally:
            self._recorders.pop()

    def inherit(self, readings: Mapping[str, FactRef | CurveRef]) -> None:
        """Counts facts as read that another evaluation of the same build has read for this one."""
        for recorder in self._recorders[-1:]:
            recorder.update(readings)

    def drawn(self, path: str) -> Array:
        """The draws of a fact or of a curve's scale that has been read before."""
        return (self._drawn.get(path) or self._kept.drawn[path]).draws

    def _record(self, ref: FactRef | CurveRef) -> None:
        part, _, fact = ref.path.partition(".")
        seen((part, fact.partition(".")[0]))
        if self._recorders:
            self._recorders[-1].setdefault(ref.path, ref)


def _identity(argument: object) -> Hashable:
    """Parts and facts are told apart by name: two views of one part are the same part."""
    if isinstance(argument, _REFS):
        return argument.path
    return getattr(argument, "name", argument)
