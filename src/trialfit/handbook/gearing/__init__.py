"""Gearing and performance: ratios, tyres, pull, grip, launch, top speed and times."""

from __future__ import annotations

from trialfit.handbook import formulas_of

__getattr__ = formulas_of("gearing")
