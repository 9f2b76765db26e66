"""`python -m trialfit`: the same as the command `trialfit`."""

from __future__ import annotations

import signal

if __name__ == "__main__":
    if signal.getsignal(signal.SIGINT) is signal.default_int_handler:
        signal.signal(
            signal.SIGINT, signal.SIG_DFL
        )  # until main() listens an interrupt ends us at once, with nothing to say
    if hasattr(signal, "pthread_sigmask"):
        # ./run keeps interrupts back while Python starts, which has a traceback to say about them: one that came ends us here.
        signal.pthread_sigmask(signal.SIG_UNBLOCK, [signal.SIGINT])

import gc
import sys

from trialfit.cli.exit_codes import INTERRUPTED
from trialfit.cli.main import main

if __name__ == "__main__":
    try:
        code = main()
    except KeyboardInterrupt:  # in the moment before main() listens, or after
        code = INTERRUPTED
    gc.freeze()  # what is left goes with the process: to look through it for cycles first takes a tenth of a second
    sys.exit(code)
