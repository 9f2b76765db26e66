"""How much a test works out, counted in values drawn: the same on every machine, however fast it is and whatever else it does.

Answers   count     counts the values drawn for uncertain facts from now on
          drawn     how many there were
          may_draw  lets one test draw more: the story of a whole conversion, which is one
          too_many  what a test is told that draws more than it may
A check of the first demo draws five million values, and a list of what to measure next fourteen million.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any, TypeVar

T = TypeVar("T")

MOST = 100_000_000  # twenty checks of the first demo
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


def may_draw(values: int) -> Callable[[T], T]:
    """Lets a test draw more than the others. Every such test is paid for by all the rest: there are to be few."""

    def let(test: T) -> T:
        test.may_draw = values  # type: ignore[attr-defined]
        return test

    return let


def too_many(values: int, test: object = None) -> str:
    """The sentence for a test that has drawn so many values; empty if it may."""
    most = getattr(test, "may_draw", MOST)
    if values <= most:
        return ""
    return (
        f"This test drew {values / 1e6:,.0f} million values, at most {most / 1e6:,.0f} million are allowed, so that ./test stays short: "
        "take fewer draws or a smaller build, let some(...) pick a tenth, or mark it only_long (tests/thorough.py)."
    )
