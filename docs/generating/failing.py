"""The page of the register: how each kind of part fails, what judges it, how to see it by hand."""

from __future__ import annotations

from generating.writing import table
from trialfit.parts import KINDS
from trialfit.subjects.register import register

_ABOUT = """\
What judges a row are ids of findings; `*` stands for any name. A row without one is seen by hand. `before` is the gate by which
to look. [What nothing judges](../unjudged.md) says how a build uses it."""


def register_page() -> dict[str, str]:
    """The page by its path."""
    pieces = ["# Register of failures", _ABOUT]
    for kind in KINDS:
        rows = [
            (
                ": ".join(filter(None, (mode.about, mode.fails))),
                mode.stake,
                ", ".join(mode.judged_by) or "not judged",
                mode.by_hand,
                mode.before,
                mode.source,
            )
            for mode in register()
            if mode.kind == kind
        ]
        pieces += [f"## {kind}", table(("how it fails", "stake", "judged by", "see by hand", "before", "source"), rows)]
    return {"register.md": "\n\n".join(pieces)}
