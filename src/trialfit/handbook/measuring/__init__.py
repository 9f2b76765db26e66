"""Measuring: a reading against a limit, several readings, corrections."""

from __future__ import annotations

from trialfit.handbook import formulas_of

__getattr__ = formulas_of("measuring")
