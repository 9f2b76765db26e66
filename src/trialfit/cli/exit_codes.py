"""The exit codes of a command."""

from __future__ import annotations

FINE = 0
"""Done, and nothing of the build fails."""
FAILS = 1
"""Done, and a finding of the build fails."""
BAD_INPUT = 2
"""The input cannot be read."""
DEFECT = 70
"""A defect of this program, with its traceback."""
INTERRUPTED = 130
READER_GONE = 141
"""The reader of the output has closed it (`| head`)."""
