"""The page of what can be written twice: each thing, and the ways to say it."""

from __future__ import annotations

from generating.writing import table
from trialfit.facts.showing import show
from trialfit.facts.units import display_unit
from trialfit.subjects.measuring.twice import Relation, relations

_ABOUT = """\
Where a build says one of these things in two ways or more, the finding is `measuring.agree.PART.WHAT`. "At most": the first way
must not exceed the others. `within` is a difference that does not matter. [Measuring](../measuring.md) says how they are compared."""


def twice_page() -> dict[str, str]:
    """The page by its path."""
    header = ("of", "what", "ways to say it", "compared", "stake", "within", "source")
    return {
        "written_twice.md": "\n\n".join(["# What can be written twice", _ABOUT, table(header, map(_row, relations()))])
    }


def _row(one: Relation) -> tuple[str, ...]:
    ways = "; ".join(dict.fromkeys(way.said_by for way in one.ways))
    compared = "at most" if one.one_sided else "same"
    return (
        one.kind,
        f"{one.id}: {one.what}",
        ways,
        compared,
        one.stake,
        show(one.within, display_unit(one.quantity)),
        one.source,
    )
