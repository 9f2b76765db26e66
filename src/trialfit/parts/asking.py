"""Whether an unusual value is meant: the question, and the facts of a part that can be asked about.

Answers   asked          "is 65000 rpm, usual is ...", with what to write where it is meant
          to_confirm     "Really? If it is correct, write ..."
          written_refs   every fact, item of a list and curve that is written for a part
Not here  what is usual (ranges.py)
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.parts.declaring import CurveRef, FactRef
from trialfit.parts.ranges import CONFIRMED

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.parts.declaring import Part


def asked(ref: FactRef | CurveRef) -> str:
    """The question about an unusual value, as it follows its path; "" where nothing is to be asked."""
    if not ref.unusual or ref.written is None:
        return ""
    return f"is {ref.unusual}. {to_confirm(ref)}"


def to_confirm(ref: FactRef | CurveRef) -> str:
    """Whether a written value is meant, and what to write where it is."""
    if ref.written is None:
        return ""
    what = str(ref.written).partition("\n")[0].partition(";")[0].strip()
    where = "write" if isinstance(ref, FactRef) else "begin the curve with"
    note = f"{CONFIRMED}, {ref.written.note}" if ref.written.note else CONFIRMED
    return f'Really? If it is correct, {where} "{what}; {note}"'


def written_refs(part: Part) -> Iterator[FactRef | CurveRef]:
    """Every fact, item of a list and curve that is written for a part, in the order of its kind."""
    for name in part.specs():
        if name in part.values:
            found = getattr(part, name)
            for ref in found if isinstance(found, tuple) else (found,):
                if isinstance(ref, FactRef | CurveRef) and ref.written is not None:
                    yield ref
