"""Measuring at the bench: uncertainty of each method, and the corrections of a reading.

Answers   METHODS, Method           the ways of measuring, with their spread
          crushed_thickness         of a gasket under its bolts
          through_gasket            a reading between faces whose gasket was left out
          from_datum                an angle against a floor or face that is not level
          at_temperature            a length read warm or cold
          expansion                 of a material by its word
Not here  several readings into one value (readings.py); stacked tolerances (conformance.py)
Symbols   x reading, t thickness, c share by which a gasket is crushed, θ angle, α expansion, T temperature
Sources   tables/measuring_methods.csv, tables/thermal_expansion.csv   [1] ISO 1: lengths hold at 20 °C   [2] JCGM 100, H.1
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from trialfit.handbook.arrays import Numbers, as_floats, where
from trialfit.handbook.tables import rows

REFERENCE_TEMPERATURE = 293.15
"""The temperature at which lengths are stated, K: ISO 1."""


@dataclass(frozen=True)
class Method:
    """One way of measuring. `half_width` (SI) and `relative` (1) make its expanded uncertainty, k = 2."""

    name: str
    quantity: str
    provenance: str
    half_width: float
    relative: float
    says: str
    source: str

    def expanded(self, value: float) -> float:
        """Its expanded uncertainty for a value, both SI."""
        return self.half_width + self.relative * abs(value)


METHODS: dict[str, Method] = {
    row["method"]: Method(
        row["method"],
        row["quantity"],
        row["provenance"],
        float(row["half_width_si"]),
        float(row["relative"]),
        row["says"],
        row["source"],
    )
    for row in rows("measuring", "measuring_methods")
}
"""The ways of measuring by their word. Source: tables/measuring_methods.csv, common practice, no source."""

EXPANSIONS: dict[str, float] = {
    row["material"]: float(row["expansion_per_K"]) for row in rows("measuring", "thermal_expansion")
}
"""Linear expansion by material, 1/K. Source: tables/thermal_expansion.csv."""


def expansion(material: str) -> float:
    """Linear expansion of a material.

    material  steel, cast iron, aluminium or stainless steel
    returns   α     1/K
    errors    KeyError for another word

    Source: tables/thermal_expansion.csv: JCGM 100, H.1 for steel, the others from memory.

    >>> expansion("steel")
    1.15e-05
    """
    return EXPANSIONS[material]


def crushed_thickness(new_thickness: Numbers, crush: Numbers) -> Numbers:
    """Thickness of a gasket under its bolts.

        t' = t·(1 − c)

    new_thickness  t    m    ≥ 0
    crush          c    1    0 ≤ c < 1; 0 for a thickness that was measured crushed
    returns        t'   m    nan outside that range

    Source: definition; the gasket maker's figure, or an old gasket measured between the bolt holes, gives c.

    >>> f"{crushed_thickness(1.5e-3, 0.2) * 1e3:.2f} mm"
    '1.20 mm'
    """
    new, share = as_floats(new_thickness, crush)
    return where((new >= 0) & (share >= 0) & (share < 1), new * (1 - share))


def through_gasket(reading: Numbers, thickness: Numbers, sense: int) -> Numbers:
    """Gap with the gasket that was left out during measuring.

        x' = x + σ·t'

    reading    x      m
    thickness  t'     m    ≥ 0, crushed
    sense      σ      1    +1 where the gasket opens the gap, −1 where it closes it
    returns    x'     m    nan outside that range

    A head gasket opens the gap between valve and piston; a sump gasket closes the gap between sump and crossmember.
    Source: geometry.

    >>> f"{through_gasket(13.0e-3, 1.2e-3, -1) * 1e3:.1f} mm under a sump"
    '11.8 mm under a sump'
    """
    read, gasket = as_floats(reading, thickness)
    return where((gasket >= 0) & (abs(sense) == 1), read + sense * gasket)


def from_datum(reading: Numbers, datum: Numbers) -> Numbers:
    """Angle against a floor or face, read with one gauge the same way round.

        θ' = θ − θ_datum

    reading   θ          rad
    datum     θ_datum    rad
    returns   θ'         rad

    What the gauge shows wrong at zero drops out. Source: geometry.

    >>> f"{np.degrees(from_datum(np.radians(3.4), np.radians(0.3))):.1f}°"
    '3.1°'
    """
    read, level = as_floats(reading, datum)
    return where(np.isfinite(read) & np.isfinite(level), read - level)


def at_temperature(
    reading: Numbers,
    part_temperature: Numbers,
    part_expansion: Numbers,
    tool_temperature: Numbers,
    tool_expansion: Numbers,
    reference_temperature: Numbers = REFERENCE_TEMPERATURE,
) -> Numbers:
    """Length of a part at a stated temperature, read with a tool at its own temperature.

        x' = x·(1 + α_tool·(T_tool − 20 °C))·(1 + α_part·(T_wanted − T_part))

    reading             x           m
    part_temperature    T_part      K      > 0
    part_expansion      α_part      1/K    ≥ 0
    tool_temperature    T_tool      K      > 0
    tool_expansion      α_tool      1/K    ≥ 0
    reference_temperature  T_wanted    K      > 0; 20 °C
    returns             x'          m      nan outside that range

    Steel on steel at one temperature cancels out. Source: JCGM 100, H.1; ISO 1 for the 20 °C at which the tool is right.

    >>> f"{at_temperature(2.0, 333.15, 23e-6, 293.15, 11.5e-6):.5f} m: aluminium read at 60 °C"
    '1.99816 m: aluminium read at 60 °C'
    """
    read, part, of_part, tool, of_tool, wanted = as_floats(
        reading, part_temperature, part_expansion, tool_temperature, tool_expansion, reference_temperature
    )
    sound = (part > 0) & (tool > 0) & (wanted > 0) & (of_part >= 0) & (of_tool >= 0)
    true_reading = read * (1 + of_tool * (tool - REFERENCE_TEMPERATURE))
    return where(sound, true_reading * (1 + of_part * (wanted - part)))
