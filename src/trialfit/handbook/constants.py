"""Constants and exact units that the formulas and their examples share.

Answers   how large is g, an inch, a mile, a pound; usual density of air
Not here  limits and typical values of parts: they stand with the formula or the kind of part that uses them
Sources   [1] ISO 80000-3 and 3rd CGPM 1901: standard acceleration of free fall, exact
          [2] international yard and pound agreement of 1959: exact
"""

from __future__ import annotations

from math import pi

STANDARD_GRAVITY = 9.80665
"""g [m/s²], exact [1]."""

INCH = 0.0254
"""[m], exact [2]."""

FOOT = 0.3048
"""[m], exact [2]."""

MILE = 1609.344
"""[m], exact [2]."""

POUND = 0.45359237
"""Mass [kg], exact [2]."""

POUND_FORCE = POUND * STANDARD_GRAVITY
"""[N], exact [1][2]: 4.4482216152605."""

KILOMETRE_PER_HOUR = 1 / 3.6
"""[m/s]."""

MILE_PER_HOUR = MILE / 3600
"""[m/s], exact [2]: 0.44704."""

REVOLUTION_PER_MINUTE = 2 * pi / 60
"""[rad/s]."""

AIR_DENSITY = 1.20
"""ρ [kg/m³] at 20 °C and sea level, from memory; 101 325 Pa/(287.05 J/(kg·K) · 293.15 K) gives 1.204."""
