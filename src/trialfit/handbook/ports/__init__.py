"""Ports and lines: threads that seal, fittings, adapters and tapping."""

from __future__ import annotations

from trialfit.handbook import formulas_of

__getattr__ = formulas_of("ports")
