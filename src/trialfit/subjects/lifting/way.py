"""The way up and in: every tilt that the load passes through, where the hook is for it, and whether all legs stay tight.

Answers   requirements   leveller.LIFT, slack.LIFT
          tilts, names   of the way, or how the load hangs where no way is written
          hooks          place of the hook over the level load, for each of them
          ends           the middle of the eyes of the front end and that of the rear end
          has_way, has_leveller
Not here  tension and angle of each leg (legs.py)

A way is written by lift.lowest_tilt and lift.steepest_tilt; from the least to the greatest of them and the target tilt it is looked at
in steps. On a plain sling the hook is moved over the load for each tilt, at the same height: chains are shortened or hooked
elsewhere. On a leveller its screw moves the hook along the bar.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from trialfit.evaluation.requirement import COMMON_PRACTICE, AtLeast, AtMost, Requirement, Source, SourceKind, Stake
from trialfit.evaluation.states import InStates
from trialfit.facts.quantity import LENGTH, SHARE
from trialfit.handbook.lifting import hoisting as handbook
from trialfit.handbook.lifting.leveller import end_share, level_shift, travel_for_tilt
from trialfit.parts import Lift
from trialfit.subjects.lifting.cautions import HOISTING
from trialfit.subjects.lifting.hoisting import centre, eyes_of, hook, hung_hook, legs_of, tilt

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array
    from trialfit.parts import FactRef

STEPS = 9
ALONG = np.array([1.0, 0.0, 1.0])  # leaves out what is across the car
LEAST_SHARE = 0.1
"""Least share of the load on each end of the sling: common practice, no source; with less a push of the hand makes it slack."""
SCREW = Source("the travel of the screw of the leveller, as written", SourceKind.builder)
_LEVEL = 0.5  # °: less is called level


def requirements(build: Build) -> Iterator[Requirement]:
    """What the leveller must reach, and that no leg goes slack."""
    for lift in build.all(Lift):
        if has_leveller(lift):
            yield Requirement(
                id=f"lifting.leveller.{lift.name}",
                about=lift.name,
                says=f"the screw of the leveller of {lift.name} reaches every tilt of the way up and in",
                value=partial(_travel, lift=lift),
                quantity=LENGTH,
                stake=Stake.durability,
                limit=AtMost(lambda ev, one=lift: ev(one.leveller_travel)),  # type: ignore[misc]
                source=SCREW,
                formulas=(travel_for_tilt,),
                cure="Shorten the chains of the end that must come up, move the bar over the centre of mass, or use eyes nearer above it.",
                caution=HOISTING,
            )
        if len(legs_of(build, lift)) > 1:
            yield Requirement(
                id=f"lifting.slack.{lift.name}",
                about=lift.name,
                says=f"each end of the sling of {lift.name} keeps its share of the load, so that no leg goes slack",
                value=partial(_least_share, lift=lift),
                quantity=SHARE,
                stake=Stake.safety,
                limit=AtLeast(LEAST_SHARE),
                source=COMMON_PRACTICE,
                formulas=(end_share, level_shift, handbook.three_leg_shares),
                cure="Use lifting eyes further apart, on both sides of the centre of mass, or less tilt.",
                caution=HOISTING,
            )


def has_leveller(lift: Lift) -> bool:
    """Whether the load hangs on a load leveller."""
    return lift.leveller_travel.written is not None


def has_way(lift: Lift) -> bool:
    """Whether a way up and in is looked at: tilts of it are written, or a leveller that must reach the target tilt."""
    return has_leveller(lift) or any(_ends_of_way(lift))


def _ends_of_way(lift: Lift) -> tuple[FactRef, ...]:
    return tuple(ref for ref in (lift.lowest_tilt, lift.steepest_tilt) if ref.written)


def tilts(ev: Evaluation, lift: Lift) -> Array:
    """Every tilt of the way, rad, rear end low, (draws, steps); how the load hangs, (draws, 1), where no way is written."""
    if not has_way(lift):
        return ev.of(tilt, lift)[:, None]
    every = np.stack(ev.each(lift.target_tilt, *_ends_of_way(lift)), axis=-1)
    least, most = every.min(axis=-1), every.max(axis=-1)
    return np.asarray(np.linspace(least, most, STEPS, axis=-1))


def names(lift: Lift) -> tuple[str, ...]:
    """The same in words, by the tilts as they are written."""
    if not has_way(lift):
        return ("",)
    known = [ref.known for ref in (lift.target_tilt, *_ends_of_way(lift))]
    every = [one.si for one in known if one is not None]
    found = np.degrees(np.linspace(min(every), max(every), STEPS))
    words = [
        f"{abs(one):.0f}° {'rear' if one > 0 else 'front'} end low" if abs(one) >= _LEVEL else "level" for one in found
    ]
    return tuple(f"step {number} of the way, {word}" for number, word in enumerate(words, 1))


def hooks(ev: Evaluation, lift: Lift) -> Array:
    """Place of the hook over the level load for each tilt, m, (draws, steps, 3): on a plain sling."""
    if not has_way(lift):
        return ev.of(hung_hook, lift)[:, None, :]
    place, at = ev.of(hook, lift)[:, None, :], ev.of(centre, lift)[:, None, :]
    leans = -ev.of(tilts, lift)
    along = np.asarray(handbook.hook_for_angle(at[..., 0], place[..., 2] - at[..., 2], leans))
    across, up = (np.broadcast_to(place[..., axis], along.shape) for axis in (1, 2))
    return np.stack([along, across, up], axis=-1)


def ends(ev: Evaluation, lift: Lift) -> tuple[Array, Array]:
    """The middle of the eyes of the front end and of the rear end, m, (draws, 3)."""
    eyes = eyes_of(ev, legs_of(ev.build, lift))
    middle = (eyes[0, :, 0].max() + eyes[0, :, 0].min()) / 2
    is_front = eyes[0, :, 0] >= middle
    front, rear = eyes[:, is_front], eyes[:, ~is_front] if not is_front.all() else eyes
    return front.mean(axis=1), rear.mean(axis=1)


def along_bar(ev: Evaluation, lift: Lift) -> Array:
    """The centre of mass against the bar, which is parallel to the line of the eyes and over the middle of them.

    (draws, 3): how far it is ahead of the middle along the bar, m, how deep below the line of the eyes, square to it, m, and how
    much that line rises to the front, rad.
    """
    (front, rear), at = ev.of(ends, lift), ev.of(centre, lift)
    run, rise = front[:, 0] - rear[:, 0], front[:, 2] - rear[:, 2]
    length = np.hypot(run, rise)
    ahead, below = at[:, 0] - (front[:, 0] + rear[:, 0]) / 2, (front[:, 2] + rear[:, 2]) / 2 - at[:, 2]
    along = (ahead * run - below * rise) / length
    return np.stack([along, (below * run + ahead * rise) / length, np.arctan2(rise, run)], axis=-1)


def depth_below_bar(ev: Evaluation, lift: Lift) -> Array:
    """How deep the centre of mass is below the line of the eyes, m."""
    return np.asarray(ev.of(along_bar, lift)[:, 1])


def _travel(ev: Evaluation, lift: Lift) -> InStates:
    """How far the hook is from the middle of the bar for each tilt, m."""
    along, depth, slope = ev.of(along_bar, lift).T
    lean = ev.of(tilts, lift) + slope[:, None]
    shift = np.asarray(travel_for_tilt(depth[:, None], lean, ev(lift.leveller_eye)[:, None]))
    return InStates(np.abs(along[:, None] + shift), names(lift))


def shares(ev: Evaluation, here: Array, there: Array, lift: Lift) -> Array:
    """Share of the load on the leg to `here`, (draws, 3), where it and that to `there` carry all, (draws, steps); below 0 it is slack."""
    at, lean, place = ev.of(centre, lift), ev.of(tilts, lift), ev.of(hooks, lift)
    if len(legs_of(ev.build, lift)) > 2:  # noqa: PLR2004 - two legs let the load turn about their eyes; more hold it across
        here, there, at, place = (one * ALONG for one in (here, there, at, place))
    if has_leveller(lift):
        near, far = (
            level_shift((eye[:, 0] - at[:, 0])[:, None], (eye[:, 2] - at[:, 2])[:, None], lean) for eye in (here, there)
        )
        return np.asarray(end_share(near, far))
    # the line from hook to centre of mass meets the line of the eyes, seen along that line
    along = there - here
    along = along / np.linalg.norm(along, axis=-1)[:, None]
    place = place - here[:, None]
    hook_at = (place * along[:, None]).sum(axis=-1)
    height = np.linalg.norm(place - hook_at[..., None] * along[:, None], axis=-1)
    to_centre = at - here
    centre_at = (to_centre * along).sum(axis=-1)
    side = to_centre - centre_at[:, None] * along
    below = np.where(side[:, 2] < 0, 1.0, -1.0) * np.linalg.norm(side, axis=-1)
    crosses = hook_at + (centre_at[:, None] - hook_at) * height / (height + below[:, None])
    return np.asarray(end_share(-crosses, np.linalg.norm(there - here, axis=-1)[:, None] - crosses))


def _least_share(ev: Evaluation, lift: Lift) -> InStates:
    """The smaller share of the two ends of the sling; of two or three legs on a hook, of the legs themselves."""
    legs = legs_of(ev.build, lift)
    if len(legs) == 3 and not has_leveller(lift):  # noqa: PLR2004 - three legs have one share each, in space
        at = ev.of(centre, lift)[:, None]
        each = handbook.three_leg_shares(eyes_of(ev, legs)[:, None], ev.of(hooks, lift), at)
        return InStates(np.asarray(each).min(axis=-1), names(lift))
    front, rear = ev.of(ends, lift)
    if len(legs) == 2:  # noqa: PLR2004 - the two legs themselves, wherever their eyes are
        eyes = eyes_of(ev, legs)
        front, rear = eyes[:, 0], eyes[:, 1]
    share = shares(ev, front, rear, lift)
    return InStates(np.minimum(share, 1 - share), names(lift))
