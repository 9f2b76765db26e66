"""The makers of the manual's pages can be imported."""

from __future__ import annotations

import sys
from pathlib import Path

from worked_out_once import worked_out_once  # noqa: F401 - pytest finds it by its name

ROOT = Path(__file__).parents[2]
sys.path.append(str(ROOT / "docs"))
