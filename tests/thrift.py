"""How much a test works out, counted in values drawn: the same on every machine, however fast it is and whatever else it does.

Answers   count     counts the values drawn for uncertain facts from now on
          drawn     how many there were
          too_many  what a test is told that draws more than it may
A check of the first demo draws five million values, and a list of what to measure next fourteen million.
"""

from __future__ import annotations

from functools import wraps
from typing import Any

MOST = 60_000_000  # a quarter of a minute of work
_drawn = 0


def count() -> None:
    """Puts a counter before the drawing of values."""
    from trialfit.evaluation import evaluation

    draws_of = evaluation.draws_of

    @wraps(draws_of)
    def counted(path: str, value: float, spread: Any, count: int, block: int = 0) -> Any:
        global _drawn  # noqa: PLW0603 - one counter for the process
        _drawn += count
        return draws_of(path, value, spread, count, block)

    evaluation.draws_of = counted


def drawn() -> int:
    """The values drawn in this process since it began to count."""
    return _drawn


def too_many(values: int) -> str:
    """The sentence for a test that has drawn so many values; empty if it may."""
    if values <= MOST:
        return ""
    return (
        f"This test drew {values / 1e6:,.0f} million values, at most {MOST / 1e6:,.0f} million are allowed, so that ./test stays short: "
        "take fewer draws or a smaller build, let some(...) pick a tenth, or mark it only_long (tests/thorough.py)."
    )
