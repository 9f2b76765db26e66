"""A writer that is killed at any moment loses no change whose call had returned, and doubles none.

This proves the death of a process, not the loss of power: for that the disk itself must keep what it was told to keep.
"""

from __future__ import annotations

import os
import random
import signal
import time
from collections import Counter
from pathlib import Path

import pytest
from thorough import some

from trialfit.book.changes import Change
from trialfit.book.journal import Book

KILLS = 300
pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="this system ends processes in another way")


def write_until_killed(file: Path, pipe: int, seed: int) -> None:
    """Writes as fast as it can; tells each key after the call has returned."""
    rng = random.Random(seed)  # noqa: S311 - the same every time, and no secret
    with Book.open(file) as book:
        while True:
            key = f"{rng.getrandbits(128):032x}"
            if rng.random() < 0.2:
                book.undo(device=f"writer {seed}", key=key)
            else:
                after = f"{rng.randrange(10**6)}.{key[:4]} kg"
                book.write(
                    Change(path="car.mass", before=book.value("car.mass"), after=after, key=key), f"writer {seed}"
                )
            os.write(pipe, f"{key}\n".encode())


def killed_writer(file: Path, seed: int) -> list[str]:
    """The keys that a writer told before it was killed, at a random moment after a random number of them."""
    rng = random.Random(-seed)  # noqa: S311 - the same every time, and no secret
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        try:
            os.close(reading)
            write_until_killed(file, writing, seed)
        finally:
            os._exit(1)
    os.close(writing)
    told = b""
    for _ in range(rng.randrange(8)):
        told += os.read(reading, 4096)
    time.sleep(rng.random() * 0.004)
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    while more := os.read(reading, 65536):
        told += more
    os.close(reading)
    return told.decode().split()


def test_no_change_is_lost_or_doubled_when_writers_are_killed(tmp_path, small):
    file = tmp_path / "killed.book"
    Book.create(file, small).close()
    told: list[str] = []
    seeds = some(range(1, KILLS + 1))
    for seed in seeds:
        told += killed_writer(file, seed)
    assert len(told) > len(seeds)  # they did write

    with Book.open(file) as book:
        assert list(book.damages()) == []
        keys = Counter(change.key for change in book.journal() if change.key)
        numbers = [change.number for change in book.journal()]

    assert [key for key in told if key not in keys] == []
    assert max(keys.values()) == 1
    assert numbers == list(range(1, len(numbers) + 1))
