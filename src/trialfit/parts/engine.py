"""The engine: torque over speed, limits, inertia."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from trialfit.facts.numbers import number_text
from trialfit.facts.quantity import COEFFICIENT, INERTIA, POWER, ROTATIONAL_SPEED, SHARE, TORQUE
from trialfit.facts.showing import show
from trialfit.handbook.sources import NO_SOURCE
from trialfit.parts.declaring import POSITIVE, Bounds, FactSpec, Part, WordSpec
from trialfit.parts.lists_and_curves import CurveSpec

if TYPE_CHECKING:
    from collections.abc import Iterator

_REACHED = 0.8  # a curve that ends below this share of the limit is incomplete, or one of the two is wrong


class Engine(Part):
    """The engine that goes in."""

    kind = "engine"
    place = "engine"

    runs_on = WordSpec("what it runs on", "petrol", "diesel", "electricity", default="petrol")
    torque_curve = CurveSpec(
        ROTATIONAL_SPEED,
        TORQUE,
        "full-load torque at the flywheel over engine speed; peak_torque and power with their speeds are enough to begin",
    )
    peak_torque = FactSpec(
        TORQUE, "highest full-load torque at the flywheel", bounds=POSITIVE, example="265 N·m, manual"
    )
    peak_torque_speed = FactSpec(
        ROTATIONAL_SPEED,
        "engine speed of peak_torque; the middle of a plateau",
        bounds=POSITIVE,
        example="4000 rpm, manual",
    )
    power = FactSpec(POWER, "highest power at the flywheel", bounds=POSITIVE, example="155 hp, manual")
    power_speed = FactSpec(ROTATIONAL_SPEED, "engine speed of that power", bounds=POSITIVE, example="5700 rpm, manual")
    curve_bulge = FactSpec(
        SHARE,
        "how far full-load torque lies above a straight line, were the curve drawn by its two ends alone; counts where points "
        "of the curve are far apart, less by the square of their distance",
        bounds=Bounds(at_least=-1, at_most=2),
        typical="0 ± 40 %",
        source=f"{NO_SOURCE}: a full-load curve is arched by up to 40 %; a late turbocharger hollows it",
        lax="low",
    )
    torque_at_idle = FactSpec(
        SHARE,
        "full-load torque at idle over peak torque, where no curve is written",
        bounds=Bounds(at_least=0, at_most=1),
        typical="60 ± 30 %",
        source=f"{NO_SOURCE}: 30 % with a late turbocharger, 90 % for a large slow engine",
        lax="low",
    )
    power_at_limit = FactSpec(
        SHARE,
        "power at max_speed over the highest of the curve, where the curve ends below max_speed",
        bounds=Bounds(at_least=0, at_most=2),
        typical="85 ± 30 %",
        source=f"{NO_SOURCE}: 55 % for a diesel at its governor; above 100 % where the curve ends before its peak",
        lax="low",
    )
    regeneration_torque = FactSpec(
        TORQUE,
        "largest torque of an electric motor when it brakes the car; without it, that of its drive",
        bounds=Bounds(at_least=0),
        example="110 N·m, manual",
    )
    max_speed = FactSpec(
        ROTATIONAL_SPEED, "highest engine speed used: limiter or red line", bounds=POSITIVE, is_wish=True
    )
    idle_speed = FactSpec(
        ROTATIONAL_SPEED,
        "idle speed, warm",
        bounds=POSITIVE,
        example="850 rpm, gauged",
        unless="leave it out for a motor that does not idle",
    )
    cruise_low = FactSpec(
        ROTATIONAL_SPEED,
        "lowest speed at which it pulls cleanly on a light load",
        bounds=POSITIVE,
        example="1500 rpm, guess",
    )
    cruise_high = FactSpec(
        ROTATIONAL_SPEED,
        "highest speed that is comfortable for hours",
        bounds=POSITIVE,
        example="3300 ± 150 rpm, guess",
    )
    launch_speed = FactSpec(
        ROTATIONAL_SPEED,
        "engine speed held while the clutch engages",
        bounds=POSITIVE,
        is_wish=True,
        example="2400 rpm",
        unless="leave it out for a motor without a clutch",
    )
    rotating_inertia = FactSpec(
        INERTIA,
        "moment of inertia of crank, flywheel and clutch",
        bounds=Bounds(at_least=0),
        typical="0.18 +0.27/-0.15 kg·m²",
        source=f"{NO_SOURCE}: 0.03 for a motor, 0.45 for a large diesel with its flywheel",
        example="0.18 ± 0.08 kg·m², guess",
    )
    application_factor = FactSpec(
        COEFFICIENT,
        "application factor: peak torque into the drivetrain over mean full-load torque, from firing pulses and snatch",
        bounds=Bounds(at_least=1),
        typical="1.6 ± 0.35",
        source="from memory: 1.25 to 2 for petrol engines; 1 for an electric motor, from a cardan-shaft maker's guide",
        example="1.6 ± 0.35, guess",
        lax="low",
    )

    def faults(self) -> Iterator[tuple[str, str]]:
        """The speeds of an engine rise in one order: idle, cruise band, limit; full-load torque is not negative."""
        yield from self._curve_faults()
        yield from self._peak_faults()
        order = (self.idle_speed, self.cruise_low, self.cruise_high, self.max_speed)
        written = [(ref.path.rpartition(".")[2], ref.written) for ref in order if ref.written]
        for (low_name, low), (high_name, high) in pairwise(written):
            if low.si >= high.si:
                said = f"is {high}, not above {self.name}.{low_name} ({low})"
                yield high_name, f"{said}: the speeds rise from idle to the limit"

    def _peak_faults(self) -> Iterator[tuple[str, str]]:
        """Power peaks at or above the engine speed of peak torque, and takes no more torque than that there."""
        torque, at_torque = self.peak_torque.written, self.peak_torque_speed.written
        power, at_power, limit = self.power.written, self.power_speed.written, self.max_speed.written
        if at_torque and at_power and at_power.si < at_torque.si:
            said = f"is {at_power}, below {self.name}.peak_torque_speed ({at_torque})"
            yield "power_speed", f"{said}: expected a speed above it, power peaks higher up than torque"
        if torque and power and at_power:
            least = (power.si - power.spread.minus) / at_power.si
            if least > torque.si + torque.spread.plus:
                needs = show(power.si / at_power.si, torque.unit)
                said = (
                    f"is {power}, which at {at_power.plain} takes {needs}, more than {self.name}.peak_torque ({torque})"
                )
                yield "power", f"{said}: check the three figures and their units"
        for name, fact in (("peak_torque_speed", at_torque), ("power_speed", at_power)):
            if fact and limit and fact.si - fact.spread.minus > limit.si + limit.spread.plus:
                said = f"is {fact}, above {self.name}.max_speed ({limit})"
                yield name, f"{said}: expected a speed that the engine reaches"

    def _curve_faults(self) -> Iterator[tuple[str, str]]:
        curve, limit = self.torque_curve.written, self.max_speed.written
        if curve and min(curve.y) < 0:
            place, torque = next((x, y) for x, y in zip(curve.written_x, curve.written_y, strict=True) if y < 0)
            said = (
                f"has {number_text(torque)} {curve.y_unit.canonical} at {number_text(place)} {curve.x_unit.canonical}"
            )
            yield "torque_curve", f"{said}: expected full-load torque, which is not negative; leave out overrun"
        power = self.power_speed.written
        reached = max(curve.x[-1] if curve else 0.0, power.si if power and self.power.written else 0.0)
        if curve and limit and reached < _REACHED * limit.si:
            ends = f"{number_text(curve.written_x[-1])} {curve.x_unit.canonical}"
            yield (
                "torque_curve",
                (
                    f"ends at {ends}, well below {self.name}.max_speed ({limit}), and the torque beyond its last point is unknown: "
                    "write more points, up to the limit, or the limit at which you shift"
                ),
            )
