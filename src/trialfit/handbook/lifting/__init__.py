"""Lifting: hoisting an engine or gearbox, and standing a car on stands."""

from __future__ import annotations

from trialfit.handbook import formulas_of

__getattr__ = formulas_of("lifting")
