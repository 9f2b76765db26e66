"""Braking: what each axle does and what the fluid must do for it."""

from __future__ import annotations

from trialfit.handbook import formulas_of

__getattr__ = formulas_of("braking")
