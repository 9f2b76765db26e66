"""The conditions under which a build has a usual job.

Answers   holds    whether all the words of a condition are so: "engine.runs_on=electricity", "car.driven_axle!=front"
Not here  the conditions themselves (jobs.csv, loose_ends.csv, gates.csv)
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from trialfit.parts import KINDS
from trialfit.parts.declaring import WordSpec

if TYPE_CHECKING:
    from trialfit.book.build import Build

_WORD = re.compile(r"(\w+)\.(\w+)(!?=)(\w+)")


def holds(build: Build, words: tuple[str, ...]) -> bool:
    """Whether every word holds. A missing fact counts as the kind's default; without a default, as any word."""
    return all(_holds(build, word) for word in words)


def _holds(build: Build, word: str) -> bool:
    found = _WORD.fullmatch(word)
    if not found:
        raise ValueError(f'unknown condition "{word}": expected kind.fact=word or kind.fact!=word')
    kind, key, sign, value = found.groups()
    spec = KINDS[kind].specs()[key]
    part = build.first(KINDS[kind])
    written = part.values.get(key) if part else None
    default = spec.default if isinstance(spec, WordSpec) else None
    known = written if isinstance(written, str) else default
    if known is None:
        return True
    return (known.replace(" ", "_") == value) is (sign == "=")
