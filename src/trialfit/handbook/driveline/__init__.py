"""The driveline: joint angles, unevenness, lengths, travel and whirling of its shafts."""

from __future__ import annotations

from trialfit.handbook import formulas_of

__getattr__ = formulas_of("driveline")
