"""Ctrl-C as a wish that a search hears at its next step, and not as an exception in the middle of the solver.

Answers   listening   while it lasts, Ctrl-C sets what it gives; a second Ctrl-C ends the program as usual
Not here  what is done with the wish (schedule.py, justifying.py)
"""

from __future__ import annotations

import signal
from contextlib import contextmanager
from threading import Event, current_thread, main_thread
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator


@contextmanager
def listening() -> Iterator[Event]:
    """Gives what Ctrl-C sets. Beside the main thread, which alone hears signals, nothing sets it."""
    heard = Event()
    if current_thread() is not main_thread():
        yield heard
        return

    def hear(*_: object) -> None:
        if heard.is_set():
            raise KeyboardInterrupt
        heard.set()

    before = signal.signal(signal.SIGINT, hear)
    try:
        yield heard
    finally:
        signal.signal(signal.SIGINT, before)
