"""What shows the driver the state of the engine: senders, gauges and warning lamps."""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.facts.quantity import POWER, PRESSURE, RESISTANCE, SHARE, TEMPERATURE, VOLTAGE
from trialfit.handbook.ports.port_ends import read_end
from trialfit.handbook.senders.e_series import SERIES
from trialfit.handbook.sources import NO_SOURCE
from trialfit.parts.declaring import NOT_NEGATIVE, POSITIVE, Bounds, CodeSpec, FactSpec, Part, RefSpec, WordSpec
from trialfit.parts.lists_and_curves import CurveSpec

if TYPE_CHECKING:
    from collections.abc import Iterator

    from trialfit.facts.curve import Curve

A_SHARE = Bounds(at_least=0, at_most=1)
MEDIA = ("temperature", "pressure", "level")
_SWITCHES = tuple(f"switch_{medium}" for medium in MEDIA)
_CURVES = tuple(f"{medium}_curve" for medium in MEDIA)


def _curve_faults(curves: dict[str, Curve], *, must_not_turn: bool) -> Iterator[tuple[str, str]]:
    for name, curve in curves.items():
        if min(curve.y) < 0 or (name == "temperature_curve" and min(curve.y) == 0):
            yield name, "has a resistance below 0, or of 0 at a temperature: expected more than 0 at each point"
        steps = [after - before for before, after in zip(curve.y, curve.y[1:], strict=False)]
        if must_not_turn and not (all(step > 0 for step in steps) or all(step < 0 for step in steps)):
            yield (
                name,
                "changes direction: expected resistances that all rise or all fall",
            )


class Sender(Part):
    """A sender: a resistance that follows temperature, pressure or level, or a switch.

    Write the curve from its data sheet, or points of your own with a multimeter and a pan of water. A switch has a
    threshold and a contact instead.
    """

    kind = "sender"

    temperature_curve = CurveSpec(TEMPERATURE, RESISTANCE, "resistance over temperature")
    pressure_curve = CurveSpec(PRESSURE, RESISTANCE, "resistance over pressure above atmospheric")
    level_curve = CurveSpec(SHARE, RESISTANCE, "resistance over level, 0 % empty, 100 % full")
    switch_temperature = FactSpec(TEMPERATURE, "temperature at which a switch acts", bounds=POSITIVE)
    switch_pressure = FactSpec(PRESSURE, "pressure at which a switch acts", bounds=NOT_NEGATIVE)
    switch_level = FactSpec(SHARE, "level at which a switch acts", bounds=A_SHARE)
    contact = WordSpec("when the contact of a switch is closed", "closed above", "closed below")
    earth_resistance = FactSpec(
        RESISTANCE,
        "resistance of its earth return to the battery; seal tape on the thread can raise it to any value",
        bounds=NOT_NEGATIVE,
        typical="0.3 ± 0.3 Ω",
        source=f"{NO_SOURCE}: through the thread and the engine's earth strap",
    )
    between_points = FactSpec(
        SHARE,
        "how far the resistance half-way between the two points of a temperature curve that has only two may be off the smooth line between them; "
        "write a third point instead",
        bounds=Bounds(above=-1, at_most=1),
        typical="0 ± 20 %",
        source=f"{NO_SOURCE}: two points do not say how the curve bends",
        example="0 ± 5 %, guess",
        lax="either",
    )
    end = CodeSpec("its threaded end, by the standard of its thread", check=read_end, example="male 1/8-27 NPT")

    def faults(self) -> Iterator[tuple[str, str]]:
        """Curves have resistances of 0 or more; a sender is a resistance or a switch."""
        curves: dict[str, Curve] = {key: self.values[key] for key in _CURVES if key in self.values}  # type: ignore[misc]
        yield from _curve_faults(curves, must_not_turn=False)
        for switch in _SWITCHES:
            if switch in self.values and switch.replace("switch_", "") + "_curve" in self.values:
                yield switch, "is written beside a curve of the same quantity: write sender and switch as two parts"

    @property
    def is_switch(self) -> bool:
        """Whether it is a switch."""
        return self.contact is not None or any(switch in self.values for switch in _SWITCHES)


