"""The cautions that several sheets print.

Answers   MANUAL_FIRST    the sentence on every sheet with figures
          LOOK_FIRST      what to check before anyone works under or on a car
"""

from __future__ import annotations

MANUAL_FIRST = "The maker's manual outranks every figure here; local codes and licensed certifiers decide what may be driven on a road."
LOOK_FIRST = "Wheels chocked, car on stands on firm ground, never on a jack alone; tell another person where you are."
