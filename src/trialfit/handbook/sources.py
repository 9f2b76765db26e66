"""The words for a number without a publication.

Answers   NO_SOURCE   the trade does it so
Not here  publications, which stand beside what is taken from them (tables/SOURCES.md of each room)
"""

from __future__ import annotations

from typing import Final

NO_SOURCE: Final = "common practice, no source"
"""Where a number comes from that the trade uses and no publication gives; what follows a colon says what it stands for."""
