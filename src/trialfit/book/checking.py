"""What may be written into a book: the shape of a value, and whether the parts understand it.

Answers   check_shape     a change that has no place, no sense, or a value of the wrong shape is refused
          adapter_of      what checks the shape of a value
          both            two checks one after the other
          check_text      signs that are not text are refused
          check_sound     a build that is worse off than before is refused, with what the parts say
Not here  who may change what when (journal.py); what a part's entries mean (parts/reading.py)
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from pydantic import TypeAdapter, ValidationError

from trialfit.book.build import Build
from trialfit.book.changes import document, is_needed, shape_at
from trialfit.book.problems import BadInput
from trialfit.book.refusals import Refused, shown
from trialfit.book.work_text import GROUPS, entry_keys

if TYPE_CHECKING:
    from collections.abc import Callable

    from trialfit.book.changes import Change, State

    Check = Callable[[State, State], None]

LONGEST = 100_000  # signs of one value; the torque curve of an engine has about 300
_NAME = re.compile(r"[^\W\d][\w-]*")
_RESERVED = ("format", "limit", "choice", "attachment", *GROUPS.values())
_NUMBER = re.compile(r"[1-9][0-9]{0,8}")


def check_shape(change: Change, where: object) -> None:
    """Raises Refused where a change has no place, changes nothing, or has not the shape that belongs to its path."""
    path, after = change.path, change.after
    _check_path(path, where)
    if change.before == after:
        raise Refused(where, path, f"is {shown(after)} already: nothing to change")
    check_text(f"{change.note}{change.key}{path}{after}", path, where)
    if len(str(after)) > LONGEST:
        raise Refused(where, path, f"is {len(str(after))} signs long: at most {LONGEST} are kept")
    if after is None:
        if is_needed(path):
            whole = path.rpartition(".")[0] or "the build"
            raise Refused(where, path, f"cannot be taken out, only changed; or take out the whole of {whole}")
        return
    try:
        adapter_of(path).validate_python(after)
    except ValidationError as wrong:
        fault = wrong.errors()[0]
        inner = ".".join(str(step) for step in fault["loc"] if isinstance(step, str) and step.isidentifier())
        raise Refused(
            where, path, f"cannot be {shown(after)}: {inner} {fault['msg'].lower()}".replace("  ", " ")
        ) from None


def check_sound(where: object) -> Check:
    """A check for Book.write: raises BadInput where the changed build has a problem that it did not have before.

    A problem that was there already, say because a newer program is stricter, does not stop the builder from mending others.
    """

    def check(old: State, new: State) -> None:
        _, problems = Build.from_document(document(new))
        if problems:
            known = set(Build.from_document(document(old))[1])
            fresh = [problem for problem in problems if problem not in known]
            if fresh:
                raise BadInput(str(where), fresh)

    return check


def both(first: Check, second: Check) -> Check:
    """Two checks one after the other."""

    def check(old: State, new: State) -> None:
        first(old, new)
        second(old, new)

    return check


def _check_path(path: str, where: object) -> None:
    first, _, rest = path.partition(".")
    if first == "limit":
        if not rest:
            raise Refused(
                where, path, "names no finding: write it as limit.FINDING, for example limit.gearing.speedometer"
            )
        return
    if first in GROUPS.values() and rest:
        _check_work_path(path, where)
        return
    if first in ("choice", "attachment"):
        first, _, rest = rest.partition(".")
        if path.startswith("attachment.") and rest:
            raise Refused(where, path, "goes too deep: an attachment is written as a whole")
        if rest and rest not in ("options", "picked", "note"):
            raise Refused(where, path, "has no place: a choice has options, picked and note")
    elif first in _RESERVED:
        raise Refused(where, path, f"is not a name for a part: {first} has a meaning of its own in a build")
    if not _NAME.fullmatch(first) or (rest and not _NAME.fullmatch(rest)):
        raise Refused(where, path, "is not a path: expected letters, digits, - and _, for example front_shaft.length")
    if path in ("name.", "story.") or (first in ("name", "story") and rest):
        raise Refused(where, path, f"is not a path: {first} is one text, and no name for a part")


def _check_work_path(path: str, where: object) -> None:
    first, name, *keys = path.split(".")
    known = entry_keys(path)
    if first == "work":
        if keys or not _NUMBER.fullmatch(name):
            raise Refused(where, path, "is not a path: what was done has a number and is written as a whole")
        return
    if first in ("workshop", "reading"):
        keys = [name, *keys]
    elif not _NAME.fullmatch(name):
        raise Refused(where, path, f"is not a path: expected {first}.NAME, in letters, digits, - and _")
    if len(keys) > 1 or any(not _NAME.fullmatch(key) for key in keys):
        raise Refused(where, path, "goes too deep, or has signs that no name has: expected letters, digits, - and _")
    if known is not None and any(key not in known for key in keys):
        raise Refused(where, path, f"has no meaning: known are {', '.join(known)}")


def check_text(text: str, path: str, where: object) -> None:
    """Raises Refused where a text holds what cannot be written as UTF-8."""
    try:
        text.encode()
    except UnicodeEncodeError:
        raise Refused(
            where, path.encode(errors="replace").decode(), "holds signs that are not text: write it as UTF-8"
        ) from None


def adapter_of(path: str) -> TypeAdapter[Any]:
    """What checks the shape of a value at a path."""
    return _adapter(shape_at(path))


@lru_cache
def _adapter(shape: Any) -> TypeAdapter[Any]:  # noqa: ANN401 - a type or a union of types
    return TypeAdapter(shape)
