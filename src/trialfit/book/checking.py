"""What may be written into a book: the shape of a value, and whether the parts can read it.

Answers   check_shape     refuses a change without a place, without effect, or with a value of the wrong shape
          adapter_of      the checker for the shape of a value
          both            runs two checks one after the other
          check_text      refuses characters that are not text
          check_sound     refuses a build with a new problem, with the message of the part
Not here  when a change is allowed (journal.py); what a part's entries mean (parts/reading.py)
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

LONGEST = 100_000  # characters of one value; the torque curve of an engine has about 300
_NAME = re.compile(r"[^\W\d][\w-]*")
_RESERVED = ("format", "limit", "choice", "attachment", *GROUPS.values())
_NUMBER = re.compile(r"[1-9][0-9]{0,8}")


def check_shape(change: Change, where: object) -> None:
    """Raises Refused if a change has no place, changes nothing, or has the wrong shape for its path."""
    path, after = change.path, change.after
    _check_path(path, where)
    if change.before == after:
        raise Refused(where, path, f"is already {shown(after)}: nothing to change")
    check_text(f"{change.note}{change.key}{path}{after}", path, where)
    if len(str(after)) > LONGEST:
        raise Refused(where, path, f"is {len(str(after))} characters long: expected at most {LONGEST}")
    if after is None:
        if is_needed(path):
            whole = path.rpartition(".")[0] or "the build"
            raise Refused(where, path, f"cannot be removed, only changed; or remove the whole of {whole}")
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
    """A check for Book.write: raises BadInput if the changed build has a new problem.

    An old problem, for example from a stricter new program, does not stop the builder from fixing others.
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
                where, path, "has no finding: write it as limit.FINDING, for example limit.gearing.speedometer"
            )
        return
    if first in GROUPS.values() and rest:
        _check_work_path(path, where)
        return
    if first in ("choice", "attachment"):
        first, _, rest = rest.partition(".")
        if path.startswith("attachment.") and rest:
            raise Refused(where, path, "is too long: an attachment is written as a whole")
        if rest and rest not in ("options", "picked", "note"):
            raise Refused(where, path, "is an unknown entry: a choice has options, picked and note")
    elif first in _RESERVED:
        raise Refused(where, path, f"is not a valid part name: {first} is reserved for another use in a build")
    if not _NAME.fullmatch(first) or (rest and not _NAME.fullmatch(rest)):
        raise Refused(where, path, "is not a path: expected letters, digits, - and _, for example front_shaft.length")
    if path in ("name.", "story.") or (first in ("name", "story") and rest):
        raise Refused(where, path, f"is not a path: {first} is one text, not a part")


def _check_work_path(path: str, where: object) -> None:
    first, name, *keys = path.split(".")
    known = entry_keys(path)
    if first == "work":
        if keys or not _NUMBER.fullmatch(name):
            raise Refused(where, path, "is not a path: an entry of the work log has a number and is written as a whole")
        return
    if first in ("workshop", "reading"):
        keys = [name, *keys]
    elif not _NAME.fullmatch(name):
        raise Refused(where, path, f"is not a path: expected {first}.NAME, in letters, digits, - and _")
    if len(keys) > 1 or any(not _NAME.fullmatch(key) for key in keys):
        raise Refused(
            where, path, "is too long or has characters that a name cannot have: expected letters, digits, - and _"
        )
    if known is not None and any(key not in known for key in keys):
        raise Refused(where, path, f"is an unknown entry: expected one of {', '.join(known)}")


def check_text(text: str, path: str, where: object) -> None:
    """Raises Refused if a text has characters that cannot be written as UTF-8."""
    try:
        text.encode()
    except UnicodeEncodeError:
        raise Refused(
            where, path.encode(errors="replace").decode(), "has characters that are not text: write it as UTF-8"
        ) from None


def adapter_of(path: str) -> TypeAdapter[Any]:
    """The checker for the shape of a value at a path."""
    return _adapter(shape_at(path))


@lru_cache
def _adapter(shape: Any) -> TypeAdapter[Any]:  # noqa: ANN401 - a type or a union of types
    return TypeAdapter(shape)
