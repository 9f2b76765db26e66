"""A page for each kind of part: the facts it takes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from generating.writing import contents, sentence, table
from trialfit.parts.describing import describe_kinds

if TYPE_CHECKING:
    from trialfit.parts.describing import FactPage, KindPage

_HEADER = ("fact", "meaning", "takes", "typical, while nobody has written it", "source of the typical value")


def kind_pages() -> dict[str, str]:
    """The pages by path."""
    kinds = describe_kinds().kinds
    index = "\n".join(
        [
            "# Kinds of part",
            "",
            "What a build can hold. `trialfit kinds KIND` prints the same.",
            "",
            contents(kind.kind for kind in kinds),
        ]
    )
    return {"kinds/index.md": index, **{f"kinds/{kind.kind}.md": _page(kind) for kind in kinds}}


def _page(kind: KindPage) -> str:
    how_many = "A car has one." if kind.place else "A car may have several."
    pieces = [f"# {kind.kind}", sentence(f"{kind.says} {how_many}"), sentence(kind.remarks)]
    return "\n\n".join([*filter(None, pieces), table(_HEADER, map(_row, kind.facts))])


def _row(fact: FactPage) -> tuple[str, ...]:
    takes = ", ".join(
        filter(
            None, [fact.takes, fact.unit and f"shown in {fact.unit}", fact.bounds, fact.usual and f"usual {fact.usual}"]
        )
    )
    return fact.name, fact.meaning, takes, fact.typical or fact.default, fact.source
