"""The kinds of quantity for facts, each with its SI unit and the accepted spellings of its units.

Answers   Quantity     one kind of quantity: LENGTH, ANGLE, TORQUE ... RATIO, COEFFICIENT, COUNT, SHARE, SLOPE
          QUANTITIES   all of them by name
Not here  the units themselves (units.py and units.csv); default spreads (provenance.py)
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Quantity:
    """One kind of quantity.

    `name` is the trade's word, `si` the symbol of the unit used inside ("" if there is none), `example` a fact
    as a builder would write it.
    """

    name: str
    si: str
    example: str

    @property
    def spellings(self) -> tuple[str, ...]:
        """Every accepted unit spelling for this quantity, from units.csv; "" if no unit is needed."""
        from trialfit.facts.units import spellings_of

        return spellings_of(self)

    @property
    def with_article(self) -> str:
        """The name as used in a sentence: "a length", "an angle"."""
        return f"{'an' if self.name[0] in 'aeio' else 'a'} {self.name}"


LENGTH = Quantity("length", "m", "76.2 ± 0.1 mm, calipered")
ANGLE = Quantity("angle", "rad", "3.4°, gauged")
MASS = Quantity("mass", "kg", "12.5 kg, weighed")
FORCE = Quantity("force", "N", "6300 N ± 5 %, catalogue")
TORQUE = Quantity("torque", "N·m", "38 N·m, manual")
SPEED = Quantity("speed", "m/s", "90 km/h")
ROTATIONAL_SPEED = Quantity("rotational speed", "rad/s", "6500 rpm, manual")
POWER = Quantity("power", "W", "110 kW, catalogue")
ENERGY = Quantity("energy", "J", "25 kJ")
PRESSURE = Quantity("pressure", "Pa", "2.2 bar, gauged")
STRESS = Quantity("stress", "Pa", "300 ± 60 MPa")
TIME = Quantity("time", "s", "0.45 ± 0.15 s")
TEMPERATURE = Quantity("temperature", "K", "85 °C")
TEMPERATURE_DIFFERENCE = Quantity("temperature difference", "K", "12 K")
AREA = Quantity("area", "m²", "0.62 ± 0.08 m²")
VOLUME = Quantity("volume", "m³", "4.5 l, manual")
VOLUME_FLOW = Quantity("volume flow", "m³/s", "95 l/min, catalogue")
HEAT_CONDUCTANCE = Quantity("heat conductance", "W/K", "1.9 kW/K ± 10 %, catalogue")
DENSITY = Quantity("density", "kg/m³", "1.20 ± 0.06 kg/m³")
INERTIA = Quantity("inertia", "kg·m²", "0.18 ± 0.08 kg·m²")
STIFFNESS = Quantity("stiffness", "N/m", "28 N/mm ± 10 %")
TORSIONAL_STIFFNESS = Quantity("torsional stiffness", "N·m/rad", "9500 N·m/rad ± 10 %")
ACCELERATION = Quantity("acceleration", "m/s²", "4.2 m/s²")
ROTATIONAL_ACCELERATION = Quantity("rotational acceleration", "rad/s²", "400 rad/s²")
VOLTAGE = Quantity("voltage", "V", "13.8 ± 0.4 V")
CURRENT = Quantity("current", "A", "12 A, catalogue")
RESISTANCE = Quantity("resistance", "Ω", "180 Ω, gauged")
RATIO = Quantity("ratio", "", "3.73")  # of teeth: counted, so exact
COEFFICIENT = Quantity("coefficient", "", "0.90 ± 0.10")  # a friction, a factor: measured or estimated
COUNT = Quantity("count", "", "4")
SHARE = Quantity("share", "", "60 ± 15 %")
SLOPE = Quantity("slope", "", "12 %")

QUANTITIES: dict[str, Quantity] = {
    quantity.name: quantity
    for quantity in (
        LENGTH,
        ANGLE,
        MASS,
        FORCE,
        TORQUE,
        SPEED,
        ROTATIONAL_SPEED,
        POWER,
        ENERGY,
        PRESSURE,
        STRESS,
        TIME,
        TEMPERATURE,
        TEMPERATURE_DIFFERENCE,
        AREA,
        VOLUME,
        VOLUME_FLOW,
        HEAT_CONDUCTANCE,
        DENSITY,
        INERTIA,
        STIFFNESS,
        TORSIONAL_STIFFNESS,
        ACCELERATION,
        ROTATIONAL_ACCELERATION,
        VOLTAGE,
        CURRENT,
        RESISTANCE,
        RATIO,
        COEFFICIENT,
        COUNT,
        SHARE,
        SLOPE,
    )
}
