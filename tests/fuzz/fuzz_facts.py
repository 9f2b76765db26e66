"""Any text whatever as a fact or a curve: it is read and shown so that it reads back, or it is refused in one sentence.

    .setup/venv/bin/python tests/fuzz/fuzz_facts.py -max_total_time=120 [FOLDER OF EXAMPLES]

Needs atheris. Last run: 150 seconds, 1.7 million texts, nothing found; a run before that found slopes whose spread reaches
beyond upright, which are refused since. Two shorter property tests in tests/facts/test_round_trip.py keep the same promise.
"""

from __future__ import annotations

import sys

import atheris

with atheris.instrument_imports(include=["trialfit"]):
    from trialfit.facts.curve import read_curve
    from trialfit.facts.quantity import QUANTITIES
    from trialfit.facts.reading import Unreadable, read_fact

NAMES = list(QUANTITIES)


def one_input(data: bytes) -> None:
    """One text, as a fact of one quantity and as a curve of two."""
    provider = atheris.FuzzedDataProvider(data)
    x_quantity, y_quantity = (QUANTITIES[provider.PickValueInList(NAMES)] for _ in range(2))
    text = data[:-2].decode("utf-8", errors="replace") if provider.ConsumeBool() else provider.ConsumeUnicode(300)
    try:
        fact = read_fact(text, x_quantity)
    except Unreadable as refused:
        check(refused)
    else:
        same(read_fact(str(fact), x_quantity), fact)
        if fact.spread.plus < 0:
            raise AssertionError(text)
    try:
        curve = read_curve(text, x_quantity, y_quantity)
    except Unreadable as refused:
        check(refused)
    else:
        same(read_curve(str(curve), x_quantity, y_quantity), curve)


def check(refused: Unreadable) -> None:
    """A refusal is one line that says something."""
    if not str(refused) or "\n" in str(refused):
        raise AssertionError(refused.read) from None


def same(again: object, first: object) -> None:
    """What was shown reads back to the same."""
    if again != first:
        raise AssertionError(first)


if __name__ == "__main__":
    atheris.Setup(sys.argv, one_input)
    atheris.Fuzz()
