"""The loads on the runs of a weld, and the force per length at the worst point of them.

Answers   loads_on                  the loads on its pattern, (comings, draws)
          width                     of the pattern
          force_per_length          at the worst point of the pattern
          force_beside              the same as a tension in the plate beside it
          force_round_the_doubler   the same on the outline of its doubler plate
Not here  what the weld and the metal beside it bear (welds.py); the load itself and its reach (loads.py)
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.handbook.structure.weld_lines import plate_force, shared_force, weld_group
from trialfit.subjects.structure import loads

if TYPE_CHECKING:
    from collections.abc import Callable

    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array, Numbers
    from trialfit.handbook.structure.weld_lines import WeldGroup
    from trialfit.parts import FactRef, Weld


@dataclass(frozen=True)
class Loads:
    """Loads on a pattern: N and m; down, aside and pull (comings, draws) or (draws,), reach (draws,)."""

    down: Array
    aside: Array
    pull: Array
    reach: Array


def loads_on(ev: Evaluation, weld: Weld) -> Loads:
    """The loads on a weld at their worst, and how far out of its face they stand. Raises MissingFact."""
    if weld.carries is None:
        ev.each(weld.load, weld.load_factor, weld.reach)
    aside, pull = (_at_worst(ev, weld, ref) for ref in (weld.side_load, weld.pull))
    return Loads(ev.of(loads.forces, weld), aside, pull, ev.of(loads.reach, weld))


def _at_worst(ev: Evaluation, weld: Weld, ref: FactRef) -> Array:
    """A load that counts only where it is written."""
    return np.asarray(ev(ref) * ev(weld.load_factor)) if ref.written else np.zeros(ev.draws)


def pattern_of(ev: Evaluation, weld: Weld) -> WeldGroup:
    """The runs of a weld. Raises MissingFact."""
    if weld.pattern is None:
        raise MissingFact({f"{weld.name}.pattern": "pattern of the runs"})
    depth = ev(weld.depth)
    return weld_group(weld.pattern, width(ev, weld), depth)


def width(ev: Evaluation, weld: Weld) -> Array:
    """Width of the pattern, m; one where it has none."""
    return ev(weld.width) if weld.pattern not in {"one upright", "circle"} else np.ones(ev.draws)


def _lever(ev: Evaluation, weld: Weld, group: WeldGroup) -> Array:
    """Distance of the load to the right of the centre of the runs, m: in a channel they lie nearer to its upright run."""
    if weld.offset.written is None and weld.pattern != "channel":
        return np.zeros(ev.draws)
    offset = ev(weld.offset) if weld.offset.written else np.zeros(ev.draws)
    if weld.pattern != "channel":
        return offset
    if weld.legs is None and weld.offset.written:
        raise MissingFact({f"{weld.name}.legs": weld.specs()["legs"].says})
    middle = width(ev, weld) / 2 - np.asarray(group.across_centre)
    return np.asarray(middle - offset if weld.legs == "away from the load" else middle + offset)


def force_per_length(ev: Evaluation, weld: Weld) -> Array:
    """Force per length at the worst point of its runs, N/m, (comings, draws)."""
    group, on = ev.of(pattern_of, weld), ev.of(loads_on, weld)
    return _shared(group, on, _lever(ev, weld, group))


def force_beside(ev: Evaluation, weld: Weld) -> Array:
    """Tension per length in the plate beside its runs at the worst point, N/m, (comings, draws)."""
    group, on = ev.of(pattern_of, weld), ev.of(loads_on, weld)
    return _shared(group, on, _lever(ev, weld, group), plate_force)


def force_round_the_doubler(ev: Evaluation, weld: Weld) -> Array:
    """The same on the outline of its doubler plate, welded all round."""
    on = ev.of(loads_on, weld)
    group = weld_group("all round", *ev.each(weld.doubler_width, weld.doubler_depth))
    offset = ev(weld.offset) if weld.offset.written else np.zeros(ev.draws)
    return _shared(group, on, offset, plate_force)


def _shared(group: WeldGroup, on: Loads, lever: Array, share: Callable[..., Numbers] = shared_force) -> Array:
    return np.asarray(
        share(
            group,
            down=on.down,
            aside=on.aside,
            pull=on.pull,
            upright_moment=on.down * on.reach,
            sideways_moment=on.aside * on.reach,
            twist=on.down * lever,
        )
    )
