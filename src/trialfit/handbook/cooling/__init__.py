"""Cooling: heat into the coolant and out of the radiator."""

from __future__ import annotations

from trialfit.handbook import formulas_of

__getattr__ = formulas_of("cooling")
