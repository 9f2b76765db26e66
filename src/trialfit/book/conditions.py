"""The conditions under which a row of a table holds for a build.

Answers   holds    whether all the words of a condition are so: "engine.runs_on=electricity", "car.driven_axle!=front",
                   "gauge.series_resistor" (the fact is written), "!prop_shaft.rear_x" (it is not)
Not here  the conditions themselves (planning/jobs.csv, loose_ends.csv, gates.csv; subjects/register.csv)
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from trialfit.parts import KINDS
from trialfit.parts.declaring import WordSpec

if TYPE_CHECKING:
    from trialfit.book.build import Build
    from trialfit.parts import Part

_WORD = re.compile(r"(!?)(\w+)\.(\w+)(?:(!?=)(\w+))?")


def holds(build: Build, words: tuple[str, ...], about: Part | None = None) -> bool:
    """Whether every word holds. A missing fact counts as the kind's default; without a default, as any word.

    A word on the kind of `about` is looked up in that part, else in the first part of its kind.
    """
    return all(_holds(build, word, about) for word in words)


def _holds(build: Build, word: str, about: Part | None) -> bool:
    found = _WORD.fullmatch(word)
    if not found:
        raise ValueError(
            f'unknown condition "{word}": expected kind.fact=word, kind.fact!=word, kind.fact or !kind.fact'
        )
    turned, kind, key, sign, value = found.groups()
    spec = KINDS[kind].specs()[key]
    part = about if about is not None and about.kind == kind else build.first(KINDS[kind])
    written = part.values.get(key) if part else None
    if not sign:
        return (written is None) is bool(turned)
    default = spec.default if isinstance(spec, WordSpec) else None
    known = written if isinstance(written, str) else default
    if known is None:
        return True
    return (known.replace(" ", "_") == value) is (sign == "=")
