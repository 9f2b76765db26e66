"""The load of a bracket, a weld or a group of spots: how often it comes, and how hard.

Answers   comings      the ways in which the load comes: once in the car's life, or repeatedly; of a mount both
          forces       the load in the direction of the depth in each of them, N, (comings, draws)
          in_comings   a value (comings, draws) as a value in states
          how_often    the same in words
          unheeded     a remark on a "once" that does not count
          greater      a remark on a load or reach that is written beside that of the bracket
          reach        the greater of both reaches
          chain        what a weld holds, and what that carries, down to the mount
Not here  the loads on the mounts (subjects/power_unit.py)
Rule      How often a load comes belongs to the load: a weld takes it from the bracket that it holds. The worst load of a mount, of
          bump, stop or shock, comes once; its everyday load repeats, and both are judged. "repeated", wherever it is written along
          the chain, makes the worst load repeat too. Of a load that is written and one that is carried the greater counts. "once" on a weld alone does not
          make its bracket's load come once; of a load of its own it counts only if `once_as` says what that is (margins.counts_as).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.states import InStates
from trialfit.facts.quantity import FORCE, LENGTH
from trialfit.facts.showing import show
from trialfit.facts.units import display_unit
from trialfit.parts import Bracket, Mount, SpotWelds, Weld
from trialfit.subjects import power_unit
from trialfit.subjects.structure.margins import counts_as, in_life, once_unsaid

if TYPE_CHECKING:
    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import FactRef, Part

    Carrier = Bracket | Weld | SpotWelds


@dataclass(frozen=True)
class Coming:
    """One way in which a load comes: its name as a state, how often, and whether it is the everyday load of a mount."""

    name: str
    repeats: str
    everyday: bool = False


WORST_ONCE = Coming("worst load, once", "once")
WORST_OFTEN = Coming("worst load, repeated", "repeated")
EVERYDAY = Coming("everyday load, repeated", "repeated", everyday=True)


def chain(build: Build, part: Part) -> tuple[Part, ...]:
    """The part, what it carries, and so on; the last is the one whose load it is."""
    found = [part]
    while (following := build.named(getattr(found[-1], "carries", None))) is not None and following not in found:
        found.append(following)
    return tuple(found)


def comings(build: Build, part: Carrier) -> tuple[Coming, ...]:
    """The ways in which its load comes."""
    links = chain(build, part)
    written = {link.values.get("repeats") for link in links}
    if isinstance(links[-1], Mount):
        return (WORST_OFTEN,) if "repeated" in written else (WORST_ONCE, EVERYDAY)
    end = links[-1]
    own = counts_as(end) if isinstance(end, Bracket | Weld | SpotWelds) else "repeated"
    return (Coming("", "repeated" if "repeated" in written else own),)


def how_often(build: Build, part: Carrier) -> str:
    """How often its load comes, as it stands in a sentence."""
    ways = comings(build, part)
    if len(ways) > 1:
        return "once in the car's life at its worst and repeatedly in everyday driving"
    return in_life(ways[0].repeats)


def unheeded(build: Build, part: Carrier) -> str:
    """What is said of a "once" that is written and does not count; nothing where there is none."""
    links = chain(build, part)
    end = links[-1]
    if isinstance(end, Bracket | Weld | SpotWelds) and (unsaid := once_unsaid(end)):
        return unsaid
    if part.values.get("repeats") != "once" or all(way.repeats == "once" for way in comings(build, part)):
        return ""
    if isinstance(end, Mount):
        return f'{part.name}.repeats "once" does not count: the everyday load of {end.name} repeats'
    return f'{part.name}.repeats "once" does not count: how often the load comes is said by {end.name}.repeats'


def forces(ev: Evaluation, part: Carrier) -> Array:
    """The load in the direction of the depth in each coming, N, (comings, draws): of the end of its chain, or what is written
    on the way there, whichever is greater. Raises MissingFact.
    """
    *before, end = chain(ev.build, part)
    if isinstance(end, Mount):
        carried = np.stack([_of_mount(ev, end, way) for way in comings(ev.build, part)])
    elif isinstance(end, Bracket | Weld | SpotWelds):
        carried = _written(ev, end)[None]
    else:
        carried = np.full((1, ev.draws), np.nan)
    own = [link for link in before if isinstance(link, Bracket | Weld | SpotWelds) and link.load.written]
    return np.asarray(
        np.maximum.reduce([carried, *(np.broadcast_to(_written(ev, link), carried.shape) for link in own)])
    )


def reach(ev: Evaluation, part: Weld | SpotWelds) -> Array:
    """Distance of the load from the face, m: of the bracket that is held or of the part's own, the greater. Raises MissingFact."""
    bracket = ev.build.named(part.carries)
    if not isinstance(bracket, Bracket):
        return ev(part.reach)
    return np.maximum(ev(bracket.reach), ev(part.reach)) if part.reach.written else ev(bracket.reach)


def greater(ev: Evaluation, part: Weld | SpotWelds) -> str:
    """What counts where a part and the bracket that it holds both have a load or a reach; nothing where one of them has none."""
    bracket = ev.build.named(part.carries)
    if not isinstance(bracket, Bracket):
        return ""
    said = []
    if part.load.written and bracket.load.written:
        first, second = sorted((bracket, part), key=lambda one: -float(_written(ev, one)[0]))
        said.append(
            f"the load of {first.name} counts, {_newtons(ev, first)} at worst, as the greater: {second.name} has {_newtons(ev, second)}"
        )
    if part.reach.written and bracket.reach.written:
        shorter, longer = sorted((bracket.reach, part.reach), key=lambda one: float(ev(one)[0]))
        said.append(
            f"{longer.path}, {_metres(ev, longer)}, counts as the greater reach: {shorter.path} is {_metres(ev, shorter)}"
        )
    return "; ".join(said)


def _newtons(ev: Evaluation, part: Carrier) -> str:
    return show(float(_written(ev, part)[0]), display_unit(FORCE))


def _metres(ev: Evaluation, ref: FactRef) -> str:
    return show(float(ev(ref)[0]), display_unit(LENGTH))


def _written(ev: Evaluation, part: Carrier) -> Array:
    """The load written for a part, at its worst, N."""
    at_rest, factor = ev.each(part.load, part.load_factor)
    return np.asarray(np.abs(at_rest) * factor)


def _of_mount(ev: Evaluation, mount: Mount, way: Coming) -> Array:
    if way.everyday:
        return ev.of(power_unit.everyday, mount)
    return np.asarray(np.maximum(ev.of(power_unit.pressed, mount), ev.of(power_unit.pulled, mount)))


def in_comings(build: Build, part: Carrier, values: Array) -> Array | InStates:
    """A value (comings, draws) in states of their names; a plain one where there is only one way."""
    ways = comings(build, part)
    return values[0] if len(ways) == 1 else InStates(values.T, tuple(way.name for way in ways))
