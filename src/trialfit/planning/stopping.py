"""Ctrl-C as a signal that a search reads at its next step, instead of an exception in the middle of the solver.

Answers   listening   while it lasts, Ctrl-C sets what it gives; a second Ctrl-C ends the program as usual
Not here  what is done with the signal (schedule.py, justifying.py)
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
    """Gives the event that Ctrl-C sets. Only the main thread receives signals: in another one it is never set."""
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
