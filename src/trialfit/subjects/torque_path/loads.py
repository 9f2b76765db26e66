"""The torque at each place in the line: gear by gear, in each load state and event, limited by the engine or by the tyres' grip.

Answers   Sides    engine side and grip side of one place, in each state
          gearbox_input, gearbox_output, pinion, axle, wheel    both sides at each place
          least, most    the same where a fact is missing: with what the tyres hold at least, or with tyres that hold everything
          unit_torque    what the mounts of engine and gearbox hold against
          at       one of these places, ready to be asked for
Not here  what a part carries (element.py and the modules of the parts); the events and their factors (events.py)

All arrays N·m, of shape (draws, states); a state is a load state of the car, a gear of gears.gear_list and an event.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property
from typing import TYPE_CHECKING, Concatenate, ParamSpec

import numpy as np

from trialfit.handbook.torque_path import along_the_path as handbook
from trialfit.handbook.torque_path.shocks import shock_peak
from trialfit.parts import FinalDrive
from trialfit.subjects import line, load_states
from trialfit.subjects.torque_path import gears, grip
from trialfit.subjects.torque_path.events import Event, Load, events, least_into_gearbox

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from numpy.typing import NDArray

    from trialfit.book.build import Build
    from trialfit.evaluation.evaluation import Evaluation
    from trialfit.handbook.arrays import Array


Args = ParamSpec("Args")


class Known(StrEnum):
    """What is known of the tyres and of what comes through the clutch: all, or only what it is at least or at most."""

    all = "all"
    least = "least"
    most = "most"


@dataclass(frozen=True)
class State:
    """One column: the load state of the car, the gear by its column, and the event."""

    load: str
    gear: int
    event: str


@dataclass(frozen=True)
class Sides:
    """Torque at one place, N·m, (draws, states): what the engine can send there, and at what the tyres slip."""

    engine: Array
    grip: Array
    states: tuple[State, ...]

    @cached_property
    def seen(self) -> Array:
        """The torque on the element: the smaller of both."""
        return np.asarray(shock_peak(self.engine, self.grip))

    @cached_property
    def grip_governs(self) -> NDArray[np.bool_]:
        """Whether the tyres' grip sets it."""
        return handbook.governing(self.engine, self.grip)[1]

    @cached_property
    def gears(self) -> NDArray[np.intp]:
        """The column of the gear of each state."""
        return np.array([state.gear for state in self.states], np.intp)

    @classmethod
    def side_by_side(cls, many: Sequence[Sides]) -> Sides:
        """The states of several places or loads, one after the other."""
        engine, grips = (np.concatenate([getattr(one, side) for one in many], axis=1) for side in ("engine", "grip"))
        return cls(engine, grips, tuple(state for one in many for state in one.states))

    def only(self, *columns: int) -> Sides:
        """The states of some gears: always the same ones for the same gears, since much is asked of them again."""
        if columns not in self._by_gears:
            kept = [place for place, state in enumerate(self.states) if state.gear in columns]
            states = tuple(map(self.states.__getitem__, kept))
            self._by_gears[columns] = Sides(self.engine.take(kept, axis=1), self.grip.take(kept, axis=1), states)
        return self._by_gears[columns]

    @cached_property
    def _by_gears(self) -> dict[tuple[int, ...], Sides]:
        """A cache of `only`."""
        return {}


def at(
    place: Callable[Concatenate[Evaluation, Args], Sides], *args: Args.args, **kwargs: Args.kwargs
) -> Callable[..., Sides]:
    """Both sides of a place, to be asked for with the evaluation and what is known: the wheel, a shock, the rear axle."""

    def sides(ev: Evaluation, known: Known = Known.all) -> Sides:
        return ev.of(place, *args, **kwargs, known=known)  # type: ignore[arg-type]

    return sides


def state_names(build: Build, states: tuple[State, ...]) -> tuple[str, ...]:
    """The states in words: "laden, 1st gear, dropped clutch"."""
    spoken = [gear.spoken for gear in gears.gear_list(build)]
    return tuple(", ".join(filter(None, (one.load, spoken[one.gear], one.event))) for one in states)


def gearbox_input(ev: Evaluation, load: Load, known: Known = Known.all) -> Sides:
    """At the clutch and the gearbox's input. All driven tyres hold against it."""
    return _sides(ev, load, grip.ALL, known, lambda torques: torques.gearbox_input)


def gearbox_output(ev: Evaluation, load: Load, known: Known = Known.all) -> Sides:
    """At the gearbox's output, in front of a transfer case."""
    found = ev.of(pinion, load, known)
    behind = (ev.of(gears.range_ratios) * ev.of(gears.range_efficiency)[:, None])[:, found.gears]
    return Sides(found.engine / behind, found.grip / behind, found.states)


def pinion(ev: Evaluation, load: Load, known: Known = Known.all) -> Sides:
    """At the prop shaft and the pinion of the final drive."""
    _low_range_is_known(ev, known)
    return _sides(ev, load, gears.driven_axle(ev.build), known, lambda torques: torques.pinion)


