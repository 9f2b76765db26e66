"""An order in which everything comes after what it needs; where a circle makes that impossible, the circle.

Answers   in_order    names in an order in which they can be done; what lies on or behind a circle is left out
          cycle_of    the circle, with its youngest link last
Not here  the jobs themselves (network.py)
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.book.problems import Located

if TYPE_CHECKING:
    from collections.abc import Mapping
    from collections.abc import Set as AbstractSet


def in_order(before: Mapping[str, tuple[str, ...]]) -> list[str]:
    """The names so that each stands behind all that it needs; as near to the given order as that allows."""
    after: dict[str, list[str]] = {name: [] for name in before}
    left = {}
    for name, needed in before.items():
        left[name] = len(needed)
        for one in needed:
            after[one].append(name)
    free = [name for name in before if not left[name]]
    order = []
    for name in free:  # grows while it is walked
        order.append(name)
        for one in after[name]:
            left[one] -= 1
            if not left[one]:
                free.append(one)
    return order


def cycle_of(
    before: Mapping[str, tuple[str, ...]], stuck: AbstractSet[str], ranks: Mapping[tuple[str, str], int]
) -> Located:
    """The circle among the names that cannot be ordered, in one sentence; `ranks` says when a link was written."""
    name = next(one for one in before if one in stuck)
    line: list[str] = []
    while name not in line:
        line.append(name)
        name = next(one for one in before[name] if one in stuck)
    circle = line[line.index(name) :]
    links = [(job, circle[(place + 1) % len(circle)]) for place, job in enumerate(circle)]
    youngest = max(links, key=lambda link: ranks.get(link, 0))
    begin = (links.index(youngest) + 1) % len(circle)
    turned = [*circle[begin:], *circle[:begin]]
    told = " needs ".join([*turned, turned[0]])
    says = f"closes a circle: {told}; the link written last is {youngest[0]} needs {youngest[1]}: take it out"
    return Located(f"job.{youngest[0]}.needs", says)
