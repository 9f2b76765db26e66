"""`python -m trialfit`: the same as the command `trialfit`."""

from __future__ import annotations

import gc
import signal
import sys

if __name__ == "__main__" and signal.getsignal(signal.SIGINT) is signal.default_int_handler:
    signal.signal(
        signal.SIGINT, signal.SIG_DFL
    )  # until main() listens an interrupt ends us at once, with nothing to say

from trialfit.cli.main import main

if __name__ == "__main__":
    code = main()
    gc.freeze()  # what is left goes with the process: to look through it for cycles first takes a tenth of a second
    sys.exit(code)
