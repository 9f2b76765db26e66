"""Which plots a build can have, and one of them.

Answers   plot_of      a plot by its name
          plots_of     every plot by name, with the reason if it cannot be drawn
Not here  the plots (the modules beside); pictures of them (../plot_picture.py)
Names     pull, gears, joint_angles, torque_path, brakes, schedule, oil_pickup, cooling; sender.GAUGE; doubt.FINDING
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from trialfit.book.problems import BadInput, Located
from trialfit.drawing.plot import Axis, Plot, PlotChoice, PlotList
from trialfit.drawing.plots.brake_share import brake_share
from trialfit.drawing.plots.cooling_limit import cooling
from trialfit.drawing.plots.doubt import doubt
from trialfit.drawing.plots.joint_angles import joint_angles
from trialfit.drawing.plots.oil_pickup import oil_pickup
from trialfit.drawing.plots.pull import gears, pull
from trialfit.drawing.plots.schedule import schedule
from trialfit.drawing.plots.sender_curve import sender_curve
from trialfit.drawing.plots.torque_ladder import torque_ladder
from trialfit.evaluation.evaluation import DRAWS, Evaluation, MissingFact
from trialfit.parts import Gauge
from trialfit.parts.reading import nearest

if TYPE_CHECKING:
    from collections.abc import Callable

    from trialfit.book.build import Build
    from trialfit.planning.site import Site

    Made = Callable[[Evaluation], Plot]

_PLOTS: dict[str, tuple[str, Made]] = {
    "pull": ("pull at the wheels by gear, with grip and road load", pull),
    "gears": ("engine speed over road speed, by gear", gears),
    "joint_angles": ("joint angles over the travel of the suspension", joint_angles),
    "torque_path": ("load and capacity from the clutch to the studs", torque_ladder),
    "brakes": ("grip used by each axle while braking, and which locks first", brake_share),
    "oil_pickup": ("acceleration at which the oil pickup draws air", oil_pickup),
    "cooling": ("heat to reject, and radiator capacity, over road speed", cooling),
}
_SCHEDULE = ("schedule", "the remaining work on the calendar, with its waiting times")
_DOUBT = ("doubt.FINDING", "where the uncertainty in one finding comes from, for example doubt.gearing.top_speed")
_LISTED_DRAWS = 64


def plot_of(build: Build, name: str, site: Callable[[], Site], draws: int = DRAWS) -> Plot:
    """A plot by its name; if its facts are missing, a plot that only lists them. Raises BadInput.

    `site` gives the work of the build; only the schedule needs it.
    """
    if name.startswith("doubt."):
        return doubt(build, name.removeprefix("doubt."), draws)
    if name == _SCHEDULE[0]:
        return _planned(site, draws)
    makers = _makers(build)
    if name not in makers:
        known = [*makers, _SCHEDULE[0], _DOUBT[0]]
        raise BadInput(build.name or "the build", [Located("", f'unknown plot "{name}": {nearest(name, known)}')])
    says, make = makers[name]
    return _made(Evaluation(build, draws), name, says, make)


def plots_of(build: Build) -> PlotList:
    """Every plot by name, with the reason if it has nothing to show."""
    ev = Evaluation(build, _LISTED_DRAWS)
    choices = []
    for name, (says, make) in _makers(build).items():
        plot = _made(ev, name, says, make)
        why = ", ".join(plot.missing) if plot.is_empty else ""
        choices.append(PlotChoice(name=name, says=says, why_not=why))
    choices += [PlotChoice(name=name, says=says) for name, says in (_SCHEDULE, _DOUBT)]
    return PlotList(build=build.name, plots=tuple(choices))


def _makers(build: Build) -> dict[str, tuple[str, Made]]:
    senders = {
        f"sender.{gauge.name}": (f"what moves {gauge.name}, and what it expects", partial(_sender, gauge=gauge))
        for gauge in build.all(Gauge)
        if gauge.sender is None or not _is_lamp(build, gauge)
    }
    return _PLOTS | senders


def _sender(ev: Evaluation, gauge: Gauge) -> Plot:
    return sender_curve(ev, gauge)


def _is_lamp(build: Build, gauge: Gauge) -> bool:
    """Whether a switch works it: a lamp has no curve."""
    sender = build.named(gauge.sender)
    return bool(getattr(sender, "is_switch", False))


def _made(ev: Evaluation, name: str, says: str, make: Made) -> Plot:
    try:
        return make(ev)
    except MissingFact as lacking:
        axis = Axis(says="")
        title = says[:1].upper() + says[1:]
        return Plot(build=ev.build.name, name=name, title=title, x=axis, y=axis, missing=lacking.wanted, draws=ev.draws)


def _planned(site: Callable[[], Site], draws: int) -> Plot:
    there = site()
    try:
        return schedule(there, draws)
    except ValueError as wrong:
        raise BadInput("schedule", [Located("", str(wrong))]) from None
