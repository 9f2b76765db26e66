"""Names that kinds, facts, words and findings had before: still read, never written.

Answers   kind_now, fact_now, word_now, finding_now    what a name is called now; a name of today is left as it is
          may_be_old     whether a text can have an old name in it at all, told fast
          drawn_as       the name that a fact draws under: its first one, so that a new name moves no figure
          old_facts      the facts of a kind that have a new name
          OLD_NAMES      the whole table
Not here  old names in a build (book/renaming.py)

The table is old_names.csv: `what` is a kind, fact, word or finding; `of` is the kind that the fact belongs to, or the fact
that takes the word, both as they are called now. An old finding stands for all whose id begins with it.
"""

from __future__ import annotations

import csv
from importlib.resources import files
from typing import NamedTuple


class OldName(NamedTuple):
    """One row of the table."""

    what: str
    of: str
    old: str
    new: str


def _table() -> tuple[OldName, ...]:
    text = files("trialfit.parts").joinpath("old_names.csv").read_text(encoding="utf-8")
    return tuple(OldName(**row) for row in csv.DictReader(text.splitlines()))


OLD_NAMES = _table()
_NOW = {(one.what, one.of, one.old): one.new for one in OLD_NAMES}
_FIRST = {(one.of, one.new): one.old for one in reversed(OLD_NAMES) if one.what == "fact"}
_PIECES = {piece for one in OLD_NAMES for piece in one.old.split(".")}
_FINDINGS = {one.old: one.new for one in OLD_NAMES if one.what == "finding"}


def may_be_old(text: str) -> bool:
    """Whether a kind, fact, word, path or id can have an old name in it. Most have none, and that is told fast.

    >>> may_be_old("taped_point.height"), may_be_old("engine.mass"), may_be_old("900 ± 10.5 kg")
    (True, False, False)
    """
    return not _PIECES.isdisjoint(text.split("."))


def kind_now(kind: str) -> str:
    """What a kind of part is called now.

    >>> kind_now("given_back"), kind_now("engine")
    ('reinforcement', 'engine')
    """
    return _NOW.get(("kind", "", kind), kind)


def fact_now(kind: str, fact: str) -> str:
    """What a fact of a kind is called now; the kind by its old or new name.

    >>> fact_now("taped_point", "height"), fact_now("solid", "height")
    ('z', 'height')
    """
    return _NOW.get(("fact", kind_now(kind), fact), fact)


def word_now(kind: str, fact: str, word: str) -> str:
    """What a word that a fact takes is called now.

    >>> word_now("power_unit", "layout", "across")
    'transverse'
    """
    return _NOW.get(("word", f"{kind_now(kind)}.{fact_now(kind, fact)}", word), word)


def finding_now(identifier: str) -> str:
    """What a finding is called now, by its id.

    >>> finding_now("structure.weld_room.arm")
    'structure.torch_access.arm'
    """
    for old, new in _FINDINGS.items():
        if identifier == old or identifier.startswith(f"{old}."):
            return new + identifier.removeprefix(old)
    return identifier


def old_facts(kind: str) -> dict[str, str]:
    """The facts of a kind that have a new name: old to new."""
    return {one.old: one.new for one in OLD_NAMES if one.what == "fact" and one.of == kind_now(kind)}


def drawn_as(kind: str, fact: str) -> str:
    """The name that a fact of a kind draws under: the first that it had.

    >>> drawn_as("engine", "application_factor"), drawn_as("engine", "max_speed")
    ('shock_factor', 'max_speed')
    """
    return _FIRST.get((kind, fact), fact)
