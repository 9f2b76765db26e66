"""Spot and plug welds: what the hardest loaded one sees over what it bears, their size, spacing and edge.

Answers   requirements   spot_load, spot_size, spot_spacing, spot_edge with the name of the group, and the figure spots_needed
          of             spot_load alone, for the chain of a mount
Not here  fillets (welds.py); the sheet between the spots, which bends as one under a patch (sheet.py)
Method    Shear and pull add as shares of their strengths. Margins on the strength at which one breaks: 2.5 for a load that comes
          once, 5 for one that repeats, as 1.5 and 3 on yield for mild steel at welds (300 over 180 MPa).
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.evaluation import MissingFact
from trialfit.evaluation.requirement import COMMON_PRACTICE, AtLeast, AtMost, Requirement, Source, SourceKind, Stake
from trialfit.facts.quantity import COUNT, LENGTH, RATIO
from trialfit.handbook.sources import NO_SOURCE
from trialfit.handbook.structure import spot_welds as handbook
from trialfit.handbook.structure.welded_metals import metal_named
from trialfit.handbook.structure.welds import steel
from trialfit.parts import Bracket, SpotWelds
from trialfit.subjects.structure import loads
from trialfit.subjects.structure.margins import SAFETY, WELDING

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from numpy.typing import ArrayLike

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.evaluation.states import InStates
    from trialfit.handbook.arrays import Array

ON_BREAKING = Source(
    f"{NO_SOURCE}: breaking load over 2.5 for a load once in life, over 5 for a repeated one; chart of breaking loads from memory",
    SourceKind.common_practice,
)
SIZE = Source("planning table for spot welds: 4·√t; plugs by common practice, no source", SourceKind.common_practice)
SPACING = Source("planning table for spot welds: three diameters between centres", SourceKind.published)


def requirements(build: Build) -> Iterator[Requirement]:
    """What each group of spots must carry, and where they may be."""
    for group in build.all(SpotWelds):
        yield from of(build, [group])
        yield _size(group)
        yield _spacing(group)
        yield _edge(group)
        yield _needed(group)


def of(build: Build, some: Iterable[SpotWelds]) -> Iterator[Requirement]:
    """Whether groups of spots carry their load."""
    for group in some:
        yield Requirement(
            id=f"structure.spot_load.{group.name}",
            about=group.name,
            says=f"the hardest loaded of {group.name} carries its share of the load, which comes {loads.how_often(build, group)}: load over strength",
            value=lambda ev, one=group: loads.in_comings(ev.build, one, ev.of(used, one)),  # type: ignore[misc]
            quantity=RATIO,
            stake=Stake.safety,
            limit=AtMost(partial(_allowed, group=group)),
            source=ON_BREAKING,
            formulas=(handbook.spot_strength, handbook.plug_strength, handbook.row_share),
            shows=lambda ev, one=group: "; ".join(
                filter(None, (_as_pulled(one), loads.greater(ev, one), loads.unheeded(ev.build, one)))
            ),  # type: ignore[misc]
            caution=WELDING,
            cure="more spots, plugs with a larger hole, or a wider flange with two rows, so that they are sheared and not peeled",
        )


def _size(group: SpotWelds) -> Requirement:
    least = handbook.least_plug if group.type == "plug" else handbook.least_nugget
    return Requirement(
        id=f"structure.spot_size.{group.name}",
        about=group.name,
        says=f"each of {group.name} is large enough for its sheet",
        value=lambda ev: ev(group.diameter),
        quantity=LENGTH,
        stake=Stake.safety,
        limit=AtLeast(lambda ev: least(ev(group.thinner))),
        source=SIZE,
        formulas=(least,),
        caution=WELDING,
        cure="peel a test piece of the same sheets apart and set the welder by its nuggets; plugs: drill larger",
    )


def _spacing(group: SpotWelds) -> Requirement:
    return Requirement(
        id=f"structure.spot_spacing.{group.name}",
        about=group.name,
        says=f"{group.name} are far enough apart: the current of a spot flows through the last one",
        value=lambda ev: ev(group.spacing),
        quantity=LENGTH,
        stake=Stake.durability,
        limit=AtLeast(lambda ev: handbook.SPACING * ev(group.diameter)),
        source=SPACING,
        caution=WELDING,
    )


def _edge(group: SpotWelds) -> Requirement:
    return Requirement(
        id=f"structure.spot_edge.{group.name}",
        about=group.name,
        says=f"{group.name} are far enough from the edge of the sheet not to tear out of it",
        value=lambda ev: ev(group.edge_distance),
        quantity=LENGTH,
        stake=Stake.safety,
        limit=AtLeast(lambda ev: handbook.EDGE * ev(group.diameter)),
        source=COMMON_PRACTICE,
        caution=WELDING,
    )


def _needed(group: SpotWelds) -> Requirement:
    return Requirement(
        id=f"structure.spots_needed.{group.name}",
        about=group.name,
        says=f"number of {group.name} that just carries the load, the rows as they are",
        value=partial(needed, group=group),
        quantity=COUNT,
        stake=Stake.safety,
        caution=WELDING,
    )


def used(ev: Evaluation, group: SpotWelds) -> Array:
    """Load of the hardest loaded spot over its strength, shear and pull together, (comings, draws)."""
    number, shear = ev(group.number), ev.of(_along, group)
    lever, pull = ev.of(_levered, group), _at_worst(ev, group)
    strength = ev.of(_strength, group)
    across = (pull / number + lever) / ev(group.pull_share) if pull.any() or lever.any() else np.zeros(ev.draws)
    return np.asarray((shear / number + across) / strength)


def _along(ev: Evaluation, group: SpotWelds) -> Array:
    """The load along the sheets in each coming, N."""
    if group.carries is None and group.load.written is None and group.pull.written is not None:
        return np.zeros((1, ev.draws))
    return ev.of(loads.forces, group)


def _levered(ev: Evaluation, group: SpotWelds) -> Array:
    """Pull on a spot of the outer row from the reach of the load, N, (comings, draws)."""
    bracket = ev.build.named(group.carries)
    if group.reach.written is None and not isinstance(bracket, Bracket):
        return np.zeros(ev.draws)
    reach = ev.of(loads.reach, group)
    number, rows, depth = ev.each(group.number, group.rows, group.depth)
    return np.asarray(handbook.row_share(ev.of(_along, group) * reach, number, rows, depth))


def _at_worst(ev: Evaluation, group: SpotWelds) -> Array:
    return np.asarray(ev(group.pull) * ev(group.load_factor)) if group.pull.written else np.zeros(ev.draws)


def _strength(ev: Evaluation, group: SpotWelds) -> Array:
    """Shear at which one breaks, N. Raises MissingFact for what is not steel: no table holds it."""
    if group.material and metal_named(group.material).family != "steel":
        raise MissingFact(
            {f"{group.name}.material": f"spots and plugs of {group.material} are not judged: expected a steel"}
        )
    thickness, diameter = ev.each(group.thinner, group.diameter)
    if group.type == "plug":
        return np.asarray(handbook.plug_strength(thickness, diameter, ev(group.metal_strength)))
    return np.asarray(handbook.spot_strength(thickness, diameter) * ev(group.strength_share))


def _margins(build: Build, group: SpotWelds) -> Array:
    """Margins on the breaking load in each coming, (comings, 1)."""
    over_yield = steel("welded_ultimate") / steel("welded_yield")
    return np.array([[SAFETY[way.repeats] * over_yield] for way in loads.comings(build, group)])


def _allowed(ev: Evaluation, group: SpotWelds) -> ArrayLike | InStates:
    shares = 1 / _margins(ev.build, group)
    return loads.in_comings(ev.build, group, np.broadcast_to(shares, (len(shares), ev.draws)))


def needed(ev: Evaluation, group: SpotWelds) -> Array:
    """Number that just carries the load: each spot's share falls with their number."""
    share = ev.of(used, group) * _margins(ev.build, group)
    return np.asarray(ev(group.number) * share.max(axis=0))


def _as_pulled(group: SpotWelds) -> str:
    if group.pulled == "square":
        return ""
    return 'a pull or lever counts as peeling: write pulled = "square" if the flange is held on both sides'
