"""What the shell gives a command: its three streams, which may be closed or full, and its interrupt.

Answers   open_closed_streams   a stream that is closed leads to nowhere, so that no file of ours gets its number
          OUTPUT_FAILED         what a write to a stream fails with; of a file of ours it is said where the file is written
          give_up               what is left for a stream goes to nowhere
          say                   a line on stderr, if anybody takes it
          interrupts            an interrupt at any time, also inside the import of a library, which makes another error of it
Not here  what a command does about it (main.py)

Like main.py this module imports next to nothing.
"""

from __future__ import annotations

import os
import signal
import sys
from contextlib import contextmanager, suppress
from errno import EBADF, EDQUOT, EFBIG, EIO, ENOSPC
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator
    from typing import TextIO

OUTPUT_FAILED = frozenset({EBADF, EDQUOT, EFBIG, EIO, ENOSPC})


def open_closed_streams() -> None:
    """Opens what was closed when the program was started (`2>&-`): reading ends at once, what is written goes nowhere."""
    for name, mode in (("stdin", "r"), ("stdout", "w"), ("stderr", "w")):
        if getattr(sys, name) is None:
            setattr(sys, name, os.fdopen(os.open(os.devnull, os.O_RDWR), mode, encoding="utf-8"))


def give_up(stream: TextIO) -> None:
    """Lets what is left go to nowhere: Python flushes once more when it ends, and would fail again, loudly."""
    with suppress(OSError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())


def say(text: str) -> None:
    """A line on stderr; where nobody takes it, nothing."""
    try:
        sys.stderr.write(f"{text}\n")
        sys.stderr.flush()
    except (OSError, ValueError):
        give_up(sys.stderr)


@contextmanager
def interrupts() -> Iterator[list[int]]:
    """Inside, an interrupt raises KeyboardInterrupt and stands in the list, whatever a library makes of the exception.

    Who has started us without interrupts, or has its own way with them, keeps it.
    """
    came: list[int] = []

    def stop(number: int, _: object) -> None:
        came.append(number)
        raise KeyboardInterrupt

    before = None
    with suppress(ValueError):  # only the main thread may
        if signal.getsignal(signal.SIGINT) in (signal.default_int_handler, signal.SIG_DFL):
            before = signal.signal(signal.SIGINT, stop)
    try:
        yield came
    finally:
        if before is not None:
            signal.signal(signal.SIGINT, before)
