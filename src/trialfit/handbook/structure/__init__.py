"""Structure: sections, beams, frames, mounts, brackets and welds."""

from __future__ import annotations

from trialfit.handbook import formulas_of

__getattr__ = formulas_of("structure")
