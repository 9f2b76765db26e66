"""A build: the parts on the car, which part is joined to which, and the options picked.

Answers   Build.from_document   a build from a document, with every problem in it
          Build                 parts by name, by kind, and along the line of drive
Not here  the file (toml_text.py); the facts of one part (parts/reading.py)
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import TYPE_CHECKING, Any, TypeVar, cast

from trialfit.book.problems import Located
from trialfit.book.renaming import document_now
from trialfit.parts import KINDS, Part
from trialfit.parts.declaring import RefSpec
from trialfit.parts.everyday import nearest_kind
from trialfit.parts.old_names import finding_now
from trialfit.parts.reading import nearest, read_part
from trialfit.parts.watching import Watched, seen, watching

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping
    from pathlib import Path

    from trialfit.book.document import ChoiceText, Document
    from trialfit.book.renaming import Renamed
    from trialfit.parts.reading import Problem

MOST_PARTS = 5000
SomePart = TypeVar("SomePart", bound=Part)
NO_PART_NAME = "not a valid part name: expected letters, digits, - and _, for example front_shaft"
_NAME = re.compile(r"[^\W\d][\w-]*")
_NO_WORD = re.compile(r"\W+")
OF_BUILD = ":"  # no part is called so: it begins the names of what a build notes of itself
_PARTS, _SPARE, _CHOICES, _LIMITS, _KIND, _NAMED = ":parts", ":spare", ":choices", ":limits", ":kind", ":named"
_OF_BUILD = {_PARTS: "parts", _SPARE: "spare", _CHOICES: "choices", _LIMITS: "limits"}


def is_part_name(name: str) -> bool:
    """Whether a part can have this name; NO_PART_NAME says what it should be."""
    return _NAME.fullmatch(name) is not None


@dataclass(frozen=True)
class Build:
    """The build as the parts understand it.

    `parts` holds the parts on the car. `spare` holds the options that were not picked.
    `folder` is the folder of the build's file; paths in the build are relative to it. None for a build without a file.
    `renamed` holds the old names found when it was read; the document and the parts have the present names.
    """

    document: Document
    parts: Mapping[str, Part]
    spare: Mapping[str, Part]
    folder: Path | None = None
    renamed: tuple[Renamed, ...] = ()

    def __post_init__(self) -> None:
        """Whoever looks at the parts is noted where something is worked out of them (parts/watching.py)."""
        object.__setattr__(self, "parts", Watched(_PARTS, self.parts))
        object.__setattr__(self, "spare", Watched(_SPARE, self.spare))

    @property
    def name(self) -> str:
        """The builder's name for the build."""
        return self.document.name

    @property
    def choices(self) -> Mapping[str, ChoiceText]:
        """The choices between several parts, and the option picked in each."""
        seen((_CHOICES, None))
        return self.document.choices

    @property
    def limits(self) -> Mapping[str, str]:
        """The limits set by the builder and by makers, as written, by the id of the finding."""
        seen((_LIMITS, None))
        return self.document.limits

    def all(self, kind: type[SomePart]) -> tuple[SomePart, ...]:
        """The parts of one kind on the car, in the order of the file."""
        seen((_KIND, kind))
        if kind not in self._by_kind:
            with watching():
                self._by_kind[kind] = tuple(part for part in self.parts.values() if isinstance(part, kind))
        return self._by_kind[kind]  # type: ignore[return-value]

    @cached_property
    def _by_kind(self) -> dict[type[Part], tuple[Part, ...]]:
        """A cache by kind: each kind is asked for hundreds of times."""
        return {}

    def first(self, kind: type[SomePart]) -> SomePart | None:
        """The one part of a kind that a car has once, or None."""
        return next(iter(self.all(kind)), None)

    def named(self, name: str | None) -> Part | None:
        """The part with that name; for the name of a choice, the part picked. None if neither exists."""
        if name is None:
            return None
        seen((_NAMED, name))  # that says it all: the parts are looked up without notes of their own
        choice = self.document.choices.get(name)
        parts = cast("dict[str, Part]", self.parts)
        found = dict.get(parts, name)
        return dict.get(parts, choice.picked) if found is None and choice is not None else found

    def found(self, owner: str, which: Any) -> object:  # noqa: ANN401 - a name, a kind or None
        """What is found where something was looked at: by it is told whether a change concerns it."""
        with watching():
            if owner == _KIND:
                return [(part.name, type(part)) for part in self.all(which)]
            if owner == _NAMED:
                part = self.named(which)
                return part and (part.name, type(part))
            if owner in _OF_BUILD:
                return _in(getattr(self, _OF_BUILD[owner]), which)
            part = self.parts.get(owner) or self.spare.get(owner)
            return part and (type(part), dict(part.values) if which is None else part.values.get(which))

    def untouched_in(self, after: Build) -> set[str] | None:
        """The parts that a changed build has from this one, if facts of parts are all that was changed; else None, and each thing is to be looked at."""
        with watching():
            both = [(self.parts, after.parts), (self.spare, after.spare)]
            if self.document is not after.document or any(_in(mine, None) != _in(its, None) for mine, its in both):
                return None
            return {name for mine, its in both for name, part in mine.items() if its[name] is part}

    @classmethod
    def from_document(cls, document: Document) -> tuple[Build, list[Located]]:
        """The build from a document, and every problem in it, one sentence each."""
        if len(document.parts) > MOST_PARTS:
            says = f"has {len(document.parts)} parts: expected at most {MOST_PARTS}; keep only the parts that findings need"
            return cls(document, {}, {}), [Located("", says)]
        document, renamed = document_now(document)
        parts: dict[str, Part] = {}
        problems = [*_limits_twice(document)]
        for name, text in document.parts.items():
            if not is_part_name(name):
                problems.append(Located(name, f"is {NO_PART_NAME}"))
            if text.kind not in KINDS:
                problems.append(_no_kind(name, text.kind))
                continue
            parts[name], faults = _part_read(name, text.kind, tuple(text.entries.items()))
            problems += [Located(fault.path, fault.says) for fault in faults]
        problems += _choice_problems(document, parts)
        spare = {name for choice in document.choices.values() for name in choice.options if name != choice.picked}
        build = cls(
            document,
            {name: part for name, part in parts.items() if name not in spare},
            {name: part for name, part in parts.items() if name in spare},
            renamed=renamed,
        )
        problems += [*_clashes(build), *_ref_problems(build), *_cycles(build)]
        return build, problems


