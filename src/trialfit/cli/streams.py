"""What the shell gives a command: its three streams, which may be closed or full, and its interrupt.

Answers   open_closed_streams   a closed stream goes to the null device, so that no file of ours gets its number
          OUTPUT_FAILED         the errors of a write to a stream; for our own files they are reported where the file
                                is written
          give_up               sends the rest of a stream to the null device
          say                   a line on stderr, if it can be written
          interrupts            an interrupt at any time, also inside the import of a library, which would turn it into
                                another error
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
    """Opens streams that were closed at the start (`2>&-`) on the null device: reading ends at once, output is dropped."""
    for name, mode in (("stdin", "r"), ("stdout", "w"), ("stderr", "w")):
        if getattr(sys, name) is None:
            setattr(sys, name, os.fdopen(os.open(os.devnull, os.O_RDWR), mode, encoding="utf-8"))


def give_up(stream: TextIO) -> None:
    """Sends the rest to the null device: Python flushes once more at its end, and would fail again with a message."""
    with suppress(OSError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())


def say(text: str) -> None:
    """A line on stderr; nothing if it cannot be written."""
    try:
        sys.stderr.write(f"{text}\n")
        sys.stderr.flush()
    except (OSError, ValueError):
        give_up(sys.stderr)


@contextmanager
def interrupts() -> Iterator[list[int]]:
    """Inside, an interrupt raises KeyboardInterrupt and is put into the list, even if a library changes the exception.

    A setting of the caller that ignores or handles interrupts is kept.
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
