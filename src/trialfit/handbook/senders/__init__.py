"""Senders and gauges: curves, resistors between them, preferred values."""

from __future__ import annotations

from trialfit.handbook import formulas_of

__getattr__ = formulas_of("senders")
