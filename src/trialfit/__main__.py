"""`python -m trialfit`: the same as the command `trialfit`."""

from __future__ import annotations

import gc
import sys

from trialfit.cli.main import main

if __name__ == "__main__":
    code = main()
    gc.freeze()  # what is left goes with the process: to look through it for cycles first takes a tenth of a second
    sys.exit(code)
