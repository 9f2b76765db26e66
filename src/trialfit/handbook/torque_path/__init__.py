"""The torque path: load and capacity of each part from clutch to wheel studs."""

from __future__ import annotations

from trialfit.handbook import formulas_of

__getattr__ = formulas_of("torque_path")
