"""The makers of the manual's pages can be imported."""

from __future__ import annotations

import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]
sys.path.append(str(ROOT / "docs"))
