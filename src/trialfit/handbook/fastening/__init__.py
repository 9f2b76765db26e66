"""Fastening: threads, bolts, preload, torque and the order of tightening."""

from __future__ import annotations

from trialfit.handbook import formulas_of

__getattr__ = formulas_of("fastening")
