"""Commands to paste: under the name that this program was started by.

Answers   started_as   "trialfit", or "./run" in a checkout
          typed        a command with its words, quoted where the shell needs it

./run sets TRIALFIT_STARTED_AS. This module imports next to nothing, because help does not either.
"""

from __future__ import annotations

import os
import sys

_PLAIN = frozenset("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_-+=:,./@%")


def started_as() -> str:
    """The name to type for this program from where it was started."""
    if told := os.environ.get("TRIALFIT_STARTED_AS"):
        return typed(told)
    is_module = sys.argv[0].replace(os.sep, "/").endswith("trialfit/__main__.py")
    return "python -m trialfit" if is_module else "trialfit"


def typed(*words: str) -> str:
    """The words as one line for a shell."""
    return " ".join(word if word and _PLAIN.issuperset(word) else _quoted(word) for word in words)


def _quoted(word: str) -> str:
    return "'" + word.replace("'", "'\"'\"'") + "'"
