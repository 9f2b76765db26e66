"""`python -m trialfit`: the same as the command `trialfit`."""

from __future__ import annotations

import sys

from trialfit.cli.main import main

if __name__ == "__main__":
    sys.exit(main())