@lru_cache(maxsize=1024)  # a change leaves all parts but one as they were, and books are read again and again
def _part_read(
    name: str, kind: str, entries: tuple[tuple[str, str | tuple[str, ...]], ...]
) -> tuple[Part, tuple[Problem, ...]]:
    part, problems = read_part(name, KINDS[kind], dict(entries))
    return part, tuple(problems)


def _in(entries: Mapping[str, object], which: str | None) -> object:
    """What is found of parts, choices or limits; of parts their kinds in the order they stand in."""

    def outline(entry: object) -> object:
        return type(entry) if isinstance(entry, Part) else entry

    if which is not None:
        return outline(entries.get(which))
    return [(name, outline(entry)) for name, entry in entries.items()]


def _limits_twice(document: Document) -> Iterator[Located]:
    for identifier in document.limits:
        now = finding_now(identifier)
        if now != identifier:
            yield Located(
                f"limit.{identifier}", f'is now called "{now}", and that has a limit too: keep one of the two'
            )


def _no_kind(name: str, kind: str) -> Located:
    if kind:
        return Located(f"{name}.kind", f'has the unknown kind "{kind}": {nearest_kind(kind)}')
    hint = f'add kind = "..." to the table, or name the table after its kind; {nearest_kind(name)}'
    return Located(name, f"has an unknown kind: {hint}")


def _choice_problems(document: Document, parts: Mapping[str, Part]) -> Iterator[Located]:
    seen: dict[str, str] = {}
    for name, choice in document.choices.items():
        path = f"choice.{name}"
        if not choice.picked:
            yield Located(
                path, f"has no part picked: write picked = one of {', '.join(choice.options) or 'its options'}"
            )
        elif choice.picked not in choice.options:
            yield Located(f"{path}.picked", f'is "{choice.picked}": {nearest(choice.picked, choice.options)}')
        for option in choice.options:
            if option not in document.parts:
                yield Located(f"{path}.options", f'names "{option}", which is not a part: {nearest(option, parts)}')
            elif option in seen:
                yield Located(f"{path}.options", f'names "{option}", which is already in choice.{seen[option]}')
            seen.setdefault(option, name)


def _clashes(build: Build) -> Iterator[Located]:
    holders: dict[str, str] = {}
    for part in build.parts.values():
        place = part.claims
        if place in holders:
            cure = f"remove one, or put both in a choice: [choice.{_NO_WORD.sub('_', place)}]"
            yield Located(part.name, f"has the place {place}, which {holders[place]} already has: {cure}")
        elif place:
            holders[place] = part.name


def _refs(part: Part) -> Iterator[tuple[str, RefSpec, str]]:
    for key, spec in part.specs().items():
        if isinstance(spec, RefSpec) and isinstance(part.values.get(key), str):
            yield key, spec, str(part.values[key])


def _ref_problems(build: Build) -> Iterator[Located]:
    for part in build.parts.values():
        for key, spec, target in _refs(part):
            path = f"{part.name}.{key}"
            found = build.named(target)
            if target in build.spare:
                yield Located(
                    path, f'is "{target}", which is not the picked option: write the name of the choice instead'
                )
            elif found is None:
                fitting = [name for name, other in build.parts.items() if other.kind in spec.kinds]
                yield Located(
                    path, f'is "{target}", which is not a part of this build: {nearest(target, fitting or build.parts)}'
                )
            elif found.kind not in spec.kinds:
                yield Located(path, f'is "{target}", a {found.kind}: expected a {" or ".join(spec.kinds)}')


def _cycles(build: Build) -> Iterator[Located]:
    seen: set[str] = set()
    for start in build.parts.values():
        line: list[str] = []
        part: Part | None = start
        while part is not None and part.name not in line and part.name not in seen:
            line.append(part.name)
            part = next((build.named(target) for _, _, target in _refs(part)), None)
        if part is not None and part.name in line:
            loop = [*line[line.index(part.name) :], part.name]
            yield Located(
                f"{line[-1]}.after",
                f"makes a loop: {' after '.join(loop)}; expected a line from gearbox to final drive",
            )
        seen.update(line)
