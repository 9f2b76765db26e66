"""How much of a proof over many inputs is run: a fixed tenth by `./test`, the whole by `./test --long`.

Answers   only_long        marks a test that works a whole demo through for half a minute: run by ./test --long alone
          some(range(300))   every tenth of them, always the same ones; all of them when it is to be long
          some(60)           6 examples; all 60 when it is to be long

    @pytest.mark.parametrize("number", some(range(20)))
    @settings(max_examples=some(60))
    for seed in some(range(300)):

It is for proofs that take longer than a second: what is cheap runs whole always.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, TypeVar, overload

import pytest

SHARE = 10
is_long = False  # set from the option --long, before any test is read (conftest.py)

T = TypeVar("T")


@overload
def some(many: int) -> int: ...
@overload
def some(many: Sequence[T]) -> Sequence[T]: ...
def some(many):
    """A tenth of a count, rounded up, or every tenth input from the first on; all of them under --long."""
    if is_long:
        return many
    return -(-many // SHARE) if isinstance(many, int) else many[::SHARE]


def only_long(test: Callable[..., Any]) -> Callable[..., Any]:
    """The test, left out of the usual run: what it proves of a whole demo, cheaper tests prove of small builds."""
    return pytest.mark.skipif(not is_long, reason="half a minute of work: ./test --long")(test)
