"""The chain of one mount: its rubber, its brackets, their welds, the metal beside them and the bolts, and the weakest of them.

Answers   requirements   the figure structure.weakest with the name of each mount that has a chain
          links          what the load of a mount goes through
Not here  whether each of them holds: their own findings say it
Method    Reserve of a link: what it bears after its own margin over what it sees, in its worst state. The preload of a bolt and its
          share of the pull do not grow with the load alike: bolts count by what parts, slides or pries their faces.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING, TypeVar

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.evaluation.requirement import AtLeast, AtMost, Requirement, Stake
from trialfit.evaluation.states import as_states
from trialfit.facts.quantity import RATIO
from trialfit.facts.showing import show
from trialfit.facts.units import display_unit
from trialfit.parts import BoltedJoint, Bracket, Mount, SpotWelds, Weld
from trialfit.subjects import power_unit
from trialfit.subjects.fastening import holding
from trialfit.subjects.structure import brackets, loads, mounts, sheet, spots, welds
from trialfit.subjects.structure.margins import HOLDS_AN_ENGINE

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import Part

P = TypeVar("P", bound="Part")

_LISTED = 3
_TITLES = {
    "mount_load": "{} pressed",
    "mount_pull": "{} pulled",
    "bracket_stress": "root of {}",
    "bracket_bearing": "bolt hole of {}",
    "weld_throat": "throat of {}",
    "weld_yield": "metal fused into {}",
    "weld_parent": "metal beside {}",
    "sheet_bending": "sheet under {}",
    "spot_load": "{}",
    "separation": "faces of {} parting",
    "slip": "faces of {} sliding",
}
_NOT_BY_LOAD = frozenset({"bolt_load"})
"""Requirements of a bolted joint that are mostly preload: they say little of how much more load it bears."""


@dataclass(frozen=True)
class Link:
    """One way in which the chain gives: its title in a sentence, and the requirement that judges it."""

    title: str
    requirement: Requirement


def requirements(build: Build) -> Iterator[Requirement]:
    """The weakest link of each mount that more than its rubber is written of."""
    for mount in power_unit.the_mounts(build):
        if any(link.requirement.about != mount.name for link in links(build, mount)):
            yield Requirement(
                id=f"structure.weakest.{mount.name}",
                about=mount.name,
                says=f"weakest link of the chain at {mount.name}: rubber, bracket, weld, sheet and bolts, capacity after margin over load",
                value=partial(smallest, mount=mount),
                quantity=RATIO,
                stake=Stake.safety,
                turned_by=AtLeast,
                shows=partial(_shows, mount=mount),
                caution=HOLDS_AN_ENGINE,
                leads=True,
            )


def links(build: Build, mount: Mount) -> tuple[Link, ...]:
    """What the load of a mount goes through, from its rubber on."""
    stated: list[Requirement] = [*mounts.of_mount(mount)]
    stated += brackets.of(build, _on(build, mount, build.all(Bracket)))
    stated += welds.of(build, _on(build, mount, build.all(Weld)))
    stated += sheet.of(build, _on(build, mount, build.all(Weld)))
    stated += spots.of(build, _on(build, mount, build.all(SpotWelds)))
    for joint in build.all(BoltedJoint):
        if joint.carries == mount.name:
            stated += holding.requirements(joint)
    found = ((_way(one), one) for one in stated if isinstance(one.limit, AtMost | AtLeast))
    return tuple(
        Link(_TITLES.get(way, f"{way.replace('_', ' ')} of {{}}").format(one.about), one)
        for way, one in found
        if way not in _NOT_BY_LOAD
    )


def _way(one: Requirement) -> str:
    """The word of its id that says how it gives."""
    return next(word for word in one.id.split(".")[1:] if word != one.about)


def _on(build: Build, mount: Mount, parts: Iterable[P]) -> tuple[P, ...]:
    return tuple(part for part in parts if loads.chain(build, part)[-1] is mount)


def _reserve(ev: Evaluation, link: Link) -> tuple[Array, str]:
    """The smallest reserve over its states, draw by draw, and the state of the smallest at the nominal. Raises MissingFact."""
    limit = link.requirement.limit
    if not isinstance(limit, AtMost | AtLeast):  # links() takes no others
        raise TypeError(link.title)
    value = as_states(link.requirement.value(ev), ev.draws)
    bound = as_states(limit.bound(ev) if callable(limit.bound) else limit.bound, ev.draws)
    bears, sees = (bound, value) if isinstance(limit, AtMost) else (value, bound)
    loaded = sees.values > 0
    ratio = np.where(loaded, bears.values / np.where(loaded, sees.values, 1.0), np.inf)
    ratio = np.where(np.isfinite(bears.values) & np.isfinite(sees.values), ratio, 0.0)
    names = max((value.names, bound.names), key=len)
    return ratio.min(axis=-1), names[int(np.argmin(ratio[0]))]


def _reserves(ev: Evaluation, mount: Mount) -> tuple[dict[str, tuple[Array, str]], dict[str, MissingFact]]:
    """The reserve of each link that is known, by its title; and what the others miss."""
    known: dict[str, tuple[Array, str]] = {}
    missing: dict[str, MissingFact] = {}
    for link in links(ev.build, mount):
        try:
            reserve, state = _reserve(ev, link)
        except MissingFact as lacks:
            missing[link.title] = lacks
            continue
        if np.isfinite(reserve[0]):
            known[link.title] = reserve, state
    return known, missing


def smallest(ev: Evaluation, mount: Mount) -> Array:
    """The smallest reserve of the links that are known. Raises MissingFact where none is."""
    known, missing = ev.of(_reserves, mount)
    if not known:
        raise MissingFact({path: says for one in missing.values() for path, says in one.wanted.items()})
    return np.asarray(np.min([reserve for reserve, _ in known.values()], axis=0))


def _shows(ev: Evaluation, mount: Mount) -> str:
    """The weakest, those that follow, and those that are not known."""
    known, missing = ev.of(_reserves, mount)
    order = sorted(known, key=lambda title: float(known[title][0][0]))
    share = float(np.mean(known[order[0]][0] <= smallest(ev, mount)))
    surely = "" if share == 1 else f" (the weakest in {100 * share:.0f} % of the draws)"
    said = [f"weakest link: {_said(known, order[0])} of demand{surely}"]
    if then := [_said(known, title) for title in order[1:_LISTED]]:
        said.append(f"then {', '.join(then)}")
    if missing:
        said.append("not known: " + ", ".join(f"{title} ({next(iter(one.wanted))})" for title, one in missing.items()))
    return "; ".join(said)


def _said(known: dict[str, tuple[Array, str]], title: str) -> str:
    reserve, state = known[title]
    where = f" ({state})" if state else ""
    return f"{title}{where}, capacity {show(float(reserve[0]), display_unit(RATIO), 3)}"
