"""Oil: the pan and its pickup."""

from __future__ import annotations

from trialfit.handbook import formulas_of

__getattr__ = formulas_of("oil")