def axle(ev: Evaluation, load: Load, end: str, known: Known = Known.all) -> Sides:
    """At both wheels of an axle together: `end` is front or rear."""
    _low_range_is_known(ev, known)
    return _sides(ev, load, end, known, lambda torques: torques.axle)


def wheel(ev: Evaluation, load: Load, end: str, known: Known = Known.all) -> Sides:
    """At one half-shaft and one wheel of an axle: at the wheel that gets the more, which drives with no more than its own grip."""
    both, share = ev.of(axle, load, end, known), ev.of(wheel_share)[:, None]
    if known is Known.all:
        held = np.minimum(share, ev.of(grip.best_wheel_share, end)[:, None])
    else:
        held = np.minimum(share, 0.5) if known is Known.least else share
    return Sides(both.engine * share, both.grip * held, both.states)


def wheel_share(ev: Evaluation) -> Array:
    """Share of the axle's torque that one wheel can get, (draws,)."""
    final_drive = ev.part(FinalDrive)
    works = final_drive.differential or "open"
    bias = ev(final_drive.bias_ratio) if works == "limited slip" else np.ones(ev.draws)
    return np.broadcast_to(np.asarray(handbook.half_shaft_share(works, bias)), ev.draws)


def unit_torque(ev: Evaluation, *, across: bool) -> Array:
    """Largest torque that the mounts of engine and gearbox hold against, N·m, (draws,): the worst shock behind the unit.

    `across`: the final drive is in the unit. Raises MissingFact where a fact of clutch, gears, tyres or car is missing for it.
    """
    place = at(axle, Load.shock, gears.driven_axle(ev.build)) if across else at(gearbox_output, Load.shock)
    return np.asarray(place(ev).seen.max(axis=-1))


def _sides(ev: Evaluation, load: Load, end: str, known: Known, place: Callable[[handbook.Torques], object]) -> Sides:
    """Both sides of a place, over load states, gears and events."""
    happening = events(ev.build, load)
    loads = load_states.names(ev.build) if known is Known.all else ("",)
    sent = [np.asarray(place(ev.of(_sent, event, known))) for event in happening]
    held = [np.asarray(place(ev.of(_held, event, end, known))) for event in happening]
    count = sent[0].shape[-1]
    shape = (ev.draws, len(loads), count, len(happening))
    engine = np.broadcast_to(np.stack(sent, axis=-1)[:, None], shape)
    grips = np.broadcast_to(np.stack(held, axis=-1), shape)
    states = tuple(State(one, gear, event.name) for one in loads for gear in range(count) for event in happening)
    return Sides(engine.reshape(ev.draws, -1), grips.reshape(ev.draws, -1), states)


def _low_range_is_known(ev: Evaluation, known: Known) -> None:
    """Raises MissingFact where the ratio of a low range is missing: without it only the least is known."""
    if known is not Known.least:
        gears.ask_low_range(ev)


def _drive(ev: Evaluation) -> tuple[Array, Array, Array, Array]:
    """Ratios and efficiencies as the handbook takes them, (draws, gears) or (draws, 1)."""
    final = ev.part(FinalDrive)
    return (
        ev.of(gears.gear_ratios),
        ev.of(line.final_ratio)[:, None],
        ev.of(gears.box_efficiency)[:, None],
        ev(final.efficiency)[:, None],
    )


def _sent(ev: Evaluation, event: Event, known: Known) -> handbook.Torques:
    """What the engine sends to each place, (draws, gears)."""
    torque = ev.of(least_into_gearbox) if known is Known.least and not event.coasts else event.sends(ev)
    return handbook.from_engine(torque[:, None], *ev.of(_drive), coasting=event.coasts)


def _held(ev: Evaluation, event: Event, end: str, known: Known) -> handbook.Torques:
    """At what the tyres slip, (draws, load states, gears)."""
    if known is Known.most:
        count = len(gears.gear_list(ev.build))
        endless = np.full((ev.draws, 1, count), np.inf)
        return handbook.Torques(endless, endless, endless, endless)
    force = _force(ev, event, end, known)
    factor = event.holds(ev)[:, None, None] if known is Known.all else 1.0
    drive = (one[:, None] for one in ev.of(_drive))
    radius = ev.of(line.rolling_radius)[:, None, None]
    return handbook.from_grip(force * factor, radius, *drive, coasting=event.coasts)


def _force(ev: Evaluation, event: Event, end: str, known: Known) -> Array:
    count = len(gears.gear_list(ev.build))
    if known is Known.least:
        return np.broadcast_to(ev.of(grip.least_grip, end) * (0.0 if event.coasts else 1.0), (ev.draws, 1, count))
    if event.sudden:
        return grip.by_gear(ev, ev.of(grip.standing_grip, end))
    whole = ev.of(grip.whole_grip) if end == grip.ALL else ev.of(grip.axle_grip, end)
    return grip.by_gear(
        ev, whole[..., ::-1] if event.coasts else whole
    )  # braked going forward is driven going backward