class Gauge(Part):
    """A gauge with a needle, or a warning lamp: its sender, and the curve that it needs.

    The curve is the one of the sender it was made for. The important value is the one at which the driver must act.
    """

    kind = "gauge"

    sender = RefSpec("the sender that moves it", "sender")
    measures = WordSpec("what it shows", *MEDIA, default="temperature")
    temperature_curve = CurveSpec(TEMPERATURE, RESISTANCE, "resistance that puts the needle on each temperature")
    pressure_curve = CurveSpec(PRESSURE, RESISTANCE, "resistance that puts the needle on each pressure")
    level_curve = CurveSpec(SHARE, RESISTANCE, "resistance that puts the needle on each level")
    limit_temperature = FactSpec(TEMPERATURE, "temperature at which the driver must act", bounds=POSITIVE, is_wish=True)
    limit_pressure = FactSpec(PRESSURE, "pressure below which the driver must act", bounds=NOT_NEGATIVE, is_wish=True)
    limit_level = FactSpec(SHARE, "level below which the driver must act", bounds=A_SHARE, is_wish=True)
    normal_temperature = FactSpec(TEMPERATURE, "highest normal temperature", bounds=POSITIVE)
    normal_pressure = FactSpec(PRESSURE, "lowest normal pressure: hot, idling", bounds=NOT_NEGATIVE)
    normal_level = FactSpec(SHARE, "level at which the lamp must still be off", bounds=A_SHARE, is_wish=True)
    lamp_on = WordSpec("state of the contact when a warning lamp is lit", "closed", "open", default="closed")
    series_resistor = FactSpec(RESISTANCE, "resistor fitted in the wire to the sender", bounds=NOT_NEGATIVE)
    parallel_resistor = FactSpec(
        RESISTANCE, "resistor fitted from that wire to earth, across the sender", bounds=POSITIVE
    )
    resistor_rating = FactSpec(POWER, "rated power of the resistors fitted", bounds=POSITIVE)
    resistor_series = WordSpec(
        "the series of preferred numbers to choose resistors from", *list(SERIES)[2:6], default="E24"
    )
    supply_voltage = FactSpec(
        VOLTAGE,
        "supply voltage of gauge and sender",
        bounds=POSITIVE,
        typical="13.8 +1.0/-2.0 V",
        source=f"{NO_SOURCE}: 11.8 V on a tired battery, 14.8 V charging in the cold; without a regulator behind the dash",
        example="13.8 ± 0.9 V, guess",
    )
    internal_resistance = FactSpec(
        RESISTANCE,
        "resistance inside the gauge, in series with the sender",
        bounds=NOT_NEGATIVE,
        typical="0 ± 0 Ω",
        source=f"{NO_SOURCE}: the worst case, all of the supply on the sender's side",
    )

    def faults(self) -> Iterator[tuple[str, str]]:
        """Each resistance gives one place of the needle."""
        curves: dict[str, Curve] = {key: self.values[key] for key in _CURVES if key in self.values}  # type: ignore[misc]
        yield from _curve_faults(curves, must_not_turn=True)
        for limit, normal, is_above in (
            (self.limit_temperature, self.normal_temperature, True),
            (self.limit_pressure, self.normal_pressure, False),
            (self.limit_level, self.normal_level, False),
        ):
            act, well = limit.written, normal.written
            if act and well and (act.si <= well.si if is_above else act.si >= well.si):
                word = "above" if is_above else "below"
                yield (
                    limit.path.rpartition(".")[2],
                    f"is {act}, and {normal.path} is {well}: expected the value at which the driver must act {word} the normal one",
                )
