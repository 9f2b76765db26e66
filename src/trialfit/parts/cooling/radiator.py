"""What rejects the engine's heat: the radiator, its air, its coolant and its cap."""

from __future__ import annotations

from typing import TYPE_CHECKING

from trialfit.facts.quantity import (
    AREA,
    COEFFICIENT,
    HEAT_CONDUCTANCE,
    LENGTH,
    POWER,
    PRESSURE,
    SHARE,
    SPEED,
    TEMPERATURE,
    TEMPERATURE_DIFFERENCE,
    VOLUME_FLOW,
)
from trialfit.handbook.sources import NO_SOURCE
from trialfit.parts.declaring import NOT_NEGATIVE, POSITIVE, Bounds, FactSpec, Part

if TYPE_CHECKING:
    from collections.abc import Iterator

_RATING = ("rated_heat", "rated_temperature_difference", "rated_coolant_flow")


class Radiator(Part):
    """The radiator that cools the engine, with its fan, its coolant and its cap.

    Write what its data sheet rates it at: heat, temperature difference, air and coolant; or its conductance. A hot system
    is under pressure: open it only when it is cold.
    """

    kind = "radiator"
    place = "radiator"

    rated_heat = FactSpec(POWER, "heat rejected at its rating", bounds=POSITIVE, example="60 kW, catalogue")
    rated_temperature_difference = FactSpec(
        TEMPERATURE_DIFFERENCE,
        "at its rating: coolant inlet temperature minus air inlet temperature",
        bounds=POSITIVE,
        example="60 K, catalogue",
    )
    rated_air_speed = FactSpec(
        SPEED, "at its rating: air speed in front of its face", bounds=POSITIVE, example="6 m/s, catalogue"
    )
    rated_coolant_flow = FactSpec(
        VOLUME_FLOW, "at its rating: coolant flow", bounds=POSITIVE, example="100 l/min, catalogue"
    )
    conductance = FactSpec(
        HEAT_CONDUCTANCE,
        "its heat conductance at rated_air_speed; replaces rated_heat, rated_temperature_difference and rated_coolant_flow",
        bounds=POSITIVE,
        example="1.9 kW/K ± 10 %, catalogue",
    )
    air_exponent = FactSpec(
        COEFFICIENT,
        "exponent of conductance over air speed",
        bounds=Bounds(at_least=0, at_most=1),
        typical="0.5 +0.3/-0.2",
        source=f"{NO_SOURCE}: 0.3 for louvred fins at low speed, 0.8 in turbulent flow",
        example="0.5 ± 0.15, guess",
    )
    face_area = FactSpec(AREA, "area of its finned face", bounds=POSITIVE, example="0.25 m², taped")
    air_speed_ratio = FactSpec(
        SHARE,
        "air speed in front of its face over road speed, behind the grille",
        bounds=Bounds(at_least=0, at_most=1),
        typical="20 +25/-14 %",
        source=f"{NO_SOURCE}: 6 % behind a closed nose, 45 % for a ducted core",
        example="20 ± 10 %, guess",
    )
    fan_flow = FactSpec(
        VOLUME_FLOW,
        "air flow of the fan through it at standstill, shroud fitted",
        bounds=POSITIVE,
        example="2000 m³/h ± 20 %, catalogue",
        unless="leave it out where there is no fan",
    )
    coolant_flow = FactSpec(
        VOLUME_FLOW,
        "smallest coolant flow through it while driving, thermostat open",
        bounds=POSITIVE,
        example="70 ± 20 l/min, guess",
    )
    cap_pressure = FactSpec(
        PRESSURE,
        "opening pressure of its cap, above atmospheric",
        bounds=NOT_NEGATIVE,
        example="0.9 bar, manual",
    )
    glycol_share = FactSpec(
        SHARE,
        "share of glycol in the coolant, by volume",
        bounds=Bounds(at_least=0, at_most=0.55),
        typical="50 +5/-45 %",
        source=f"{NO_SOURCE}: nearly plain water to 55 %",
        example="50 ± 3 %, guess",
    )
    heat_rejection_ratio = FactSpec(
        COEFFICIENT,
        "heat into the coolant over power at the flywheel; 0.45 to 1.0 for a diesel",
        bounds=POSITIVE,
        typical="0.80 ± 0.20",
        source="from memory: Internal Combustion Engine Fundamentals, table 12.1, full load, spark ignition: "
        "coolant 17 to 26 % of the fuel, brake 25 to 28 %",
    )
    preheat = FactSpec(
        TEMPERATURE_DIFFERENCE,
        "temperature rise of the air in a condenser or oil cooler in front of it: 5 to 15 K with one",
        bounds=NOT_NEGATIVE,
        typical="0 ± 0 K",
        source=f"{NO_SOURCE}: nothing in front of it",
        example="10 ± 5 K, guess",
    )
    ambient_temperature = FactSpec(
        TEMPERATURE,
        "design air temperature: the hottest day",
        bounds=POSITIVE,
        typical="35 ± 0 °C",
        source=NO_SOURCE,
        is_wish=True,
        example="38 °C",
        lax="low",
    )
    altitude = FactSpec(
        LENGTH,
        "design altitude",
        typical="0 ± 0 m",
        source=f"{NO_SOURCE}: sea level",
        is_wish=True,
        example="1500 m",
    )
    boiling_margin = FactSpec(
        TEMPERATURE_DIFFERENCE,
        "required margin of the coolant in the top hose below boiling",
        bounds=NOT_NEGATIVE,
        typical="10 ± 0 K",
        source=NO_SOURCE,
        is_wish=True,
        example="12 K",
        lax="low",
    )

    def faults(self) -> Iterator[tuple[str, str]]:
        """The conductance is written once: directly, or as a rating."""
        if self.conductance.written:
            for name in _RATING:
                if name in self.values:
                    yield name, f"conflicts with {self.name}.conductance: write one of the two"
