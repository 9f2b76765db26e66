"""The torque path: what reaches each part from clutch to wheel studs, and what each bears."""

from __future__ import annotations

from trialfit.handbook import formulas_of

__getattr__ = formulas_of("torque_path")
